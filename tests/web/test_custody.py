"""What is held for customers, on the receipt's form and on the page of all of it."""

from dataclasses import replace

import pytest

from studio.craft.particulars import NOT_ASKED, Risk, Setting, Stone, Whose
from studio.craft.roles import Role
from tests.builders import a_ring, an_order
from tests.papers.printed import text_of
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up

STONE = Stone(1, Whose.CUSTOMER, "oval", "5 x 3 mm", "sapphire", setting=Setting.BEZEL, risk=Risk.CUSTOMER)
ORDER = "/orders/2026-1"
RECEIVE = f"{ORDER}/documents/receipt"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book, setting_minor=1200)
        an_order(book, rings=[a_ring(particulars=replace(NOT_ASKED, stones=(STONE,)))])
    return opened


def taken_in(morning: Morning, **typed: str) -> None:
    form = morning.see(ORDER, Role.COUNTER).form(RECEIVE)
    filled = form.filled(goods="A thin old ring", goods_weight="2.14", **typed)
    assert morning.send(RECEIVE, filled, Role.COUNTER)[0] == 303


def test_goods_are_taken_in_with_condition_and_value_and_stand_on_the_page(morning: Morning) -> None:
    taken_in(morning, goods_condition="bent, one hallmark", goods_value="90", **{"take_value-1-1": "400"})
    paper = morning.house.browse("GET", "/documents/2026-1-r1.pdf", Role.COUNTER)
    words = " ".join(text_of(paper.content).split())
    assert "Condition bent, one hallmark Declared value £90.00" in words
    assert "Declared value £400.00" in words
    page = morning.see("/custody", Role.COUNTER)
    assert "£490.00 by what was declared. No limit is set" in page.words
    assert "A thin old ring 2026-1-r1/2, bent, one hallmark" in page.words
    assert page.link("Jorun Müller") == "/customers/1"
    assert "Row 2," in page.words


def test_more_than_is_insured_is_said_in_word_and_mark(morning: Morning) -> None:
    form = morning.see("/studio").form("/studio/facts")
    assert morning.send("/studio/facts", form.filled(insured="400"))[0] == 303
    taken_in(morning, goods_value="90", **{"take_value-1-1": "400"})
    assert "Over £90.00 more is held than is insured." in morning.see("/custody").words
    cleared = morning.see("/studio").form("/studio/facts")
    assert cleared.fields["insured"] == "400.00"
    assert morning.send("/studio/facts", cleared.filled(insured=""))[0] == 303
    assert "No limit is set" in morning.see("/custody").words


def test_a_value_without_goods_is_asked_about_and_nothing_typed_is_lost(morning: Morning) -> None:
    form = morning.see(ORDER, Role.COUNTER).form(RECEIVE)
    filled = form.filled(goods_value="90", goods_condition="bent", **{"take_value-1-1": "4OO"})
    status, _, page = morning.send(RECEIVE, filled, Role.COUNTER)
    assert status == 422
    assert "Say under other goods what was taken in." in page.words
    again = page.form(RECEIVE).fields
    assert (again["goods_value"], again["goods_condition"], again["take_value-1-1"]) == ("90", "bent", "4OO")
