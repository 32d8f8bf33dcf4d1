"""What rings really took beside what was planned at the yes: minutes, metal, cost, by ring and by kind."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import floor
from typing import Any

from sqlmodel import Session, col, select

from studio.book.bench_happened import as_happened
from studio.book.bench_minutes import minutes_by_row
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.errors import OrderUnknown
from studio.book.frozen import as_agreed, breakdown_read
from studio.book.metal_prices import shown_price_read
from studio.book.order_tables import OrderRow, RingRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.rates import rates_read
from studio.craft.alloys import ALLOYS
from studio.craft.bench_work import BenchWork, bench_work
from studio.craft.orders import State
from studio.craft.pricing import RingPrice, ring_price
from studio.craft.what_happened import RingHappened, steps_happened

MADE = (State.READY, State.HANDED_OVER)
MOST_ORDERS = 60
"""The latest orders that are made are averaged, so that a studio that has become quicker shows it."""


@dataclass(frozen=True, slots=True)
class RingCost:
    """What a ring costs the studio in minor units: as quoted, and with its real minutes and metal issued."""

    planned: RingPrice
    real: RingPrice
    currency: str


@dataclass(frozen=True, slots=True)
class WhatHappened:
    """One ring that is made; `cost` is None where its order has no quote that was agreed."""

    number: str
    position: int
    pattern: str
    metal: str
    happened: RingHappened
    issue_mg: int | None
    cost: RingCost | None

    @property
    def kind(self) -> tuple[str, str]:
        """What rings are held beside each other by, as in what is learned of stretch: pattern and metal."""
        return self.pattern, self.metal


def what_happened(session: Session, number: str) -> tuple[WhatHappened, ...]:
    """The rings of one order that is made; none before. Raises `OrderUnknown`."""
    wanted = select(OrderRow.id, OrderRow.state).where(col(OrderRow.number) == number)
    row = session.exec(wanted).one_or_none()
    if row is None:
        raise OrderUnknown(number)
    return _rings(session, {row[0]: number}) if row[1] in MADE else ()


def all_that_happened(session: Session) -> tuple[WhatHappened, ...]:
    """The rings of the latest `MOST_ORDERS` orders that are made, the newest order first."""
    wanted = (
        select(OrderRow.id, OrderRow.number)
        .where(col(OrderRow.state).in_(MADE))
        .order_by(col(OrderRow.id).desc())
        .limit(MOST_ORDERS)
    )
    return _rings(session, dict(session.exec(wanted).all()))


def _rings(session: Session, numbers: Mapping[int, str]) -> tuple[WhatHappened, ...]:
    works, agreed = _works(session, numbers), _agreed(session, numbers)
    rings = session.exec(
        select(RingRow)
        .where(col(RingRow.order_id).in_(numbers))
        .order_by(col(RingRow.order_id).desc(), col(RingRow.position))
    ).all()
    return tuple(
        _ring(
            ring,
            numbers[ring.order_id],
            works.get((ring.order_id, ring.position), BenchWork()),
            agreed.get(ring.order_id),
        )
        for ring in rings
    )


def _works(session: Session, ids: Iterable[int]) -> dict[tuple[int, int], BenchWork]:
    found: defaultdict[tuple[int, int], list[BenchWorkRow]] = defaultdict(list)
    wanted = select(BenchWorkRow).where(col(BenchWorkRow.order_id).in_(list(ids)))
    for row in session.exec(wanted.order_by(col(BenchWorkRow.id))):
        found[row.order_id, row.position].append(row)
    return {key: bench_work(map(as_happened, rows)) for key, rows in found.items()}


def _agreed(session: Session, ids: Iterable[int]) -> dict[int, dict[str, Any]]:
    """What the agreed quote of each order keeps, as the way that was chosen."""
    wanted = (
        select(AgreementRow.order_id, QuoteRow.frozen, AgreementRow.variant)
        .join(QuoteRow, col(QuoteRow.id) == col(AgreementRow.quote_id))
        .where(col(AgreementRow.order_id).in_(list(ids)), col(AgreementRow.ended_at).is_(None))
    )
    return {order_id: as_agreed(frozen, variant) for order_id, frozen, variant in session.exec(wanted)}


def _ring(made: RingRow, number: str, work: BenchWork, kept: Mapping[str, Any] | None) -> WhatHappened:
    rings = [] if kept is None else list(kept["rings"])
    place = next((at for at, one in enumerate(rings) if one["position"] == made.position), None)
    steps = [] if place is None else [(row, float(minutes)) for row, minutes in rings[place]["steps"]]
    happened = RingHappened(
        steps_happened(steps, minutes_by_row(work, made.profile, made.pattern)),
        _milligrams(work, "weigh"),
        _milligrams(work, "finish"),
    )
    cost = None if kept is None or place is None else _cost(kept, place, happened)
    issue = None if cost is None else cost.planned.job.issue_mg
    known = ALLOYS.get(made.alloy) if cost is None else cost.planned.job.alloy
    metal = made.alloy if known is None else known.metal
    return WhatHappened(number, made.position, made.pattern, metal, happened, issue, cost)


def _milligrams(work: BenchWork, key: str) -> int | None:
    figure = work.step(key).figure
    return None if figure is None else round(figure * 1000)


def _cost(kept: Mapping[str, Any], place: int, happened: RingHappened) -> RingCost:
    """By the rates and metal prices of the quote: what differs is what happened, nothing else."""
    breakdown = breakdown_read(kept["breakdown"])
    planned = breakdown.rings[place]
    minutes = planned.job.minutes + happened.expected - happened.planned
    if not happened.planned and happened.took:  # one number was typed for the whole ring
        minutes = happened.took
    job = replace(
        planned.job,
        minutes=floor(minutes + 0.5),
        issue_mg=planned.job.issue_mg if happened.in_mg is None else happened.in_mg,
    )
    prices = {one["metal"]: shown_price_read(one) for one in kept["prices"]}
    return RingCost(planned, ring_price(job, prices, rates_read(kept["rates"])), breakdown.currency)
