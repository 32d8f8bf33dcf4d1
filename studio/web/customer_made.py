"""What a customer's page shows of their fingers, and of the rings made for them before."""

from dataclasses import dataclass

from studio.book.customers import MeasuredFinger
from studio.book.making_reads import MadeBefore
from studio.craft.as_made import size_words
from studio.craft.fit_feedback import FitAnswer, verdict_words
from studio.craft.roles import Right
from studio.web.order_made import made_note
from studio.web.order_words import finger_words, measured_words, size_of
from studio.web.security import Seat
from studio.web.wording import design_words, opened, since_words


@dataclass(frozen=True, slots=True)
class SizeEntry:
    """One measurement of a finger."""

    finger: str
    size: str
    knuckle: str
    measured: str
    taken: str
    fit: str = ""


@dataclass(frozen=True, slots=True)
class MadeEntry:
    """One ring that was made for them before: its order, what it is, how it came out, and one like it."""

    ring: str
    href: str
    what: str
    made: str
    note: str
    again_href: str


def made_entry(one: MadeBefore, seat: Seat) -> MadeEntry:
    """A ring made before, as it came out, with the way to one like it."""
    line = one.line
    what = design_words(line.profile, line.width_mm, line.thickness_mm, line.pattern, line.alloy)
    ring = f"{one.number}/{line.position}"
    return MadeEntry(
        ring=ring,
        href=f"/orders/{one.number}#ring-{line.position}",
        what=opened(what),
        made=opened(size_words(one.made)),
        note=made_note(one.made, seat),
        again_href=f"/orders/new?like={ring}" if seat.may(Right.TAKE_ORDERS) else "",
    )


def size_entry(measured: MeasuredFinger, fit: FitAnswer | None, seat: Seat) -> SizeEntry:
    """A measurement, with what was said of a ring made by it."""
    finger = measured.finger
    day = since_words(measured.taken_at, seat.zone, seat.today)
    return SizeEntry(
        finger=opened(finger_words(finger)) or "Finger not named",
        size=size_of(finger),
        knuckle=f"over the knuckle {finger.knuckle_label}" if finger.knuckle_label else "",
        measured=opened(measured_words(finger)),
        taken=f"{day}, {measured.taken_by}" if measured.taken_by else day,
        fit="" if fit is None else f"{opened(verdict_words(fit.verdict, fit.off_mm))}, {fit.ring}",
    )
