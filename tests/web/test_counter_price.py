"""The price at the counter: live, with tax, and what it is made of for the owner alone."""

import re
from decimal import Decimal

import pytest

from studio.book.quotes import price_of
from studio.craft.roles import Role
from studio.web.counter_price import awaited, short_money
from tests.builders import NOW, TODAY, a_ring, an_order
from tests.web.counter_desk import key_figures, typed, words
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def shown(morning: Morning, role: Role = Role.COUNTER, query: str = "", **changed: str) -> str:
    answer = morning.house.browse(
        "POST", f"/counter/figures{query}", role, headers=morning._cookie(role), data=typed(**changed)
    )
    assert answer.status_code == 200
    return answer.text


def price(morning: Morning, **changed: str) -> str:
    return key_figures(shown(morning, Role.COUNTER, "", **changed))["price"]


def amount_after(name: str, text: str) -> Decimal:
    """The first amount behind the words `name`."""
    found = re.search(rf"{name}[^£]*£([\d,.]+)", text)
    assert found is not None, name
    return Decimal(found.group(1).replace(",", ""))


def test_without_rates_the_price_waits_for_them(morning: Morning) -> None:
    assert price(morning) == "Price, with tax waits for the rates"


def test_without_a_price_of_its_metal_it_waits_for_that(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book, metals={"silver": "38.50"})
    assert price(morning) == "Price, with tax waits for a price of gold"
    assert price(morning, alloy="silver-925").startswith("Price, with tax £")


def test_without_the_minutes_of_a_step_it_waits_for_them(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book, minutes={"saw": 10})
    assert price(morning) == "Price, with tax waits for the planned minutes"


def test_the_price_is_that_of_the_book_and_follows_every_key(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book)
        taken = an_order(book)
        live = price_of(book, [taken.rings[0].reckoning], day=TODAY)
    assert live.breakdown is not None
    total, deposit = live.breakdown.total_minor, live.breakdown.deposit_minor
    told = key_figures(shown(morning, query=f"?order={taken.number}&ring=1", finger__gauge_width_mm="6"))
    assert (
        told["price"] == f"Price, with tax {short_money(total, 'GBP')} deposit {short_money(deposit, 'GBP')}"
    )
    assert price(morning, width="8") != price(morning, width="6")
    assert price(morning, width="60") == "Price, with tax waits for the width"


def test_the_price_of_a_pair_is_that_of_both(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book)
        taken = an_order(book, rings=[a_ring(), a_ring()])
        live = price_of(book, [ring.reckoning for ring in taken.rings], day=TODAY)
    assert live.breakdown is not None
    told = key_figures(shown(morning, query=f"?order={taken.number}&ring=2"))["price"]
    assert told.startswith(f"Both rings, with tax {short_money(live.breakdown.total_minor, 'GBP')}")
    third = key_figures(shown(morning, query=f"?order={taken.number}&ring=new"))["price"]
    assert third.startswith("All rings, with tax £")


def test_the_page_and_the_figures_while_typing_tell_the_same_price(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book)
        number = an_order(book).number
    page = morning.house.browse("GET", f"/orders/{number}/rings/1", headers=morning._cookie(Role.COUNTER))
    href = re.search(r'data-figures="([^"]+)"', page.text)
    assert href is not None
    query = href.group(1).removeprefix("/counter/figures").replace("&amp;", "&")
    assert key_figures(page.text)["price"] == key_figures(shown(morning, query=query, wanted_on=""))["price"]


def test_the_owner_sees_what_the_price_is_made_of_and_it_sums(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book)
    text = words(shown(morning, Role.OWNER).partition('id="working-price"')[2])
    parts = (
        "Metal", "Labour", "Overhead", "Consumables", "Own cost", "Margin", "Its hallmark costs £12.00",
        "Rounding up", "Net", "Tax", "Total, with tax",
    )  # fmt: skip
    said = {name: amount_after(name, text) for name in parts}
    assert said["Metal"] + said["Labour"] + said["Overhead"] + said["Consumables"] == said["Own cost"]
    bought = said["Its hallmark costs £12.00"]
    assert said["Own cost"] + said["Margin"] + bought + said["Rounding up"] == said["Net"]
    assert said["Net"] + said["Tax"] == said["Total, with tax"]
    assert re.search(r"Minutes planned \d+0 min = the sum over the steps of its route", text)
    assert "Work the pattern, hammered 10 min" in text


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_nobody_else_sees_what_it_is_made_of(morning: Morning, role: Role) -> None:
    with morning.book() as book:
        set_up(book)
    text = shown(morning, role)
    assert "working-price" not in text
    assert not re.search(r"margin|overhead|labour|minutes planned", words(text).lower())
    assert ("£" in text) is (role is Role.COUNTER)


def test_a_price_of_the_metal_that_is_old_says_its_day(morning: Morning) -> None:
    with morning.book() as book:
        set_up(book)
    later = a_morning(morning.house, morning.monkeypatch, NOW.replace(day=30, month=12))
    assert "The price of gold is of Wed 25 Nov." in words(shown(later))


@pytest.mark.parametrize(
    ("minor", "currency", "said"),
    [(168000, "GBP", "£1,680"), (168050, "GBP", "£1,680.50"), (1680, "JPY", "JP¥1,680"), (5, "GBP", "£0.05")],
)
def test_pence_stand_only_where_there_are_some(minor: int, currency: str, said: str) -> None:
    assert short_money(minor, currency) == said


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        (("rates", "price of gold"), "for the rates"),
        (("price of gold",), "for a price of gold"),
        (("minutes for 'Scribe and saw'",), "for the planned minutes"),
    ],
)
def test_what_a_price_waits_for_is_said_shortly(missing: tuple[str, ...], said: str) -> None:
    assert awaited(missing) == said
