"""The page of what moves with the metal: quotes made anew in one step, and money for who may see it."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest

from studio.book.metal_aside import metal_aside
from studio.book.metal_prices import add_metal_prices
from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.craft.drawing.lines import INK, PAPER
from studio.craft.promised import per_gram
from studio.craft.rates import MetalPrice, WeightUnit
from studio.craft.roles import Role
from studio.papers.money import money_words
from tests.builders import NOW, TODAY
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quoted, set_up

NUMBER = "2026-1"
PAGE = "/metal/moves"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with one open quote, made before gold rose."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    quoted(opened)
    with opened.book() as book:
        dear = MetalPrice("gold", Decimal(4200), WeightUnit.TROY_OUNCE, TODAY, "the refiner's list")
        add_metal_prices(book, prices=[dear], actor=PROGRAM, now=NOW)
    return opened


def test_an_open_quote_stands_beside_what_it_would_be_today(morning: Morning) -> None:
    words = morning.see(PAGE, Role.COUNTER).words
    assert f"{NUMBER}-q1" in words
    assert " more" in words


def test_one_press_makes_the_quote_anew(morning: Morning) -> None:
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/requote")
    first = morning.send(form.action, form.fields, Role.COUNTER)
    second = morning.send(form.action, form.fields, Role.COUNTER)
    assert first[:2] == second[:2] == (303, f"/quotes/{NUMBER}-q2")
    with morning.book() as book:
        assert len(order(book, NUMBER).quotes) == 2
    assert "the same" in morning.see(PAGE, Role.COUNTER).words


def test_what_waits_for_no_answer_is_not_made_anew(morning: Morning) -> None:
    form = morning.see(f"/quotes/{NUMBER}-q1").form(f"/quotes/{NUMBER}-q1/agreement")
    assert morning.send(form.action, form.fields)[0] == 303
    assert morning.send(f"/orders/{NUMBER}/requote", {"idempotency_key": "k-1"})[0] == 409


def test_money_of_promised_metal_is_for_the_owner_alone(morning: Morning) -> None:
    form = morning.see(f"/quotes/{NUMBER}-q1").form(f"/quotes/{NUMBER}-q1/agreement")
    morning.send(form.action, form.fields)
    owner, counter = morning.see(PAGE, Role.OWNER).words, morning.see(PAGE, Role.COUNTER).words
    for words in (owner, counter):
        assert "750 yellow gold" in words
        assert "Promised, g" in words
    assert "As quoted" in owner
    assert "£" not in counter.partition("Promised, not yet bought")[2].partition("The price of a gram")[0]


@pytest.mark.parametrize(("asked", "drawn"), [("silver", "silver"), ("tin", "gold"), ("\x00", "gold")])
def test_the_price_of_a_metal_is_drawn_and_told_as_a_table(morning: Morning, asked: str, drawn: str) -> None:
    answer = morning.house.browse(
        "GET",
        PAGE,
        params={"metal": asked},
        headers={"cookie": f"shankwright={morning.keys[Role.COUNTER]}"},
    )
    assert answer.status_code == 200
    assert f"The price of a gram of {drawn} from" in answer.text
    assert "As a table" in answer.text


def test_picture_and_table_tell_the_same(morning: Morning) -> None:
    """Every figure and every quote's day in the line stands in the table, and each quote by its number."""
    with morning.book() as book:
        long_ago = TODAY - timedelta(days=40)
        cheap = MetalPrice("gold", Decimal("99.67"), WeightUnit.G, long_ago, "the refiner's list")
        add_metal_prices(book, prices=[cheap], actor=PROGRAM, now=NOW)
    answer = morning.house.browse(
        "GET", PAGE, headers={"cookie": f"shankwright={morning.keys[Role.COUNTER]}"}
    )
    cuts = re.findall(r'<svg[^>]*role="img".*?</svg>', answer.text, re.DOTALL)
    table = answer.text.partition("As a table")[2].partition("</table>")[0]
    assert len(cuts) == 2, "one for a desk and one for a phone"
    for cut in cuts:
        figures = set(re.findall(r">(£[\d.,]+)<", cut))
        assert figures == {"£99.67", "£135.03"}
        for figure in figures:
            assert table.count(figure) == 1
        assert len(re.findall(r"v12", cut)) == 1
        assert set(re.findall(r'font-size="([^"]+)"', cut)) == {"14"}
        # 7:1 on paper and better: nothing is drawn in a paler ink than the words
        assert set(re.findall(r'(?:fill|stroke)="(#\w+)"', cut)) <= {INK, PAPER}
    assert f"{NUMBER}-q1, Wed 25 Nov" in table
    silver = morning.house.browse(
        "GET", f"{PAGE}?metal=platinum", headers={"cookie": f"shankwright={morning.keys[Role.COUNTER]}"}
    )
    assert f"{NUMBER}-q1, Wed" not in silver.text, "no platinum is in it"


def test_what_lies_aside_is_told_with_its_price_to_the_owner_alone(morning: Morning) -> None:
    """On the page of what moves and on the order's own; everybody sees what lies there."""
    form = morning.see(f"/quotes/{NUMBER}-q1").form(f"/quotes/{NUMBER}-q1/agreement")
    morning.send(form.action, form.fields)
    form = morning.see("/metal").form("/metal")
    piece = {
        "kind-new": "strip", "alloy-new": "gold-750-yellow", "length-new": "120", "width-new": "6",
        "thickness-new": "1.6", "mass-new": "18", "paid-new": "1350", "order-new": NUMBER,
    }  # fmt: skip
    assert morning.send("/metal", form.filled(**piece))[0] == 303
    with morning.book() as book:
        (one,) = metal_aside(book)
    for role in Role:
        words = morning.see(f"/orders/{NUMBER}", role).words
        needs = f"{one.aside.issue_mg / 1000:.2f}"
        assert f"G-001: 18.00 g of 750 yellow gold. The order needs {needs} g." in words
        assert ("A gram was paid £75.00, and quoted £" in words) == (role is Role.OWNER)
        assert "set metal aside" in words or "put metal for it into the drawer" in words
    assert one.aside.quoted_minor is not None
    assert one.aside.difference_minor is not None
    quoted = money_words(per_gram(one.aside.quoted_minor, one.aside.issue_mg), "GBP")
    more = money_words(abs(one.aside.difference_minor), "GBP")
    owner, counter = (
        morning.see(PAGE, role).words.partition("Aside for orders")[2].partition("The price of a gram")[0]
        for role in (Role.OWNER, Role.COUNTER)
    )
    assert f"750 yellow gold, G-001 18.00 {needs} £75.00 {quoted} {more}" in owner
    assert "18.00" in counter
    assert "£" not in counter
