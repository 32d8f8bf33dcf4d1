"""Where everything of the running orders lies, how far it has come, and what is next."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement
from sqlmodel import Session, col, select

from studio.book.bench_work import rings_at_bench
from studio.book.customers import CustomerLine, find_customers
from studio.book.document_reads import goods_held_of
from studio.book.errors import OrderUnknown
from studio.book.folding import looks_like_phone
from studio.book.order_lines import order_lines
from studio.book.order_list_values import OrderLine, RingLine
from studio.book.order_tables import OrderRow
from studio.book.outwork_reads import out_of_orders
from studio.book.place_tables import PlaceMoveRow, PlaceRow
from studio.craft.bench_work import BenchWork
from studio.craft.goods import Good
from studio.craft.orders import State
from studio.craft.whereabouts import Lies, Out, PutDown, Standing, lies, standing

MOST_ORDERS = 200
MOST_PEOPLE = 5
RUNNING = frozenset({State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH, State.READY})
MADE_OR_MAKING = frozenset({State.AGREED, State.AT_THE_BENCH, State.READY})
"""Of these orders the rings are there or about to be; before the yes there is none to lie anywhere."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A ring of an order, or a line of its customer's goods: where it lies, and how far a ring has come.

    `key` is '2026-118/1' of a ring and '2026-118-r1/2' of goods.
    """

    key: str
    lies: Lies
    ring: RingLine | None = None
    standing: Standing | None = None
    good: Good | None = None


@dataclass(frozen=True, slots=True)
class OrderThings:
    """A running order with all its things."""

    order: OrderLine
    things: tuple[Thing, ...]


def running_things(session: Session, *, now: datetime) -> tuple[OrderThings, ...]:
    """The things of every running order, the newest order first; at most those of `MOST_ORDERS`."""
    made = [col(OrderRow.state).in_(sorted(MADE_OR_MAKING))]
    before = [col(OrderRow.state).in_(sorted(RUNNING - MADE_OR_MAKING))]
    found = (*_things(session, made, now), *_things(session, before, now))
    return tuple(one for one in found if one.things)


def things_of_people(
    session: Session, phone: str, *, now: datetime
) -> tuple[tuple[CustomerLine, tuple[OrderThings, ...]], ...]:
    """The customers whose telephone number this is, each with their running orders and things.

    Empty where it does not look like a number or nobody has it; at most `MOST_PEOPLE`.
    """
    if not looks_like_phone(phone):
        return ()
    people = find_customers(session, phone, MOST_PEOPLE)
    if not people:
        return ()
    wanted = [
        col(OrderRow.customer_id).in_([one.id for one in people]),
        col(OrderRow.state).in_(sorted(RUNNING)),
    ]
    found = _things(session, wanted, now)
    return tuple(
        (person, tuple(one for one in found if one.order.customer_id == person.id)) for person in people
    )


def things_of_order(session: Session, number: str, *, now: datetime) -> OrderThings | None:
    """The things of one order, whatever its state; None where there is no such order."""
    return next(iter(_things(session, [col(OrderRow.number) == number], now)), None)


def lies_of(session: Session, number: str, thing: str) -> Lies:
    """Where one thing of an order lies. Raises `OrderUnknown`."""
    order_id = session.exec(select(OrderRow.id).where(col(OrderRow.number) == number)).one_or_none()
    if order_id is None:
        raise OrderUnknown(number)
    return lies(_put_down(session, [order_id]).get(thing, ()), out_of_orders(session, [order_id]).get(thing))


def lies_of_orders(session: Session, order_ids: Sequence[int]) -> Mapping[str, Lies]:
    """Where the things of these orders lie, of which it is known, by the thing."""
    put_down, out = _put_down(session, order_ids), out_of_orders(session, order_ids)
    return {key: lies(put_down.get(key, ()), out.get(key)) for key in {*put_down, *out}}


def _things(
    session: Session, wanted: Sequence[ColumnElement[bool]], now: datetime
) -> tuple[OrderThings, ...]:
    orders = order_lines(session, wanted, MOST_ORDERS, now)
    if not orders:
        return ()
    numbers = [one.number for one in orders]
    ids = dict(
        session.exec(select(OrderRow.number, OrderRow.id).where(col(OrderRow.number).in_(numbers))).all()
    )
    all_ids = list(ids.values())
    put_down, out = _put_down(session, all_ids), out_of_orders(session, all_ids)
    goods = goods_held_of(session, all_ids)
    return tuple(
        OrderThings(
            one,
            (*_rings(session, one, put_down, out), *_goods(goods.get(ids[one.number], ()), put_down, out)),
        )
        for one in orders
    )


def _rings(
    session: Session, one: OrderLine, put_down: Mapping[str, Sequence[PutDown]], out: Mapping[str, Out]
) -> list[Thing]:
    if one.state not in MADE_OR_MAKING:
        return []
    come: dict[int, Standing] = {}
    if one.state is State.AT_THE_BENCH:
        for ring in rings_at_bench(session, one.number):
            come[ring.ring.position] = standing(one.state, ring.work, ring.operations)
    found = []
    for line in one.rings:
        key = f"{one.number}/{line.position}"
        where = lies(put_down.get(key, ()), out.get(key))
        found.append(Thing(key, where, line, come.get(line.position) or standing(one.state, BenchWork(), ())))
    return found


def _goods(
    goods: Sequence[Good], put_down: Mapping[str, Sequence[PutDown]], out: Mapping[str, Out]
) -> list[Thing]:
    return [Thing(one.key, lies(put_down.get(one.key, ()), out.get(one.key)), good=one) for one in goods]


def _put_down(session: Session, order_ids: Sequence[int]) -> Mapping[str, Sequence[PutDown]]:
    found: defaultdict[str, list[PutDown]] = defaultdict(list)
    rows = session.exec(
        select(PlaceMoveRow, PlaceRow.name)
        .join(PlaceRow, col(PlaceRow.id) == col(PlaceMoveRow.place_id), isouter=True)
        .where(col(PlaceMoveRow.order_id).in_(order_ids))
    )
    for row, name in rows:
        found[row.thing].append(PutDown(row.id, name or "", row.at, row.actor))
    return found
