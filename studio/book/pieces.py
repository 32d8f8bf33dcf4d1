"""The drawer: pieces of stock put in, put right, set aside for an order, and taken out."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import OrderUnknown, VersionStale
from studio.book.ledger import Hand, fit_piece, open_ledger
from studio.book.order_tables import OrderRow
from studio.book.piece_errors import PieceGone, PieceTaken, PieceUnknown
from studio.book.piece_reads import Piece, locked, mark_of, pieces
from studio.book.piece_tables import PieceRow
from studio.book.practices import practice_on
from studio.book.ring_names import checked_ring
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.alloys import density_g_cm3
from studio.craft.drawer import MASS_G, Measures, check_measures, differs_percent
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.ledger import Account, MetalMove
from studio.craft.metals import Alloy, Metal
from studio.craft.units import from_micrometres, from_milligrams, to_micrometres, to_milligrams

LONGEST_PLACE, LONGEST_LOT, LONGEST_WHY = 60, 40, 200
WENT_TO = (
    Account.SOLD, Account.LOSS, Account.SCRAP, Account.BENCH, Account.CUSTOMER, Account.SUPPLIER,
)  # fmt: skip
"""Where the metal of a piece may go that is taken out; to the refiner it goes out of the scrap box."""


@dataclass(frozen=True, slots=True)
class PieceDraft:
    """What is put down of a piece. `mass_g` is what it weighs, None where its measures have to tell.

    `order` sets it aside; where it `is_customers`, it is that order's customer's own metal. `is_sure` says
    that a weight far from what the measures give is right all the same; `from_ring` that it came back from
    the bench, from the metal issued for that ring.
    """

    measures: Measures
    mass_g: float | None = None
    lot: str = ""
    paid_minor: int | None = None
    place: str = ""
    order: str | None = None
    is_customers: bool = False
    is_offcut: bool = False
    is_sure: bool = False
    from_ring: str = ""


def put_piece(
    session: Session,
    *,
    piece: PieceDraft,
    piece_id: int | None = None,
    version: int | None = None,
    reason: str | None = None,
    actor: Actor,
    now: datetime,
) -> Piece:
    """Put a piece into the drawer, or put right what is known of the one of `piece_id`.

    Saying again what stands writes nothing; `reason` says in the history what it came with.
    Raises `Refused` for measures no piece has and for a weight far from what they give, unless the draft is
    sure of it, and for a ring it cannot come back from; `OrderUnknown`; `PieceUnknown`, `PieceGone`,
    `PieceTaken` where it is set aside for another order by now, and `VersionStale`.
    """
    with transaction(session):
        open_ledger(session, Hand(actor, now))
        alloy = _checked(session, piece, now)
        order = None if piece.order is None else _order(session, piece.order)
        piece = replace(piece, from_ring=checked_ring(session, piece.from_ring, "from_ring"))
        if piece_id is None:
            row, old = PieceRow(version=0, changed_at=now, **_columns(piece, alloy, order)), {}
        else:
            row = _there(session, piece_id, version)
            if order is not None and row.order_id not in {None, order.id}:
                raise PieceTaken(_mark(row), _number(session, row.order_id))
            old = _shown(session, row)
            for name, value in _columns(piece, alloy, order).items():
                setattr(row, name, value)
        verb = "change a piece" if old else "put in a piece"
        put = _written(session, row, old, verb, actor=actor, now=now, reason=reason)
        what, beyond = _came_by(piece) if not old else (MetalMove.PUT_RIGHT, Account.DIFFERENCE)
        ring = "" if old else piece.from_ring
        fit_piece(session, Hand(actor, now), row, what, beyond, ring=ring, note=reason or "")
        return put


def set_aside(
    session: Session, *, piece_id: int, order: str | None, version: int, actor: Actor, now: datetime
) -> Piece:
    """Set a piece aside for an order, or give it free again. Two people cannot take the same piece.

    Raises `PieceUnknown`, `PieceGone`, `PieceTaken` where another order has it, `OrderUnknown` and
    `VersionStale`; a customer's own metal stays with that customer (`PieceTaken`).
    """
    with transaction(session):
        row = _there(session, piece_id, None)
        wanted = None if order is None else _order(session, order)
        if wanted is not None and row.order_id not in {None, wanted.id}:
            raise PieceTaken(_mark(row), _number(session, row.order_id))
        if row.owner_id is not None and (wanted is None or wanted.customer_id != row.owner_id):
            raise PieceTaken(_mark(row), None)
        if version != row.version:
            raise VersionStale(f"piece {piece_id}", version, row.version)
        old = _shown(session, row)
        row.order_id = None if wanted is None else wanted.id
        return _written(
            session, row, old, "set a piece aside" if wanted else "free a piece", actor=actor, now=now
        )


def take_out(
    session: Session,
    *,
    piece_id: int,
    why: str,
    to: Account = Account.LOSS,
    ring: str = "",
    version: int,
    actor: Actor,
    now: datetime,
) -> Piece:
    """Take a piece out of the drawer for good, saying why, and to which account of `WENT_TO` its metal went.

    `ring` is the one it is issued for, '2026-118/1', where it goes to the bench. Raises `Refused` without a
    word why, for another account and for a ring that is none, `PieceUnknown`, `PieceGone` and `VersionStale`.
    """
    with transaction(session):
        open_ledger(session, Hand(actor, now))
        if to not in WENT_TO:
            raise Refused(Refusal("to", Why.UNKNOWN_CHOICE, to))
        ring = checked_ring(session, ring, "ring", is_needed=to is Account.BENCH)
        why = " ".join(why.split())
        if not why or len(why) > LONGEST_WHY:
            raise Refused(
                Refusal("why", Why.TOO_LONG if why else Why.EMPTY, high=LONGEST_WHY, unit="characters")
            )
        row = _there(session, piece_id, version)
        old = _shown(session, row)
        row.gone = why
        taken = _written(session, row, old, "take a piece out", actor=actor, now=now, reason=why)
        what = MetalMove.ISSUED if to is Account.BENCH else MetalMove.TAKEN_OUT
        fit_piece(session, Hand(actor, now), row, what, to, ring=ring, note=why)
        return taken


def _came_by(piece: PieceDraft) -> tuple[MetalMove, Account]:
    if piece.from_ring:
        return MetalMove.RETURNED, Account.BENCH
    if piece.is_customers:
        return MetalMove.CUSTOMERS_IN, Account.CUSTOMER
    return MetalMove.BOUGHT, Account.SUPPLIER


def _written(
    session: Session,
    row: PieceRow,
    old: dict[str, Any],
    verb: str,
    *,
    actor: Actor,
    now: datetime,
    reason: str | None = None,
) -> Piece:
    new = _shown(session, row)
    changed = [name for name in new if old.get(name) != new[name]]
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
            order_id=row.order_id,
            old={"piece": row.id} | {name: old[name] for name in changed} if old else None,
            new={"piece": row.id} | {name: new[name] for name in changed},
            reason=reason,
        )
    (found,) = pieces(session, ids=[row.id])
    return found


def _checked(session: Session, piece: PieceDraft, now: datetime) -> Alloy:
    known = practice_on(session, day_of(now, time_zone(session))).alloys
    found: list[Refusal] = []
    alloy = known.get(piece.measures.alloy)
    if alloy is None:
        found.append(Refusal("alloy", Why.UNKNOWN_CHOICE, piece.measures.alloy[:24]))
    try:
        check_measures(piece.measures)
    except Refused as refused:
        found += refused.refusals
    for name, longest in (("lot", LONGEST_LOT), ("place", LONGEST_PLACE)):
        if len(getattr(piece, name)) > longest:
            found.append(Refusal(name, Why.TOO_LONG, high=longest, unit="characters"))
    if piece.is_customers and piece.order is None:
        found.append(Refusal("order", Why.EMPTY))
    if found or alloy is None:
        raise Refused(*found)
    _check_weight(piece, alloy)
    return alloy


def _check_weight(piece: PieceDraft, alloy: Alloy) -> None:
    if piece.mass_g is None:
        return
    if not MASS_G.low <= piece.mass_g <= MASS_G.high:
        why = Why.TOO_LARGE if piece.mass_g > MASS_G.high else Why.TOO_SMALL
        raise Refused(Refusal("mass", why, f"{piece.mass_g:g}", MASS_G.low, MASS_G.high, "g"))
    reckoned = piece.measures.mass_g(density_g_cm3(alloy))
    if not piece.is_sure and differs_percent(piece.mass_g, reckoned) is not None:
        raise Refused(Refusal("mass", Why.WEIGHT_DIFFERS, f"{piece.mass_g:.2f}", high=reckoned, unit="g"))


def _columns(piece: PieceDraft, alloy: Alloy, order: OrderRow | None) -> dict[str, Any]:
    measures = piece.measures
    reckoned = measures.mass_g(density_g_cm3(alloy))
    return {
        "kind": measures.kind,
        "alloy": measures.alloy,
        "metal": alloy.metal,
        "profile": measures.profile,
        "length_um": to_micrometres(measures.length_mm),
        "width_um": to_micrometres(measures.width_mm),
        "thickness_um": to_micrometres(measures.thickness_mm),
        "mass_mg": max(1, to_milligrams(reckoned if piece.mass_g is None else piece.mass_g)),
        "is_weighed": piece.mass_g is not None,
        "lot": " ".join(piece.lot.split()),
        "paid_minor": piece.paid_minor,
        "place": " ".join(piece.place.split()),
        "owner_id": order.customer_id if order is not None and piece.is_customers else None,
        "order_id": None if order is None else order.id,
        "is_offcut": piece.is_offcut,
    }


def _there(session: Session, piece_id: int, version: int | None) -> PieceRow:
    row = locked(session, PieceRow, piece_id)
    if row is None:
        raise PieceUnknown(piece_id)
    if row.gone:
        raise PieceGone(piece_id, row.gone)
    if version is not None and version != row.version:
        raise VersionStale(f"piece {piece_id}", version, row.version)
    return row


def _order(session: Session, number: str) -> OrderRow:
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one_or_none()
    if row is None:
        raise OrderUnknown(number)
    return row


def _number(session: Session, order_id: int | None) -> str | None:
    return session.exec(select(OrderRow.number).where(col(OrderRow.id) == order_id)).one_or_none()


def _mark(row: PieceRow) -> str:
    return mark_of(row.id, Metal(row.metal))


def _shown(session: Session, row: PieceRow) -> dict[str, Any]:
    """The piece as plain JSON values, for the history."""
    return {
        "kind": str(row.kind),
        "alloy": row.alloy,
        "profile": None if row.profile is None else str(row.profile),
        "length_mm": from_micrometres(row.length_um),
        "width_mm": from_micrometres(row.width_um),
        "thickness_mm": from_micrometres(row.thickness_um),
        "mass_g": from_milligrams(row.mass_mg),
        "lot": row.lot,
        "paid_minor": row.paid_minor,
        "place": row.place,
        "owner": row.owner_id,
        "order": _number(session, row.order_id),
        "gone": row.gone,
    }
