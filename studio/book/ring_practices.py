"""By which practice a ring is reckoned: its own from before, or that of the day."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import Any

from sqlmodel import Session, col, select

from studio.book.bench_learning import with_learned
from studio.book.customer_tables import FingerRow
from studio.book.gauges import gauges_in_use
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import Order, RingDraft
from studio.book.practice_tables import PracticeRow
from studio.book.practices import Kept, kept_on, learned_json, practice_of, practice_on
from studio.book.stored import design_columns, design_of, finger_columns, finger_of
from studio.craft.designs import Design, Finger, Gauge
from studio.craft.forming_learning import kept_forming
from studio.craft.open_days import NOT_SAID, StudioDays
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.practice import COMMON_PRACTICE, Practice
from studio.craft.stretch_learning import kept_for

RingKey = tuple[tuple[str, Any], ...]
KnownPractices = Mapping[RingKey, tuple[int | None, str | None]]
"""The practice of rings by what was chosen of them: the id of its row, and what was learned as it is kept."""


@dataclass(frozen=True, slots=True)
class Workshop:
    """What a ring that is being typed is reckoned by, before anything is written down.

    `practice` is that of the day; `kept` has the rings that the order has already, by their facts. `gauges`
    may have measured it: those in use, and those that measured the order's `fingers`. By `days` a promise is
    counted back.
    """

    def as_measured(self, draft: RingDraft) -> RingDraft:
        """The ring with its finger as the order has it already: the same that `put_rings` takes."""
        return replace(draft, finger=as_kept(draft.finger, self.fingers))

    practice: Practice = COMMON_PRACTICE
    kept: tuple[tuple[Any, Practice], ...] = ()
    gauges: tuple[Gauge, ...] = ()
    fingers: tuple[Finger, ...] = ()
    days: StudioDays = NOT_SAID

    def practice_for(self, finger: Finger, design: Design) -> Practice:
        """The practice this ring would be written down with: the same that `put_rings` takes."""
        facts = ring_key(finger, design)
        return next((practice for known, practice in self.kept if known == facts), self.practice)


def workshop(session: Session, day: date, order: Order | None = None) -> Workshop:
    """What rings of `order`, or of a new one, are reckoned by while they are typed on `day`."""
    rings = () if order is None else order.rings
    practice = practice_on(session, day)
    return Workshop(
        with_learned(session, day, practice),
        tuple((ring_key(ring.finger, ring.design), ring.reckoning.practice) for ring in rings),
        gauges_for(session, order),
        tuple(ring.finger for ring in rings),
    )


def gauges_for(session: Session, order: Order | None = None) -> tuple[Gauge, ...]:
    """The gauges that may have measured a finger of `order`: those in use, and those that did."""
    in_use = gauges_in_use(session)
    known = {gauge.id for gauge in in_use}
    earlier = () if order is None else (ring.finger.gauge for ring in order.rings)
    return (
        *in_use,
        *(gauge for gauge in dict.fromkeys(earlier) if gauge is not None and gauge.id not in known),
    )


def as_kept(finger: Finger, known: Iterable[Finger]) -> Finger:
    """The finger, or the same measurement among `known`: what was calibrated since moves it no more.

    It is the same where all is the same that was said of it, and the gauge but for its calibration.
    """
    gauge = finger.gauge
    if gauge is None:
        return finger
    is_filled_in = finger.gauge_width_mm == gauge.width_mm
    for old in known:
        if old.gauge is not None and old.gauge.id == gauge.id:
            width = old.gauge_width_mm if is_filled_in else finger.gauge_width_mm
            then = replace(finger, gauge=old.gauge, gauge_width_mm=width)
            if finger_columns(then) == finger_columns(old):
                return old
    return finger


class RingPractices:
    """The practices of an order's rings while they are written down.

    A finger and a design that the order has already, at this place or another, keep theirs, and so does
    every ring of an order that is agreed, at its place. So do those of `known`, rings the order was shown
    with. All others take that of `day`.
    """

    def __init__(
        self,
        session: Session,
        order: OrderRow,
        rings: Sequence[tuple[RingRow, FingerRow]],
        day: date,
        known: KnownPractices = MappingProxyType({}),
    ) -> None:
        self._session = session
        self._day = day
        self._fingers = [finger for _, finger in rings]
        self._known: dict[object, tuple[int | None, str | None]] = {
            ring_key(finger_of(finger), design_of(ring)): (ring.practice_id, ring.learned)
            for ring, finger in rings
        }
        if order.state not in BEFORE_AGREEMENT:
            self._known |= {ring.position: (ring.practice_id, ring.learned) for ring, _ in rings}
        self._known |= dict(known.items())
        self._read: dict[int | None, str | None] = {}
        self._today: Kept | None = None

    def as_measured(self, draft: RingDraft) -> RingDraft:
        """The ring with its finger as the order has it already, where nobody measured it anew."""
        known = [finger_of(row) for row in self._fingers if draft.taken_at in {None, row.taken_at}]
        return replace(draft, finger=as_kept(draft.finger, known))

    def at(self, position: int, finger: Finger, design: Design) -> Kept:
        """The practice of the ring at this place, with the row that keeps it."""
        for key in (ring_key(finger, design), position):
            if key in self._known:
                return self._kept(*self._known[key])
        if self._today is None:
            kept = kept_on(self._session, self._day)
            self._today = Kept(kept.id, with_learned(self._session, self._day, kept.practice))
        return _for_the_ring(self._today, design)

    def _kept(self, practice_id: int | None, learned: str | None) -> Kept:
        if practice_id not in self._read:
            wanted = select(PracticeRow.figures).where(col(PracticeRow.id) == practice_id)
            self._read[practice_id] = None if practice_id is None else self._session.exec(wanted).one()
        return Kept(practice_id, practice_of(self._read[practice_id], learned), learned)


def _for_the_ring(kept: Kept, design: Design) -> Kept:
    """The practice with no more of what was learned than a ring of this design keeps."""
    alloy = kept.practice.alloys.get(design.alloy)
    patterns = () if alloy is None else kept_for(design, alloy.metal, kept.practice.learned)
    forming = () if alloy is None else kept_forming(design, alloy.metal, kept.practice.learned_forming)
    practice = replace(kept.practice, learned=patterns, learned_forming=forming)
    return Kept(kept.id, practice, learned_json(patterns, forming))


def ring_key(finger: Finger, design: Design) -> RingKey:
    """What the book keeps of a ring as it was chosen: two rings alike in it are the same ring."""
    return tuple({**finger_columns(finger), **design_columns(design)}.items())
