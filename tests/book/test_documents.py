"""The documents of an order: what is confirmed, what is taken in, and what goes back."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from sqlmodel import Session

from studio.book.agreements import agree
from studio.book.document_errors import (
    DocumentPdfNotYet,
    DocumentUnknown,
    NothingToConfirm,
)
from studio.book.document_papers import document_to_print, issued_document_to_print
from studio.book.document_reads import document, document_pdf
from studio.book.document_values import DocumentDraft, TakingIn
from studio.book.documents import (
    confirmable,
    put_document_pdf,
    receivable,
)
from studio.book.errors import VersionStale
from studio.book.order_values import Order, OrderChanges
from studio.book.orders import change_order, order
from studio.book.people import PROGRAM
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.craft.orders import State
from studio.papers.printing import printed
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.builders import NOW, an_order
from tests.documents import SAPPHIRE, given_back, made, set_with, taken_in
from tests.papers.printed import text_of
from tests.quoting import PDF, RATES, unpaid


def read(draft: DocumentDraft) -> str:
    return text_of(printed(document_to_print(draft)))


@pytest.mark.parametrize("state", [State.DRAFT, State.QUOTED, State.CALLED_OFF, State.AGREED])
def test_nothing_is_confirmed_before_the_yes_to_a_quote_and_after_calling_off(
    session: Session, state: State
) -> None:
    stands = an_order(session, state=state)  # agreed, it is one from before there were quotes
    with pytest.raises(NothingToConfirm) as told:
        confirmable(session, stands.number, now=LATER)
    assert (told.value.number, told.value.state) == (stands.number, state)


def test_a_confirmation_says_all_that_is_agreed(session: Session) -> None:
    stands = agreed(session)
    change_order(
        session, number=stands.number, version=stands.version,
        changes=OrderChanges(collects="Aksel Müller"), actor=PROGRAM, now=LATER,
    )  # fmt: skip
    words = read(confirmable(session, stands.number, now=LATER))
    for said in (
        f"Order confirmation {stands.number}-c1 for Jorun Müller, 25 November 2026, order {stands.number}",
        f"Agreed on 25 November 2026 by Jorun Müller: quote {stands.number}-q1.",
        "A flat band, 6 mm wide and 1.6 mm thick, hammered all round by hand",
        "Ready No day is promised yet",
        "Collected by Jorun Müller, or Aksel Müller",
        "Deposit, paid on 25 November 2026",
        "Balance at collection",
    ):
        assert said in words, words


def test_each_is_a_new_one_and_those_of_before_stay(session: Session) -> None:
    stands = agreed(session)
    first = made(session, confirmable(session, stands.number, now=LATER))
    second = made(session, confirmable(session, stands.number, now=LATER), pdf=b"%PDF another")
    assert (first.number, second.number) == (f"{stands.number}-c1", f"{stands.number}-c2")
    assert document_pdf(session, first.number) == PDF
    assert document_pdf(session, second.number) == b"%PDF another"
    now = order(session, stands.number)
    assert [one.number for one in now.documents if one.number[-2] == "c"] == [first.number, second.number]
    assert now.version == stands.version


def test_a_document_keeps_its_paper_whatever_changes_after_it(session: Session) -> None:
    """Issued without its paper, which is made when everything around it has changed."""
    stands = agreed(session, **set_with(SAPPHIRE))
    confirmation = confirmable(session, stands.number, now=LATER)
    receipt = receivable(session, stands.number, asked=TakingIn(), actor=PROGRAM, now=LATER)
    before = [printed(document_to_print(draft)) for draft in (confirmation, receipt)]
    for draft in (confirmation, receipt):
        made(session, draft, pdf=None)
    rates = replace(RATES, labour_hour_minor=9900, tax_percent=Decimal(7))
    put_rates(session, rates=rates, actor=PROGRAM, now=LATER)
    facts = replace(studio(session), name="Otherwise", returns="None.", custody_note="Otherwise.")
    change_studio(session, facts=facts, actor=PROGRAM, now=LATER)
    agree(
        session, quote=issued(session, stands, changing(stands, **NARROWER)).number, name="Another",
        actor=PROGRAM, now=LATER,
    )  # fmt: skip
    change_order(
        session, number=stands.number, version=order(session, stands.number).version,
        changes=OrderChanges(collects="Aksel", note="x"), actor=PROGRAM, now=LATER,
    )  # fmt: skip
    for draft, paper in zip((confirmation, receipt), before, strict=True):
        with pytest.raises(DocumentPdfNotYet):
            document_pdf(session, draft.number)
        assert text_of(printed(issued_document_to_print(session, draft.number))) == text_of(paper)
        kept = put_document_pdf(session, number=draft.number, pdf=paper, now=LATER)
        put_document_pdf(session, number=draft.number, pdf=b"another", now=LATER)
        assert document_pdf(session, draft.number) == paper
        assert kept == document(session, draft.number)


def test_after_an_amendment_the_amended_state_is_confirmed_and_the_amendment_named(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    waits = read(confirmable(session, stands.number, now=LATER))
    assert "6 mm wide" in waits
    agree(session, quote=asked.number, name="Aksel Müller", actor=PROGRAM, now=LATER)
    words = read(confirmable(session, stands.number, now=LATER))
    assert "A flat band, 5 mm wide" in words
    assert (
        f"by Jorun Müller: quote {stands.number}-q1. Amended on 25 November 2026: {stands.number}-a1, "
        "agreed by Aksel Müller. All of it stands here as amended."
    ) in words
    assert f"£{asked.total_minor / 100:,.2f}" in words


def test_a_deposit_that_is_open_is_said_to_be(session: Session) -> None:
    stands = agreed(session)
    unpaid(session, stands)
    words = read(confirmable(session, stands.number, now=LATER))
    assert "Deposit, still open" in words
    assert "Deposit, paid" not in words


def test_each_document_is_one_entry_of_the_history(session: Session) -> None:
    stands = agreed(session, **set_with(SAPPHIRE))
    before = len(stands.history)
    made(session, confirmable(session, stands.number, now=LATER))
    taken_in(session, stands.number)
    given_back(session, stands.number)
    told = order(session, stands.number).history[before:]
    assert [(line.verb, line.new) for line in told] == [
        ("make a confirmation", {"document": f"{stands.number}-c1"}),
        ("take goods in", {"document": f"{stands.number}-r1"}),
        ("give goods back", {"document": f"{stands.number}-b1"}),
    ]


def test_a_draft_that_the_book_has_moved_on_from_is_not_issued(session: Session) -> None:
    stands = agreed(session, **set_with(SAPPHIRE))
    draft = confirmable(session, stands.number, now=LATER)
    made(session, draft)
    with pytest.raises(VersionStale):
        made(session, draft)
    receipt = receivable(session, stands.number, asked=TakingIn(), actor=PROGRAM, now=LATER)
    _touched(session, stands)
    with pytest.raises(VersionStale):
        made(session, receipt)
    assert [one.number for one in order(session, stands.number).documents][1:] == [draft.number]


def test_a_number_that_no_document_has_is_unknown(session: Session) -> None:
    for ask in (document, document_pdf, issued_document_to_print):
        with pytest.raises(DocumentUnknown):
            ask(session, "2026-1-c1")
    with pytest.raises(DocumentUnknown):
        put_document_pdf(session, number="2026-1-c1", pdf=PDF, now=NOW)


def _touched(session: Session, stands: Order) -> None:
    change_order(
        session, number=stands.number, version=stands.version,
        changes=OrderChanges(note="Otherwise."), actor=PROGRAM, now=LATER + timedelta(minutes=1),
    )  # fmt: skip
