"""The deposit on an order's page: part paid, waived with the move to the bench, put right."""

import pytest

from studio.book.orders import Order, order
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.quoting import a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
WAIVER = "Give it to the bench without the deposit"
REASON = "reason-at-the-bench"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, NUMBER)


def agreed(morning: Morning, deposit_minor: int | None) -> None:
    with morning.book() as book:
        put_figures(book)
        a_yes(book, deposit_minor=deposit_minor)


def test_the_move_to_the_bench_offers_a_reason_instead_of_the_deposit(morning: Morning) -> None:
    agreed(morning, None)
    page = morning.see(PAGE, Role.COUNTER)
    assert "Missing for the bench: deposit, or a reason to begin without" in page.words
    form = next(form for form in page.forms if WAIVER in form.buttons)
    pressed = {**form.fields, "to": "at the bench"}
    status, _, again = morning.send(form.action, {**pressed, REASON: "  "}, Role.COUNTER)
    assert status == 422
    assert "Say why, or note the deposit." in again.by_id("f-reason-at-the-bench-wrong")
    assert stands(morning).state is State.AGREED
    status, _, _ = morning.send(form.action, {**pressed, REASON: "Regular customer."}, Role.COUNTER)
    assert status == 303
    found = stands(morning)
    assert found.state is State.AT_THE_BENCH
    assert found.agreement is not None
    assert found.agreement.without_deposit == "Regular customer."
    assert "Begins without a deposit: Regular customer" in morning.see(PAGE).words


def test_a_maker_is_offered_no_reason_instead_of_the_deposit(morning: Morning) -> None:
    agreed(morning, None)
    page = morning.see(PAGE, Role.MAKER)
    assert "Missing for the bench: deposit" in page.words
    assert "or a reason" not in page.words
    assert not [form for form in page.forms if WAIVER in form.buttons]


def test_a_part_payment_is_kept_and_shown_and_stays_open(morning: Morning) -> None:
    agreed(morning, 5000)
    page = morning.see(PAGE, Role.COUNTER)
    assert "Open Part paid. Deposit of £50.00 of " in page.words
    assert "The rest is open." in page.words
    form = page.form(f"{PAGE}/deposit")
    assert form.fields["deposit"] == "50.00"
    status, _, _ = morning.send(form.action, form.filled(without_deposit="The rest on Friday."), Role.COUNTER)
    assert status == 303
    found = stands(morning)
    assert found.agreement is not None
    assert (found.agreement.deposit_minor, found.missing.bench) == (5000, ())
    assert "Begins without the rest: The rest on Friday." in morning.see(PAGE).words


def test_nothing_paid_is_an_answer_only_where_something_was_noted(morning: Morning) -> None:
    agreed(morning, None)
    form = morning.see(PAGE).form(f"{PAGE}/deposit")
    status, _, page = morning.send(form.action, form.filled(deposit="0"))
    assert status == 422
    assert "Nothing was paid?" in page.by_id("f-deposit-wrong")
    morning.send(form.action, form.filled(deposit="50"))
    form = morning.see(PAGE).form(f"{PAGE}/deposit")
    assert morning.send(form.action, form.filled(deposit="0"))[0] == 303
    found = stands(morning)
    assert found.agreement is not None
    assert found.agreement.deposit_minor is None
