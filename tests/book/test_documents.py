"""The documents of an order: what is confirmed, what is taken in, and what goes back."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from sqlmodel import Session, col, select

from studio.book.agreements import agree, note_deposit
from studio.book.document_errors import (
    DocumentPdfNotYet,
    DocumentUnknown,
    GoodsStand,
    NothingHeld,
    NothingTakenIn,
    NothingToConfirm,
    RiskUnanswered,
)
from studio.book.document_papers import document_to_print, issued_document_to_print
from studio.book.document_reads import document, document_pdf, goods_held
from studio.book.document_values import Document, DocumentDraft, DocumentKind, GivingBack, TakingIn
from studio.book.documents import (
    confirmable,
    issue_document,
    put_document_pdf,
    receivable,
    returnable,
)
from studio.book.errors import VersionStale
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order, OrderChanges
from studio.book.orders import change_order, move_order, order
from studio.book.people import PROGRAM
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.particulars import NOT_ASKED, Risk, Setting, Stone, Whose
from studio.papers.printing import printed
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.builders import NOW, a_ring, an_order
from tests.papers.printed import text_of
from tests.quoting import PDF, RATES

SAPPHIRE = Stone(1, Whose.CUSTOMER, "oval", "5 x 3 mm", "sapphire", setting=Setting.BEZEL, risk=Risk.CUSTOMER)
GARNET = Stone(2, Whose.STUDIO, "round", "2 mm", tested="garnet", setting=Setting.FLUSH)


def set_with(*stones: Stone) -> dict[str, Any]:
    """An order's one ring, set with these stones."""
    return {"rings": [a_ring(particulars=replace(NOT_ASKED, stones=stones))]}


def made(session: Session, draft: DocumentDraft, pdf: bytes | None = PDF) -> Document:
    return issue_document(session, draft=draft, pdf=pdf, actor=PROGRAM, now=LATER)


def taken_in(session: Session, number: str, **asked: Any) -> Document:
    draft = receivable(session, number, asked=TakingIn(**asked), actor=PROGRAM, now=LATER)
    return made(session, draft)


def given_back(session: Session, number: str, **asked: Any) -> Document:
    draft = returnable(session, number, asked=GivingBack(**asked), actor=PROGRAM, now=LATER)
    return made(session, draft)


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
    assert [one.number for one in now.documents] == [first.number, second.number]
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
    note_deposit(session, number=stands.number, amount_minor=0, actor=PROGRAM, now=LATER)
    words = read(confirmable(session, stands.number, now=LATER))
    assert "Deposit, still open" in words
    assert "Deposit, paid" not in words


def test_a_receipt_takes_in_every_stone_of_the_customers_once(session: Session) -> None:
    stands = an_order(session, **set_with(GARNET, SAPPHIRE))
    first = taken_in(session, stands.number, words="an old ring", weight_mg=2_140, bag="A-17")
    assert first.number == f"{stands.number}-r1"
    stones, ring = first.taken_in
    assert (stones.ring, stones.at, stones.stone, stones.bag) == (1, 2, SAPPHIRE, "A-17")
    assert (ring.words, ring.weight_mg, ring.key) == ("an old ring", 2_140, f"{stands.number}-r1/2")
    assert order(session, stands.number).goods_held == first.taken_in
    with pytest.raises(NothingTakenIn):
        taken_in(session, stands.number)
    with pytest.raises(Refused) as told:
        taken_in(session, stands.number, stones=("1/2",))
    assert told.value.refusals[0].field == "stones"
    assert taken_in(session, stands.number, words="a case").number == f"{stands.number}-r2"


def test_a_receipt_takes_in_the_stones_that_are_named(session: Session) -> None:
    other = replace(SAPPHIRE, size="2 mm", risk=Risk.STUDIO)
    stands = an_order(session, **set_with(SAPPHIRE, other))
    assert [good.at for good in taken_in(session, stands.number, stones=("1/2",)).taken_in] == [2]
    assert [good.at for good in taken_in(session, stands.number).taken_in] == [1]


def test_no_receipt_is_made_while_nobody_bears_the_risk(session: Session) -> None:
    stands = an_order(session, **set_with(GARNET, replace(SAPPHIRE, risk=None)))
    with pytest.raises(RiskUnanswered) as told:
        taken_in(session, stands.number, words="an old ring")
    assert told.value.stones == ("ring 1, 1 oval, 5 x 3 mm, said to be sapphire, bezel, the customer's",)
    assert order(session, stands.number).documents == ()


@pytest.mark.parametrize(
    ("asked", "field", "why"),
    [
        ({"words": "x" * 501}, "goods", Why.TOO_LONG),
        ({"words": "x", "bag": "x" * 41}, "bag", Why.TOO_LONG),
        ({"weight_mg": 1}, "goods", Why.EMPTY),
        ({"stones": ("9/9",)}, "stones", Why.UNKNOWN_CHOICE),
    ],
)
def test_what_cannot_stand_on_a_receipt_is_told_by_its_field(
    session: Session, asked: dict[str, Any], field: str, why: Why
) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    with pytest.raises(Refused) as told:
        taken_in(session, stands.number, **asked)
    assert [(one.field, one.why) for one in told.value.refusals] == [(field, why)]


@pytest.mark.parametrize("state", [State.HANDED_OVER, State.CALLED_OFF])
def test_nothing_more_is_taken_in_for_an_order_that_is_over(session: Session, state: State) -> None:
    stands = an_order(session, state=state)
    with pytest.raises(GoodsStand):
        taken_in(session, stands.number, words="a case")


def test_what_goes_back_is_held_no_more(session: Session) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    taken_in(session, stands.number, words="an old ring", weight_mg=2_140)
    key = f"{stands.number}-r1/2"
    back = given_back(session, stands.number, lines={key: 1_980}, note="Assayed.")
    assert back.number == f"{stands.number}-b1"
    assert [(one.good.key, one.weight_mg) for one in back.given_back] == [(key, 1_980)]
    assert [good.key for good in order(session, stands.number).goods_held] == [f"{stands.number}-r1/1"]
    given_back(session, stands.number)
    assert goods_held(session, _id(session, stands.number)) == ()
    with pytest.raises(NothingHeld):
        given_back(session, stands.number)


def test_a_stone_that_went_back_may_be_taken_in_again(session: Session) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    taken_in(session, stands.number)
    given_back(session, stands.number)
    assert [good.key for good in taken_in(session, stands.number).taken_in] == [f"{stands.number}-r2/1"]


def test_goods_go_back_after_the_order_is_called_off(session: Session) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    taken_in(session, stands.number)
    move_order(
        session, number=stands.number, to=State.CALLED_OFF, version=stands.version,
        reason="No wedding.", actor=PROGRAM, now=LATER,
    )  # fmt: skip
    assert len(order(session, stands.number).goods_held) == 1
    assert given_back(session, stands.number).kind is DocumentKind.RETURN


@pytest.mark.parametrize(
    ("asked", "field", "why"),
    [
        ({"lines": {"2026-1-r1/9": None}}, "goods", Why.UNKNOWN_CHOICE),
        ({"lines": {}}, "goods", Why.EMPTY),
        ({"note": "x" * 501}, "note", Why.TOO_LONG),
    ],
)
def test_what_cannot_go_back_is_told_by_its_field(
    session: Session, asked: dict[str, Any], field: str, why: Why
) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    taken_in(session, stands.number)
    with pytest.raises(Refused) as told:
        given_back(session, stands.number, **asked)
    assert [(one.field, one.why) for one in told.value.refusals] == [(field, why)]


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
    assert [one.number for one in order(session, stands.number).documents] == [draft.number]


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


def _id(session: Session, number: str) -> int:
    return session.exec(select(OrderRow.id).where(col(OrderRow.number) == number)).one()
