"""What a ring was made as: put together of what the bench measured, kept when the order is handed over."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.bench_records import bench_record
from studio.book.bench_work import ring_at_bench
from studio.book.making_tables import AsMadeRow
from studio.book.making_values import RingGiven, RingKnown
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import Order, OrderRing
from studio.book.piece_tables import CutRow, PieceRow
from studio.craft.as_made import MadeFigures, measured_size_mm, weighed_g
from studio.craft.bench_work import What
from studio.craft.sizes import nearest
from studio.craft.units import to_micrometres

NOTHING_GIVEN: Mapping[int, RingGiven] = MappingProxyType({})


def known_of(session: Session, found: Order) -> tuple[RingKnown, ...]:
    """What the bench knows of each ring of an order, as it would be handed over now."""
    return tuple(_known(session, found, ring) for ring in found.rings)


def put_as_made(
    session: Session,
    row: OrderRow,
    *,
    given: Mapping[int, RingGiven] = NOTHING_GIVEN,
    actor: Actor,
    now: datetime,
) -> list[dict[str, Any]]:
    """Keep what the rings of an order were made as, in the transaction that hands it over.

    What is `given` of a ring takes the place of its size, weight and lot; of the others goes what the bench
    measured. Gives what is to stand in the history: only what is known.
    """
    found = order(session, row.number)
    told = []
    for ring, known in zip(found.rings, known_of(session, found), strict=True):
        made = _row_of(session, row.id, ring, now)
        figures, mine = known.figures, given.get(ring.position)
        size_mm, finished_g, lot = figures.size_mm, figures.finished_g, figures.lot
        label = ""
        if mine is not None:
            size_mm, finished_g, lot, label = mine.size_mm, mine.finished_g, mine.lot, mine.label
        if size_mm is not None and not label:
            near = nearest(ring.finger.system, size_mm, ring.reckoning.practice.reading.beyond_z)
            label = "" if near is None else near.label
        made.system, made.label = ring.finger.system, label
        made.ordered_um = to_micrometres(ring.reckoning.circumference_mm)
        made.size_um = _um(size_mm)
        made.before_um, made.after_um = _um(figures.before_mm), _um(figures.after_mm)
        made.closed_um = _um(figures.closed_mm)
        made.issued_mg, made.finished_mg = _mg(figures.issued_g), _mg(finished_g)
        made.lot, made.makers = lot, known.makers
        made.handed_over_at, made.user_id = now, actor.id
        session.add(made)
        one = {"ring": ring.position, "made_at": label or size_mm, "finished_g": finished_g, "lot": lot}
        told.append({name: value for name, value in one.items() if value not in {None, ""}})
    session.flush()
    return [one for one in told if len(one) > 1]


def _row_of(session: Session, order_id: int, ring: OrderRing, now: datetime) -> AsMadeRow:
    of_ring = col(AsMadeRow.order_id) == order_id, col(AsMadeRow.position) == ring.position
    known = session.exec(select(AsMadeRow).where(*of_ring)).one_or_none()
    return known or AsMadeRow(
        order_id=order_id,
        position=ring.position,
        system=ring.finger.system,
        ordered_um=to_micrometres(ring.reckoning.circumference_mm),
        handed_over_at=now,
    )


def _known(session: Session, found: Order, ring: OrderRing) -> RingKnown:
    at_bench = ring_at_bench(session, found.number, ring.position)
    record = bench_record(session, found.number, ring.position)
    draft = None if record is None else record.draft
    work, operations = at_bench.work, at_bench.operations
    size_mm = measured_size_mm(
        operations,
        work,
        None if draft is None else draft.closed_mm,
        None if draft is None else draft.formed_mm,
    )
    by = [one.by for one in at_bench.happened if one.what is not What.UNDONE]
    makers = dict.fromkeys([*by, *(() if record is None else (record.maker,))])
    figures = MadeFigures(
        size_mm=size_mm,
        before_mm=None if draft is None else draft.before_mm,
        after_mm=None if draft is None else draft.after_mm,
        closed_mm=None if draft is None else draft.closed_mm,
        issued_g=weighed_g(operations, work, "weigh"),
        finished_g=weighed_g(operations, work, "finish"),
        lot=_lot(session, found.number, ring.position),
    )
    return RingKnown(ring.position, figures, ", ".join(makers))


def _lot(session: Session, number: str, position: int) -> str:
    """The lot of the piece its blank was sawn from, '' where nothing was booked as cut, or it has none."""
    cut = session.exec(
        select(CutRow)
        .join(RingRow, col(RingRow.cut_id) == col(CutRow.id))
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .where(col(OrderRow.number) == number, col(RingRow.position) == position)
    ).one_or_none()
    pieces = () if cut is None else cut.told.get("pieces", ())
    name = f"{number}/{position}"
    source = next((one["piece"] for one in pieces if name in {b["ring"] for b in one["blanks"]}), None)
    piece = None if source is None else session.get(PieceRow, source)
    return "" if piece is None else piece.lot


def _um(mm: float | None) -> int | None:
    return None if mm is None else to_micrometres(mm)


def _mg(grams: float | None) -> int | None:
    return None if grams is None else round(grams * 1000)
