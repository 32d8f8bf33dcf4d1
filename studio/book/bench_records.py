"""What the bench measured on rings: put down on the ring's page, and what it teaches the next ring."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.bench_tables import BenchRecordRow
from studio.book.errors import NothingToMeasure, VersionStale
from studio.book.order_values import OrderRing
from studio.book.order_writing import locked_order
from studio.book.ring_reads import rings_of
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.designs import Limits, Pattern, PatternWhen
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.forming_learning import FormingRecord
from studio.craft.metals import Metal
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.stretch_learning import StretchRecord
from studio.craft.units import from_micrometres, shown_length, to_micrometres

LENGTH_MM, SIZE_MM = Limits(5.0, 400.0), Limits(25.0, 110.0)
LONGEST_TOOL, LONGEST_WRONG = 60, 200
_FIGURES = ("before_mm", "after_mm", "closed_mm", "formed_mm")


@dataclass(frozen=True, slots=True)
class BenchDraft:
    """What is put down of a ring. Lengths in mm, sizes the inside round; `wrong` is why it does not count."""

    before_mm: float | None = None
    after_mm: float | None = None
    closed_mm: float | None = None
    formed_mm: float | None = None
    tool: str = ""
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class BenchRecord:
    """A record as it stands, with the ring as it was then. `pattern_when` is None for a plain ring."""

    ring: str
    measured_on: date
    pattern: Pattern
    when: PatternWhen | None
    alloy: str
    metal: Metal
    thickness_mm: float
    draft: BenchDraft
    maker: str
    version: int

    @property
    def of_stretch(self) -> StretchRecord | None:
        """What the record says of the stretch of its pattern; None where it says nothing of it."""
        told = self.draft
        if self.when is None or told.before_mm is None or told.after_mm is None:
            return None
        return StretchRecord(
            self.ring,
            self.pattern,
            self.when,
            self.metal,
            self.thickness_mm,
            told.before_mm,
            told.after_mm,
            told.wrong,
        )

    @property
    def of_forming(self) -> FormingRecord | None:
        """What the record says of how a waist falls as it is formed; None where it says nothing of it."""
        told = self.draft
        if told.closed_mm is None or told.formed_mm is None:
            return None
        return FormingRecord(
            self.ring, self.metal, self.thickness_mm, told.closed_mm, told.formed_mm, told.wrong
        )


@dataclass(frozen=True, slots=True)
class KeptRecord:
    """A record as it was kept: `old` and `new` hold just the fields that changed, none where nothing did."""

    record: BenchRecord
    old: dict[str, Any]
    new: dict[str, Any]


def bench_records(session: Session, *, until: date | None = None) -> tuple[BenchRecord, ...]:
    """All records up to the end of `until`, or all there are, the oldest first."""
    rows = session.connection().execute(_UNTIL, {"until": until or date.max})
    return tuple(_record(row) for row in rows)


def bench_record(session: Session, order_number: str, position: int) -> BenchRecord | None:
    """The record of one ring, None where there is none yet."""
    wanted = select(BenchRecordRow).where(col(BenchRecordRow.ring) == f"{order_number}/{position}")
    row = session.exec(wanted).one_or_none()
    return None if row is None else _record(row)


# The counter asks while somebody types: the statement is put together once.
_UNTIL = (
    pick(
        col(BenchRecordRow.ring),
        col(BenchRecordRow.measured_on),
        col(BenchRecordRow.pattern),
        col(BenchRecordRow.pattern_when),
        col(BenchRecordRow.alloy),
        col(BenchRecordRow.metal),
        col(BenchRecordRow.thickness_um),
        col(BenchRecordRow.before_um),
        col(BenchRecordRow.after_um),
        col(BenchRecordRow.closed_um),
        col(BenchRecordRow.formed_um),
        col(BenchRecordRow.tool),
        col(BenchRecordRow.maker),
        col(BenchRecordRow.wrong),
        col(BenchRecordRow.version),
    )
    .where(col(BenchRecordRow.measured_on) <= bindparam("until"))
    .order_by(col(BenchRecordRow.measured_on), col(BenchRecordRow.id))
)


def put_bench_record(
    session: Session,
    *,
    number: str,
    position: int,
    record: BenchDraft,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> BenchRecord:
    """Put down what ring `position` of an order measured at the bench, or put it right.

    The ring's pattern, metal and thickness are kept beside it as they are now. Rings reckoned before stay as
    they are; those that are reckoned from today on learn from it. Saying again what stands writes nothing.
    Raises `OrderUnknown`, `NothingToMeasure` for a ring that is not there or not made yet,
    `VersionStale` where somebody else changed the record since `version` (0: there was none), and `Refused`.
    """
    with transaction(session):
        row = locked_order(session, number, None)
        ring = next((one for one in rings_of(session, row.id) if one.position == position), None)
        if ring is None or row.state in {*BEFORE_AGREEMENT, State.CALLED_OFF}:
            raise NothingToMeasure(number, position)
        _check(record, is_patterned=ring.design.pattern_when is not None)
        known = _row_of(session, row.id, position)
        current = 0 if known is None else known.version
        if version is not None and version != current:
            raise VersionStale(f"the bench record of {number}/{position}", version, current)
        kept = keep_record(
            session, order_id=row.id, number=number, ring=ring, draft=record, actor=actor, now=now
        )
        if kept.new:
            note(
                session,
                actor=actor,
                now=now,
                verb="put down a bench record",
                order_id=row.id,
                old=kept.old,
                new={"ring": kept.record.ring} | kept.new,
            )
        return kept.record


def keep_record(
    session: Session,
    *,
    order_id: int,
    number: str,
    ring: OrderRing,
    draft: BenchDraft,
    actor: Actor,
    now: datetime,
) -> KeptRecord:
    """Write a ring's record into the transaction of a verb, which sees to the history; what stands stays."""
    known = _row_of(session, order_id, ring.position)
    old = _NOTHING if known is None else _shown(_record(known))
    design = ring.design
    made = known or BenchRecordRow(
        order_id=order_id,
        position=ring.position,
        ring=f"{number}/{ring.position}",
        measured_on=day_of(now, time_zone(session)),
        pattern=design.pattern,
        alloy=design.alloy,
        metal=ring.reckoning.alloy.metal,
        thickness_um=to_micrometres(design.thickness_mm),
        maker=actor.name,
        version=0,
        changed_at=now,
    )
    made.pattern, made.pattern_when, made.alloy = design.pattern, design.pattern_when, design.alloy
    made.metal = ring.reckoning.alloy.metal
    made.thickness_um = to_micrometres(design.thickness_mm)
    for name, value in _columns(draft).items():
        setattr(made, name, value)
    new = _shown(_record(made))
    changed = [name for name in new if old[name] != new[name]]
    if changed:
        made.version, made.user_id, made.changed_at = made.version + 1, actor.id, now
        session.add(made)
        session.flush()
    return KeptRecord(
        _record(made), {name: old[name] for name in changed}, {name: new[name] for name in changed}
    )


def _row_of(session: Session, order_id: int, position: int) -> BenchRecordRow | None:
    of_ring = col(BenchRecordRow.order_id) == order_id, col(BenchRecordRow.position) == position
    return session.exec(select(BenchRecordRow).where(*of_ring)).one_or_none()


def _check(record: BenchDraft, *, is_patterned: bool) -> None:
    found: list[Refusal] = []
    for name in _FIGURES:
        value, limits = getattr(record, name), SIZE_MM if name in {"closed_mm", "formed_mm"} else LENGTH_MM
        if value is not None and not limits.low <= value <= limits.high:
            why = Why.TOO_LARGE if value > limits.high else Why.TOO_SMALL
            found.append(Refusal(name, why, shown_length(value), limits.low, limits.high, "mm"))
    if (record.before_mm is None) != (record.after_mm is None):
        found.append(Refusal("before_mm" if record.before_mm is None else "after_mm", Why.EMPTY))
    if not is_patterned and record.before_mm is not None:
        found.append(Refusal("before_mm", Why.NO_PATTERN))
    if all(getattr(record, name) is None for name in _FIGURES):
        found.append(Refusal("before_mm" if is_patterned else "closed_mm", Why.EMPTY))
    for name, longest in (("tool", LONGEST_TOOL), ("wrong", LONGEST_WRONG)):
        if len(getattr(record, name)) > longest:
            found.append(Refusal(name, Why.TOO_LONG, high=longest, unit="characters"))
    if found:
        raise Refused(*found)


def _columns(record: BenchDraft) -> dict[str, Any]:
    lengths: dict[str, float | None] = {name: getattr(record, name) for name in _FIGURES}
    in_um = {
        name.replace("_mm", "_um"): None if mm is None else to_micrometres(mm) for name, mm in lengths.items()
    }
    return {**in_um, "tool": " ".join(record.tool.split()), "wrong": " ".join(record.wrong.split())}


def _record(row: Any) -> BenchRecord:
    return BenchRecord(
        ring=row.ring,
        measured_on=row.measured_on,
        pattern=Pattern(row.pattern),
        when=None if row.pattern_when is None else PatternWhen(row.pattern_when),
        alloy=row.alloy,
        metal=Metal(row.metal),
        thickness_mm=from_micrometres(row.thickness_um),
        draft=BenchDraft(
            _mm(row.before_um), _mm(row.after_um), _mm(row.closed_um), _mm(row.formed_um), row.tool, row.wrong
        ),
        maker=row.maker,
        version=row.version,
    )


def _mm(um: int | None) -> float | None:
    return None if um is None else from_micrometres(um)


def _shown(record: BenchRecord) -> dict[str, Any]:
    """The record for the history: its figures and words."""
    told = record.draft
    figures: Sequence[tuple[str, Any]] = [(name, getattr(told, name)) for name in _FIGURES]
    return {**dict(figures), "tool": told.tool, "wrong": told.wrong}


_NOTHING = dict.fromkeys(_FIGURES) | {"tool": "", "wrong": ""}
