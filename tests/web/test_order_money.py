"""Money on an order's page: the deposit, what was paid and given back, and an entry taken back."""

import pytest

from studio.book.orders import Order, order
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.papers.printed import text_of
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
    assert "Say why, or note the deposit that was paid." in again.by_id("f-reason-at-the-bench-wrong")
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


def test_a_part_payment_is_kept_and_shown_and_the_rest_stays_open(morning: Morning) -> None:
    agreed(morning, 5000)
    page = morning.see(PAGE, Role.COUNTER)
    assert "Open Part paid. Deposit of £50.00 of " in page.words
    assert "The rest is open." in page.words
    form = page.form(f"{PAGE}/deposit")
    status, _, again = morning.send(form.action, form.filled(without_deposit=" "), Role.COUNTER)
    assert status == 422
    assert "Say why" in again.by_id("f-without-deposit-wrong")
    status, _, _ = morning.send(form.action, form.filled(without_deposit="The rest on Friday."), Role.COUNTER)
    assert status == 303
    found = stands(morning)
    assert found.agreement is not None
    assert (found.agreement.paid_minor, found.missing.bench) == (5000, ())
    assert "Begins without the rest: The rest on Friday." in morning.see(PAGE).words


def test_a_payment_stands_with_how_it_came_and_its_receipt(morning: Morning) -> None:
    agreed(morning, None)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/payments")
    typed = form.filled(paid="120.50", paid_how="bank transfer", paid_reference="HB 0481", paid_on="23/11")
    assert morning.send(form.action, typed, Role.COUNTER)[0] == 303
    page = morning.see(PAGE, Role.COUNTER)
    assert "2026-1-p1 £120.50 paid by bank transfer on Mon 23 Nov 2026, HB 0481 noted by Ivo" in page.words
    status, kind, pdf = morning.fetch("/documents/2026-1-p1.pdf", Role.COUNTER)
    assert (status, kind) == (200, "application/pdf")
    words = " ".join(text_of(pdf).split())
    for told in ("Receipt 2026-1-p1", "We received £120.50 by bank transfer on 23 November 2026", "HB 0481"):
        assert told in words, told
    assert "Left to pay" in words


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"paid": ""}, "f-paid", "How much was paid?"),
        ({"paid": "0"}, "f-paid", "above 0"),
        ({"paid": "many"}, "f-paid", "cannot read this as a number"),
        ({"paid": "9999"}, "f-paid", "amount"),
        ({"paid": "1", "paid_on": "26 Nov 2026"}, "f-paid-on", ""),
        ({"paid": "1", "paid_reference": "4111 1111 1111 1111"}, "f-paid-reference", "kept nowhere"),
        ({"paid": "1", "paid_how": "gold"}, "f-paid-how", ""),
    ],
)
def test_what_cannot_have_been_paid_is_told_beside_its_field(
    morning: Morning, typed: dict[str, str], field: str, words: str
) -> None:
    agreed(morning, None)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/payments")
    status, _, page = morning.send(form.action, form.filled(**typed), Role.COUNTER)
    assert status == 422
    assert words in page.by_id(f"{field}-wrong")
    assert page.by_id(f"{field}-wrong")
    again = page.form(form.action).fields
    assert {name: again[name] for name in typed if name != "paid_how"} == {
        name: value for name, value in typed.items() if name != "paid_how"
    }
    assert not stands(morning).payments


def test_money_goes_back_at_most_what_was_paid(morning: Morning) -> None:
    agreed(morning, 5000)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/refunds")
    status, _, page = morning.send(form.action, form.filled(back="50.01"), Role.COUNTER)
    assert status == 422
    assert page.by_id("f-back-wrong")
    assert morning.send(form.action, form.filled(back="20", back_how="cash"), Role.COUNTER)[0] == 303
    assert "2026-1-p2 -£20.00 given back in cash on Wed 25 Nov 2026" in morning.see(PAGE, Role.COUNTER).words
    words = " ".join(text_of(morning.fetch("/documents/2026-1-p2.pdf", Role.COUNTER)[2]).split())
    assert "Money given back 2026-1-p2" in words
    assert "We gave back £20.00 in cash" in words
    assert stands(morning).account.paid_minor == 3000


def test_an_entry_made_by_mistake_is_taken_back_by_another(morning: Morning) -> None:
    agreed(morning, 5000)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/payments/2026-1-p1/undoing")
    status, _, page = morning.send(form.action, form.fields, Role.COUNTER)
    assert status == 422
    assert "Say why it was a mistake." in page.by_id("f-undo-p1-wrong")
    assert morning.send(form.action, form.filled(**{"undo-p1": "The other Müller."}), Role.COUNTER)[0] == 303
    words = morning.see(PAGE, Role.COUNTER).words
    assert "entered by mistake, taken back by 2026-1-p2" in words
    assert "takes 2026-1-p1 back: The other Müller." in words
    assert not [form for form in morning.see(PAGE, Role.COUNTER).forms if form.action.endswith("/undoing")]
    status, _, page = morning.send(form.action, form.filled(**{"undo-p1": "Again."}), Role.COUNTER)
    assert status in {409, 422}
    assert stands(morning).account.paid_minor == 0


def test_a_maker_sees_no_money(morning: Morning) -> None:
    agreed(morning, 5000)
    page = morning.see(PAGE, Role.MAKER)
    assert "£" not in page.words
    assert "Money" not in page.words
    assert morning.fetch("/documents/2026-1-p1.pdf", Role.MAKER)[0] == 403


def test_a_ring_that_is_ready_says_its_balance_and_paid_in_full(morning: Morning) -> None:
    agreed(morning, 5000)
    left = stands(morning).account.left_minor
    assert f"Balance at collection £{left / 100:,.2f}." in morning.see(PAGE, Role.COUNTER).words
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/payments")
    assert morning.send(form.action, form.filled(paid=f"{left / 100:.2f}"), Role.COUNTER)[0] == 303
    page = morning.see(PAGE, Role.COUNTER)
    assert "Paid in full." in page.words
    assert not [form for form in page.forms if form.action == f"{PAGE}/payments"]
