"""What a ring that is made really took, beside its agreed quote; a ring that is not made says nothing."""

import pytest
from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.bench_work import Deed, do_at_bench
from studio.book.errors import OrderUnknown
from studio.book.orders import Order, order
from studio.book.what_happened import all_that_happened, what_happened
from studio.craft.bench_work import What
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, an_order, one_step
from tests.quoting import RATES, a_yes, put_figures

NOTED = (("weigh", 8.4, 6), ("pattern", None, 90), ("solder", None, 12), ("finish", 7.35, 20))


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


def made(session: Session, stands: Order, maker: Actor) -> Order:
    """The order made, with `NOTED` of its first ring."""
    bench = one_step(session, stands, State.AT_THE_BENCH)
    for key, grams, minutes in NOTED:
        deed = Deed(What.DONE, key, grams, minutes, "noted in the evening")
        do_at_bench(session, number=bench.number, position=1, deed=deed, actor=maker, now=NOW)
    return one_step(session, order(session, bench.number), State.READY)


def test_a_made_ring_stands_beside_its_agreed_quote(session: Session, people: dict[Role, Actor]) -> None:
    stands = a_yes(session)
    assert what_happened(session, stands.number) == ()
    made(session, stands, people[Role.MAKER])
    (one,) = what_happened(session, stands.number)
    found, cost = one.happened, one.cost
    assert cost is not None
    assert found.planned == cost.planned.job.minutes
    assert found.took == sum(minutes for *_, minutes in NOTED)
    more = sum(step.more for step in found.steps if step.more is not None)
    assert cost.real.job.minutes == cost.planned.job.minutes + more
    labour = cost.real.labour_minor - cost.planned.labour_minor
    assert labour == pytest.approx(more * RATES.labour_hour_minor / 60, abs=1)
    assert (found.in_mg, found.out_mg, found.loss_mg) == (8400, 7350, 1050)
    assert cost.real.job.issue_mg == 8400
    assert one.issue_mg == cost.planned.job.issue_mg
    assert all_that_happened(session) == (one,)


def test_an_order_from_before_the_quotes_has_minutes_and_no_cost(
    session: Session, people: dict[Role, Actor]
) -> None:
    stands = made(session, an_order(session, state=State.AGREED), people[Role.MAKER])
    (one,) = what_happened(session, stands.number)
    assert one.cost is None
    assert one.happened.planned == 0
    assert one.happened.took == sum(minutes for *_, minutes in NOTED)


def test_an_unknown_order_is_refused(session: Session) -> None:
    with pytest.raises(OrderUnknown):
        what_happened(session, "1999-1")
