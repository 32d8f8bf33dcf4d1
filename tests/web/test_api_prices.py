"""Metal prices over the API."""

from datetime import timedelta
from typing import Any

import pytest

from studio.book.engine import session
from studio.book.price_history import metal_price_history
from studio.book.rates import metal_prices
from studio.craft.roles import Role
from tests.web.house import House
from tests.web.priced import ask_for_quote, put_in_rates, today


def put_in(house: House, role: Role = Role.OWNER, key: str = "", **changes: Any) -> Any:
    price = {
        "metal": "silver",
        "price": "31.50",
        "unit": "ozt",
        "on": today().isoformat(),
        "source": "refiner's list",
    }
    sent = {name: value for name, value in (price | changes).items() if value is not ...}
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", "/api/metal-prices", role, json=sent, headers=headers)


def count(house: House) -> int:
    with session(house.engine) as book:
        return len(metal_price_history(book).items)


@pytest.mark.parametrize("price", ["31.50", "31.5", "0.000001", "2950", "1020.123456"])
def test_a_price_is_kept_exactly_as_it_was_typed(house: House, price: str) -> None:
    answer = put_in(house, price=price)
    assert answer.status_code == 201
    assert answer.json() == {
        "metal": "silver", "price": price, "currency": "GBP", "unit": "ozt", "on": today().isoformat(),
        "source": "refiner's list",
    }  # fmt: skip
    with session(house.engine) as book:
        assert f"{metal_prices(book, today())['silver'].price:f}" == price


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("price", 31.5, 'Send the price as text, such as "31.50", so that it is kept.'),
        ("price", "1,234", "1,234 could be a thousand or a fraction. Write a point, or no comma."),
        ("price", "0.0000001", "A price has at most 6 places after the point."),
        ("price", "0", "The price has to be above 0."),
        ("price", "-3", "We cannot read '-3' as a price. Type it like 6 or 6.5."),
        ("price", "NaN", "We cannot read 'NaN' as a price. Type it like 6 or 6.5."),
        ("price", "1e9", "We cannot read '1e9' as a price. Type it like 6 or 6.5."),
        ("price", "٣١", "We cannot read this as a number. Type it like 6 or 6.5."),
        (
            "on",
            (today() + timedelta(days=9)).isoformat(),
            "A price of a day to come? Put it in at most a week before its day.",
        ),
        ("metal", "tin", "This has no price of its own. Choose a metal from the list."),
        ("metal", "silver-925", "This has no price of its own. Choose a metal from the list."),
        ("unit", "oz", "We have no unit called oz. Choose one from the list."),
        ("on", "2026-02-31", "February 2026 ends on Saturday the 28th. Which day is meant?"),
        ("source", "s" * 121, "This is too long: 121 signs where 120 have room."),
        ("metal", ..., "The metal is not given yet."),
        ("price", ..., "The price is not given yet."),
        ("unit", ..., "The unit is not given yet."),
        ("on", ..., "The day is not given yet."),
        ("source", ..., "The source is not given yet."),
    ],
)
def test_what_is_wrong_with_a_price_is_said_at_its_field(
    house: House, field: str, typed: object, words: str
) -> None:
    changes: dict[str, Any] = {field: typed}
    answer = put_in(house, **changes)
    assert answer.status_code == 422
    assert answer.json() == {"errors": [{"field": field, "message": words}]}
    assert count(house) == 0


def test_all_that_is_wrong_is_said_at_once_and_strangers_among_the_fields_too(house: House) -> None:
    answer = put_in(house, metal="tin", price="x", unit="lb", on="soon", source=" ")
    assert {error["field"] for error in answer.json()["errors"]} == {"metal", "price", "unit", "on", "source"}
    assert put_in(house, colour="white").json()["errors"][0]["field"] == "colour"


def test_a_comma_is_read_as_the_point_and_kept_as_one(house: House) -> None:
    assert put_in(house, price="31,50").json()["price"] == "31.50"


@pytest.mark.parametrize(("ahead", "status"), [(7, 201), (8, 422)])
def test_a_price_is_put_in_at_most_a_week_before_its_day(house: House, ahead: int, status: int) -> None:
    assert put_in(house, on=(today() + timedelta(days=ahead)).isoformat()).status_code == status
    assert count(house) == (1 if status == 201 else 0)


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_only_the_owner_puts_in_prices(house: House, role: Role) -> None:
    assert put_in(house, role).status_code == 403
    assert count(house) == 0


def test_the_same_key_puts_in_one_price(house: House) -> None:
    first, second = put_in(house, key="p-1"), put_in(house, key="p-1")
    assert (first.status_code, first.content) == (201, second.content)
    assert count(house) == 1
    assert put_in(house, key="p-1", price="32").status_code == 409


def test_a_quote_uses_the_latest_day_not_after_today_and_there_the_last_entry(house: House) -> None:
    put_in_rates(house)
    number = house.take_order()
    before = ask_for_quote(house, number).json()["net_minor"]
    put_in(house, price="999", on=(today() + timedelta(days=1)).isoformat())
    put_in(house, price="888", on=(today() - timedelta(days=1)).isoformat())
    assert ask_for_quote(house, number).json()["net_minor"] == before
    put_in(house, price="777")
    assert ask_for_quote(house, number).json()["net_minor"] > before
    put_in(house, price="31.50")
    assert ask_for_quote(house, number).json()["net_minor"] == before
