"""An order read back in words: each ring as chosen and measured, and the days."""

from collections.abc import Iterator
from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.craft.designs import WIRE_PROFILES, Finger, Gauge, Measured, Pattern, PatternWhen, Stock
from studio.craft.directions import apart
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.particulars import finish_words
from studio.craft.roles import Right
from studio.craft.sizes import named
from studio.craft.stones import stone_line
from studio.craft.units import figure_words
from studio.papers.particulars_words import inscription_sentence, kept_apart, room_sentences
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.stock_words import doubt_words, filed_words, form_words, lengths_words
from studio.web.wording import hour_words, opened, since_words, stock_words

_PUT_ON = {PatternWhen.FLAT: "on the flat strip", PatternWhen.CLOSED: "after closing"}
_CUT_FROM = {Stock.STRIP: "cut from strip", Stock.WIRE: "cut from its own wire"}


@dataclass(frozen=True, slots=True)
class Fact:
    """One line that is read back: its name, what it is, a quiet word about it, and where it leads."""

    name: str
    value: str
    note: str = ""
    href: str = ""


def facts_of(ring: OrderRing, seat: Seat) -> tuple[Fact, ...]:
    """A ring read back: finger, fit, section, metal, pattern and weight."""
    finger, design, figures = ring.finger, ring.design, ring.reckoning
    taken = since_words(ring.taken_at, seat.zone, seat.today)
    by = f"{ring.taken_by}, {taken}" if ring.taken_by else taken
    knuckle = f"over the knuckle {named(finger.system, finger.knuckle_label)}" if finger.knuckle_label else ""
    thick = figure_words(figures.finished_thickness_mm)
    beside, again, formed = lengths_words(figures), doubt_words(figures), form_words(figures)
    pattern = "Plain"
    if design.pattern is not Pattern.PLAIN and design.pattern_when is not None:
        pattern = f"{opened(design.pattern)} {_PUT_ON[design.pattern_when]}"
    stretch = f"stretch {figure_words(figures.stretch.used_percent)} % reckoned, {figures.stretch.source}"
    return (
        Fact("Size", size_of(finger), f"{measured_words(finger)}; taken by {by}" if ring.taken_by else by),
        *((Fact("Knuckle", opened(knuckle)),) if knuckle else ()),
        Fact("Fit", _signed(figures.fit_mm), figures.fit_reason),
        Fact(
            "Section",
            f"{opened(stock_words(design.profile, design.width_mm, design.thickness_mm))} mm",
            "" if design.profile in WIRE_PROFILES else _CUT_FROM[design.stock],
        ),
        Fact("Finished", f"{thick} mm thick", filed_words(figures)),
        *((Fact("Length", f"{figures.true_length_mm:.2f} mm", beside),) if beside else ()),
        *((Fact("Measure again", again),) if again else ()),
        *((Fact("Form", "Anticlastic", formed),) if formed else ()),
        Fact("Metal", opened(figures.alloy.name)),
        Fact("Pattern", pattern, "" if design.pattern is Pattern.PLAIN else stretch),
        *_work_of(ring, seat),
        Fact(
            "Weight",
            f"{figures.finished_g:.1f} g finished",
            f"blank {figures.blank_g:.2f} g, to issue {figures.issue_g:.2f} g,"
            f" ring as closed {figures.ring_g:.2f} g",
        ),
    )


def _work_of(ring: OrderRing, seat: Seat) -> Iterator[Fact]:
    """Finish, inscription and stones, as far as asked; a stone's worth is no matter of makers."""
    told, words = ring.particulars, ring.particulars.words_to_cut
    if finish := finish_words(told):
        yield Fact("Finish", opened(finish))
    if words is not None:
        read = "read back" if words.is_read_back else "not read back yet"
        yield Fact(
            "Inscription",
            inscription_sentence(words),
            f"{room_sentences(words, ring.reckoning)[0]} {opened(read)}.",
        )
    elif told.inscription is not None:
        yield Fact("Inscription", "None wanted")
    if told.stones is not None and not told.stones:
        yield Fact("Stones", "None wanted")
    for stone in told.stones or ():
        is_told = stone.value and seat.may(Right.SEE_PRICE)
        yield Fact(
            "Stones",
            opened(stone_line(kept_apart(stone))),
            f"declared at {apart(stone.value)}" if is_told else "",
        )
    if told.marks is not None:
        yield Fact("Marks", opened(told.marks.line))


def _signed(value_mm: float) -> str:
    """A difference with its sign: '+0.50 mm', '−0.25 mm', and '0.0 mm' for none."""
    return "0.0 mm" if round(value_mm, 2) == 0 else f"{value_mm:+.2f} mm".replace("-", "−")


def size_of(finger: Finger) -> str:
    """The size as it was given: 'UK O½', or 'UK J to M' while it is not settled."""
    first = named(finger.system, finger.label)
    return f"{first} to {finger.to_label}" if finger.to_label else first


def measured_words(finger: Finger) -> str:
    """How the size is known: 'gauge 6 mm wide, warm hands'."""
    width = "" if finger.gauge_width_mm is None else f" {figure_words(finger.gauge_width_mm)} mm wide"
    if finger.gauge is not None:
        width = f" {finger.gauge.name}{',' * bool(width)}{width}{_corrected(finger.gauge)}"
    how = {
        Measured.GAUGE: f"gauge{width}" if width else "gauge of unknown width",
        Measured.RING: f"read from a ring{' with' if finger.gauge else ''}{width}",
        Measured.TOLD: "told, not measured",
        None: f"gauge{width}" if width else "not said how it was measured",
    }[finger.measured]
    warm = "" if finger.is_warm is None else ", warm hands" if finger.is_warm else ", cold hands"
    days = ", on two days" if finger.is_on_two_days else ""
    return how + days + warm


def _corrected(gauge: Gauge) -> str:
    return f", corrected by {_signed(gauge.correction_mm)}" if gauge.correction_mm else ""


def finger_words(finger: Finger) -> str:
    """Whose place it is: 'left ring finger', 'right thumb', '' where nobody said."""
    name = "" if finger.name is None else str(finger.name)
    if name and name != "thumb":
        name = f"{name} finger"
    return " ".join(word for word in (finger.hand, name or None) if word)


def days_of(order: Order, seat: Seat) -> tuple[Fact, ...]:
    """The days of an order as they stand; the bench date has its own field."""
    terms = order.terms
    wanted = "" if terms.wanted_on is None else day_words(terms.wanted_on, today=seat.today)
    promised = "" if terms.promised_at is None else hour_words(terms.promised_at, seat.zone, seat.today)
    return (
        Fact("Wanted by", wanted or "not yet asked", "a fixed day" if terms.wanted_hard and wanted else ""),
        Fact("Promised", promised or "no day promised"),
    )


def paper_words(state: State, rings: int) -> str:
    """What stands in the place of the bench sheet, or the words of its link."""
    if state in BEFORE_AGREEMENT:
        return "The bench sheet waits for the yes."
    if state is State.CALLED_OFF:
        return "Called off, so there is nothing to make."
    return "Print the bench sheet" if rings == 1 else "Print the bench sheets"
