"""Who may collect a ring, and what is still to be paid then."""

import pytest

from studio.book.orders import order
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import a_ring as a_ring_draft
from tests.builders import an_order as an_order_in
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.counter_desk import typed
from tests.web.house import House, an_order
from tests.web.morning import Morning, a_morning

PAGE = "/orders/2026-1"
WHO = "Her brother Tam, 01632 960 555"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        put_figures(book)
    return opened


def collects(morning: Morning) -> str:
    with morning.book() as book:
        return order(book, "2026-1").terms.collects


def test_who_collects_is_asked_at_the_counter_and_comes_back(morning: Morning) -> None:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    sent = form.fields | typed(collects=WHO) | {"act": "save", "idempotency_key": "c"}
    assert morning.send("/orders", sent, Role.COUNTER)[0] == 303
    assert collects(morning) == WHO
    again = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1")
    assert again.fields["collects"] == WHO


def test_who_collects_stays_free_after_the_yes_and_is_told_in_the_history(morning: Morning) -> None:
    with morning.book() as book:
        a_yes(book, a_quote(book))
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/plan")
    assert morning.send(form.action, form.fields | {"collects": WHO}, Role.COUNTER)[0] == 303
    assert collects(morning) == WHO
    assert f"collected by {WHO}, before nothing" in morning.see(PAGE).words
    with morning.book() as book:
        assert order(book, "2026-1").state is State.AGREED


def test_too_long_a_name_is_told_at_its_field(morning: Morning) -> None:
    with morning.book() as book:
        an_order_in(book)
    form = morning.see(PAGE).form(f"{PAGE}/plan")
    status, _, page = morning.send(form.action, form.fields | {"collects": "x" * 121})
    assert status == 422
    assert "This is too long: 121 signs where 120 have room." in page.by_id("f-collects-wrong")
    assert page.form(f"{PAGE}/plan").fields["collects"] == "x" * 121


def test_over_the_api_who_collects_is_for_those_who_see_the_contact(house: House) -> None:
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=an_order(collects=WHO)).json()
    path = f"/api/orders/{taken['number']}"
    assert house.ask("GET", path, Role.COUNTER).json()["collects"] == WHO
    assert house.ask("GET", path, Role.MAKER).json()["collects"] is None
    changed = house.ask("PATCH", path, Role.COUNTER, json={"version": 1, "collects": ""})
    assert changed.status_code == 200
    assert house.ask("GET", path, Role.COUNTER).json()["collects"] == ""


def test_a_maker_is_not_told_who_collects(morning: Morning) -> None:
    with morning.book() as book:
        a_yes(book, a_quote(book, an_order_in(book, rings=[a_ring_draft()])))
    form = morning.see(PAGE).form(f"{PAGE}/plan")
    morning.send(form.action, form.fields | {"collects": WHO})
    assert WHO not in morning.see(PAGE, Role.MAKER).words


def test_the_balance_is_what_the_deposit_left_until_it_is_handed_over(morning: Morning) -> None:
    with morning.book() as book:
        asked = a_quote(book)
        a_yes(book, asked)
    left = (asked.total_minor - asked.deposit_minor) / 100
    assert f"Balance at collection £{left:,.2f}." in morning.see(PAGE).words
    assert "Balance" not in morning.see(PAGE, Role.MAKER).words
