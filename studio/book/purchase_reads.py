"""Purchases read back: what was ordered, what is on its way, and what it is to the planning."""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func
from sqlmodel import Session, col, select

from studio.book.buying_errors import PurchaseUnknown
from studio.book.buying_tables import LineState, PurchaseLineRow, PurchaseRow
from studio.book.row_ids import row_by_id
from studio.craft.designs import Profile
from studio.craft.drawer import Measures, PieceKind
from studio.craft.needs import LyingPiece
from studio.craft.units import from_micrometres, from_milligrams

MOST_SHOWN = 20
"""So many of the latest purchases are listed, and all with something on its way, which stand before them."""


@dataclass(frozen=True, slots=True)
class PurchaseLine:
    """One thing that was ordered, named '3/1'; `arrived_g` is what it weighed when it came."""

    id: int
    name: str
    state: LineState
    measures: Measures
    mass_g: float
    cost_minor: int | None
    rings: tuple[str, ...]
    piece_id: int | None
    arrived_g: float | None


@dataclass(frozen=True, slots=True)
class Purchase:
    """One order to a supplier with its things."""

    id: int
    supplier: str
    ordered_on: date
    expected_on: date
    currency: str
    version: int
    lines: tuple[PurchaseLine, ...]

    @property
    def on_its_way(self) -> tuple[PurchaseLine, ...]:
        """What is ordered and neither arrived nor called off."""
        return tuple(line for line in self.lines if line.state is LineState.ORDERED)

    def is_late(self, today: date) -> bool:
        """Whether something of it should have been here before `today`."""
        return bool(self.on_its_way) and self.expected_on < today


def purchases(session: Session, *, purchase_id: int | None = None) -> tuple[Purchase, ...]:
    """The purchases, those with something on its way first, then the latest; or the one of `purchase_id`."""
    wanted = select(PurchaseRow).order_by(col(PurchaseRow.id).desc())
    if purchase_id is None:
        waiting = select(PurchaseLineRow.purchase_id).where(col(PurchaseLineRow.state) == LineState.ORDERED)
        ids = set(session.exec(waiting).all())
        latest = select(PurchaseRow.id).order_by(col(PurchaseRow.id).desc()).limit(MOST_SHOWN)
        shown = ids | set(session.exec(latest).all())
        wanted = wanted.where(col(PurchaseRow.id).in_(sorted(shown)))
    else:
        ids, wanted = set(), wanted.where(col(PurchaseRow.id) == purchase_id)
    rows = sorted(session.exec(wanted).all(), key=lambda row: row.id not in ids)
    lines: dict[int, list[PurchaseLineRow]] = {row.id: [] for row in rows}
    their = select(PurchaseLineRow).where(col(PurchaseLineRow.purchase_id).in_(list(lines)))
    for line in session.exec(their.order_by(col(PurchaseLineRow.purchase_id), col(PurchaseLineRow.position))):
        lines[line.purchase_id].append(line)
    return tuple(
        Purchase(
            row.id,
            row.supplier,
            row.ordered_on,
            row.expected_on,
            row.currency,
            row.version,
            tuple(_line(one) for one in lines[row.id]),
        )
        for row in rows
    )


def purchase(session: Session, purchase_id: int) -> Purchase:
    """The purchase of this number. Raises `PurchaseUnknown`."""
    if row_by_id(session, PurchaseRow, purchase_id) is None:
        raise PurchaseUnknown(purchase_id)
    (found,) = purchases(session, purchase_id=purchase_id)
    return found


def latest_purchase(session: Session) -> int:
    """The number of the latest purchase, 0 before the first."""
    return session.exec(select(func.max(PurchaseRow.id))).one() or 0


def ordered_pieces(session: Session) -> tuple[LyingPiece, ...]:
    """What is on its way, as planning sees a piece; its number is below 0, as it lies in no drawer yet."""
    wanted = select(PurchaseLineRow).where(col(PurchaseLineRow.state) == LineState.ORDERED)
    return tuple(
        LyingPiece(
            id=-row.id,
            mark=line_name(row),
            kind=PieceKind(row.kind),
            alloy=row.alloy,
            profile=None if row.profile is None else Profile(row.profile),
            length_um=row.length_um,
            width_um=row.width_um,
            thickness_um=row.thickness_um,
            mass_mg=row.mass_mg,
            is_offcut=False,
            owner_id=None,
            order=None,
            version=1,
        )
        for row in session.exec(wanted.order_by(col(PurchaseLineRow.id))).all()
    )


def rings_ordered_for(session: Session) -> frozenset[str]:
    """The rings whose metal is on its way, such as '2026-118/1'."""
    found = session.exec(
        select(PurchaseLineRow.rings).where(col(PurchaseLineRow.state) == LineState.ORDERED)
    ).all()
    return frozenset(ring for rings in found for ring in rings)


def line_name(row: PurchaseLineRow) -> str:
    """A thing by its purchase and its place in it: '3/1'."""
    return f"{row.purchase_id}/{row.position}"


def measures_of(row: PurchaseLineRow) -> Measures:
    """What was ordered, as a piece is measured."""
    return Measures(
        PieceKind(row.kind),
        row.alloy,
        from_micrometres(row.length_um),
        from_micrometres(row.width_um),
        from_micrometres(row.thickness_um),
        None if row.profile is None else Profile(row.profile),
    )


def _line(row: PurchaseLineRow) -> PurchaseLine:
    return PurchaseLine(
        row.id,
        line_name(row),
        LineState(row.state),
        measures_of(row),
        from_milligrams(row.mass_mg),
        row.cost_minor,
        tuple(row.rings),
        row.piece_id,
        None if row.arrived_mg is None else from_milligrams(row.arrived_mg),
    )
