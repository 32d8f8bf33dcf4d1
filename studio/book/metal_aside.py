"""Metal that lies aside for orders: what was paid for it, beside what the quote reckoned."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow
from studio.book.metal_moves import quoted_metal
from studio.book.order_tables import OrderRow, RingRow
from studio.book.piece_reads import mark_of
from studio.book.piece_tables import PieceRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteState
from studio.craft.metals import Metal
from studio.craft.orders import State
from studio.craft.promised import Aside

_OVER = sorted([State.HANDED_OVER, State.CALLED_OFF])


@dataclass(frozen=True, slots=True)
class AsideMetal:
    """One metal that lies aside for one order: whose, the marks of its pieces, and its grams and money."""

    order: str
    customer: str
    alloy: str
    marks: tuple[str, ...]
    is_customers: bool
    aside: Aside


def metal_aside(session: Session, *, order: str | None = None) -> tuple[AsideMetal, ...]:
    """What lies aside for orders that are not over, or for the one `order`, by order and metal.

    The quote it stands beside is the one that was agreed, before the yes the one that waits.
    """
    wanted: Select[*tuple[Any, ...]] = (
        pick(
            col(OrderRow.id),
            col(OrderRow.number),
            col(CustomerRow.name),
            col(PieceRow.id).label("piece"),
            col(PieceRow.alloy),
            col(PieceRow.metal),
            col(PieceRow.mass_mg),
            col(PieceRow.paid_minor),
            col(PieceRow.owner_id),
        )
        .join(OrderRow, col(OrderRow.id) == col(PieceRow.order_id))
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .where(col(PieceRow.gone) == "", col(OrderRow.state).not_in(_OVER))
        .order_by(col(OrderRow.id), col(PieceRow.alloy), col(PieceRow.id))
    )
    if order is not None:
        wanted = wanted.where(col(OrderRow.number) == order)
    groups: dict[tuple[int, str, bool], list[Any]] = {}
    for piece in session.connection().execute(wanted).all():
        groups.setdefault((piece.id, piece.alloy, piece.owner_id is not None), []).append(piece)
    needs = _needs(session, {order_id for order_id, _, _ in groups}) if groups else {}
    return tuple(
        AsideMetal(
            pieces[0].number,
            pieces[0].name,
            alloy,
            tuple(mark_of(piece.piece, Metal(piece.metal)) for piece in pieces),
            is_customers,
            Aside(
                sum(piece.mass_mg for piece in pieces),
                _sum([piece.paid_minor for piece in pieces]),
                *needs.get((order_id, alloy), (0, None)),
            ),
        )
        for (order_id, alloy, is_customers), pieces in groups.items()
    )


def _needs(session: Session, order_ids: set[int]) -> Mapping[tuple[int, str], tuple[int, int | None]]:
    """What the rings of these orders take of each metal, in mg, and what the quote reckoned for it."""
    found = session.connection().execute(
        pick(
            col(RingRow.order_id),
            col(RingRow.position),
            col(RingRow.alloy),
            col(RingRow.issue_mg),
            col(AgreementRow.variant),
            col(QuoteRow.frozen),
        )
        .outerjoin(
            AgreementRow,
            (col(AgreementRow.order_id) == col(RingRow.order_id)) & col(AgreementRow.ended_at).is_(None),
        )
        .outerjoin(
            QuoteRow,
            (col(QuoteRow.id) == col(AgreementRow.quote_id))
            | (
                col(AgreementRow.id).is_(None)
                & (col(QuoteRow.order_id) == col(RingRow.order_id))
                & (col(QuoteRow.state) == QuoteState.OPEN)
            ),
        )
        .where(col(RingRow.order_id).in_(sorted(order_ids)))
        .order_by(col(RingRow.order_id), col(RingRow.position))
    )
    rings: dict[tuple[int, str], list[tuple[int, int | None]]] = {}
    for ring in found.all():
        quoted = quoted_metal(ring.frozen, ring.variant, ring.position)
        rings.setdefault((ring.order_id, ring.alloy), []).append((ring.issue_mg, quoted))
    return {
        key: (sum(mg for mg, _ in each), _sum([minor for _, minor in each])) for key, each in rings.items()
    }


def _sum(amounts: list[int | None]) -> int | None:
    """Their sum, None where one of them is not known."""
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if len(known) == len(amounts) else None
