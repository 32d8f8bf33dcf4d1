"""The load of the bench, out of the book: rings by bench date, minutes by the studio's own days."""

from datetime import date, timedelta

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.bench_load import bench_load, planned_rings
from studio.book.bench_work import Deed, do_at_bench
from studio.book.orders import order
from studio.book.routes import ring_route
from studio.craft.bench_work import What
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, a_ring, an_order, one_step
from tests.quoting import put_figures

MONDAY = date(2026, 11, 23)
WEEK = timedelta(days=7)


def test_a_week_has_the_minutes_of_its_rings_routes_and_those_that_stand_at_the_bench(
    session: Session, people: dict[Role, Actor]
) -> None:
    put_figures(session)
    due = MONDAY + timedelta(days=2)
    stands = an_order(session, state=State.AT_THE_BENCH, rings=[a_ring(), a_ring()], bench_on=due)
    an_order(session, state=State.QUOTED, bench_on=due)
    an_order(session, state=State.AGREED, bench_on=MONDAY + WEEK)
    for deed, hours in (
        (Deed(What.DONE, "weigh", minutes=30), 0),
        (Deed(What.NOTED, "saw", minutes=300), 1),
        (Deed(What.UNDONE), 2),
        (Deed(What.STARTED, "saw"), 3),
        (Deed(What.STOPPED, "saw"), 4),
    ):
        now = NOW + timedelta(hours=hours)
        do_at_bench(session, number=stands.number, position=1, deed=deed, actor=people[Role.MAKER], now=now)
    before, this, after = bench_load(
        session, mondays=[MONDAY - WEEK, MONDAY, MONDAY + WEEK], now=NOW + timedelta(hours=5)
    )
    found = order(session, stands.number)
    steps = [step for ring in found.rings for step in ring_route(session, found, ring)]
    assert (before.rings, before.planned, before.noted) == (0, 0.0, 0.0)
    assert (this.rings, this.noted, this.untold) == (2, 90.0, 0)
    assert this.planned == sum(step.minutes or 0.0 for step in steps) > 0
    assert (after.rings, after.noted) == (1, None)
    assert sum(one.minutes for one in planned_rings(session, MONDAY, MONDAY + WEEK)) == (
        this.planned + after.planned
    )

    one_step(session, found, State.READY, now=NOW + timedelta(hours=6))
    (again,) = bench_load(session, mondays=[MONDAY], now=NOW + timedelta(hours=7))
    assert again.noted == 90.0, "work of an order that has moved on stays in its week"
