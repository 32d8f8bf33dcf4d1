"""Metal ordered of a supplier: ordered, arrived thing by thing, called off."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.buying_errors import BoughtMeanwhile, NotOnItsWay, PurchaseUnknown, SupplyUnknown
from studio.book.buying_tables import LineState, PurchaseLineRow, PurchaseRow
from studio.book.errors import VersionStale
from studio.book.piece_reads import Piece, locked
from studio.book.pieces import PieceDraft, put_piece
from studio.book.practices import practice_on
from studio.book.purchase_reads import (
    Purchase,
    PurchaseLine,
    latest_purchase,
    line_name,
    measures_of,
    purchases,
)
from studio.book.studio import currency_of, studio_days, time_zone
from studio.book.supplies import supplies
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.alloys import density_g_cm3
from studio.craft.drawer import Measures
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.supplies import check_thing, mass_mg

MOST_LINES = 60


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to order of a supply, in µm, with the rings that wait for it and what it will cost."""

    supply_id: int
    length_um: int
    width_um: int
    rings: tuple[str, ...] = ()
    cost_minor: int | None = None


def order_metal(
    session: Session,
    *,
    supplier: str,
    wanted: Sequence[Wanted],
    seen: int | None = None,
    actor: Actor,
    now: datetime,
) -> Purchase:
    """Note that things were ordered of a supplier today; they are expected after the longest lead of theirs.

    `seen` is the latest purchase the list was made with. Raises `BoughtMeanwhile` where there is a later one,
    `SupplyUnknown` for a thing the supplier does not sell, `Refused` for a size it does not cut to.
    """
    with transaction(session):
        latest = latest_purchase(session)
        if seen is not None and latest != seen:
            raise BoughtMeanwhile(latest)
        if not 0 < len(wanted) <= MOST_LINES:
            why = Why.TOO_LONG if wanted else Why.EMPTY
            raise Refused(Refusal("lines", why, high=MOST_LINES, unit="things"))
        sold = {one.id: one.supply for one in supplies(session) if one.supply.supplier == supplier}
        for one in wanted:
            if one.supply_id not in sold:
                raise SupplyUnknown(one.supply_id)
        today = day_of(now, time_zone(session))
        days = studio_days(session).open
        alloys = practice_on(session, today).alloys
        row = PurchaseRow(
            supplier=supplier,
            ordered_at=now,
            ordered_on=today,
            expected_on=max(sold[one.supply_id].expected_on(today, days) for one in wanted),
            currency=currency_of(session),
            user_id=actor.id,
            actor=actor.name,
        )
        session.add(row)
        session.flush()
        for position, one in enumerate(wanted, 1):
            supply = sold[one.supply_id]
            check_thing(supply, one.length_um, one.width_um, f"lines.{position - 1}.")
            session.add(
                PurchaseLineRow(
                    purchase_id=row.id,
                    position=position,
                    supply_id=one.supply_id,
                    kind=supply.kind,
                    alloy=supply.alloy,
                    profile=supply.profile,
                    length_um=one.length_um,
                    width_um=one.width_um,
                    thickness_um=supply.thickness_um,
                    mass_mg=mass_mg(supply, one.length_um, one.width_um, density_g_cm3(alloys[supply.alloy])),
                    cost_minor=one.cost_minor,
                    rings=list(one.rings),
                )
            )
        session.flush()
        (made,) = purchases(session, purchase_id=row.id)
        note(
            session,
            actor=actor,
            now=now,
            verb="order metal",
            new={"purchase": row.id, "supplier": supplier, "expected_on": row.expected_on.isoformat(),
                 "lines": [_shown(line) for line in made.lines]},
        )  # fmt: skip
        return made


def receive_metal(
    session: Session,
    *,
    purchase_id: int,
    line_id: int,
    mass_g: float | None = None,
    length_mm: float | None = None,
    lot: str = "",
    paid_minor: int | None = None,
    place: str = "",
    is_sure: bool = False,
    actor: Actor,
    now: datetime,
) -> Piece:
    """One thing arrived: it enters the drawer with its lot, its price and what it weighs.

    Without `length_mm` it is as long as ordered. Raises `PurchaseUnknown`, `NotOnItsWay` where it
    arrived or was called off before, and `Refused` as `put_piece` does.
    """
    with transaction(session):
        row, line = _waiting(session, purchase_id, line_id)
        measures = measures_of(line)
        if length_mm is not None:
            measures = Measures(
                measures.kind,
                measures.alloy,
                length_mm,
                measures.width_mm,
                measures.thickness_mm,
                measures.profile,
            )
        draft = PieceDraft(
            measures, mass_g=mass_g, lot=lot, paid_minor=paid_minor, place=place, is_sure=is_sure
        )
        piece = put_piece(session, piece=draft, reason=f"purchase {line_name(line)}", actor=actor, now=now)
        line.state, line.piece_id, line.settled_at = LineState.ARRIVED, piece.id, now
        line.arrived_mg = round(piece.mass_g * 1000)
        row.version += 1
        session.add(line)
        session.add(row)
        session.flush()
        return piece


def call_off_metal(
    session: Session,
    *,
    purchase_id: int,
    line_id: int | None = None,
    version: int,
    actor: Actor,
    now: datetime,
) -> Purchase:
    """Call off one thing of a purchase, or all of it that has not arrived.

    Raises `PurchaseUnknown`, `VersionStale`, and `NotOnItsWay` where nothing of it is on its way.
    """
    with transaction(session):
        if line_id is not None:
            row, line = _waiting(session, purchase_id, line_id)
            waiting: Sequence[PurchaseLineRow] = [line]
        else:
            row = _there(session, purchase_id)
            waiting = session.exec(
                select(PurchaseLineRow).where(
                    col(PurchaseLineRow.purchase_id) == purchase_id,
                    col(PurchaseLineRow.state) == LineState.ORDERED,
                )
            ).all()
        if version != row.version:
            raise VersionStale(f"purchase {purchase_id}", version, row.version)
        if not waiting:
            raise NotOnItsWay(str(purchase_id), LineState.ARRIVED)
        for one in waiting:
            one.state, one.settled_at = LineState.CALLED_OFF, now
            session.add(one)
        row.version += 1
        session.add(row)
        session.flush()
        note(
            session,
            actor=actor,
            now=now,
            verb="call off metal",
            new={"purchase": purchase_id, "lines": [line_name(one) for one in waiting]},
        )
        (found,) = purchases(session, purchase_id=purchase_id)
        return found


def _there(session: Session, purchase_id: int) -> PurchaseRow:
    row = locked(session, PurchaseRow, purchase_id)
    if row is None:
        raise PurchaseUnknown(purchase_id)
    return row


def _waiting(session: Session, purchase_id: int, line_id: int) -> tuple[PurchaseRow, PurchaseLineRow]:
    row, line = _there(session, purchase_id), locked(session, PurchaseLineRow, line_id)
    if line is None or line.purchase_id != purchase_id:
        raise PurchaseUnknown(purchase_id)
    if line.state != LineState.ORDERED:
        raise NotOnItsWay(line_name(line), line.state)
    return row, line


def _shown(line: PurchaseLine) -> dict[str, object]:
    size = line.measures
    return {
        "line": line.name,
        "alloy": size.alloy,
        "length_mm": size.length_mm,
        "width_mm": size.width_mm,
        "thickness_mm": size.thickness_mm,
        "mass_g": line.mass_g,
        "cost_minor": line.cost_minor,
    }
