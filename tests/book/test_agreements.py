"""The yes to a quote: what it does, and the deposit that goes with it."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.errors import (
    MoveRefused,
    NoAgreement,
    OrderFixed,
    QuoteAnswered,
    QuoteSuperseded,
    QuoteUnknown,
    VersionStale,
    WhyNot,
)
from studio.book.orders import Order, OrderChanges, change_order, move_order, order
from studio.book.payment_values import Sum
from studio.book.people import PROGRAM
from studio.book.quotes import QuoteState, agree, issue_quote, quotable, quote, waive_deposit
from studio.book.rates import put_rates
from studio.craft.errors import Refused
from studio.craft.missing import Deposit
from studio.craft.orders import State
from tests.builders import NOW, an_order, one_step
from tests.quoting import RATES, a_quote, a_yes, paid, put_figures

LATER = NOW + timedelta(hours=3)
MINUTE = timedelta(minutes=1)


def said_yes(session: Session, number: str, **facts: Any) -> Order:
    given: dict[str, Any] = {"name": "Jorun Müller", "actor": PROGRAM, "now": LATER}
    return agree(session, quote=number, **(given | facts))


def to_the_bench(session: Session, stands: Order) -> Order:
    return move_order(
        session,
        number=stands.number,
        to=State.AT_THE_BENCH,
        version=stands.version,
        actor=PROGRAM,
        now=LATER,
    )


def test_a_yes_with_a_deposit_agrees_the_order(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    done = said_yes(session, asked.number, name=" Jorun  Müller ", deposit=Sum(asked.deposit_minor))
    assert (done.state, done.agreed_name, done.agreed_at) == (State.AGREED, "Jorun Müller", LATER)
    assert done.standing_quote is not None
    assert done.standing_quote.state is QuoteState.AGREED
    agreement = done.agreement
    assert agreement is not None
    assert (agreement.quote_number, agreement.noted_by, agreement.deposit) == (
        asked.number,
        PROGRAM.name,
        Deposit.SETTLED,
    )
    assert (agreement.paid_minor, agreement.paid_on) == (asked.deposit_minor, LATER.date())
    assert done.missing.bench == ()
    entry = done.history[-1]
    assert (entry.verb, entry.old) == ("note the yes", {"state": "quoted"})
    assert to_the_bench(session, done).state is State.AT_THE_BENCH


def test_a_yes_without_a_deposit_wants_a_reason_and_keeps_it(session: Session) -> None:
    put_figures(session)
    done = said_yes(session, a_quote(session).number, without_deposit=" She pays  when she collects. ")
    assert done.agreement is not None
    assert done.agreement.without_deposit == "She pays when she collects."
    assert done.missing.bench == ()
    assert to_the_bench(session, done).state is State.AT_THE_BENCH


@pytest.mark.parametrize("facts", [{}, {"without_deposit": "  "}], ids=["nothing said", "blanks"])
def test_with_the_deposit_open_the_bench_waits(session: Session, facts: dict[str, Any]) -> None:
    put_figures(session)
    done = said_yes(session, a_quote(session).number, **facts)
    assert done.missing.bench == ("deposit",)
    with pytest.raises(MoveRefused) as told:
        to_the_bench(session, done)
    assert (told.value.why, told.value.missing) == (WhyNot.MISSING, ("deposit",))


@pytest.mark.parametrize("is_paid", [True, False], ids=["paid", "waived"])
def test_a_deposit_noted_later_lets_it_go_to_the_bench(session: Session, *, is_paid: bool) -> None:
    put_figures(session)
    asked = a_quote(session)
    waits = a_yes(session, asked, deposit_minor=None)
    done = (
        paid(session, waits.number, asked.deposit_minor)
        if is_paid
        else waive_deposit(session, number=waits.number, why="A friend.", actor=PROGRAM, now=LATER)
    )
    assert (done.version, done.missing.bench) == (waits.version + 1, ())
    assert done.history[-1].verb == ("take a payment" if is_paid else "note the deposit")
    assert to_the_bench(session, done).state is State.AT_THE_BENCH


def test_a_reason_put_right_keeps_what_it_was_in_the_history(session: Session) -> None:
    put_figures(session)
    waits = a_yes(session, deposit_minor=None, without_deposit="A friend.")
    facts: dict[str, Any] = {"number": waits.number, "why": "An old friend.", "actor": PROGRAM, "now": LATER}
    done = waive_deposit(session, version=waits.version, **facts)
    entry = done.history[-1]
    assert (entry.old, entry.new) == ({"without_deposit": "A friend."}, {"without_deposit": "An old friend."})
    with pytest.raises(VersionStale):
        waive_deposit(session, version=waits.version, **facts)
    assert waive_deposit(session, version=done.version, **facts) == done
    after_all = waive_deposit(session, **facts | {"why": " "})
    assert after_all.missing.bench == ("deposit",)


@pytest.mark.parametrize("amount", [0, -1, 10**9])
def test_a_deposit_that_cannot_be_is_refused(session: Session, amount: int) -> None:
    put_figures(session)
    asked = a_quote(session)
    with pytest.raises(Refused) as told:
        said_yes(session, asked.number, deposit=Sum(amount))
    assert [refusal.field for refusal in told.value.refusals] == ["deposit_minor"]
    assert order(session, asked.order_number).state is State.QUOTED
    waits = a_yes(session, asked, deposit_minor=None)
    with pytest.raises(Refused):
        paid(session, waits.number, amount)


def test_an_order_without_a_yes_has_no_deposit_to_note(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    older = an_order(session, state=State.AGREED)
    for number in (asked.order_number, older.number):
        with pytest.raises(NoAgreement):
            paid(session, number, 100)
        with pytest.raises(NoAgreement):
            waive_deposit(session, number=number, why="A friend.", actor=PROGRAM, now=LATER)


def test_a_quote_that_asks_for_no_deposit_waits_for_none(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session, deposit_percent=0)
    assert order(session, asked.order_number).missing.bench == ()
    done = said_yes(session, asked.number)
    assert done.agreement is not None
    assert (done.agreement.deposit, done.missing.bench) == (Deposit.NOT_ASKED, ())


def test_a_draft_says_before_its_quote_that_a_deposit_will_be_asked(session: Session) -> None:
    assert an_order(session).missing.bench == ("deposit",)
    put_figures(session)
    assert an_order(session).missing.bench == ("deposit",)
    put_rates(session, rates=replace(RATES, deposit_percent=RATES.waste_percent * 0), actor=PROGRAM, now=NOW)
    assert an_order(session).missing.bench == ()


def test_an_order_agreed_before_there_were_quotes_keeps_its_state_and_goes_on(session: Session) -> None:
    older = an_order(session, state=State.AGREED)
    assert (older.agreement, older.missing.bench) == (None, ())
    assert to_the_bench(session, older).state is State.AT_THE_BENCH


def test_a_superseded_quote_is_not_agreed_and_names_the_one_that_stands(session: Session) -> None:
    put_figures(session)
    first = a_quote(session)
    second = a_quote(session, order(session, first.order_number))
    with pytest.raises(QuoteSuperseded) as told:
        said_yes(session, first.number, reason="She wants the old one.")
    assert (told.value.number, told.value.by) == (first.number, second.number)
    one_step(session, order(session, first.order_number), State.DRAFT)
    with pytest.raises(QuoteSuperseded) as told:
        said_yes(session, second.number)
    assert told.value.by is None


def test_a_quote_is_agreed_once(session: Session) -> None:
    put_figures(session)
    done = a_yes(session)
    assert done.standing_quote is not None
    with pytest.raises(QuoteAnswered):
        said_yes(session, done.standing_quote.number)
    assert order(session, done.number) == done


def test_a_yes_wants_a_name_and_a_quote_that_is_there(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    with pytest.raises(MoveRefused) as told:
        said_yes(session, asked.number, name="  ")
    assert told.value.why is WhyNot.NEEDS_NAME
    with pytest.raises(QuoteUnknown):
        said_yes(session, "2026-9-q1")


def test_the_quote_of_an_order_called_off_is_not_agreed(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    one_step(session, order(session, asked.order_number), State.CALLED_OFF)
    with pytest.raises(MoveRefused) as told:
        said_yes(session, asked.number)
    assert told.value.start is State.CALLED_OFF


def test_from_the_yes_on_rings_and_days_stand(session: Session) -> None:
    put_figures(session)
    done = a_yes(session)
    with pytest.raises(OrderFixed):
        change_order(
            session,
            number=done.number,
            version=done.version,
            changes=OrderChanges(wanted_on=date(2027, 2, 1)),
            actor=PROGRAM,
            now=LATER,
        )


def test_a_yes_taken_back_leaves_the_quote_waiting_and_can_be_said_again(session: Session) -> None:
    put_figures(session)
    done = a_yes(session)
    assert done.standing_quote is not None
    back = one_step(session, done, State.QUOTED, now=LATER)
    assert (back.state, back.agreement, back.agreed_name) == (State.QUOTED, None, None)
    assert quote(session, done.standing_quote.number).state is QuoteState.OPEN
    again = said_yes(session, done.standing_quote.number, name="Edda Müller")
    assert (again.state, again.agreed_name) == (State.AGREED, "Edda Müller")
    assert again.missing.bench == ()  # what was paid with the first yes is paid


def test_an_order_taken_up_again_wants_a_new_quote_and_a_new_yes(session: Session) -> None:
    put_figures(session)
    off = one_step(session, a_yes(session), State.CALLED_OFF)
    again = one_step(session, off, State.DRAFT)
    assert (again.agreement, again.standing_quote, again.missing.bench) == (None, None, ("deposit",))
    new = a_yes(session, a_quote(session, again))
    assert [found.state for found in new.quotes] == [QuoteState.SUPERSEDED, QuoteState.AGREED]


def test_of_a_yes_and_a_new_quote_at_once_one_is_told(engine: Engine) -> None:
    with engines.session(engine) as session:
        put_figures(session)
        asked = a_quote(session)
        draft = quotable(session, asked.order_number, now=NOW)
    with engines.session(engine) as session:
        said_yes(session, asked.number)
    with engines.session(engine) as session:
        with pytest.raises(VersionStale):
            issue_quote(session, draft=draft, pdf=None, actor=PROGRAM, now=LATER)
        assert order(session, asked.order_number).state is State.AGREED
