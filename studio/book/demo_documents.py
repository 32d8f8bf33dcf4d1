"""The demo's papers besides its quotes: a confirmation, and a receipt for a stone of a customer's."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.document_values import TakingIn
from studio.book.documents import confirmable, issue_document, receivable
from studio.book.goods_to_take_in import stones_of_customer
from studio.book.orders import order, orders_page
from studio.craft.orders import State

_OLD_RING = TakingIn(words="A thin old ring, marked 750, for its gold", weight_mg=2_140, bag="A-17",
                     condition="worn thin at the back", value_minor=9_500,
                     values_minor={"1/1": 42_000})  # fmt: skip


def documents_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Two agreed orders have papers: an amended one its confirmation, one with a customer's stone both."""
    lines = orders_page(session, state=State.AGREED, limit=200, now=now).items
    agreed = [order(session, line.number) for line in lines]
    amended = [one for one in agreed if one.agreement is not None and one.agreement.is_amended]
    stones = [one for one in agreed if stones_of_customer(one)]
    for found in (*amended[:1], *stones[:1]):
        draft = confirmable(session, found.number, now=now)
        issue_document(session, draft=draft, pdf=None, actor=actor, now=now)
    for found in stones[:1]:
        draft = receivable(session, found.number, asked=_OLD_RING, actor=actor, now=now)
        issue_document(session, draft=draft, pdf=None, actor=actor, now=now)
