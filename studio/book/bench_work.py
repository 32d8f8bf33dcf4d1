"""Work at the bench: what a maker does to a ring step by step, written down as it happens."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from types import MappingProxyType
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.bench_happened import as_happened
from studio.book.bench_records import BenchDraft, bench_record, keep_record
from studio.book.bench_work_carried import moved, put_back, with_figures
from studio.book.bench_work_errors import BenchStale, NotAtTheBench, RingUnknown, StepRefused
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order, OrderRing
from studio.book.order_writing import locked_order, one_line
from studio.book.outwork_reads import refuse_out
from studio.book.routes import ring_route
from studio.book.transaction import transaction
from studio.craft.bench_figures import (
    LONGEST_MINUTES,
    Measures,
    measures,
    record_figures,
    refuse_figure,
)
from studio.craft.bench_work import (
    BenchWork,
    Happened,
    What,
    WhyNotNow,
    bench_work,
    goes_on_with,
    next_step,
    passed_over,
    why_not_now,
)
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.operations import Operation
from studio.craft.orders import State
from studio.craft.proofs import standing_proof, waits_for_proof
from studio.craft.units import figure_words, from_micrometres, to_micrometres

LONGEST_REASON = 200
_VERBS: Mapping[What, str] = MappingProxyType({
    What.STARTED: "start a step",
    What.STOPPED: "stop a step",
    What.DONE: "tick a step off",
    What.NOTED: "note a figure of a step",
    What.REOPENED: "open a step again",
    What.UNDONE: "undo at the bench",
})  # fmt: skip
_WHILE_OUT = frozenset({What.STOPPED, What.UNDONE})
"""All that can be done to a ring while it is out of the house: the clock is stopped, a slip is taken back."""


@dataclass(frozen=True, slots=True)
class Deed:
    """What somebody does to a ring: which step, a figure in mm or g, minutes, and why.

    A reason is asked for a tick out of order and for a step that is opened again. To take the last thing
    back is `What.UNDONE`, of no step.
    """

    what: What
    operation: str = ""
    figure: float | None = None
    minutes: int | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class RingAtBench:
    """A ring with its route, all that happened to it, and where that leaves it."""

    order: Order
    ring: OrderRing
    operations: tuple[Operation, ...]
    happened: tuple[Happened, ...]
    work: BenchWork


def ring_at_bench(session: Session, number: str, position: int) -> RingAtBench:
    """The ring as it stands at the bench. Raises `OrderUnknown` and `RingUnknown`."""
    stands = order(session, number)
    ring = next((one for one in stands.rings if one.position == position), None)
    if ring is None:
        raise RingUnknown(number, position)
    return _at_bench(session, stands, ring)


def rings_at_bench(session: Session, number: str) -> tuple[RingAtBench, ...]:
    """Every ring of an order as it stands at the bench. Raises `OrderUnknown`."""
    stands = order(session, number)
    return tuple(_at_bench(session, stands, ring) for ring in stands.rings)


def unfinished_rings(session: Session, stands: Order) -> tuple[int, ...]:
    """The places of the rings of an order that have a step left to do."""
    found = (_at_bench(session, stands, ring) for ring in stands.rings)
    return tuple(one.ring.position for one in found if next_step(one.work, one.operations) is not None)


def waits_for_a_proof(stands: RingAtBench, key: str) -> bool:
    """Whether the step cuts words of which no proof that stands was signed: it is not ticked then."""
    operation = next((one for one in stands.operations if one.key == key), None)
    words, position = stands.ring.particulars.words_to_cut, stands.ring.position
    mine = [one for one in stands.order.proofs if one.position == position]
    return operation is not None and waits_for_proof(operation, words, standing_proof(mine, words))


def _at_bench(session: Session, stands: Order, ring: OrderRing) -> RingAtBench:
    operations = ring_route(session, stands, ring)
    wanted = (
        select(BenchWorkRow)
        .join(OrderRow, col(OrderRow.id) == col(BenchWorkRow.order_id))
        .where(col(OrderRow.number) == stands.number, col(BenchWorkRow.position) == ring.position)
        .order_by(col(BenchWorkRow.serial))
    )
    happened = tuple(as_happened(row) for row in session.exec(wanted))
    return RingAtBench(stands, ring, operations, happened, bench_work(happened))


def do_at_bench(
    session: Session,
    *,
    number: str,
    position: int,
    deed: Deed,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> RingAtBench:
    """Write down what was done to a ring; lengths and sizes go into its bench record as well.

    Raises `OrderUnknown`, `RingUnknown`, `NotAtTheBench`, `BenchStale` where something happened since
    `version`, `ThingOut` while the ring is out of the house, `StepRefused` for what cannot be as it stands,
    and `Refused` for a figure that cannot be, a reason that is not given, and a note of nothing. A step that
    cuts words waits for their signed proof.
    """
    deed = replace(deed, reason=one_line(deed.reason) or "")
    with transaction(session):
        row = locked_order(session, number, None)
        stands = ring_at_bench(session, number, position)
        if stands.order.state is not State.AT_THE_BENCH:
            raise NotAtTheBench(number, stands.order.state)
        if version is not None and version != stands.work.version:
            raise BenchStale(number, version, stands.happened[version:])
        if deed.what not in _WHILE_OUT:
            refuse_out(session, row.id, [f"{number}/{position}"])
        why = why_not_now(stands.work, deed.what, deed.operation, stands.operations)
        if why is not None:
            raise StepRefused(number, why)
        if deed.what is What.DONE and waits_for_a_proof(stands, deed.operation):
            raise StepRefused(number, WhyNotNow.PROOF_NOT_SIGNED)
        if deed.what is not What.UNDONE:
            _check(deed, stands)
        made = _row(row.id, deed, stands, actor, now)
        happened = (*stands.happened, as_happened(made))
        fresh = replace(stands, happened=happened, work=bench_work(happened))
        old, new = _put_record(session, made, stands, fresh, actor)
        session.add(made)
        session.flush()
        told = {"ring": position, **_told(made, stands.operations), **new}
        note(
            session,
            actor=actor,
            now=now,
            verb=_VERBS[deed.what],
            order_id=row.id,
            old=old or None,
            new=told,
            reason=deed.reason or None,
        )
    return fresh


def _check(deed: Deed, stands: RingAtBench) -> None:
    found: list[Refusal] = []
    operation = next(one for one in stands.operations if one.key == deed.operation)
    if deed.figure is not None:
        try:
            refuse_figure(deed.figure, operation, stands.operations, stands.work)
        except Refused as refused:
            found += refused.refusals
    if deed.minutes is not None and not 1 <= deed.minutes <= LONGEST_MINUTES:
        why = Why.TOO_SMALL if deed.minutes < 1 else Why.TOO_LARGE
        found.append(Refusal("minutes", why, str(deed.minutes), 1, LONGEST_MINUTES, "min"))
    if len(deed.reason) > LONGEST_REASON:
        found.append(Refusal("reason", Why.TOO_LONG, high=LONGEST_REASON, unit="characters"))
    over = passed_over(stands.work, stands.operations, deed.operation)
    if deed.what is What.DONE and over and not deed.reason:
        found.append(Refusal("reason", Why.OUT_OF_ORDER, over[0].name.rstrip(",.:")))
    if deed.what is What.REOPENED and not deed.reason:
        found.append(Refusal("reason", Why.EMPTY))
    if deed.what is What.NOTED and deed.figure is None and deed.minutes is None:
        found.append(Refusal("figure" if operation.measure is not None else "minutes", Why.EMPTY))
    if found:
        raise Refused(*found)


def _row(order_id: int, deed: Deed, stands: RingAtBench, actor: Actor, now: datetime) -> BenchWorkRow:
    work = stands.work
    is_undo = deed.what is What.UNDONE and work.last is not None
    key = work.last.operation if is_undo and work.last is not None else deed.operation
    operation = next((one for one in stands.operations if one.key == key), None)
    is_mass = operation is not None and measures(operation) is Measures.WEIGHT
    figure = deed.figure
    is_done = deed.what is What.DONE
    return BenchWorkRow(
        order_id=order_id,
        position=stands.ring.position,
        serial=work.version + 1,
        operation=key,
        what=deed.what,
        figure_um=None if figure is None or is_mass else to_micrometres(figure),
        figure_mg=round(figure * 1000) if figure is not None and is_mass else None,
        minutes=deed.minutes,
        then_operation=goes_on_with(work, stands.operations, key) if is_done else "",
        reason=deed.reason,
        undoes=work.last.serial if is_undo and work.last is not None else None,
        at=now,
        user_id=actor.id,
        maker=actor.name,
    )


def _put_record(
    session: Session, made: BenchWorkRow, before: RingAtBench, after: RingAtBench, actor: Actor
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Carry into the ring's bench record what this changed of its figures; gives the fields, old and new."""
    design, number = before.ring.design, before.order.number
    was = record_figures(before.operations, before.work, design)
    said = record_figures(after.operations, after.work, design)
    known = bench_record(session, number, before.ring.position)
    stands = BenchDraft() if known is None else known.draft
    if made.what == What.UNDONE:
        fields = put_back(stands, was, _undone(session, made).record_before or {})
    else:
        fields = moved(was, said)
        made.record_before = {name: getattr(stands, name) for name in fields} or None
    if not fields:
        return {}, {}
    kept = keep_record(
        session,
        order_id=made.order_id,
        number=number,
        ring=before.ring,
        draft=with_figures(stands, fields),
        actor=actor,
        now=made.at,
    )
    return kept.old, kept.new


def _undone(session: Session, made: BenchWorkRow) -> BenchWorkRow:
    """The row that this one takes back."""
    return session.exec(
        select(BenchWorkRow).where(
            col(BenchWorkRow.order_id) == made.order_id,
            col(BenchWorkRow.position) == made.position,
            col(BenchWorkRow.serial) == made.undoes,
        )
    ).one()


def _told(row: BenchWorkRow, operations: Sequence[Operation]) -> dict[str, Any]:
    """The row for the history: the step by its name, and what was put down."""
    name = next((one.name.rstrip(",.:") for one in operations if one.key == row.operation), row.operation)
    told: dict[str, Any] = {"step": name}
    if row.figure_um is not None:
        told["figure"] = f"{figure_words(from_micrometres(row.figure_um))} mm"
    if row.figure_mg is not None:
        told["figure"] = f"{figure_words(row.figure_mg / 1000)} g"
    if row.minutes is not None:
        told["minutes"] = row.minutes
    if row.then_operation:
        told["then"] = row.then_operation
    return told
