"""Calling an agreed order off on its page: what it comes to before, what it came to after."""

import pytest

from studio.craft.roles import Role
from tests.web.asking import an_agreed_order, move, shown
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quoted, set_up

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
WHY = "reason-called-off"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with one agreed order, £300 of it paid."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    made = quoted(opened)
    form = opened.see(f"/quotes/{made}", Role.COUNTER).form(f"/quotes/{made}/agreement")
    assert opened.send(form.action, form.filled(deposit="300"), Role.COUNTER)[0] == 303
    return opened


def say_what_is_kept(morning: Morning, percent: str = "12.5") -> None:
    form = morning.see("/studio", Role.OWNER).form("/studio/facts")
    status, _, page = morning.send(form.action, form.filled(kept_agreed=percent), Role.OWNER)
    assert status == 303, page.words


def call_off(morning: Morning, role: Role = Role.COUNTER, **typed: str) -> str:
    form = next(
        one for one in morning.see(PAGE, role).forms if one.action == f"{PAGE}/moves" and WHY in one.fields
    )
    sent = form.fields | {WHY: "The wedding is put off.", "to": "called off"} | typed
    status, where, page = morning.send(form.action, sent, role)
    assert (status, where) == (303, PAGE), page.words
    return morning.see(PAGE, role).words


def test_the_page_says_what_calling_off_comes_to_before_it_is_done(morning: Morning) -> None:
    say_what_is_kept(morning)
    words = morning.see(PAGE, Role.COUNTER).words
    assert "It is agreed, nothing cut yet." in words
    assert "By the studio's table 12.5 % of the price is owed." in words
    assert "£300.00 was paid" in words
    assert "What may be kept is a matter of law: ask a professional." in words


def test_after_it_the_page_says_what_goes_back(morning: Morning) -> None:
    say_what_is_kept(morning, "0")
    words = call_off(morning)
    assert "Called off while agreed, nothing cut yet, Wed 25 Nov, 10:00, by Ivo." in words
    assert "£0.00 is owed, £300.00 was paid: £300.00 goes back." in words


def test_without_a_table_it_stays_open_until_the_amount_is_typed(morning: Morning) -> None:
    assert "What is owed is not said yet." in call_off(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/settlement")
    status, _, page = morning.send(form.action, form.filled(owed="a third"), Role.COUNTER)
    assert status == 422
    assert page.by_id("f-owed-wrong")
    assert page.form(form.action).fields["owed"] == "a third"
    status, where, _ = morning.send(form.action, form.filled(owed="120"), Role.COUNTER)
    assert (status, where) == (303, PAGE)
    assert "£120.00 is owed, £300.00 was paid: £180.00 goes back." in morning.see(PAGE, Role.COUNTER).words


def test_makers_see_that_it_is_called_off_and_no_money(morning: Morning) -> None:
    say_what_is_kept(morning)
    call_off(morning)
    words = morning.see(PAGE, Role.MAKER).words
    assert "Called off while agreed" in words
    assert "£" not in words


def test_what_no_percentage_is_is_told_beside_its_field(morning: Morning) -> None:
    form = morning.see("/studio", Role.OWNER).form("/studio/facts")
    status, _, page = morning.send(form.action, form.filled(kept_bench="120"), Role.OWNER)
    assert status == 422
    assert page.by_id("f-kept-bench-wrong") == "This has to be at most 100 %."


def test_a_sheet_of_an_order_that_is_called_off_is_void(morning: Morning) -> None:
    call_off(morning)
    assert "VOID This paper holds no more" in morning.see(f"{PAGE}?sheet=q1", Role.MAKER).words
    assert morning.house.ask("GET", f"{PAGE}/bench-sheet.pdf", Role.MAKER).status_code == 409


def test_programs_read_how_it_was_settled_and_settle_it(house: House) -> None:
    number = an_agreed_order(house)
    assert move(house, number, "called off", reason="put off").status_code == 200
    order = shown(house, number)
    told = order["calling_off"]
    assert (told["stage"], told["owed_minor"], told["returned_minor"]) == ("agreed", None, None)
    path = f"/api/orders/{number}/settlement"
    body = {"owed_minor": 5000, "version": order["version"]}
    assert house.ask("POST", path, Role.MAKER, json=body).status_code == 403
    done = house.ask("POST", path, Role.COUNTER, json=body)
    assert done.status_code == 200, done.text
    assert shown(house, number)["calling_off"] == done.json()
    assert (done.json()["owed_minor"], done.json()["left_minor"]) == (5000, 5000)
    assert shown(house, number, Role.MAKER)["calling_off"] is None
    other = house.take_order()
    refused = house.ask("POST", f"/api/orders/{other}/settlement", json={"owed_minor": 1, "version": 1})
    assert refused.status_code == 409
