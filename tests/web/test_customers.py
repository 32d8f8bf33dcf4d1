"""Customers: the list, and one customer with contact, sizes and orders."""

from datetime import timedelta
from urllib.parse import urlencode

import pytest

from studio.book.customers import CustomerCard, CustomerDraft, add_customer, change_customer, customer
from studio.book.people import PROGRAM
from studio.craft.designs import FingerName, Hand, Measured
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, a_finger, a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

DAY = timedelta(days=1)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def add(morning: Morning, name: str = "Jorun Müller", phone: str | None = "01632 960 715") -> int:
    with morning.book() as book:
        draft = CustomerDraft(name, phone, "jorun@muller.example")
        return add_customer(book, draft=draft, actor=PROGRAM, now=NOW)


def stands(morning: Morning, customer_id: int) -> CustomerCard:
    with morning.book() as book:
        return customer(book, customer_id)


def test_a_book_without_customers_says_so(morning: Morning) -> None:
    assert "There is no customer yet." in morning.see("/customers").words


def test_customers_stand_by_name_with_their_orders(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    add(morning, "Åsa Lindqvist")
    page = morning.see("/customers")
    assert page.words.index("Åsa Lindqvist") < page.words.index("Jorun Müller")
    assert "Jorun Müller 01632 960 715 1 order 2026-1" in page.words
    assert page.link("2026-1") == "/orders/2026-1"


@pytest.mark.parametrize("query", ["muller", "MÜLLER jorun", "0715", "07 15"])
def test_a_customer_is_found_by_name_or_telephone(morning: Morning, query: str) -> None:
    found = add(morning)
    add(morning, "Somebody Else", "01632 960 222")
    page = morning.see(f"/customers?{urlencode({'q': query})}")
    assert "One customer found" in page.words
    assert page.link("Jorun Müller") == f"/customers/{found}"
    assert "Somebody Else" not in page.words


@pytest.mark.parametrize("query", ["nobody", "<script>", "%", "{{7*7}}", "x" * 10_000])
def test_whoever_is_not_found_is_said(morning: Morning, query: str) -> None:
    add(morning)
    page = morning.see(f"/customers?{urlencode({'q': query})}")
    assert page.status == 200
    assert "Nobody of this name or telephone is in the book." in page.words


def test_the_list_goes_on_without_leaving_one_out(morning: Morning) -> None:
    for place in range(52):
        add(morning, f"Customer {place:02}", None)
    first = morning.see("/customers")
    second = morning.see(first.link("More customers"))
    names = [words for words, _ in [*first.links, *second.links] if words.startswith("Customer ")]
    assert names == [f"Customer {place:02}" for place in range(52)]


@pytest.mark.parametrize("after", ["999", "yesterday", "-1", "9" * 30, "9" * 5000])
def test_a_list_that_goes_on_from_nobody_shows_the_beginning_and_says_so(
    morning: Morning, after: str
) -> None:
    add(morning, "Jorun Müller", None)
    page = morning.see(f"/customers?after={after}")
    assert page.status == 404
    assert "The list does not go on from there. This is its beginning." in page.words
    assert page.link("Jorun Müller").startswith("/customers/")


@pytest.mark.parametrize("number", ["x", "-1", "1.5", "9" * 30])
def test_an_address_that_names_no_customer_is_no_fault_of_the_program(morning: Morning, number: str) -> None:
    assert morning.see(f"/customers/{number}").status in {404, 422}


def test_a_customer_that_is_not_in_the_book_is_not_found(morning: Morning) -> None:
    page = morning.see("/customers/999")
    assert page.status == 404
    assert "There is no such customer." in page.words


def test_sizes_are_told_with_gauge_day_and_hand(morning: Morning) -> None:
    finger = a_finger("P", hand=Hand.RIGHT, name=FingerName.THUMB, measured=Measured.TOLD, is_warm=None)
    with morning.book() as book:
        first = an_order(book, now=NOW - 40 * DAY)
        an_order(book, customer=first.customer.id, rings=[a_ring(finger, taken_by="Ivo")], state=State.READY)
    page = morning.see(f"/customers/{first.customer.id}")
    told = "Right thumb UK P Told, not measured 10:00, Ivo Left ring finger UK O½ Gauge 6 mm wide, warm hands"
    assert f"{told} Fri 16 Oct, shankwright" in page.words
    assert "2 P, flat 6 × 1.6, hammered, 750 yellow Ready since 10:00" in page.words
    assert page.link("Take an order") == f"/orders/new?customer={first.customer.id}"


def test_a_contact_is_changed(morning: Morning) -> None:
    known = add(morning)
    form = morning.see(f"/customers/{known}").form(f"/customers/{known}")
    sent = form.filled(name="Jorun  Muller", phone="+44 1632 960 716", email="", note="Rings after five.")
    assert morning.send(form.action, sent, Role.COUNTER)[:2] == (303, f"/customers/{known}")
    card = stands(morning, known)
    assert (card.name, card.phone, card.email) == ("Jorun Muller", "+44 1632 960 716", None)
    assert card.note == "Rings after five."


def test_what_is_wrong_in_a_contact_is_told_together_and_nothing_is_lost(morning: Morning) -> None:
    known = add(morning)
    form = morning.see(f"/customers/{known}").form(f"/customers/{known}")
    wrong = form.filled(name=" ", phone="<script>", email="somewhere", note="kept")
    status, _, page = morning.send(form.action, wrong)
    assert status == 422
    assert page.title.startswith("Three things to put right: ")
    assert "A phone number is made of digits" in page.by_id("f-phone-wrong")
    again = page.form(f"/customers/{known}").fields
    assert (again["phone"], again["email"], again["note"]) == ("<script>", "somewhere", "kept")
    assert stands(morning, known).name == "Jorun Müller"


def test_two_who_change_one_customer_see_both_versions(morning: Morning) -> None:
    known = add(morning)
    mine = morning.see(f"/customers/{known}").form(f"/customers/{known}")
    with morning.book() as book:
        draft = CustomerDraft("Jorun Müller", "01632 960 799", "jorun@muller.example")
        change_customer(book, customer_id=known, version=1, draft=draft, actor=PROGRAM, now=NOW)
    status, _, page = morning.send(mine.action, mine.filled(phone="01632 960 700"))
    assert status == 409
    assert "Phone you typed 01632 960 700 stands now 01632 960 799" in page.words
    again = page.form(mine.action)
    assert again.fields["phone"] == "01632 960 700"
    assert morning.send(again.action, again.fields)[0] == 303
    assert stands(morning, known).phone == "01632 960 700"


def test_a_maker_opens_no_customers_page(morning: Morning) -> None:
    known = add(morning)
    assert morning.see("/customers", Role.MAKER).status == 403
    assert morning.see(f"/customers/{known}", Role.MAKER).status == 403
    assert "Customers" not in [words for words, _ in morning.see("/orders", Role.MAKER).links]
