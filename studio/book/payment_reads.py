"""Reading what was paid of an order."""

from sqlalchemy import SQLColumnExpression, bindparam, func
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.order_tables import OrderRow
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Payment
from studio.craft.payments import Method

# Built once, since orders are read all the time.
_OF_ORDER = (
    pick(PaymentRow.__table__)  # type: ignore[attr-defined]  # what SQLModel gives every table
    .where(col(PaymentRow.order_id) == bindparam("order_id"))
    .order_by(col(PaymentRow.id))
)


def payments_of(session: Session, order_id: int) -> tuple[Payment, ...]:
    """What was paid of an order and given back, the first first."""
    rows = session.connection().execute(_OF_ORDER, {"order_id": order_id}).all()
    numbers = {row.id: row.number for row in rows}
    undone_by = {row.undoes_id: row.number for row in rows if row.undoes_id is not None}
    return tuple(
        Payment(
            number=row.number,
            amount_minor=row.amount_minor,
            currency=row.currency,
            method=Method(row.method),
            reference=row.reference,
            on=row.on_day,
            noted_at=row.noted_at,
            actor=row.actor,
            undoes=numbers.get(row.undoes_id),
            undone_by=undone_by.get(row.id),
            why=row.why,
        )
        for row in rows
    )


def paid_minor() -> SQLColumnExpression[int]:
    """For a list of orders: what was paid in all, less what was given back."""
    paid = (
        pick(func.sum(col(PaymentRow.amount_minor)))
        .where(col(PaymentRow.order_id) == col(OrderRow.id))
        .correlate(OrderRow)
        .scalar_subquery()
    )
    return func.coalesce(paid, 0)
