"""Amending an agreed order at the counter, and the sheets that are void then."""

from dataclasses import replace

import pytest

from studio.book.amendments import amending_of, put_amending
from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from studio.craft.particulars import Inscription, Marks, MarkWish, Particulars
from studio.craft.roles import Role
from tests.builders import NOW, a_ring, an_order
from tests.papers.printed import text_of
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quote_of, set_up
from tests.web.shown import Shown

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}/amendment"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with one agreed order."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
        an_order(book, rings=[a_ring()])
    made = quote_of(opened, NUMBER)
    form = opened.see(f"/quotes/{made}", Role.COUNTER).form(f"/quotes/{made}/agreement")
    assert opened.send(form.action, form.filled(deposit="300"), Role.COUNTER)[0] == 303
    return opened


def begin(morning: Morning) -> Shown:
    form = morning.see(f"/orders/{NUMBER}", Role.COUNTER).form(PAGE)
    assert morning.send(PAGE, form.fields, Role.COUNTER)[:2] == (303, PAGE)
    return morning.see(PAGE, Role.COUNTER)


def narrowed(morning: Morning) -> None:
    """The amendment begun, its ring made narrower at the counter."""
    begin(morning)
    narrow(morning)


def narrow(morning: Morning) -> None:
    where = f"{PAGE}/rings/1"
    form = morning.see(where, Role.COUNTER).form(where)
    status, back, page = morning.send(where, form.filled(width="5", act="quote"), Role.COUNTER)
    assert (status, back) == (303, PAGE), page.words


def made(morning: Morning, **typed: str) -> str:
    """The number of an amendment made of what was put together."""
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    status, where, page = morning.send(form.action, form.filled(**typed), Role.COUNTER)
    assert status == 303, page.words
    return where.removeprefix("/quotes/")


def agreed(morning: Morning, number: str) -> None:
    form = morning.see(f"/quotes/{number}", Role.COUNTER).form(f"/quotes/{number}/agreement")
    assert "deposit" not in form.fields
    assert morning.send(form.action, form.fields, Role.COUNTER)[:2] == (303, f"/orders/{NUMBER}")


def test_an_amendment_that_is_begun_says_that_nothing_is_changed_yet(morning: Morning) -> None:
    assert "Nothing is changed yet." in begin(morning).words
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    status, _, page = morning.send(form.action, form.fields, Role.COUNTER)
    assert status == 409
    assert "Nothing is changed yet: change a ring or a day" in page.words


def test_its_page_shows_what_changes_and_what_that_does_to_the_price(morning: Morning) -> None:
    narrowed(morning)
    words = morning.see(PAGE, Role.COUNTER).words
    assert "Amendment 2026-1-a1" in words
    assert "6 mm wide" in words
    assert "5 mm wide" in words
    assert "Less by" in words


def test_what_is_wrong_is_told_by_its_field_and_nothing_typed_is_lost(morning: Morning) -> None:
    begin(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    typed = form.filled(wanted_on="the day after", charge="26", words="Later, as told.")
    for action in (form.action, f"{PAGE}/terms"):
        status, _, page = morning.send(action, typed, Role.COUNTER)
        assert status == 422
        again = page.form(form.action).fields
        assert (again["wanted_on"], again["words"], again["charge"]) == (
            "the day after",
            "Later, as told.",
            "26",
        )
        assert page.by_id("f-wanted-on-wrong")
        assert page.by_id("f-charge-text-wrong") == "What is it for? The customer reads it on the paper."


def test_a_charge_without_an_amount_is_asked_how_much(morning: Morning) -> None:
    begin(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    status, _, page = morning.send(form.action, form.filled(charge_text="The blank"), Role.COUNTER)
    assert status == 422
    assert page.by_id("f-charge-wrong").startswith("How much is it?")


def test_terms_are_kept_while_it_is_put_together(morning: Morning) -> None:
    begin(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    typed = form.filled(words="Later, as told.", charge="26.50", charge_text="The blank", ring="1")
    assert morning.send(f"{PAGE}/terms", typed, Role.COUNTER)[:2] == (303, f"{PAGE}/rings/1")
    again = morning.see(PAGE, Role.COUNTER).form(form.action).fields
    assert (again["words"], again["charge"]) == ("Later, as told.", "26.50")


def test_the_yes_makes_it_what_is_agreed_and_older_sheets_void(morning: Morning) -> None:
    narrowed(morning)
    number = made(morning, words="Narrower after all.")
    assert number == f"{NUMBER}-a1"
    waits = morning.see(f"/orders/{NUMBER}", Role.COUNTER).words
    assert "answer to the amendment" in waits
    agreed(morning, number)
    with morning.book() as book:
        found = order(book, NUMBER)
    assert (found.state, found.rings[0].design.width_mm) == (State.AGREED, 5.0)
    assert "VOID This paper holds no more" in morning.see(f"/orders/{NUMBER}?sheet=q1", Role.MAKER).words
    assert "VOID This paper holds no more" not in morning.see(f"/orders/{NUMBER}?sheet=a1", Role.MAKER).words
    assert "VOID This paper holds no more" not in morning.see(f"/orders/{NUMBER}?sheet=x", Role.MAKER).words
    sheet = morning.house.ask("GET", f"/orders/{NUMBER}/bench-sheet.pdf", Role.MAKER)
    assert f"Amended {NUMBER}-a1. Sheets printed before are void." in " ".join(text_of(sheet.content).split())


def test_what_the_counter_does_not_ask_stays_with_the_amended_ring(morning: Morning) -> None:
    """The marks have no fields on its page, and other words than those read back are read back anew."""
    told = Particulars(
        inscription=Inscription("Ada & Jon", is_read_back=True), marks=Marks(MarkWish.THOUGH_EXEMPT)
    )
    with morning.book() as book:
        stands = order(book, NUMBER)
        wanted = amending_of(stands)
        wanted = replace(wanted, rings=(replace(wanted.rings[0], particulars=told),))
        put_amending(book, number=NUMBER, version=stands.version, amending=wanted, actor=PROGRAM, now=NOW)
    where = f"{PAGE}/rings/1"
    for words, is_read in (("Ada & Jon", True), ("Ada & Per", False)):
        form = morning.see(where, Role.COUNTER).form(where)
        typed = form.filled(**{"width": "5", "inscription.text": words, "act": "quote"})
        assert morning.send(where, typed, Role.COUNTER)[0] == 303
        with morning.book() as book:
            amending = order(book, NUMBER).amending
        assert amending is not None
        particulars = amending.rings[0].particulars
        assert particulars.marks == Marks(MarkWish.THOUGH_EXEMPT)
        assert particulars.inscription == Inscription(words, is_read_back=is_read)


def test_what_somebody_else_changed_meanwhile_is_not_issued_unread(morning: Morning) -> None:
    begin(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    narrow(morning)
    status, _, page = morning.send(form.action, form.filled(words="Later, as told."), Role.COUNTER)
    assert status == 409
    assert "Somebody else changed this order meanwhile" in page.words
    assert "5 mm wide" in page.words
    again = page.form(form.action)
    assert again.fields["words"] == "Later, as told."
    status, where, _ = morning.send(form.action, again.fields, Role.COUNTER)
    assert (status, where) == (303, f"/quotes/{NUMBER}-a1")


def test_the_same_amendment_sent_twice_is_one(morning: Morning) -> None:
    narrowed(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"/orders/{NUMBER}/amendments")
    for _ in range(2):
        assert morning.send(form.action, form.fields, Role.COUNTER)[:2] == (303, f"/quotes/{NUMBER}-a1")
    with morning.book() as book:
        assert len(order(book, NUMBER).quotes) == 2


def test_what_is_to_give_back_is_told_once_less_is_to_pay_than_was_paid(morning: Morning) -> None:
    form = morning.see(f"/orders/{NUMBER}", Role.COUNTER).form(f"/orders/{NUMBER}/payments")
    with morning.book() as book:
        left_minor = order(book, NUMBER).account.left_minor
    assert morning.send(form.action, form.filled(paid=f"{left_minor / 100:.2f}"), Role.COUNTER)[0] == 303
    narrowed(morning)
    number = made(morning)
    assert "We give back" in morning.see(f"/quotes/{number}", Role.COUNTER).words
    agreed(morning, number)
    assert "To give back £" in morning.see(f"/orders/{NUMBER}", Role.COUNTER).words


def test_a_sheet_from_a_yes_that_was_taken_back_is_void(morning: Morning) -> None:
    with morning.book() as book:
        version = order(book, NUMBER).version
    back = {"to": "quoted", "version": version, "reason": "not sure"}
    assert morning.house.ask("POST", f"/api/orders/{NUMBER}/moves", json=back).status_code == 200
    words = morning.see(f"/orders/{NUMBER}?sheet=q1", Role.MAKER).words
    assert "VOID This paper holds no more" in words
    assert "nothing is agreed now" in words


def test_what_was_amended_is_not_taken_back(morning: Morning) -> None:
    narrowed(morning)
    agreed(morning, made(morning))
    page = morning.see(f"/orders/{NUMBER}", Role.COUNTER)
    assert "Take the yes back" not in page.words
    with morning.book() as book:
        version = order(book, NUMBER).version
    refused = morning.house.ask(
        "POST", f"/api/orders/{NUMBER}/moves", json={"to": "quoted", "version": version, "reason": "no"}
    )
    assert refused.status_code == 409
    assert "has been amended" in refused.text


def test_an_amendment_is_withdrawn_on_its_page(morning: Morning) -> None:
    narrowed(morning)
    number = made(morning)
    form = morning.see(f"/quotes/{number}", Role.COUNTER).form(f"/quotes/{number}/withdrawal")
    assert morning.send(form.action, form.fields, Role.COUNTER)[:2] == (303, f"/orders/{NUMBER}")
    words = morning.see(f"/quotes/{number}", Role.COUNTER).words
    assert "It no longer stands" in words
    assert f"{NUMBER}-q1 stands in its place" in words


def test_an_amendment_that_is_put_together_can_be_let_go(morning: Morning) -> None:
    form = begin(morning).form(f"/orders/{NUMBER}/amendments")
    assert morning.send(f"{PAGE}/end", form.fields, Role.COUNTER)[:2] == (303, f"/orders/{NUMBER}")
    with morning.book() as book:
        assert order(book, NUMBER).amending is None


def test_the_paper_says_what_changes_and_has_room_for_the_yes(morning: Morning) -> None:
    narrowed(morning)
    number = made(morning, words="Narrower after all.")
    words = " ".join(text_of(morning.house.ask("GET", f"/quotes/{number}.pdf").content).split())
    for said in (
        f"Amendment {number}",
        f"to {NUMBER}-q1, agreed on 25 November 2026",
        "Narrower after all.",
        "All of it, as it is from now on",
        f"Agreed in {NUMBER}-q1",
        "Paid so far £300.00",
        "Yes, change it as written here; all else stays as agreed",
    ):
        assert said in words
