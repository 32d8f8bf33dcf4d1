"""Customers' goods in the studio's keeping: each line that comes or goes is chained to the one before it."""

from collections.abc import Iterable
from datetime import date, datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.chaining import HeadRow, add_chained, head_row, unfit_row
from studio.book.custody_tables import CustodyRow
from studio.book.document_reads import goods_held_of
from studio.book.document_tables import DocumentRow
from studio.book.document_values import DocumentKind
from studio.book.order_tables import OrderRow
from studio.book.studio import studio
from studio.clock import day_of
from studio.craft.custody import COMES, CustodyMove
from studio.craft.goods import GivenBack, Good


def custody_of(
    session: Session,
    order: OrderRow,
    document: str,
    *,
    taken_in: Iterable[Good] = (),
    given_back: Iterable[GivenBack] = (),
    actor: Actor,
    now: datetime,
) -> None:
    """Write down what comes and goes by a document, inside its transaction and before its row is written.

    The first row of a book carries in what is held by then.
    """
    facts = studio(session)
    day = day_of(now, facts.time_zone)

    def put(what: CustodyMove, of: OrderRow, paper: str, good: Good, weight_mg: int | None) -> None:
        add_chained(
            session, CustodyRow, at=now, on_day=day, what=what, order_id=of.id, document=paper,
            good=good.key, line=good.line, weight_mg=weight_mg, value_minor=good.value_minor,
            currency=facts.currency, condition=good.condition, bag=good.bag, user_id=actor.id,
            actor=actor.name,
        )  # fmt: skip

    if custody_head(session) is None:
        for of, goods in orders_holding(session):
            for good in goods:
                put(CustodyMove.CARRIED_IN, of, good.receipt, good, good.weight_mg)
    for good in taken_in:
        put(CustodyMove.TAKEN_IN, order, document, good, good.weight_mg)
    for one in given_back:
        what = CustodyMove.USED if one.is_used else CustodyMove.GIVEN_BACK
        put(what, order, document, one.good, one.weight_mg)


def custody_head(session: Session, *, until: date | None = None) -> HeadRow | None:
    """The head of the chain, at the end of the day `until` where one is given; None before the first row."""
    return head_row(session, CustodyRow, until=until)


def custody_amiss(session: Session) -> list[str]:
    """What is wrong with the record of custody, in sentences: a broken chain, goods held otherwise."""
    unfit = unfit_row(session, CustodyRow)
    found = [] if unfit is None else [f"row {unfit} of the custody of goods is not as it was written"]
    if custody_head(session) is None:
        return found
    told: set[str] = set()
    for good, what in session.exec(select(CustodyRow.good, CustodyRow.what).order_by(col(CustodyRow.id))):
        (told.add if CustodyMove(what) in COMES else told.discard)(good)
    held = {good.key for _, goods in orders_holding(session) for good in goods}
    found += [f"{key} is held otherwise than the custody of goods says" for key in sorted(told ^ held)]
    return found


def orders_holding(session: Session) -> list[tuple[OrderRow, tuple[Good, ...]]]:
    """The orders of which something is held, each with it."""
    receipts = select(DocumentRow.order_id).where(col(DocumentRow.kind) == DocumentKind.RECEIPT).distinct()
    goods = goods_held_of(session, session.exec(receipts).all())
    orders = session.exec(
        select(OrderRow).where(col(OrderRow.id).in_(list(goods))).order_by(col(OrderRow.id))
    )
    return [(order, goods[order.id]) for order in orders]
