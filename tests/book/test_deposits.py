"""The deposit of an agreed order: open after a part, settled by the whole of it or by a reason."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.errors import MoveRefused
from studio.book.in_hand import in_hand
from studio.book.order_list_values import HandWhy
from studio.book.orders import Order, move_order, order
from studio.book.payment_values import Sum
from studio.book.people import PROGRAM
from studio.book.quotes import agree, waive_deposit
from studio.craft.missing import Deposit
from studio.craft.orders import State
from tests.builders import NOW, TODAY, an_order
from tests.quoting import a_quote, a_yes, put_figures, unpaid

LATER = NOW + timedelta(hours=3)


def to_the_bench(session: Session, stands: Order, **more: Any) -> Order:
    facts: dict[str, Any] = {"number": stands.number, "version": stands.version, "actor": PROGRAM}
    return move_order(session, to=State.AT_THE_BENCH, now=LATER, **facts, **more)


def needs_the_deposit(session: Session) -> bool:
    return [line.hand.why for line in in_hand(session, today=TODAY, now=NOW)] == [HandWhy.DEPOSIT_OPEN]


@pytest.mark.parametrize("short_minor", [1, 0, -1])
def test_the_deposit_is_settled_once_what_was_paid_reaches_what_was_asked(
    session: Session, short_minor: int
) -> None:
    put_figures(session)
    is_open = short_minor > 0
    asked = a_quote(session, an_order(session, bench_on=TODAY + timedelta(days=9)))
    paid = asked.deposit_minor - short_minor
    done = a_yes(session, asked, deposit_minor=paid)
    agreement = done.agreement
    assert agreement is not None
    assert (agreement.paid_minor, agreement.is_part_paid) == (paid, is_open)
    assert agreement.deposit is (Deposit.OPEN if is_open else Deposit.SETTLED)
    assert done.missing.bench == (("deposit",) if is_open else ())
    assert needs_the_deposit(session) is is_open


def test_a_penny_does_not_open_the_bench_and_with_a_reason_it_does(session: Session) -> None:
    put_figures(session)
    waits = a_yes(session, deposit_minor=1)
    with pytest.raises(MoveRefused):
        to_the_bench(session, waits)
    done = waive_deposit(session, number=waits.number, why="The rest on Friday.", actor=PROGRAM, now=LATER)
    assert done.agreement is not None
    assert (done.agreement.paid_minor, done.agreement.without_deposit) == (1, "The rest on Friday.")
    assert not needs_the_deposit(session)
    assert to_the_bench(session, done).state is State.AT_THE_BENCH


@pytest.mark.parametrize("paid", [None, 1], ids=["nothing paid", "a part paid"])
def test_a_reason_with_the_move_to_the_bench_does_instead_of_the_deposit(
    session: Session, paid: int | None
) -> None:
    put_figures(session)
    waits = a_yes(session, deposit_minor=paid)
    done = to_the_bench(session, waits, reason=" regular  customer ")
    assert (done.state, done.version) == (State.AT_THE_BENCH, waits.version + 1)
    agreement = done.agreement
    assert agreement is not None
    assert (agreement.paid_minor, agreement.without_deposit) == (paid or 0, "regular customer")
    assert (agreement.waived_at, agreement.waived_by) == (LATER, PROGRAM.name)
    entry = done.history[-1]
    assert (entry.verb, entry.reason) == ("give it to the bench", "regular customer")
    assert entry.new["without_deposit"] == "regular customer"


def test_a_reason_does_not_stand_for_anything_else_the_bench_waits_for(session: Session) -> None:
    put_figures(session)
    waits = a_yes(session, a_quote(session, an_order(session, bench_on=None)), deposit_minor=None)
    with pytest.raises(MoveRefused) as told:
        to_the_bench(session, waits, reason="regular customer")
    assert told.value.missing == ("bench date", "deposit")
    assert order(session, waits.number) == waits


def test_who_may_not_waive_it_waits_for_the_deposit_whatever_the_reason(session: Session) -> None:
    put_figures(session)
    waits = a_yes(session, deposit_minor=None)
    with pytest.raises(MoveRefused):
        to_the_bench(session, waits, reason="regular customer", may_waive=False)


def test_a_reason_for_a_move_that_waits_for_nothing_is_only_the_reason_of_the_move(session: Session) -> None:
    put_figures(session)
    done = to_the_bench(session, a_yes(session), reason="early")
    assert done.agreement is not None
    assert done.agreement.without_deposit is None


def test_nothing_paid_on_a_quote_that_asks_for_nothing_is_fine(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session, deposit_percent=0)
    done = agree(session, quote=asked.number, name="Jorun", deposit=Sum(0), actor=PROGRAM, now=NOW)
    assert done.agreement is not None
    assert (done.agreement.paid_minor, done.agreement.deposit) == (0, Deposit.NOT_ASKED)


def test_a_deposit_noted_by_mistake_is_taken_off_again(session: Session) -> None:
    put_figures(session)
    done = a_yes(session)
    off = unpaid(session, done, now=LATER)
    assert off.agreement is not None
    assert (off.agreement.paid_minor, off.missing.bench) == (0, ("deposit",))
