"""What was held at the end of each of some days: own metal by the ledger, customers' goods by receipts."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import and_, or_
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.document_tables import DocumentRow
from studio.book.document_values import DocumentKind
from studio.book.ledger_reads import ledger_balances, ledger_lines
from studio.book.ledger_tables import LedgerRow
from studio.book.order_tables import OrderRow
from studio.book.plain_values import from_plain
from studio.book.studio import time_zone
from studio.clock import day_begins
from studio.craft.goods import GivenBack, Good, held
from studio.craft.ledger import Pot
from studio.craft.metal_over_time import held_at
from studio.craft.orders import State

_OPEN = tuple(state for state in State if state is not State.HANDED_OVER)


@dataclass(frozen=True, slots=True)
class HeldDay:
    """The end of one day: what each account held in mg, None before the ledger began; and the goods held."""

    day: date
    metal: Mapping[Pot, int] | None
    goods: tuple[Good, ...]


def held_on_days(session: Session, days: Sequence[date]) -> tuple[HeldDay, ...]:
    """What was held at the end of each of these days, which are in order."""
    began = session.connection().execute(pick(col(LedgerRow.on_day)).where(col(LedgerRow.id) == 1)).scalar()
    opening = ledger_balances(session, until=days[0])
    lines = ledger_lines(session, first=days[0] + timedelta(days=1), last=days[-1])
    metal = held_at(opening, [(line.on, line.moved) for line in lines], days)
    goods = _goods(session, days)
    return tuple(
        HeldDay(day, None if began is None or day < began else on_day, lie)
        for day, on_day, lie in zip(days, metal, goods, strict=True)
    )


def _goods(session: Session, days: Sequence[date]) -> list[tuple[Good, ...]]:
    """The goods of orders that are not handed over, or were not at the end of the first day."""
    zone = time_zone(session)
    ends = [day_begins(day + timedelta(days=1), zone) for day in days]
    rows = session.connection().execute(
        pick(col(DocumentRow.order_id), col(DocumentRow.kind), col(DocumentRow.issued_at),
             col(DocumentRow.goods))
        .join(OrderRow, col(OrderRow.id) == col(DocumentRow.order_id))
        .where(
            or_(
                col(OrderRow.state).in_(_OPEN),
                and_(col(OrderRow.state) == State.HANDED_OVER, col(OrderRow.state_since) >= ends[0]),
            ),
            col(DocumentRow.kind).in_(
                [DocumentKind.RECEIPT, DocumentKind.RETURN, DocumentKind.HAND_OVER]
            ),
        )
        .order_by(col(DocumentRow.id))
    )  # fmt: skip
    taken: defaultdict[int, list[tuple[datetime, Good]]] = defaultdict(list)
    back: defaultdict[int, list[tuple[datetime, GivenBack]]] = defaultdict(list)
    for order_id, kind, at, goods in rows:
        if kind == DocumentKind.RECEIPT:
            taken[order_id] += [(at, from_plain(Good, one)) for one in goods]
        else:
            back[order_id] += [(at, from_plain(GivenBack, one)) for one in goods]
    return [
        tuple(
            good
            for order_id, came in taken.items()
            for good in held(
                (good for at, good in came if at < end), (gone for at, gone in back[order_id] if at < end)
            )
        )
        for end in ends
    ]
