"""The pieces of the drawer as values."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from sqlmodel import Session, col, select

from studio.book.customer_tables import CustomerRow
from studio.book.order_tables import OrderRow
from studio.book.piece_tables import PieceRow
from studio.book.row_ids import row_by_id
from studio.book.types import Row
from studio.craft.designs import Profile
from studio.craft.drawer import Measures, PieceKind
from studio.craft.metals import Metal
from studio.craft.units import from_micrometres, from_milligrams

CUT, UNDONE = "cut", "cut undone"
"""Why a piece is gone that a cut used up, and an offcut whose cut was undone."""
Kind = TypeVar("Kind", bound=Row)
_LETTERS = {
    Metal.GOLD: "G", Metal.SILVER: "S", Metal.PLATINUM: "P", Metal.PALLADIUM: "L",
    Metal.COPPER: "C", Metal.BRASS: "B", Metal.BRONZE: "Z", Metal.NICKEL_SILVER: "N",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece as it lies in the drawer. `mark` is what is written on it: 'S-014'."""

    id: int
    mark: str
    measures: Measures
    mass_g: float
    is_weighed: bool
    lot: str
    paid_minor: int | None
    place: str
    owner_id: int | None
    owner: str
    order_id: int | None
    order: str | None
    is_offcut: bool
    gone: str
    version: int


def mark_of(number: int, metal: Metal) -> str:
    """What is written on a piece: the metal's letter and its number, 'S-014'."""
    return f"{_LETTERS[metal]}-{number:03d}"


def locked(session: Session, kind: type[Kind], number: int) -> Kind | None:
    """The row of this number, to be changed: nobody else changes it meanwhile. None where there is none."""
    return row_by_id(session, kind, number, is_to_change=True)


def pieces(session: Session, *, ids: Iterable[int] | None = None) -> tuple[Piece, ...]:
    """The pieces in the drawer, by alloy, thickness and number; or those of `ids`, gone or not."""
    wanted = (
        select(PieceRow, CustomerRow.name, OrderRow.number)
        .outerjoin(CustomerRow, col(CustomerRow.id) == col(PieceRow.owner_id))
        .outerjoin(OrderRow, col(OrderRow.id) == col(PieceRow.order_id))
    )
    if ids is None:
        wanted = wanted.where(col(PieceRow.gone) == "")
    else:
        wanted = wanted.where(col(PieceRow.id).in_(list(ids)))
    ordered = wanted.order_by(col(PieceRow.alloy), col(PieceRow.thickness_um), col(PieceRow.id))
    return tuple(_piece(row, owner or "", number) for row, owner, number in session.exec(ordered).all())


def _piece(row: PieceRow, owner: str, order: str | None) -> Piece:
    measures = Measures(
        PieceKind(row.kind),
        row.alloy,
        from_micrometres(row.length_um),
        from_micrometres(row.width_um),
        from_micrometres(row.thickness_um),
        None if row.profile is None else Profile(row.profile),
    )
    return Piece(
        row.id,
        mark_of(row.id, Metal(row.metal)),
        measures,
        from_milligrams(row.mass_mg),
        row.is_weighed,
        row.lot,
        row.paid_minor,
        row.place,
        row.owner_id,
        owner,
        row.order_id,
        order,
        row.is_offcut,
        row.gone,
        row.version,
    )
