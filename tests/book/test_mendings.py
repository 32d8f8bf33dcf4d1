"""Which order mends which earlier ring, what cannot be mended, and what a year's mending cost."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from studio.book.mending_errors import CannotMend, WhyNotMended
from studio.book.mendings import made_twice, own_costs
from studio.book.orders import (
    UNSET,
    CustomerDraft,
    Order,
    OrderChanges,
    OrderTerms,
    change_order,
    order,
    take_order,
)
from studio.book.people import PROGRAM
from studio.book.quotes import quote_breakdown, quote_breakdowns
from studio.book.variants import add_variant
from studio.craft.mends import Cause, MendKind, Mends, PaidBy
from studio.craft.orders import State
from tests.amending import changing, issued
from tests.builders import NOW, a_design, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures

WRONG = Mends("2026-1", 1, MendKind.REMAKE, Cause.MEASURED_WRONG, "read from a ring", PaidBy.STUDIO)


def a_mending(session: Session, mends: Mends | None = WRONG) -> Order:
    return take_order(
        session,
        customer=CustomerDraft("Ada Pell", "01632 960 001"),
        terms=OrderTerms(NOW.date() + timedelta(days=30), mends=mends),
        rings=[a_ring()],
        actor=PROGRAM,
        now=NOW,
    )


def put(session: Session, number: str, mends: Mends | None) -> Order:
    version = order(session, number).version
    return change_order(
        session, number=number, version=version, changes=OrderChanges(mends=mends), actor=PROGRAM, now=NOW
    )


def test_an_order_mends_a_ring_and_the_earlier_one_knows(session: Session) -> None:
    an_order(session, state=State.HANDED_OVER)
    taken = a_mending(session)
    assert taken.terms.mends == WRONG
    assert taken.history[0].new["mends"] == (
        "remake of 2026-1/1, measured wrong: read from a ring, paid by the studio"
    )
    earlier = order(session, "2026-1")
    assert earlier.terms.mends is None
    (by,) = earlier.mended_by
    assert (by.ring, by.order, by.state, by.cause) == (1, taken.number, State.DRAFT, Cause.MEASURED_WRONG)


def test_what_it_mends_is_changed_in_any_state_told_in_the_history_and_taken_away(session: Session) -> None:
    an_order(session, state=State.HANDED_OVER)
    made = an_order(session, state=State.READY)
    changed = put(session, made.number, Mends("2026-1", 1, MendKind.RESIZE))
    assert (changed.state, changed.version) == (State.READY, made.version + 1)
    assert (changed.history[-1].old, changed.history[-1].new) == (
        {"mends": None},
        {"mends": "resize of 2026-1/1"},
    )
    assert put(session, made.number, Mends("2026-1", 1, MendKind.RESIZE)).version == changed.version
    assert put(session, made.number, None).terms.mends is None
    assert order(session, "2026-1").mended_by == ()


def test_a_change_that_does_not_speak_of_it_lets_it_be(session: Session) -> None:
    an_order(session, state=State.HANDED_OVER)
    taken = a_mending(session)
    changes = OrderChanges(note="by the door")
    assert changes.mends is UNSET
    change_order(session, number=taken.number, version=1, changes=changes, actor=PROGRAM, now=NOW)
    assert order(session, taken.number).terms.mends == WRONG


@pytest.mark.parametrize(
    ("mends", "why"),
    [
        (Mends("2026-99", 1), WhyNotMended.NO_RING),
        (Mends("2026-1", 2), WhyNotMended.NO_RING),
        (Mends("2026-2", 1), WhyNotMended.NOT_MADE),
    ],
)
def test_a_ring_that_is_not_there_or_not_made_is_not_mended(
    session: Session, mends: Mends, why: WhyNotMended
) -> None:
    an_order(session, state=State.HANDED_OVER)
    an_order(session)
    with pytest.raises(CannotMend) as refused:
        a_mending(session, mends)
    assert refused.value.why is why
    assert a_mending(session, None).number == "2026-3", "no number is used up"


def test_an_order_mends_neither_itself_nor_what_mends_it(session: Session) -> None:
    for _ in range(3):
        an_order(session, state=State.HANDED_OVER)
    put(session, "2026-2", Mends("2026-1", 1))
    put(session, "2026-3", Mends("2026-2", 1))
    for other in ("2026-1", "2026-2", "2026-3"):
        with pytest.raises(CannotMend) as refused:
            put(session, "2026-1", Mends(other, 1))
        assert refused.value.why is WhyNotMended.ITSELF
    assert order(session, "2026-1").terms.mends is None


def test_what_is_not_asked_yet_is_good_to_have(session: Session) -> None:
    an_order(session, state=State.HANDED_OVER)
    nice = a_mending(session, Mends("2026-1", 1, MendKind.RESIZE)).missing.nice
    assert nice[-2:] == ("cause of the resize", "who pays for the resize")
    put(session, "2026-2", WRONG)
    nice = order(session, "2026-2").missing.nice
    assert not [word for word in nice if word.startswith(("cause", "who pays"))]


def test_the_cost_is_that_of_the_quote_that_stands_without_margin(session: Session) -> None:
    put_figures(session)
    an_order(session, state=State.HANDED_OVER)
    taken = a_mending(session)
    assert own_costs(session, [taken.number]) == {}
    first = a_quote(session, taken)
    second = a_quote(session, taken, minutes={f"{taken.number}/1": 30})
    cost = own_costs(session, [taken.number])[taken.number]
    breakdown = quote_breakdown(session, second.number)
    ring = breakdown.rings[0]
    bought = sum(one.cost_minor for one, _ in ring.extras)
    assert (cost.minor, cost.currency) == (ring.own_minor + bought, "GBP")
    assert cost.minor < quote_breakdown(session, first.number).cost_minor
    assert cost.minor < second.net_minor


def test_the_cost_is_that_of_the_variant_that_was_chosen_and_of_no_amendment_that_waits(
    session: Session,
) -> None:
    put_figures(session)
    an_order(session, state=State.HANDED_OVER)
    taken = a_mending(session)
    in_silver = a_ring(design=a_design(alloy="silver-925"))
    taken = add_variant(
        session, number=taken.number, version=taken.version, rings=[in_silver], actor=PROGRAM, now=NOW
    )
    quoted = a_quote(session, taken)
    dear, cheap = (one.cost_minor for one in quote_breakdowns(session, quoted.number).values())
    assert own_costs(session, [taken.number])[taken.number].minor == dear
    done = a_yes(session, quoted, variant="b", deposit_minor=None)
    assert own_costs(session, [taken.number])[taken.number].minor == cheap
    issued(session, done, changing(done, width_mm=9.0))
    assert own_costs(session, [taken.number])[taken.number].minor == cheap < dear


def test_a_year_is_counted_by_cause_and_what_the_studio_bears_apart(session: Session) -> None:
    put_figures(session)
    an_order(session, state=State.HANDED_OVER)
    first = a_mending(session)
    a_quote(session, first)
    a_mending(session)
    lost = a_mending(session, Mends("2026-1", 1, cause=Cause.LOST, paid_by=PaidBy.CUSTOMER))
    a_quote(session, lost)
    off = an_order(session, state=State.CALLED_OFF)
    put(session, off.number, WRONG)
    cost = own_costs(session, [first.number])[first.number].minor
    wrong, gone = made_twice(session, since=NOW - timedelta(days=365))
    assert (wrong.cause, wrong.count, wrong.unpriced) == (Cause.MEASURED_WRONG, 2, 1)
    assert (wrong.cost, wrong.borne) == ({"GBP": cost}, {"GBP": cost})
    assert (gone.cause, gone.count, gone.unpriced) == (Cause.LOST, 1, 0)
    assert gone.cost["GBP"] > 0
    assert gone.borne == {"GBP": 0}
    assert made_twice(session, since=NOW + timedelta(seconds=1)) == ()
