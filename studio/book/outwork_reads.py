"""Reading the slips of work done outside, and who is on the studio's own list of outside workers."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.customer_tables import CustomerRow
from studio.book.order_tables import OrderRow
from studio.book.outwork_tables import OutworkerRow, OutworkRow, OutworkThingRow
from studio.book.whereabouts_errors import SlipUnknown, ThingOut
from studio.craft.orders import Move, State
from studio.craft.outwork import Trade, days_over
from studio.craft.whereabouts import Out

MOST_BACK = 12


@dataclass(frozen=True, slots=True)
class Outworker:
    """Somebody on the list, as it stands in the book."""

    id: int
    name: str
    trade: Trade
    note: str
    version: int


@dataclass(frozen=True, slots=True)
class SlipThing:
    """One thing of a slip, in the words of its paper."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip. Money is in minor units of `currency`, weights in mg; moments are UTC.

    `back_at` is None while it is out; what follows it is told when it comes back.
    """

    number: str
    order_number: str
    customer_name: str
    worker: str
    things: tuple[SlipThing, ...]
    what: str
    held_by: str
    currency: str
    value_minor: int
    weight_out_mg: int | None
    due_on: date
    expected_minor: int | None
    out_at: datetime
    out_by: str
    back_at: datetime | None
    back_by: str
    weight_in_mg: int | None
    cost_minor: int | None
    condition: str

    def days_over(self, today: date) -> int:
        """How many days it is over its day; 0 once it is back."""
        return 0 if self.back_at is not None else days_over(self.due_on, today)


def outworkers(session: Session) -> tuple[Outworker, ...]:
    """Who works outside for the studio by now, by name."""
    wanted = (
        select(OutworkerRow)
        .where(col(OutworkerRow.is_dropped).is_(False))
        .order_by(col(OutworkerRow.name), col(OutworkerRow.id))
    )
    return tuple(as_outworker(row) for row in session.exec(wanted))


def as_outworker(row: OutworkerRow) -> Outworker:
    """A row of the list as a value."""
    return Outworker(row.id, row.name, Trade(row.trade), row.note, row.version)


def slips_out(session: Session) -> tuple[Slip, ...]:
    """The slips whose things are out, the day they are due first."""
    wanted = _SLIPS.where(col(OutworkRow.back_at).is_(None))
    return _slips(session, wanted.order_by(col(OutworkRow.due_on), col(OutworkRow.id)))


def slips_back(session: Session) -> tuple[Slip, ...]:
    """The last slips whose things came back, the latest first; at most `MOST_BACK`."""
    wanted = _SLIPS.where(col(OutworkRow.back_at).is_not(None))
    return _slips(session, wanted.order_by(col(OutworkRow.back_at).desc()).limit(MOST_BACK))


def slip(session: Session, number: str) -> Slip:
    """The slip of this number. Raises `SlipUnknown`."""
    found = _slips(session, _SLIPS.where(col(OutworkRow.number) == number))
    if not found:
        raise SlipUnknown(number)
    return found[0]


def out_of_orders(session: Session, order_ids: Sequence[int]) -> Mapping[str, Out]:
    """What of these orders is out, by the thing."""
    found = session.exec(
        select(OutworkThingRow.thing, OutworkRow)
        .join(OutworkRow, col(OutworkRow.id) == col(OutworkThingRow.outwork_id))
        .where(col(OutworkRow.order_id).in_(order_ids), col(OutworkThingRow.out).is_not(None))
    )
    return {thing: Out(row.number, row.worker, row.out_at, row.actor) for thing, row in found}


def refuse_out(session: Session, order_id: int, things: Iterable[str] | None = None) -> None:
    """Raise `ThingOut` where one of `things` of the order is out; left out, where anything of it is."""
    wanted = (
        select(OutworkThingRow.thing, OutworkRow)
        .join(OutworkRow, col(OutworkRow.id) == col(OutworkThingRow.outwork_id))
        .where(col(OutworkRow.order_id) == order_id, col(OutworkThingRow.out).is_not(None))
        .order_by(col(OutworkThingRow.id))
    )
    asked = None if things is None else set(things)
    for thing, row in session.exec(wanted):
        if asked is None or thing in asked:
            raise ThingOut(thing, row.number, row.worker, row.due_on)


def check_all_is_in(session: Session, order_id: int, move: Move) -> None:
    """Raise `ThingOut` where an order would be ready or leave while some of it is out of the house."""
    if move.end in {State.READY, State.HANDED_OVER} and not move.is_step_back:
        refuse_out(session, order_id)


_SLIPS: Any = (
    select(OutworkRow, OrderRow.number, CustomerRow.name)
    .join(OrderRow, col(OrderRow.id) == col(OutworkRow.order_id))
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
)


def _slips(session: Session, wanted: Any) -> tuple[Slip, ...]:
    found = session.exec(wanted).all()
    things: defaultdict[int, list[SlipThing]] = defaultdict(list)
    of_them = select(OutworkThingRow).where(
        col(OutworkThingRow.outwork_id).in_([row.id for row, _, _ in found])
    )
    for one in session.exec(of_them.order_by(col(OutworkThingRow.id))):
        things[one.outwork_id].append(SlipThing(one.thing, one.words))
    return tuple(
        Slip(
            number=row.number,
            order_number=number,
            customer_name=name,
            worker=row.worker,
            things=tuple(things[row.id]),
            what=row.what,
            held_by=row.held_by,
            currency=row.currency,
            value_minor=row.value_minor,
            weight_out_mg=row.weight_out_mg,
            due_on=row.due_on,
            expected_minor=row.expected_minor,
            out_at=row.out_at,
            out_by=row.actor,
            back_at=row.back_at,
            back_by=row.back_by or "",
            weight_in_mg=row.weight_in_mg,
            cost_minor=row.cost_minor,
            condition=row.condition,
        )
        for row, number, name in found
    )
