"""The studio's gauges: ring sets and sticks, with the calibration by which new measures are corrected."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Row as SqlRow
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import GaugeUnknown, VersionStale
from studio.book.gauge_tables import GaugeRow
from studio.book.row_ids import row_by_id
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.designs import Gauge, GaugeKind, Limits, System
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.units import from_micrometres, shown_length, to_micrometres

WIDTH_MM, STEP_MM, CORRECTION_MM = Limits(0.5, 40.0), Limits(0.05, 6.0), Limits(-3.0, 3.0)
LONGEST_NAME, LONGEST_NOTE = 40, 500


@dataclass(frozen=True, slots=True)
class GaugeDraft:
    """A gauge as it is put in. Lengths in mm; a stick has no width."""

    name: str
    kind: GaugeKind
    system: System
    width_mm: float | None
    step_mm: float
    correction_mm: float = 0.0
    calibrated_on: date | None = None
    note: str = ""
    is_usual: bool = False
    is_put_away: bool = False


@dataclass(frozen=True, slots=True)
class StudioGauge:
    """A gauge of the studio: what a finger keeps of it, its note, and how it is used now."""

    gauge: Gauge
    note: str
    is_usual: bool
    is_put_away: bool
    version: int

    @property
    def draft(self) -> GaugeDraft:
        """The gauge as it would be put in again, with nothing changed."""
        own = self.gauge
        return GaugeDraft(
            own.name,
            own.kind,
            own.system,
            own.width_mm,
            own.step_mm,
            own.correction_mm,
            own.calibrated_on,
            self.note,
            self.is_usual,
            self.is_put_away,
        )


def gauges(session: Session) -> tuple[StudioGauge, ...]:
    """All gauges, those in use first, the usual one before the others, then by name."""
    return tuple(_gauge(row) for row in session.connection().execute(_ALL))


# The counter asks while somebody types: the statement is put together once.
_ALL = pick(
    col(GaugeRow.id),
    col(GaugeRow.name),
    col(GaugeRow.kind),
    col(GaugeRow.system),
    col(GaugeRow.width_um),
    col(GaugeRow.step_um),
    col(GaugeRow.correction_um),
    col(GaugeRow.calibrated_on),
    col(GaugeRow.note),
    col(GaugeRow.is_usual),
    col(GaugeRow.is_put_away),
    col(GaugeRow.version),
).order_by(col(GaugeRow.is_put_away), col(GaugeRow.is_usual).desc(), col(GaugeRow.name), col(GaugeRow.id))


def gauges_in_use(session: Session) -> tuple[Gauge, ...]:
    """The gauges that measure today, the usual one first where there is one."""
    return tuple(one.gauge for one in gauges(session) if not one.is_put_away)


def usual_gauge(session: Session) -> Gauge | None:
    """The gauge the counter begins with, None where the studio has named none."""
    row = session.exec(select(GaugeRow).where(col(GaugeRow.is_usual)).limit(1)).one_or_none()
    return None if row is None else _gauge(row).gauge


def put_gauge(
    session: Session,
    *,
    gauge: GaugeDraft,
    gauge_id: int | None = None,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> StudioGauge:
    """Put in a new gauge, or let the one of `gauge_id` be as `gauge` says from now on.

    Fingers that were measured before keep the calibration of their day. Where it `is_usual`, no other is.
    Saying again what stands writes nothing. Raises `Refused` with all that cannot stand, `GaugeUnknown`, and
    `VersionStale` where somebody else changed it since `version`.
    """
    with transaction(session):
        known = None if gauge_id is None else row_by_id(session, GaugeRow, gauge_id)
        if gauge_id is not None and known is None:
            raise GaugeUnknown(gauge_id)
        _check(session, gauge, gauge_id, day_of(now, time_zone(session)))
        if known is None:
            row, old = GaugeRow(version=0, **_columns(gauge), changed_at=now), {}
        else:
            if version is not None and version != known.version:
                raise VersionStale(f"gauge {gauge_id}", version, known.version)
            row, old = known, _shown(known)
            for name, value in _columns(gauge).items():
                setattr(row, name, value)
        new = _shown(row)
        changed = [name for name in new if old.get(name) != new[name]]
        if not changed:
            return _gauge(row)
        row.version += 1
        row.changed_at = now
        session.add(row)
        session.flush()
        if gauge.is_usual:
            _only_usual(session, row.id)
        note(
            session,
            actor=actor,
            now=now,
            verb="change a gauge" if old else "add a gauge",
            old={"gauge": row.id} | {name: old[name] for name in changed if name in old} if old else None,
            new={"gauge": row.id} | {name: new[name] for name in changed},
        )
        return _gauge(row)


def _only_usual(session: Session, gauge_id: int) -> None:
    for other in session.exec(select(GaugeRow).where(col(GaugeRow.is_usual), col(GaugeRow.id) != gauge_id)):
        other.is_usual = False
        session.add(other)


def _check(session: Session, gauge: GaugeDraft, gauge_id: int | None, today: date) -> None:
    found: list[Refusal] = []
    name = " ".join(gauge.name.split())
    same = select(GaugeRow.id, GaugeRow.name)
    if not name:
        found.append(Refusal("name", Why.EMPTY))
    elif len(name) > LONGEST_NAME or len(gauge.note) > LONGEST_NOTE:
        found.append(Refusal("name" if len(name) > LONGEST_NAME else "note", Why.TOO_LONG))
    elif any(
        known.casefold() == name.casefold() and number != gauge_id
        for number, known in session.exec(same).all()
    ):
        found.append(Refusal("name", Why.NAME_TAKEN, name))
    if gauge.kind is GaugeKind.STICK and gauge.width_mm is not None:
        found.append(Refusal("width_mm", Why.NO_WIDTH))
    for field, value, limits in (
        ("width_mm", gauge.width_mm, WIDTH_MM),
        ("step_mm", gauge.step_mm, STEP_MM),
        ("correction_mm", gauge.correction_mm, CORRECTION_MM),
    ):
        if value is not None and not limits.low <= value <= limits.high:
            why = Why.TOO_LARGE if value > limits.high else Why.TOO_SMALL
            found.append(Refusal(field, why, shown_length(value), limits.low, limits.high, "mm"))
    if gauge.calibrated_on is not None and gauge.calibrated_on > today:
        found.append(Refusal("calibrated_on", Why.DAY_TO_COME))
    if found:
        raise Refused(*found)


def _columns(gauge: GaugeDraft) -> dict[str, Any]:
    return {
        "name": " ".join(gauge.name.split()),
        "kind": gauge.kind,
        "system": gauge.system,
        "width_um": None if gauge.width_mm is None else to_micrometres(gauge.width_mm),
        "step_um": to_micrometres(gauge.step_mm),
        "correction_um": to_micrometres(gauge.correction_mm),
        "calibrated_on": gauge.calibrated_on,
        "note": gauge.note.strip(),
        "is_usual": gauge.is_usual and not gauge.is_put_away,
        "is_put_away": gauge.is_put_away,
    }


def _shown(row: GaugeRow) -> dict[str, Any]:
    """The gauge as plain JSON values, for the history."""
    return {
        "name": row.name,
        "kind": str(row.kind),
        "system": str(row.system),
        "width_mm": None if row.width_um is None else from_micrometres(row.width_um),
        "step_mm": from_micrometres(row.step_um),
        "correction_mm": from_micrometres(row.correction_um),
        "calibrated_on": None if row.calibrated_on is None else row.calibrated_on.isoformat(),
        "note": row.note,
        "is_usual": row.is_usual,
        "is_put_away": row.is_put_away,
    }


def _gauge(row: GaugeRow | SqlRow[*tuple[Any, ...]]) -> StudioGauge:
    return StudioGauge(
        Gauge(
            row.id,
            row.name,
            GaugeKind(row.kind),
            System(row.system),
            None if row.width_um is None else from_micrometres(row.width_um),
            from_micrometres(row.step_um),
            from_micrometres(row.correction_um),
            row.calibrated_on,
        ),
        row.note,
        row.is_usual,
        row.is_put_away,
        row.version,
    )
