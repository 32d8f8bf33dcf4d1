"""What changes after the yes: an amendment with a price, a paper and a yes of its own."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.agreed_errors import NothingAmended
from studio.book.amendments import amendable, amending_of, put_amending, withdraw_amendment
from studio.book.errors import (
    MoveRefused,
    NoAgreement,
    QuoteAnswered,
    QuoteExpired,
    QuoteSuperseded,
    QuoteUnknown,
    WhyNot,
)
from studio.book.order_values import Amending
from studio.book.orders import Order, move_order, order
from studio.book.people import PROGRAM
from studio.book.practices import changed, practice_on, put_practice
from studio.book.quote_paper import paper_of_issued
from studio.book.quotes import Quote, QuoteKind, QuoteState, agree, quote, quote_pdf
from studio.craft.errors import Refused
from studio.craft.orders import State
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.builders import NOW, TODAY, a_ring, an_order, one_step


def said_yes(session: Session, asked: Quote, **facts: Any) -> Order:
    return agree(session, quote=asked.number, name="Jorun Müller", actor=PROGRAM, now=LATER, **facts)


def test_an_amendment_has_a_number_of_its_own_and_leaves_the_order_as_it_was_agreed(session: Session) -> None:
    stands = agreed(session)
    first = issued(session, stands, changing(stands, **NARROWER))
    assert (first.number, first.kind, first.state) == ("2026-1-a1", QuoteKind.AMENDMENT, QuoteState.OPEN)
    now = order(session, stands.number)
    assert now.state is State.AGREED
    assert [ring.reckoning for ring in now.rings] == [ring.reckoning for ring in stands.rings]
    assert now.standing_quote is not None
    assert (now.standing_quote.number, now.standing_quote.state) == ("2026-1-q1", QuoteState.AGREED)
    assert now.open_amendment == first
    assert "answer to the amendment" in now.missing.bench


def test_the_yes_to_an_amendment_makes_it_what_is_agreed(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    done = said_yes(session, asked)
    assert (done.state, done.rings[0].design.width_mm) == (State.AGREED, 5.0)
    assert [(one.number, one.state) for one in done.quotes] == [
        ("2026-1-q1", QuoteState.SUPERSEDED),
        ("2026-1-a1", QuoteState.AGREED),
    ]
    assert done.agreement is not None
    assert (done.agreement.quote_number, done.agreement.is_amended) == ("2026-1-a1", True)
    assert done.agreement.total_minor == asked.total_minor
    assert (done.amending, done.open_amendment) == (None, None)


def test_what_was_paid_stays_paid(session: Session) -> None:
    stands = agreed(session)
    before = stands.agreement
    done = said_yes(session, issued(session, stands, changing(stands, **NARROWER)))
    assert before is not None
    assert done.agreement is not None
    for name in ("deposit_asked_minor", "paid_minor", "paid_on", "without_deposit", "waived_at", "deposit"):
        assert getattr(done.agreement, name) == getattr(before, name)


def test_an_agreed_quote_is_never_edited(session: Session) -> None:
    stands = agreed(session)
    before, paper = quote(session, "2026-1-q1"), quote_pdf(session, "2026-1-q1")
    said_yes(session, issued(session, stands, changing(stands, **NARROWER)))
    after = quote(session, "2026-1-q1")
    assert replace(after, state=before.state, superseded_at=None) == before
    assert quote_pdf(session, "2026-1-q1") == paper


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"charge_minor": 100}, "charge_text"),
        ({"charge_minor": -1, "charge_text": "Less"}, "charge_minor"),
        ({"charge_minor": 10**12, "charge_text": "More"}, "charge_minor"),
        ({"charge_text": "x" * 81, "charge_minor": 1}, "charge_text"),
        ({"words": "x" * 1001}, "words"),
        ({"rings": ()}, "rings"),
    ],
)
def test_what_cannot_stand_in_an_amendment_is_told_by_its_field(
    session: Session, change: dict[str, Any], field: str
) -> None:
    stands = agreed(session)
    wrong = replace(amending_of(stands), **change)
    with pytest.raises(Refused) as refused:
        put_amending(
            session, number=stands.number, version=stands.version, amending=wrong, actor=PROGRAM, now=NOW
        )
    assert [one.field for one in refused.value.refusals] == [field]


def test_an_amendment_that_changes_nothing_is_none(session: Session) -> None:
    stands = agreed(session)
    with pytest.raises(NothingAmended):
        amendable(session, stands.number, amending=amending_of(stands), actor=PROGRAM, now=NOW)


@pytest.mark.parametrize("state", [State.DRAFT, State.HANDED_OVER, State.CALLED_OFF])
def test_only_what_is_agreed_and_not_yet_over_is_amended(session: Session, state: State) -> None:
    stands = an_order(session, state=state)
    nothing = Amending(rings=(a_ring(),))
    with pytest.raises(NothingAmended):
        put_amending(
            session, number=stands.number, version=stands.version, amending=nothing, actor=PROGRAM, now=NOW
        )


def test_a_yes_older_than_the_quotes_cannot_be_amended(session: Session) -> None:
    stands = an_order(session, state=State.AGREED)
    with pytest.raises(NoAgreement):
        amending_of(stands)


def test_an_amendment_is_kept_while_it_is_put_together(session: Session) -> None:
    stands = agreed(session)
    wanted = replace(changing(stands, **NARROWER), wanted_on=TODAY + timedelta(days=90), words="Later.")
    done = put_amending(
        session, number=stands.number, version=stands.version, amending=wanted, actor=PROGRAM, now=NOW
    )
    assert done.amending is not None
    assert replace(done.amending, rings=()) == replace(wanted, rings=())
    assert done.amending.rings[0].design.width_mm == 5.0
    assert done.version == stands.version + 1
    again = put_amending(
        session, number=done.number, version=done.version, amending=done.amending, actor=PROGRAM, now=NOW
    )
    assert again.version == done.version, "saying it again changes nothing"
    dropped = put_amending(
        session, number=done.number, version=done.version, amending=None, actor=PROGRAM, now=NOW
    )
    assert dropped.amending is None


def test_a_second_amendment_takes_the_place_of_one_that_waits(session: Session) -> None:
    stands = agreed(session)
    issued(session, stands, changing(stands, **NARROWER))
    stands = order(session, stands.number)
    second = issued(session, stands, changing(stands, width_mm=4.5))
    assert second.number == "2026-1-a2"
    assert quote(session, "2026-1-a1").state is QuoteState.SUPERSEDED
    assert quote(session, "2026-1-q1").state is QuoteState.AGREED


def test_an_amendment_can_itself_be_amended(session: Session) -> None:
    stands = agreed(session)
    done = said_yes(session, issued(session, stands, changing(stands, **NARROWER)))
    again = issued(session, done, changing(done, width_mm=4.0))
    paper = paper_of_issued(session, again.number)
    assert paper.amended is not None
    assert paper.amended.of == "2026-1-a1"
    assert said_yes(session, again).rings[0].design.width_mm == 4.0


def test_a_withdrawn_amendment_leaves_what_was_agreed(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    done = withdraw_amendment(session, number=asked.number, actor=PROGRAM, now=LATER)
    assert (done.open_amendment, done.state) == (None, State.AGREED)
    with pytest.raises(QuoteSuperseded):
        said_yes(session, asked)
    with pytest.raises(QuoteSuperseded):
        withdraw_amendment(session, number=asked.number, actor=PROGRAM, now=LATER)
    with pytest.raises(QuoteUnknown):
        withdraw_amendment(session, number="2026-1-q1", actor=PROGRAM, now=LATER)


def test_a_yes_to_an_amendment_that_has_run_out_wants_a_reason(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER), valid_days=1)
    late: dict[str, Any] = {"quote": asked.number, "name": "Jorun Müller", "actor": PROGRAM}
    with pytest.raises(QuoteExpired):
        agree(session, **late, now=LATER + timedelta(days=9))
    done = agree(session, **late, reason="It still holds.", now=LATER + timedelta(days=9))
    assert done.agreement is not None
    assert (done.agreement.quote_number, done.agreement.reason) == (asked.number, "It still holds.")


def test_a_yes_to_an_amendment_is_not_withdrawn_and_not_taken_back(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    done = said_yes(session, asked)
    with pytest.raises(QuoteAnswered):
        withdraw_amendment(session, number=asked.number, actor=PROGRAM, now=LATER)
    with pytest.raises(MoveRefused) as refused:
        move_order(
            session,
            number=done.number,
            to=State.QUOTED,
            version=done.version,
            reason="a change of mind",
            actor=PROGRAM,
            now=LATER,
        )
    assert refused.value.why is WhyNot.AMENDED


def test_a_yes_taken_back_leaves_no_amendment_waiting(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    now = order(session, stands.number)
    done = move_order(
        session,
        number=now.number,
        to=State.QUOTED,
        version=now.version,
        reason="not sure",
        actor=PROGRAM,
        now=LATER,
    )
    assert quote(session, asked.number).state is QuoteState.SUPERSEDED
    assert done.standing_quote is not None
    assert (done.standing_quote.number, done.standing_quote.state) == ("2026-1-q1", QuoteState.OPEN)


@pytest.mark.parametrize(
    ("ways", "change", "end"),
    [
        ((), NARROWER, State.AGREED),
        ((State.AT_THE_BENCH,), NARROWER, State.AT_THE_BENCH),
        ((State.AT_THE_BENCH, State.READY), NARROWER, State.AT_THE_BENCH),
        ((State.AT_THE_BENCH, State.READY), {}, State.READY),
    ],
)
def test_a_ready_order_goes_back_to_the_bench_with_a_changed_ring(
    session: Session, ways: tuple[State, ...], change: dict[str, Any], end: State
) -> None:
    stands = agreed(session)
    for way in ways:
        stands = one_step(session, stands, way, now=NOW)
    wanted = replace(changing(stands, **change), words="As told on the telephone.")
    assert said_yes(session, issued(session, stands, wanted)).state is end


def test_an_amended_ring_has_the_figures_it_was_shown_with(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    shown = amendable(session, stands.number, amending=changing(stands, **NARROWER), actor=PROGRAM, now=LATER)
    coarser = changed(practice_on(session, TODAY), {"trim_each_end_mm": 0.9})
    put_practice(session, practice=coarser, from_day=TODAY, source="a test", actor=PROGRAM, now=NOW)
    done = said_yes(session, asked)
    (job,) = [ring.job for ring in shown.breakdown.rings]
    assert round(done.rings[0].reckoning.issue_g * 1000) == job.issue_mg
