"""The yes to a quote at the counter: who said it, the deposit, and a quote that has run out."""

from datetime import timedelta

import pytest

from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quoted, set_up, state_of

NUMBER = "2026-1"
DAY = timedelta(days=1)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    return opened


def test_the_yes_at_the_counter_is_noted_with_its_deposit(morning: Morning) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}", Role.COUNTER).form(f"/quotes/{made}/agreement")
    assert form.fields["name"] == "Jorun Müller"
    status, where, _ = morning.send(
        form.action, form.filled(name="Hanne Müller", deposit="300"), Role.COUNTER
    )
    assert (status, where) == (303, f"/orders/{NUMBER}")
    page = morning.see(f"/orders/{NUMBER}")
    assert "Hanne Müller said yes, 10:00." in page.words
    assert "Hanne Müller said yes, Wed 25 Nov, 10:00, noted by Ivo." in page.words
    assert "Part paid. Deposit of £300.00 of £" in page.words
    assert page.link("Print the bench sheet") == f"/orders/{NUMBER}/bench-sheet.pdf"
    assert page.link("Print the label of its envelope") == f"/orders/{NUMBER}/label.pdf"
    assert "Missing for the bench: deposit" in page.words


def test_a_double_press_notes_one_yes(morning: Morning) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}").form(f"/quotes/{made}/agreement")
    first, second = (morning.send(form.action, form.fields) for _ in range(2))
    assert first[:2] == second[:2] == (303, f"/orders/{NUMBER}")
    status, _, again = morning.send(form.action, {**form.fields, "idempotency_key": "another-one"})
    assert status == 409
    assert "The customer has said yes to this quote already." in again.words


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"name": "  "}, "f-name-wrong"),
        ({"deposit": "a lot"}, "f-deposit-wrong"),
        ({"deposit": "99999"}, "f-deposit-wrong"),
        ({"deposit": "0"}, "f-deposit-wrong"),
    ],
)
def test_a_yes_that_cannot_be_noted_keeps_what_was_typed(
    morning: Morning, typed: dict[str, str], field: str
) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}").form(f"/quotes/{made}/agreement")
    status, _, page = morning.send(form.action, form.filled(**typed))
    assert status == 422
    assert page.by_id(field)
    kept = page.form(form.action).fields
    assert {name: kept[name] for name in typed} == typed
    assert state_of(morning, NUMBER) is State.QUOTED


def test_an_open_deposit_holds_up_the_bench_until_it_is_noted(morning: Morning) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}").form(f"/quotes/{made}/agreement")
    morning.send(form.action, form.fields)
    page = morning.see(f"/orders/{NUMBER}", Role.COUNTER)
    assert "Missing for the bench: deposit" in page.words
    assert not [form for form in page.forms if "Give it to the bench" in form.buttons]
    noted = page.form(f"/orders/{NUMBER}/deposit")
    assert morning.send(noted.action, noted.filled(), Role.COUNTER)[0] == 422
    status, _, _ = morning.send(
        noted.action, noted.filled(without_deposit="Her sister paid last time."), Role.COUNTER
    )
    assert status == 303
    page = morning.see(f"/orders/{NUMBER}", Role.COUNTER)
    assert (
        "Begins without a deposit: Her sister paid last time, Wed 25 Nov, 10:00, noted by Ivo." in page.words
    )
    assert [form for form in page.forms if "Give it to the bench" in form.buttons]


def test_a_quote_that_has_run_out_wants_a_reason(morning: Morning) -> None:
    made = quoted(morning)
    later = a_morning(morning.house, morning.monkeypatch, NOW + 15 * DAY)
    page = later.see(f"/quotes/{made}", Role.COUNTER)
    assert "Ended It was good until Wed 9 Dec." in page.words
    form = page.form(f"/quotes/{made}/agreement")
    status, _, asked = later.send(form.action, form.filled(), Role.COUNTER)
    assert status == 422
    assert "The quote has run out. Say why it is let through." in asked.by_id("f-reason-wrong")
    status, _, _ = later.send(form.action, form.filled(reason="The gold was in the drawer."), Role.COUNTER)
    assert status == 303
    assert "It had run out: The gold was in the drawer." in later.see(f"/orders/{NUMBER}").words
