"""An issued quote stays as it was: its paper, its inputs, its breakdown."""

import json
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.errors import (
    QuotePdfNotYet,
    QuoteUnknown,
)
from studio.book.metal_prices import add_metal_price
from studio.book.orders import CustomerDraft, OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.book.quote_tables import QuotePaperRow, QuoteRow
from studio.book.quotes import (
    QuoteDraft,
    SentHow,
    issue_quote,
    note_sent,
    paper_of,
    paper_of_issued,
    papers_to_render,
    put_pdf,
    quotable,
    quote,
    quote_breakdown,
    quote_pdf,
)
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.craft.errors import Refused
from studio.craft.rates import Extra, MetalPrice, WeightUnit
from studio.papers import render
from tests.builders import NOW, TODAY, a_finger, a_ring, an_order
from tests.quoting import PDF, RATES, a_quote, a_yes, put_figures

LATER = NOW + timedelta(hours=3)


def issued(session: Session, draft: QuoteDraft, pdf: bytes | None = PDF) -> str:
    return issue_quote(session, draft=draft, pdf=pdf, actor=PROGRAM, now=LATER).number


def changed(session: Session, number: str, **changes: Any) -> None:
    version = order(session, number).version
    change_order(
        session, number=number, version=version, changes=OrderChanges(**changes), actor=PROGRAM, now=LATER
    )


def stored(session: Session) -> list[Any]:
    """Everything the book keeps of its quotes, as it lies there, but how it stands with them."""
    rows = session.exec(select(QuoteRow)).all()
    papers = session.exec(select(QuotePaperRow)).all()
    return [row.model_dump(exclude={"state", "superseded_at"}) for row in (*rows, *papers)]


def test_whatever_changes_afterwards_an_issued_quote_stays_as_it_was(
    session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_figures(session)
    a_quote(session, pdf=b"%PDF-1.7 the one she took home")
    before = json.dumps(stored(session), default=str)
    breakdown = quote_breakdown(session, "2026-1-q1")
    dearer = replace(
        RATES, labour_hour_minor=9900, overhead_percent=Decimal(60), consumables_minor=900,
        premium_percent=Decimal(30), waste_percent=Decimal(20), margin_percent=Decimal(50),
        extra_margin_percent={Extra.ASSAY: Decimal(40)}, assay_minor=5000, tax_percent=Decimal(25),
        step_minor=0, deposit_percent=Decimal(90), valid_days=1, stale_after_days=1,
        minutes={row: minutes + 60 for row, minutes in RATES.minutes.items()},
    )  # fmt: skip
    put_rates(session, rates=dearer, actor=PROGRAM, now=LATER)
    for metal in ("gold", "silver"):
        price = MetalPrice(metal, Decimal(999), WeightUnit.G, TODAY, "a rush")
        add_metal_price(session, price=price, actor=PROGRAM, now=LATER)
    facts = replace(studio(session), name="Another", tax_name="GST", returns="", small_print="New.")
    change_studio(session, facts=facts, actor=PROGRAM, now=LATER)
    changed(session, "2026-1", rings=(a_ring(a_finger("T")),), customer=CustomerDraft("Jorun Berg", "1"))
    monkeypatch.setattr(render, "templates_dir", lambda: tmp_path)  # no template is left
    session.expire_all()
    assert json.dumps(stored(session), default=str) == before
    assert quote_breakdown(session, "2026-1-q1") == breakdown
    assert quote_pdf(session, "2026-1-q1") == b"%PDF-1.7 the one she took home"
    again = quotable(session, "2026-1", now=LATER)
    assert again.breakdown.total_minor > 2 * breakdown.total_minor


def test_a_breakdown_reads_back_as_it_was_reckoned(session: Session) -> None:
    put_figures(session)
    an_order(session, rings=[a_ring(), a_ring(a_finger("R"))])
    draft = quotable(session, "2026-1", now=NOW)
    issued(session, draft)
    assert quote_breakdown(session, "2026-1-q1") == draft.breakdown


def test_a_quote_keeps_the_prices_and_rates_it_stands_on(session: Session) -> None:
    put_figures(session)
    a_quote(session)
    frozen = session.exec(select(QuoteRow.frozen)).one()
    assert [price["metal"] for price in frozen["prices"]] == ["gold", "silver"]
    assert frozen["rates"]["labour_hour_minor"] == 4800
    assert [step[0] for step in frozen["rings"][0]["steps"]][:2] == ["weigh", "saw"]


def test_a_paper_that_is_not_made_yet_is_said_so_and_put_beside_later(session: Session) -> None:
    put_figures(session)
    number = a_quote(session, pdf=None).number
    assert papers_to_render(session) == [number]
    with pytest.raises(QuotePdfNotYet):
        quote_pdf(session, number)
    assert put_pdf(session, number=number, pdf=PDF, now=LATER).rendered_at == LATER
    put_pdf(session, number=number, pdf=b"another", now=LATER + timedelta(hours=1))
    assert quote_pdf(session, number) == PDF
    assert quote(session, number).rendered_at == LATER
    assert papers_to_render(session) == []


def test_papers_still_to_be_made_begin_with_those_that_stand(session: Session) -> None:
    put_figures(session)
    a_quote(session, pdf=None)
    a_quote(session, pdf=None)
    a_quote(session, order(session, "2026-1"), pdf=None)
    assert papers_to_render(session) == ["2026-1-q2", "2026-2-q1", "2026-1-q1"]


def test_the_paper_is_made_from_what_the_book_keeps_of_the_quote(session: Session) -> None:
    put_figures(session)
    an_order(session, rings=[a_ring(), a_ring(a_finger("L", to_label="N", to_circumference_mm=53.75))])
    draft = quotable(session, "2026-1", now=NOW)
    issued(session, draft, pdf=None)
    changed(session, "2026-1", rings=(a_ring(),), customer=CustomerDraft("Somebody Else", "1"))
    paper = paper_of_issued(session, "2026-1-q1")
    assert paper == paper_of(draft)
    assert (paper.number, paper.customer, len(paper.rings)) == ("2026-1-q1", "Jorun Müller", 2)


def test_each_sending_is_noted_with_who_how_and_to_whom(session: Session) -> None:
    put_figures(session)
    number = a_quote(session).number
    note_sent(session, number=number, how=SentHow.BY_HAND, to=" Jorun ", actor=PROGRAM, now=NOW)
    found = note_sent(
        session, number=number, how=SentHow.MAIL, to="jorun@muller.example", actor=PROGRAM, now=LATER
    )
    assert [(sent.how, sent.sent_to, sent.actor, sent.at) for sent in found.sendings] == [
        (SentHow.BY_HAND, "Jorun", PROGRAM.name, NOW),
        (SentHow.MAIL, "jorun@muller.example", PROGRAM.name, LATER),
    ]
    entry = order(session, found.order_number).history[-1]
    assert (entry.verb, entry.new) == ("send a quote", {"quote": number, "how": "e-mail"})
    with pytest.raises(QuoteUnknown):
        note_sent(session, number="2026-9-q9", how=SentHow.MAIL, to="", actor=PROGRAM, now=NOW)
    with pytest.raises(Refused):
        note_sent(session, number=number, how=SentHow.MAIL, to="x" * 201, actor=PROGRAM, now=NOW)


def test_no_money_stands_in_the_history_but_what_was_paid(session: Session) -> None:
    put_figures(session)
    number = a_yes(session).number
    told = [entry.new for entry in order(session, number).history]
    amounts = {name for new in told for name in new if name.endswith("_minor")}
    assert amounts == {"amount_minor"}
