"""Customers' goods in the book: lines come and go in a chain, and what is held is their sum."""

from dataclasses import replace
from random import Random

import pytest
from sqlalchemy import Engine, text
from sqlmodel import Session, col, select

from studio.book import engine as engines
from studio.book.custody import custody_amiss, custody_head
from studio.book.custody_reads import all_held
from studio.book.custody_tables import CustodyRow
from studio.book.hand_over import hand_over
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver
from studio.book.order_reads import order
from studio.book.people import PROGRAM
from studio.book.studio import change_studio, studio
from studio.craft.custody import Exposure, exposure
from studio.craft.orders import State
from tests.amending import LATER
from tests.builders import an_order
from tests.documents import SAPPHIRE, given_back, set_with, taken_in

OLD_RING = {
    "words": "an old ring",
    "weight_mg": 2_140,
    "bag": "A-17",
    "condition": "worn",
    "value_minor": 9_000,
}


def worth_now(session: Session) -> Exposure:
    limit = studio(session).insured_minor
    return exposure((one.good.value_minor for one in all_held(session)), limit)


def rows(session: Session) -> list[CustodyRow]:
    return list(session.exec(select(CustodyRow).order_by(col(CustodyRow.id))))


def test_what_comes_and_goes_is_a_row_each_and_the_chain_is_whole(session: Session) -> None:
    number = an_order(session, **set_with(SAPPHIRE)).number
    taken_in(session, number, **OLD_RING, values_minor={"1/1": 40_000})
    assert worth_now(session).held_minor == 49_000
    given_back(session, number, lines={f"{number}-r1/2": 2_138})
    told = [(row.what, row.good, row.weight_mg, row.value_minor, row.condition) for row in rows(session)]
    assert told == [
        ("taken in", f"{number}-r1/1", None, 40_000, ""),
        ("taken in", f"{number}-r1/2", 2_140, 9_000, "worn"),
        ("given back", f"{number}-r1/2", 2_138, 9_000, "worn"),
    ]
    assert [(one.good.key, one.customer) for one in all_held(session)] == [(f"{number}-r1/1", "Jorun Müller")]
    head = custody_head(session)
    assert head is not None
    assert (head.number, head.hash) == (3, rows(session)[-1].hash)
    assert custody_amiss(session) == []


def test_a_hand_over_gives_back_and_uses_up(session: Session) -> None:
    stands = an_order(session, state=State.READY)
    taken_in(session, stands.number, **OLD_RING)
    taken_in(session, stands.number, words="its case")
    stands = order(session, stands.number)
    goods = {f"{stands.number}-r1/1": GoodGiven(GoodEnd.USED, 600)}
    hand_over(
        session, number=stands.number, version=stands.version, asked=HandingOver(goods=goods),
        actor=PROGRAM, now=LATER,
    )  # fmt: skip
    assert [(row.what, row.weight_mg) for row in rows(session)[2:]] == [
        ("used in the ring", 600), ("given back", None),
    ]  # fmt: skip
    assert all_held(session) == ()
    assert custody_amiss(session) == []


def test_a_row_that_was_changed_is_named_and_so_is_a_document_that_was_taken_out(session: Session) -> None:
    number = an_order(session).number
    taken_in(session, number, **OLD_RING)
    taken_in(session, number, words="its case")
    session.connection().execute(text("UPDATE custody SET value_minor = 900 WHERE id = 1"))
    assert custody_amiss(session) == ["row 1 of the custody of goods is not as it was written"]
    session.connection().execute(text("UPDATE custody SET value_minor = 9000 WHERE id = 1"))
    assert custody_amiss(session) == []
    session.connection().execute(text("DELETE FROM document_papers"))
    session.connection().execute(text("DELETE FROM documents WHERE number = :n"), {"n": f"{number}-r2"})
    assert custody_amiss(session) == [f"{number}-r2/1 is held otherwise than the custody of goods says"]


def test_a_book_of_before_is_carried_in_with_the_first_row(session: Session) -> None:
    number = an_order(session).number
    taken_in(session, number, **OLD_RING)
    session.connection().execute(text("DELETE FROM custody"))
    session.commit()
    assert custody_amiss(session) == []
    taken_in(session, number, words="its case")
    assert [(row.what, row.good) for row in rows(session)] == [
        ("carried in", f"{number}-r1/1"), ("taken in", f"{number}-r2/1"),
    ]  # fmt: skip
    assert custody_amiss(session) == []


def test_more_than_is_insured_shows_as_over(session: Session) -> None:
    facts = studio(session)
    assert worth_now(session) == exposure([])
    change_studio(session, facts=replace(facts, insured_minor=8_000), actor=PROGRAM, now=LATER)
    taken_in(session, an_order(session).number, **OLD_RING)
    assert worth_now(session).over_minor == 1_000


@pytest.mark.parametrize("seed", [3, 11])
def test_whatever_comes_and_goes_what_is_held_is_what_came_less_what_went(engine: Engine, seed: int) -> None:
    chance = Random(seed)  # noqa: S311  made-up goods, no secret
    with engines.session(engine) as session:
        numbers = [an_order(session).number for _ in range(2)]
        held: dict[str, int] = {}
        for _ in range(12):
            number = chance.choice(numbers)
            mine = sorted(key for key in held if key.startswith(f"{number}-"))
            if mine and chance.random() < 0.45:
                key = chance.choice(mine)
                given_back(session, number, lines={key: None})
                del held[key]
            else:
                value = chance.randint(100, 90_000)
                made = taken_in(session, number, words="a chain", value_minor=value)
                held[f"{made.number}/1"] = value
        assert {one.good.key: one.good.value_minor for one in all_held(session)} == held
        assert worth_now(session).held_minor == sum(held.values())
        assert custody_amiss(session) == []
