"""Which order mends which earlier ring: reading it, putting it, and what was made twice in a year."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from sqlalchemy import and_, bindparam, or_
from sqlalchemy import select as pick
from sqlalchemy.orm import aliased
from sqlmodel import Session, col, select

from studio.book.frozen import breakdown_read, chosen_breakdown
from studio.book.mending_errors import CannotMend, WhyNotMended
from studio.book.mending_tables import MendingRow
from studio.book.mending_values import MadeTwice, MendedBy, OwnCost
from studio.book.order_tables import OrderRow, RingRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteState
from studio.craft.mends import Cause, MendKind, Mends, PaidBy
from studio.craft.orders import BEFORE_AGREEMENT, State

MOST_TOLD = 1000
"""Mendings of a year that are told apart by cause; a studio has some dozens."""


# Built once, since orders are read all the time.
_MENDING, _MENDED = aliased(OrderRow), aliased(OrderRow)
_OF_ORDER = (
    select(MendingRow, _MENDING.number, _MENDING.state, _MENDED.number)
    .join(_MENDING, col(_MENDING.id) == col(MendingRow.order_id))
    .join(_MENDED, col(_MENDED.id) == col(MendingRow.mended_id))
    .where(
        or_(
            col(MendingRow.order_id) == bindparam("order_id"),
            col(MendingRow.mended_id) == bindparam("order_id"),
        )
    )
    .order_by(col(MendingRow.order_id))
)


def mendings_of(session: Session, order_id: int) -> tuple[Mends | None, tuple[MendedBy, ...]]:
    """Which ring the order mends, and which later orders mend a ring of it, the oldest first."""
    found = session.exec(_OF_ORDER, params={"order_id": order_id}).all()
    mends = next((_mends(row, of) for row, _, _, of in found if row.order_id == order_id), None)
    by = tuple(
        MendedBy(
            row.position,
            number,
            State(state),
            MendKind(row.kind),
            None if row.cause is None else Cause(row.cause),
            row.words,
            None if row.paid_by is None else PaidBy(row.paid_by),
        )
        for row, number, state, _ in found
        if row.mended_id == order_id
    )
    return mends, by


def put_mends(session: Session, order_id: int, mends: Mends | None) -> None:
    """Let the order mend this ring, or none. Within the transaction of a verb.

    Raises `CannotMend`: no such ring, one that is not agreed yet, or a ring that this order was mended from.
    """
    row = session.exec(select(MendingRow).where(col(MendingRow.order_id) == order_id)).one_or_none()
    if mends is None:
        if row is not None:
            session.delete(row)
        return
    mended = session.exec(
        select(OrderRow.id, OrderRow.state)
        .join(RingRow, col(RingRow.order_id) == col(OrderRow.id))
        .where(col(OrderRow.number) == mends.order, col(RingRow.position) == mends.ring)
    ).one_or_none()
    if mended is None:
        raise CannotMend(mends.order, mends.ring, WhyNotMended.NO_RING)
    if _leads_to(session, mended[0], order_id):
        raise CannotMend(mends.order, mends.ring, WhyNotMended.ITSELF)
    is_new = row is None or (row.mended_id, row.position) != (mended[0], mends.ring)
    if is_new and State(mended[1]) in BEFORE_AGREEMENT:
        raise CannotMend(mends.order, mends.ring, WhyNotMended.NOT_MADE)
    row = row or MendingRow(order_id=order_id, mended_id=mended[0], position=mends.ring, kind=mends.kind)
    row.mended_id, row.position, row.kind = mended[0], mends.ring, mends.kind
    row.cause, row.words, row.paid_by = mends.cause, mends.words, mends.paid_by
    session.add(row)


def change_mends(
    session: Session, order_id: int, mends: Mends | None
) -> dict[str, tuple[str | None, str | None]]:
    """Put it as `put_mends` does where it is another: what it was and became, for the history, or nothing."""
    before, _ = mendings_of(session, order_id)
    if before == mends:
        return {}
    put_mends(session, order_id, mends)
    return {"mends": (None if before is None else before.line, None if mends is None else mends.line)}


def own_costs(session: Session, numbers: Iterable[str]) -> dict[str, OwnCost]:
    """What these orders cost the studio, by their quotes that stand; an order without one is left out.

    It is the agreed one where there is a yes, in the variant that was chosen.
    """
    asked = sorted(set(numbers))
    if not asked:
        return {}
    found = session.connection().execute(
        pick(col(OrderRow.number), col(QuoteRow.currency), col(QuoteRow.frozen), col(AgreementRow.variant))
        .join(QuoteRow, col(QuoteRow.order_id) == col(OrderRow.id))
        .outerjoin(
            AgreementRow,
            and_(col(AgreementRow.quote_id) == col(QuoteRow.id), col(AgreementRow.ended_at).is_(None)),
        )
        .where(col(OrderRow.number).in_(asked), col(QuoteRow.state) != QuoteState.SUPERSEDED)
        .order_by(col(QuoteRow.state).desc())  # an amendment that waits is 'open', and the agreed one counts
    )
    return {
        number: OwnCost(breakdown_read(chosen_breakdown(frozen, variant)).cost_minor, currency)
        for number, currency, frozen, variant in found
    }


def made_twice(session: Session, *, since: datetime) -> tuple[MadeTwice, ...]:
    """What orders taken from `since` (UTC) on mend, by cause, the most frequent first; none called off."""
    found = session.exec(
        select(OrderRow.number, MendingRow.cause, MendingRow.paid_by)
        .join(MendingRow, col(MendingRow.order_id) == col(OrderRow.id))
        .where(col(OrderRow.created_at) >= since, col(OrderRow.state) != State.CALLED_OFF)
        .order_by(col(MendingRow.order_id).desc())
        .limit(MOST_TOLD)
    ).all()
    costs = own_costs(session, (number for number, _, _ in found))
    counts = Counter(cause for _, cause, _ in found)
    return tuple(
        _of_cause(cause, [(number, paid_by) for number, its, paid_by in found if its == cause], costs)
        for cause, _ in counts.most_common()
    )


def _of_cause(
    cause: str | None, orders: Sequence[tuple[str, str | None]], costs: Mapping[str, OwnCost]
) -> MadeTwice:
    cost: defaultdict[str, int] = defaultdict(int)
    borne: defaultdict[str, int] = defaultdict(int)
    for number, paid_by in orders:
        if number in costs:
            cost[costs[number].currency] += costs[number].minor
            borne[costs[number].currency] += costs[number].minor * (paid_by == PaidBy.STUDIO)
    unpriced = sum(number not in costs for number, _ in orders)
    return MadeTwice(None if cause is None else Cause(cause), len(orders), unpriced, cost, borne)


def _leads_to(session: Session, start: int, order_id: int) -> bool:
    """Whether `start` is the order, or mends a ring of it by way of others."""
    at: int | None = start
    while at is not None and at != order_id:
        at = session.exec(select(MendingRow.mended_id).where(col(MendingRow.order_id) == at)).one_or_none()
    return at is not None


def _mends(row: MendingRow, number: str) -> Mends:
    return Mends(
        number,
        row.position,
        MendKind(row.kind),
        None if row.cause is None else Cause(row.cause),
        row.words,
        None if row.paid_by is None else PaidBy(row.paid_by),
    )
