"""One ring on its order's page: read back, and what may still be said of it."""

from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.counter_figures import reckoned
from studio.web.counter_page import Reckoned, Warned
from studio.web.counter_show import ring_form
from studio.web.forms import Calendar
from studio.web.order_words import Fact, facts_of, finger_words, size_of
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import opened, ordinal

_ASKS_FOR_REASONS = frozenset({State.QUOTED, State.AGREED})
"""Where a warning's reason is given on the order's own page; a draft's is given with the ring."""


@dataclass(frozen=True, slots=True)
class WarningPart:
    """One warning; where its reason is still wanted, and may be given here, the name of its field."""

    warned: Warned
    name: str = ""
    typed: str = ""
    error: str = ""


@dataclass(frozen=True, slots=True)
class SettlingPart:
    """The field for a size that was agreed as a range, once it is measured again."""

    name: str
    label: str
    typed: str
    error: str
    note: str


@dataclass(frozen=True, slots=True)
class RingPart:
    """One ring of the order: its drawing and figures as at the counter, and what was chosen."""

    position: int
    anchor: str
    heading: str
    finger: str
    edit_href: str
    href: str
    shown: Reckoned
    facts: tuple[Fact, ...]
    warnings: tuple[WarningPart, ...]
    settling: SettlingPart | None

    @property
    def asks_for_reasons(self) -> bool:
        """Whether a reason may be given here."""
        return any(part.name for part in self.warnings)


def warning_field(position: int, code: str) -> str:
    """The name of the field for a warning's reason: 'reason-ring-1-narrow-gauge'."""
    return f"reason-ring-{position}-{code}"


def size_field(position: int) -> str:
    """The name of the field for a size measured again: 'size-ring-1'."""
    return f"size-ring-{position}"


def ring_part(order: Order, ring: OrderRing, seat: Seat, said: Said, *, may_edit: bool) -> RingPart:
    """The ring as the order's page shows it; `may_edit` leads to its page at the counter."""
    shown, _ = reckoned(ring_form(order, ring, seat.zone), Calendar(seat.today, seat.zone))
    which = "The ring" if len(order.rings) == 1 else f"{opened(ordinal(ring.position))} ring"
    href = f"/orders/{order.number}/rings/{ring.position}"
    may_say_why = order.state in _ASKS_FOR_REASONS and seat.may(Right.TAKE_ORDERS)
    return RingPart(
        position=ring.position,
        anchor=f"ring-{ring.position}",
        heading=which,
        finger=finger_words(ring.finger),
        edit_href=href if may_edit else "",
        href=href,
        shown=shown,
        facts=facts_of(ring, seat),
        warnings=tuple(
            _warning(ring.position, warned, said, may_say_why=may_say_why)
            for _, notes in shown.notes
            for warned in notes.warnings
        ),
        settling=_settling(order, ring, seat, said),
    )


def _settling(order: Order, ring: OrderRing, seat: Seat, said: Said) -> SettlingPart | None:
    is_open = order.state is State.AGREED and ring.finger.to_label is not None
    if not (is_open and seat.may(Right.TAKE_ORDERS)):
        return None
    name = size_field(ring.position)
    return SettlingPart(
        name=name,
        label=f"Size of ring {ring.position}, measured again",
        typed=said.typed.get(name, ""),
        error=said.error(name),
        note=f"Agreed as {size_of(ring.finger)}. The price stands.",
    )


def _warning(position: int, warned: Warned, said: Said, *, may_say_why: bool) -> WarningPart:
    if not (warned.is_open and may_say_why):
        return WarningPart(warned)
    name = warning_field(position, warned.reason_name.removeprefix("reasons."))
    return WarningPart(warned, name, said.typed.get(name, ""), said.error(name))
