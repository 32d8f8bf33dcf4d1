"""A blank that was cut and is not made into its ring: back into the drawer as a piece, or scrap by weight."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.ledger import Hand, enter, fit_piece, open_ledger
from studio.book.order_tables import OrderRow, RingRow
from studio.book.piece_reads import mark_of
from studio.book.piece_tables import CutRow, PieceRow
from studio.craft.calling_off import MetalTo
from studio.craft.designs import Profile, Stock
from studio.craft.drawer import PieceKind
from studio.craft.ledger import Account, MetalMove
from studio.craft.metals import Metal


@dataclass(frozen=True, slots=True)
class CutBlank:
    """The blank of one ring as it was sawn: the ring's place, the cut, and its sides in µm."""

    position: int
    cut_id: int
    stock: Stock
    profile: Profile
    length_um: int
    width_um: int


def cut_blanks(session: Session, order: OrderRow) -> tuple[CutBlank, ...]:
    """The blanks of an order that are cut, by the places of their rings."""
    rings = session.exec(
        select(RingRow).where(col(RingRow.order_id) == order.id).order_by(col(RingRow.position))
    ).all()
    return tuple(
        CutBlank(
            ring.position,
            ring.cut_id,
            Stock(ring.stock),
            Profile(ring.profile),
            ring.mark_um,
            ring.width_um,
        )
        for ring in rings
        if ring.cut_id is not None
    )


def put_blank_back(
    session: Session, order: OrderRow, blank: CutBlank, to: MetalTo, *, actor: Actor, now: datetime
) -> dict[str, Any]:
    """Let a cut blank go back, inside a transaction; what became of it, as plain values.

    {'ring': 1, 'to': 'drawer', 'mass_mg': 5600, 'piece': 'S-012'}. A piece counts as of the cut it was sawn
    in, so that undoing the cut takes it out again.
    """
    cut = session.get_one(CutRow, blank.cut_id)
    name = f"{order.number}/{blank.position}"
    source, mass_mg = next(
        (one["piece"], sawn["mass_mg"])
        for one in cut.told["pieces"]
        for sawn in one["blanks"]
        if sawn["ring"] == name
    )
    told: dict[str, Any] = {"ring": blank.position, "to": to, "mass_mg": mass_mg, "piece": None}
    hand = Hand(actor, now)
    open_ledger(session, hand)
    if to is MetalTo.DRAWER:
        piece = _piece_again(session.get_one(PieceRow, source), blank, mass_mg, now)
        session.add(piece)
        session.flush()
        told["piece"] = mark_of(piece.id, Metal(piece.metal))
        fit_piece(session, hand, piece, MetalMove.RETURNED, Account.BENCH, ring=name, cut_id=cut.id)
    else:
        sawn_from = session.get_one(PieceRow, source)
        enter(session, hand, MetalMove.SCRAPPED, Account.BENCH, Account.SCRAP,
              alloy=sawn_from.alloy, owner_id=sawn_from.owner_id, mass_mg=mass_mg, ring=name,
              cut_id=cut.id)  # fmt: skip
    return told


def _piece_again(source: PieceRow, blank: CutBlank, mass_mg: int, now: datetime) -> PieceRow:
    is_wire = blank.stock is Stock.WIRE
    return PieceRow(
        kind=PieceKind.WIRE if is_wire else PieceKind.STRIP,
        alloy=source.alloy,
        metal=source.metal,
        profile=blank.profile if is_wire else None,
        length_um=blank.length_um,
        width_um=blank.width_um,
        thickness_um=source.thickness_um,
        mass_mg=mass_mg,
        lot=source.lot,
        place=source.place,
        owner_id=source.owner_id,
        order_id=source.order_id if source.owner_id is not None else None,
        is_offcut=True,
        cut_id=blank.cut_id,
        changed_at=now,
    )
