"""A ring like an earlier one, and a finger that was measured before: offered, and not trusted for ever."""

from datetime import date, timedelta
from typing import Any

import pytest

from studio.book.order_values import OrderRing
from studio.book.orders import Order, order
from studio.craft.designs import Hand, Measured
from studio.craft.particulars import Inscription, Particulars, Surface
from studio.craft.roles import Role
from studio.web.counter_fingers import is_trusted
from tests.builders import NOW, a_design, a_finger, a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

TOLD = Particulars(Surface.POLISHED, Surface.MATT, Inscription("Ada", is_read_back=True))
LIKE = "/orders/new?like=2026-1/1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def an_old_order(morning: Morning, *, before: timedelta, **changes: Any) -> Order:
    ring = a_ring(a_finger(**changes), a_design(), particulars=TOLD, taken_by="Ivo")
    with morning.book() as book:
        return an_order(book, rings=[ring], now=NOW - before)


def ring_of(morning: Morning, number: str) -> OrderRing:
    with morning.book() as book:
        return order(book, number).rings[0]


def take(morning: Morning, fields: dict[str, str]) -> str:
    asked = fields | {"wanted_on": "19 Dec 2099", "act": "save"}
    status, where, page = morning.send("/orders", asked, Role.COUNTER)
    assert status == 303, page.words
    return where.removeprefix("/orders/")


@pytest.mark.parametrize(
    ("taken_on", "today", "is_still"),
    [
        (date(2025, 11, 26), date(2026, 11, 25), True),
        (date(2025, 11, 25), date(2026, 11, 25), False),
        (date(2024, 2, 29), date(2025, 2, 28), True),
        (date(2024, 2, 29), date(2025, 3, 1), False),
        (date(2023, 2, 28), date(2024, 2, 29), False),
        (date(2023, 3, 1), date(2024, 2, 29), True),
    ],
)
def test_a_measurement_is_trusted_for_twelve_months(taken_on: date, today: date, *, is_still: bool) -> None:
    assert is_trusted(taken_on, today) is is_still


def test_same_again_is_the_same_ring_for_the_same_customer_on_days_of_its_own(morning: Morning) -> None:
    old = an_old_order(morning, before=timedelta(days=90))
    assert LIKE in [href for _, href in morning.see("/orders/2026-1", Role.COUNTER).links]
    form = morning.see(LIKE, Role.COUNTER).form("/orders")
    assert form.fields["customer.id"] == str(old.customer.id)
    assert (form.fields["wanted_on"], form.fields["note"]) == ("", "")
    number = take(morning, form.fields)
    again, first = ring_of(morning, number), old.rings[0]
    assert (again.finger, again.design) == (first.finger, first.design)
    assert (again.taken_by, again.taken_at) == ("Ivo", first.taken_at), "the day it was measured stays"
    words = again.particulars.inscription
    assert words is not None
    assert (words.text, words.is_read_back) == ("Ada", False), "what was read back was another ring's"


def test_a_finger_of_more_than_twelve_months_ago_is_measured_again(morning: Morning) -> None:
    old = an_old_order(morning, before=timedelta(days=400))
    form = morning.see(f"/orders/new?like={old.number}/1", Role.COUNTER).form("/orders")
    assert form.fields["finger.measured"] == "told"
    number = take(morning, form.fields)
    with morning.book() as book:
        found = order(book, number)
    assert found.rings[0].finger.measured is Measured.TOLD
    assert "measured finger of ring 1" in found.missing.quote
    assert found.rings[0].taken_at > NOW - timedelta(days=1)


def test_a_known_customer_s_fingers_are_offered_and_one_is_taken_over(morning: Morning) -> None:
    old = an_old_order(morning, before=timedelta(days=30))
    with morning.book() as book:
        right = a_ring(a_finger("P", hand=Hand.RIGHT), taken_by="Ivo")
        an_order(book, rings=[right], customer=old.customer.id, now=NOW - timedelta(days=400))
    page = morning.see(f"/orders/new?customer={old.customer.id}", Role.COUNTER)
    assert "Earlier: UK O½, left ring finger" in page.words
    assert "UK P, right ring finger" in page.words
    assert page.words.count("measure again") == 1
    form = page.form("/orders")
    offered = [value for _, value in form.buttons.values() if value.startswith("finger ")]
    assert len(offered) == 2
    status, _, again = morning.send("/orders", {**form.fields, "act": offered[0]}, Role.COUNTER)
    assert status == 200
    fields = again.form("/orders").fields
    assert (fields["finger.size"], fields["finger.measured"]) == ("O½", "gauge")
    typed = {"width": "6", "thickness": "1.6", "alloy": "silver-925"}
    number = take(morning, fields | typed)
    assert ring_of(morning, number).taken_at == old.rings[0].taken_at
    touched = take(morning, fields | typed | {"finger.size": "P", "idempotency_key": "b", "draft": ""})
    assert ring_of(morning, touched).taken_at > NOW - timedelta(minutes=5), "another size is of today"


def test_nobody_takes_over_the_finger_of_somebody_else(morning: Morning) -> None:
    old = an_old_order(morning, before=timedelta(days=30))
    with morning.book() as book:
        other = an_order(book, rings=[a_ring(a_finger("Z"))])
    form = morning.see(f"/orders/new?customer={other.customer.id}", Role.COUNTER).form("/orders")
    mine = morning.see(f"/orders/new?customer={old.customer.id}", Role.COUNTER).form("/orders")
    theirs = next(value for _, value in mine.buttons.values() if value.startswith("finger "))
    _, _, page = morning.send("/orders", {**form.fields, "act": theirs}, Role.COUNTER)
    assert page.form("/orders").fields["finger.size"] == ""


@pytest.mark.parametrize("like", ["2026-1/7", "2026-1", "2026-99/1", "nothing", "/", "2026-1/new", "a%00b"])
def test_a_ring_that_is_not_there_is_no_beginning(morning: Morning, like: str) -> None:
    an_old_order(morning, before=timedelta(days=30))
    assert morning.house.browse("GET", f"/orders/new?like={like}", Role.COUNTER).status_code == 404
