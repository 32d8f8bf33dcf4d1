"""One ring on its order's page: read back, and what may still be said of it."""

from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.book.ring_practices import Workshop
from studio.craft.designs import Pattern, Stock, thickness_limits
from studio.craft.measured_strip import in_measured_stock
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.reckonings import Reckoning
from studio.craft.roles import Right
from studio.craft.units import figure_words, read_length
from studio.papers.particulars_words import read_back_words
from studio.web.counter_figures import reckoned
from studio.web.counter_page import DATE_NOTES, Reckoned, Warned
from studio.web.counter_stored import ring_form
from studio.web.forms import Calendar
from studio.web.order_made import made_facts
from studio.web.order_marks import MarksPart, marks_part
from studio.web.order_mends import again_links
from studio.web.order_words import Fact, facts_of, finger_words, size_of
from studio.web.proof_part import ProofPart, proof_part, reader_field
from studio.web.resizing import ResizingPart, resizing_part
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import opened, ordinal

_ASKS_FOR_REASONS = frozenset({State.QUOTED, State.AGREED})
"""Where a warning's reason is given on the order's own page; a draft's is given with the ring."""
_MADE = frozenset({State.READY, State.HANDED_OVER, State.CALLED_OFF})
"""Where no strip is marked any more."""


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
class MeasuringPart:
    """The field for the thickness of the stock as it is, and the mark for it once it was asked for."""

    name: str
    label: str
    typed: str
    error: str
    answer: str


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
    resizing: ResizingPart
    warnings: tuple[WarningPart, ...]
    settling: SettlingPart | None
    measuring: MeasuringPart | None
    is_made: bool
    bench_href: str
    is_patterned: bool
    again_href: str = ""
    mend_links: tuple[tuple[str, str], ...] = ()
    marks: MarksPart | None = None
    proof_href: str = ""
    proof: ProofPart | None = None
    fit_href: str = ""
    read_back: str = ""
    """The signs of the inscription one by one while they still are to be read back."""

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


def thickness_field(position: int) -> str:
    """The name of the field for the measured thickness of the strip: 'thickness-ring-1'."""
    return f"thickness-ring-{position}"


def in_typed_stock(reckoning: Reckoning, typed: str) -> Reckoning:
    """The ring in stock of the thickness typed. Raises `Refused` at 'thickness' for what is none."""
    limits = thickness_limits(reckoning.design.profile)
    bare = reckoning.practice.reading.gauge
    thick_mm = read_length(typed, "thickness", low_mm=limits.low, high_mm=limits.high, gauge=bare)
    return in_measured_stock(reckoning, thick_mm)


def ring_part(
    order: Order, ring: OrderRing, seat: Seat, said: Said, *, may_edit: bool, later: tuple[Fact, ...] = ()
) -> RingPart:
    """The ring as the order's page shows it; `may_edit` leads to its page at the counter.

    `later` is what became of it in other orders.
    """
    gauge = ring.finger.gauge
    own = Workshop(ring.reckoning.practice, gauges=() if gauge is None else (gauge,))
    shown, _ = reckoned(ring_form(order, ring, seat.zone), Calendar(seat.today, seat.zone), own, seat.rule)
    which = "The ring" if len(order.rings) == 1 else f"{opened(ordinal(ring.position))} ring"
    href = f"/orders/{order.number}/rings/{ring.position}"
    is_to_cut = ring.particulars.words_to_cut is not None and order.state is not State.CALLED_OFF
    is_worn = order.state is State.HANDED_OVER
    may_say_why = order.state in _ASKS_FOR_REASONS and seat.may(Right.TAKE_ORDERS)
    return RingPart(
        position=ring.position,
        anchor=f"ring-{ring.position}",
        heading=which,
        finger=finger_words(ring.finger),
        edit_href=href if may_edit else "",
        href=href,
        shown=shown,
        facts=(*made_facts(order, ring, seat), *facts_of(ring, seat), *later),
        resizing=resizing_part(ring.reckoning, ring.particulars),
        warnings=tuple(
            _warning(ring.position, warned, said, may_say_why=may_say_why)
            for place, notes in shown.notes
            for warned in notes.warnings
            if not (place == DATE_NOTES and order.state in _MADE)
        ),
        settling=_settling(order, ring, seat, said),
        measuring=_measuring(order, ring, said),
        again_href=f"/orders/new?like={order.number}/{ring.position}" if seat.may(Right.TAKE_ORDERS) else "",
        marks=marks_part(order, ring, seat, said),
        fit_href=f"/orders/{order.number}/fit" if is_worn and seat.may(Right.TAKE_ORDERS) else "",
        proof_href=f"{href}/inscription.pdf" if is_to_cut else "",
        proof=proof_part(
            order,
            ring,
            seat,
            said,
            action=f"{href}/proof" if seat.may(Right.TAKE_ORDERS) else "",
            name=reader_field(ring.position),
        ),
        mend_links=again_links(order, ring.position, seat),
        read_back=_to_read_back(order, ring, seat),
        is_patterned=ring.reckoning.design.pattern is not Pattern.PLAIN,
        is_made=order.state not in {*BEFORE_AGREEMENT, State.CALLED_OFF},
        bench_href=f"/bench/{order.number}/{ring.position}",
    )


def _to_read_back(order: Order, ring: OrderRing, seat: Seat) -> str:
    words = ring.particulars.words_to_cut
    is_open = order.state in _ASKS_FOR_REASONS and seat.may(Right.TAKE_ORDERS)
    return read_back_words(words) if words is not None and not words.is_read_back and is_open else ""


def _measuring(order: Order, ring: OrderRing, said: Said) -> MeasuringPart | None:
    if order.state in _MADE:
        return None
    name = thickness_field(ring.position)
    typed, error = said.typed.get(name, ""), said.error(name)
    what = "wire" if ring.design.stock is Stock.WIRE else "strip"
    answer = ""
    if typed and not error:
        found = in_typed_stock(ring.reckoning, typed)
        answer = (
            f"For {figure_words(found.design.thickness_mm, 3)} mm: mark {found.mark_mm:.1f} mm, true length "
            f"{found.true_length_mm:.2f} mm, blank {found.blank_g:.2f} g, to issue {found.issue_g:.2f} g."
        )
    return MeasuringPart(name, f"Thickness of the {what}, measured", typed, error, answer)


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
