"""Issuing quotes: what they hold, what holds them up, and which one stands."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.errors import (
    MoveRefused,
    NotQuotable,
    OrderUnknown,
    QuoteUnknown,
    VersionStale,
)
from studio.book.orders import CustomerDraft, OrderChanges, change_order, order, take_order
from studio.book.people import PROGRAM
from studio.book.quotes import (
    QuoteDraft,
    QuoteState,
    QuoteTerms,
    issue_quote,
    quotable,
    quote,
    quote_pdf,
    quotes_of,
)
from studio.book.rates import put_rates
from studio.craft.designs import Measured
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from tests.builders import NOW, TODAY, a_finger, a_narrowly_measured_ring, a_ring, an_order, one_step
from tests.quoting import PDF, RATES, a_quote, put_figures

LATER = NOW + timedelta(hours=3)


def issued(session: Session, draft: QuoteDraft, pdf: bytes | None = PDF) -> str:
    return issue_quote(session, draft=draft, pdf=pdf, actor=PROGRAM, now=LATER).number


def changed(session: Session, number: str, **changes: Any) -> None:
    version = order(session, number).version
    change_order(
        session, number=number, version=version, changes=OrderChanges(**changes), actor=PROGRAM, now=LATER
    )


def test_a_quote_holds_number_revision_sums_and_the_last_day(session: Session) -> None:
    put_figures(session)
    found = a_quote(session)
    assert (found.number, found.order_number, found.revision, found.state) == (
        "2026-1-q1",
        "2026-1",
        1,
        QuoteState.OPEN,
    )
    assert sum(line.net_minor for line in found.lines) == found.net_minor
    assert sum(line.tax_minor for line in found.lines) == found.tax_minor
    assert found.net_minor % 500 == 0
    assert found.total_minor == found.net_minor + found.tax_minor
    assert found.deposit_minor == (found.total_minor * 40 + 50) // 100
    assert (found.currency, found.issued_at, found.issued_by) == ("GBP", NOW, PROGRAM.name)
    assert found.valid_until == date(2026, 12, 9)
    assert found.sha256 is not None
    assert found.rendered_at == NOW
    assert quote_pdf(session, found.number) == PDF


def test_issuing_makes_the_order_quoted_with_one_entry_in_its_history(session: Session) -> None:
    put_figures(session)
    before = an_order(session)
    a_quote(session, before, now=LATER)
    after = order(session, before.number)
    assert (after.state, after.version, after.state_since) == (State.QUOTED, 2, LATER)
    (entry,) = after.history[len(before.history) :]
    assert (entry.verb, entry.old) == ("issue a quote", {"state": "draft"})
    assert entry.new == {"state": "quoted", "quote": "2026-1-q1", "valid_until": "2026-12-09"}
    assert [found.number for found in after.quotes] == ["2026-1-q1"]


def test_reading_a_quote_back_before_it_goes_out_writes_nothing(session: Session) -> None:
    put_figures(session)
    before = an_order(session)
    draft = quotable(session, before.number, now=NOW)
    assert (draft.number, draft.revision, draft.version) == ("2026-1-q1", 1, 1)
    assert order(session, before.number) == before
    assert quotes_of(session, before.number) == ()


@pytest.mark.parametrize(
    ("facts", "missing"),
    [
        ({"customer": CustomerDraft("Jorun Müller")}, ("phone",)),
        ({"wanted_on": None}, ("wanted day",)),
        ({"rings": [a_ring(a_finger(measured=Measured.TOLD))]}, ("measured finger of ring 1",)),
        (
            {"customer": CustomerDraft("J"), "wanted_on": None},
            ("phone", "wanted day"),
        ),
    ],
    ids=["no phone", "no wanted day", "told, not measured", "both"],
)
def test_an_order_that_lacks_something_is_not_quoted(
    session: Session, facts: dict[str, Any], missing: tuple[str, ...]
) -> None:
    put_figures(session)
    draft = an_order(session, **facts)
    with pytest.raises(NotQuotable) as told:
        quotable(session, draft.number, now=NOW)
    assert told.value.missing == missing


def test_what_the_studio_has_not_said_is_named_beside_what_the_order_lacks(session: Session) -> None:
    draft = an_order(session, wanted_on=None)
    with pytest.raises(NotQuotable) as told:
        quotable(session, draft.number, now=NOW)
    assert told.value.missing[:4] == ("wanted day", "rates", "price of gold", "price of silver")
    minutes = told.value.missing[4:]
    assert "minutes for 'Work the pattern, hammered'" in minutes
    assert "minutes for 'Work the pattern, rolled'" not in minutes
    put_figures(session)
    put_rates(session, rates=replace(RATES, minutes={}), actor=PROGRAM, now=NOW)
    with pytest.raises(NotQuotable) as again:
        quotable(session, draft.number, now=NOW)
    assert again.value.missing == ("wanted day", *minutes)


@pytest.mark.parametrize(
    "ring",
    [a_ring(a_finger("L", to_label="N", to_circumference_mm=53.75)), a_narrowly_measured_ring()],
    ids=["a size between two", "a warning without a reason"],
)
def test_what_holds_up_the_bench_alone_is_quoted(session: Session, ring: Any) -> None:
    put_figures(session)
    draft = an_order(session, rings=[ring])
    assert a_quote(session, draft).order_number == draft.number
    assert order(session, draft.number).missing.bench[-1:] != ()


@pytest.mark.parametrize("state", sorted(set(State) - {State.DRAFT, State.QUOTED}))
def test_an_order_past_its_yes_is_not_quoted(session: Session, state: State) -> None:
    put_figures(session)
    stands = an_order(session, state=state)
    with pytest.raises(MoveRefused):
        quotable(session, stands.number, now=NOW)


def test_an_order_that_is_not_there_is_not_quoted(session: Session) -> None:
    with pytest.raises(OrderUnknown):
        quotable(session, "2026-77", now=NOW)
    with pytest.raises(QuoteUnknown):
        quote(session, "2026-77-q1")
    with pytest.raises(QuoteUnknown):
        quote_pdf(session, "2026-77-q1")


def test_the_terms_of_one_quote_leave_the_rates_alone(session: Session) -> None:
    put_figures(session)
    first = an_order(session)
    draft = quotable(
        session,
        first.number,
        terms=QuoteTerms(valid_days=3, deposit_percent=Decimal("12.5"), minutes={"2026-1/1": 600}),
        now=NOW,
    )
    assert draft.valid_until == TODAY + timedelta(days=3)
    assert draft.breakdown.rings[0].job.minutes == 600
    assert draft.breakdown.deposit_minor == (draft.breakdown.total_minor * 125 + 500) // 1000
    assert draft.frozen["rings"][0]["minutes_are_typed"] is True
    assert quotable(session, first.number, now=NOW).valid_until == TODAY + timedelta(days=14)


@pytest.mark.parametrize(
    ("terms", "field", "why"),
    [
        (QuoteTerms(valid_days=0), "valid_days", Why.TOO_SMALL),
        (QuoteTerms(valid_days=4000), "valid_days", Why.TOO_LARGE),
        (QuoteTerms(deposit_percent=Decimal(-1)), "deposit_percent", Why.TOO_SMALL),
        (QuoteTerms(deposit_percent=Decimal(101)), "deposit_percent", Why.TOO_LARGE),
        (QuoteTerms(minutes={"2026-1/2": 5}), "minutes.2026-1/2", Why.UNKNOWN_CHOICE),
        (QuoteTerms(minutes={"2026-1/1": -5}), "minutes.2026-1/1", Why.TOO_SMALL),
    ],
)
def test_terms_that_cannot_stand_are_named(session: Session, terms: QuoteTerms, field: str, why: Why) -> None:
    put_figures(session)
    an_order(session)
    with pytest.raises(Refused) as told:
        quotable(session, "2026-1", terms=terms, now=NOW)
    assert [(refusal.field, refusal.why) for refusal in told.value.refusals] == [(field, why)]


def test_a_second_quote_takes_the_place_of_the_first(session: Session) -> None:
    put_figures(session)
    a_quote(session)
    a_quote(session, order(session, "2026-1"), now=LATER)
    first, second = quotes_of(session, "2026-1")
    assert (first.state, first.superseded_at) == (QuoteState.SUPERSEDED, LATER)
    assert (second.number, second.revision, second.state) == ("2026-1-q2", 2, QuoteState.OPEN)
    stands = order(session, "2026-1")
    assert stands.standing_quote == second
    assert stands.history[-1].new["superseded"] == "2026-1-q1"


@pytest.mark.parametrize(
    "changes", [{"wanted_on": date(2027, 1, 5)}, {"rings": (a_ring(a_finger("P")),)}], ids=["a day", "a ring"]
)
def test_a_changed_ring_or_day_makes_a_draft_and_its_quote_superseded(
    session: Session, changes: dict[str, Any]
) -> None:
    put_figures(session)
    a_quote(session)
    changed(session, "2026-1", **changes)
    stands = order(session, "2026-1")
    assert (stands.state, stands.standing_quote) == (State.DRAFT, None)
    assert stands.history[-1].new["superseded"] == "2026-1-q1"
    assert quote_pdf(session, "2026-1-q1") == PDF
    assert a_quote(session, stands, now=LATER).number == "2026-1-q2"


def test_a_note_a_bench_date_or_a_telephone_leaves_the_quote_standing(session: Session) -> None:
    put_figures(session)
    a_quote(session)
    changed(session, "2026-1", note="Rang.", bench_on=date(2026, 12, 3))
    changed(session, "2026-1", customer=CustomerDraft("Jorun Müller", "01632 960 716"))
    stands = order(session, "2026-1")
    assert (stands.state, stands.standing_quote) == (State.QUOTED, quote(session, "2026-1-q1"))


def test_a_quote_taken_back_leaves_a_draft(session: Session) -> None:
    put_figures(session)
    a_quote(session)
    back = one_step(session, order(session, "2026-1"), State.DRAFT, now=LATER)
    assert (back.state, back.standing_quote) == (State.DRAFT, None)


def test_an_order_changed_since_it_was_read_back_is_not_quoted(session: Session) -> None:
    put_figures(session)
    an_order(session)
    draft = quotable(session, "2026-1", now=NOW)
    changed(session, "2026-1", note="Rang.")
    with pytest.raises(VersionStale) as told:
        issued(session, draft)
    assert (told.value.given, told.value.current) == (1, 2)
    assert quotes_of(session, "2026-1") == ()


def test_two_orders_have_their_own_quotes(session: Session) -> None:
    put_figures(session)
    first, second = a_quote(session), a_quote(session)
    assert (first.number, second.number) == ("2026-1-q1", "2026-2-q1")
    assert [found.number for found in quotes_of(session, "2026-2")] == ["2026-2-q1"]


def test_an_order_for_a_known_customer_is_quoted_too(session: Session) -> None:
    put_figures(session)
    known = an_order(session).customer.id
    taken = take_order(
        session,
        customer=known,
        terms=an_order(session).terms,
        rings=[a_ring()],
        actor=PROGRAM,
        now=NOW,
    )
    assert a_quote(session, taken).order_number == taken.number
