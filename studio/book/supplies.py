"""What suppliers sell: the studio's own table, put in, put right and dropped."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.buying_errors import SupplyUnknown
from studio.book.buying_tables import SupplyRow
from studio.book.errors import VersionStale
from studio.book.piece_reads import locked
from studio.book.practices import practice_on
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.supplies import Supply, check_supply

LONGEST_SUPPLIER, LONGEST_SUPPLY_NOTE = 80, 200
_COLUMNS = tuple(Supply.__dataclass_fields__)


@dataclass(frozen=True, slots=True)
class KeptSupply:
    """A supply as it stands in the book."""

    id: int
    supply: Supply
    version: int


def supplies(session: Session) -> tuple[KeptSupply, ...]:
    """What suppliers sell by now, by their names, alloys and thicknesses."""
    wanted = (
        select(SupplyRow)
        .where(col(SupplyRow.is_dropped).is_(False))
        .order_by(
            col(SupplyRow.supplier), col(SupplyRow.alloy), col(SupplyRow.thickness_um), col(SupplyRow.id)
        )
    )
    return tuple(_kept(row) for row in session.exec(wanted).all())


def put_supply(
    session: Session,
    *,
    supply: Supply,
    supply_id: int | None = None,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> KeptSupply:
    """Put in what a supplier sells, or put right the supply of `supply_id`; the same again writes nothing.

    Raises `Refused` for figures no supply can have or an unknown alloy, `SupplyUnknown`, `VersionStale`.
    """
    with transaction(session):
        check_supply(supply)
        if supply.alloy not in practice_on(session, day_of(now, time_zone(session))).alloys:
            raise Refused(Refusal("alloy", Why.UNKNOWN_CHOICE, supply.alloy[:24]))
        old: dict[str, Any] = {}
        if supply_id is None:
            row = SupplyRow(version=0, changed_at=now, **_columns(supply))
        else:
            row = _there(session, supply_id, version)
            old = _columns(_kept(row).supply)
            for name, value in _columns(supply).items():
                setattr(row, name, value)
        verb = "change a supply" if old else "put in a supply"
        return _written(session, row, old, _columns(supply), verb, actor=actor, now=now)


def drop_supply(session: Session, *, supply_id: int, version: int, actor: Actor, now: datetime) -> None:
    """Take a supply off the table; what was ordered of it stays. Raises `SupplyUnknown`, `VersionStale`."""
    with transaction(session):
        row = _there(session, supply_id, version)
        row.is_dropped = True
        _written(
            session, row, {"is_dropped": False}, {"is_dropped": True}, "drop a supply", actor=actor, now=now
        )


def _written(
    session: Session,
    row: SupplyRow,
    old: dict[str, Any],
    new: dict[str, Any],
    verb: str,
    *,
    actor: Actor,
    now: datetime,
) -> KeptSupply:
    changed = [name for name in new if name not in old or old[name] != new[name]]
    if changed:
        row.version += 1
        row.user_id, row.changed_at = actor.id, now
        session.add(row)
        session.flush()
        note(
            session,
            actor=actor,
            now=now,
            verb=verb,
            old={"supply": row.id} | {name: old[name] for name in changed} if old else None,
            new={"supply": row.id} | {name: new[name] for name in changed},
        )
    return _kept(row)


def _there(session: Session, supply_id: int, version: int | None) -> SupplyRow:
    row = locked(session, SupplyRow, supply_id)
    if row is None or row.is_dropped:
        raise SupplyUnknown(supply_id)
    if version is not None and version != row.version:
        raise VersionStale(f"supply {supply_id}", version, row.version)
    return row


def _columns(supply: Supply) -> dict[str, Any]:
    return {name: getattr(supply, name) for name in _COLUMNS}


def _kept(row: SupplyRow) -> KeptSupply:
    told = {name: getattr(row, name) for name in _COLUMNS}
    told["kind"] = PieceKind(row.kind)
    told["profile"] = None if row.profile is None else Profile(row.profile)
    return KeptSupply(row.id, Supply(**told), row.version)
