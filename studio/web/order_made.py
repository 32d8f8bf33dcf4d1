"""What the rings of an order were made as, on its page and the customer's, and what was said of them."""

from collections.abc import Iterator

from studio.book.order_values import Order, OrderRing
from studio.craft.as_made import AsMade, size_words
from studio.craft.directions import apart
from studio.craft.fit_feedback import FitAnswer, Verdict, verdict_words
from studio.craft.units import figure_words
from studio.web.order_words import Fact
from studio.web.security import Seat
from studio.web.wording import joined, opened, since_words


def made_facts(order: Order, ring: OrderRing, seat: Seat) -> Iterator[Fact]:
    """How a ring that is handed over came out, and how it fits; nothing before."""
    made = order.made.get(ring.position)
    if made is not None:
        beyond = ring.reckoning.practice.reading.beyond_z
        yield Fact("As made", opened(size_words(made, beyond)), made_note(made, seat))
    fit = order.fits.get(ring.position)
    if fit is not None and fit.verdict is not Verdict.NO_ANSWER:
        yield Fact("Fit, worn", opened(verdict_words(fit.verdict, fit.off_mm)), fit_note(fit, seat))


def made_note(made: AsMade, seat: Seat) -> str:
    """Its lengths and weights, its lot, who made it and when it was handed over."""
    told = made.figures
    parts = []
    if told.before_mm is not None and told.after_mm is not None:
        parts.append(f"strip {told.before_mm:.2f} mm before the pattern, {told.after_mm:.2f} after")
    if told.closed_mm is not None:
        parts.append(f"{told.closed_mm:.2f} mm round once closed")
    if told.issued_g is not None:
        parts.append(f"{figure_words(told.issued_g)} g issued")
    if told.finished_g is not None:
        parts.append(f"{figure_words(told.finished_g)} g finished")
    if told.lot:
        parts.append(f"lot {apart(told.lot)}")
    if made.makers:
        parts.append(f"by {joined([apart(one) for one in made.makers.split(', ')])}")
    when = since_words(made.handed_over_at, seat.zone, seat.today)
    return ", ".join((*parts, f"handed over {when}"))


def fit_note(fit: FitAnswer, seat: Seat) -> str:
    """The customer's words, who noted them and when."""
    when = "" if fit.at is None else since_words(fit.at, seat.zone, seat.today)
    said = f"“{apart(fit.note)}”, " if fit.note else ""
    return f"{said}noted by {apart(fit.by)}, {when}"
