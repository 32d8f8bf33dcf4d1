"""Old gold in the book: numbered, in the metal ledger, its seller kept a time; wrong entries struck."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.audit import AuditRow
from studio.book.ledger_reads import ledger_amiss, ledger_balances, ledger_lines
from studio.book.old_gold import (
    OldGoldDraft,
    Seller,
    buy_old_gold,
    forget_seller,
    old_gold,
    register,
    strike_old_gold,
)
from studio.book.old_gold_errors import OldGoldStruck, OldGoldUnknown, SellerKept
from studio.book.people import PROGRAM
from studio.book.studio import change_studio, studio
from studio.craft.errors import Refused
from studio.craft.ledger import Account, MetalMove, Pot
from studio.craft.payments import Method
from tests.builders import NOW

GOLD = "gold-750-yellow"
DRAFT = OldGoldDraft(
    alloy=GOLD, fineness=748, mass_mg=8_420, description="a worn band", paid_minor=30_000,
    method=Method.TRANSFER, seller=Seller("Hedda Lorne", "3 Quay Lane\nHarbourtown", "passport, ends 4471"),
    is_theirs=True, marks="750, anchor", tested="acid", worth_minor=31_000,
)  # fmt: skip
THREE_YEARS = timedelta(days=3 * 365 + 1)


def bought(session: Session, **changes: Any) -> int:
    return buy_old_gold(session, draft=replace(DRAFT, **changes), actor=PROGRAM, now=NOW).number


def in_the_scrap_box(session: Session) -> int:
    return ledger_balances(session).get(Pot(Account.SCRAP, GOLD), 0)


def test_a_purchase_is_numbered_and_lies_in_the_scrap_box(session: Session) -> None:
    assert [bought(session), bought(session)] == [1, 2]
    assert in_the_scrap_box(session) == 16_840
    moved = ledger_lines(session)[0].moved
    assert (moved.what, moved.source) == (MetalMove.OLD_GOLD, Account.SELLER)
    found = old_gold(session, 1)
    assert (found.seller, found.keep_until - found.bought_on) == (DRAFT.seller, THREE_YEARS)
    assert ledger_amiss(session) == []
    verbs = [row.verb for row in session.exec(select(AuditRow))]
    assert verbs.count("buy old gold") == 2


def test_what_is_struck_stays_with_its_reason_and_its_metal_is_taken_back(session: Session) -> None:
    number = bought(session)
    with pytest.raises(Refused):
        strike_old_gold(session, number=number, why=" ", actor=PROGRAM, now=NOW)
    strike_old_gold(session, number=number, why="weighed with its box", actor=PROGRAM, now=NOW)
    assert in_the_scrap_box(session) == 0
    assert [(one.number, one.struck) for one in register(session)] == [(1, "weighed with its box")]
    with pytest.raises(OldGoldStruck):
        strike_old_gold(session, number=number, why="again", actor=PROGRAM, now=NOW)
    assert bought(session) == 2  # no number is used twice


def test_a_seller_is_forgotten_after_the_last_day_and_the_purchase_stays(session: Session) -> None:
    change_studio(session, facts=replace(studio(session), seller_years=3), actor=PROGRAM, now=NOW)
    number = bought(session)
    last = NOW + THREE_YEARS
    for early in (NOW, last):
        with pytest.raises(SellerKept):
            forget_seller(session, number=number, actor=PROGRAM, now=early)
    found = forget_seller(session, number=number, actor=PROGRAM, now=last + timedelta(days=1))
    assert (found.seller, found.mass_mg, found.paid_minor) == (None, 8_420, 30_000)
    with pytest.raises(SellerKept):
        forget_seller(session, number=number, actor=PROGRAM, now=last + timedelta(days=2))


def test_what_cannot_be_is_refused_field_by_field_and_uses_no_number(session: Session) -> None:
    with pytest.raises(Refused) as refused:
        bought(
            session, alloy="copper", fineness=1001, mass_mg=0, description=" ",
            seller=Seller("", "", "x" * 61), is_theirs=False,
        )  # fmt: skip
    assert [one.field for one in refused.value.refusals] == [
        "alloy", "fineness", "mass", "description", "seller", "identity", "address", "is_theirs",
    ]  # fmt: skip
    assert bought(session) == 1
    for unknown in (0, 9, 2**40):
        with pytest.raises(OldGoldUnknown):
            old_gold(session, unknown)
