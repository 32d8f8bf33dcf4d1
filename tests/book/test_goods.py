"""Goods of the customer's: taken in with a receipt, held, and given back with another."""

from dataclasses import replace
from typing import Any

import pytest
from sqlmodel import Session, col, select

from studio.book.document_errors import (
    GoodsStand,
    NothingHeld,
    NothingTakenIn,
    RiskUnanswered,
)
from studio.book.document_reads import goods_held
from studio.book.document_values import DocumentKind
from studio.book.order_tables import OrderRow
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.particulars import Risk
from tests.amending import LATER
from tests.builders import an_order
from tests.documents import GARNET, SAPPHIRE, given_back, set_with, taken_in


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


def _id(session: Session, number: str) -> int:
    return session.exec(select(OrderRow.id).where(col(OrderRow.number) == number)).one()
