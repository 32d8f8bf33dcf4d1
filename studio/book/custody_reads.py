"""All that is held of customers', with whose it is and where it lies."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.custody import orders_holding
from studio.book.customer_tables import CustomerRow
from studio.book.document_tables import DocumentRow
from studio.book.picture_tables import PictureRow
from studio.book.whereabouts import lies_of_orders
from studio.craft.goods import Good, shows
from studio.craft.whereabouts import Lies


@dataclass(frozen=True, slots=True)
class HeldGood:
    """One line that is held: of whom, since when, and where it lies.

    `pictures` are those of its order whose note names it.
    """

    good: Good
    order_number: str
    customer_id: int
    customer: str
    since: datetime
    lies: Lies
    pictures: tuple[int, ...]


def all_held(session: Session) -> tuple[HeldGood, ...]:
    """All that is held of customers', the longest first."""
    held = [(order, good) for order, goods in orders_holding(session) for good in goods]
    if not held:
        return ()
    names = dict(
        session.exec(
            select(CustomerRow.id, CustomerRow.name).where(
                col(CustomerRow.id).in_({order.customer_id for order, _ in held})
            )
        ).all()
    )
    since = dict(
        session.exec(
            select(DocumentRow.number, DocumentRow.issued_at).where(
                col(DocumentRow.number).in_({good.receipt for _, good in held})
            )
        ).all()
    )
    lie = lies_of_orders(session, sorted({order.id for order, _ in held}))
    notes = session.exec(
        select(PictureRow.id, PictureRow.note).where(
            col(PictureRow.order_id).in_({order.id for order, _ in held}),
            col(PictureRow.taken_away_at).is_(None),
        )
    ).all()
    found = [
        HeldGood(
            good,
            order.number,
            order.customer_id,
            names[order.customer_id],
            since[good.receipt],
            lie.get(good.key, Lies()),
            tuple(picture for picture, note in notes if shows(note, good.key)),
        )
        for order, good in held
    ]
    return tuple(sorted(found, key=lambda one: (one.since, one.good.key)))
