"""Forms that nobody has finished: kept while they are typed, found again, gone once the order is taken."""

import re
from datetime import timedelta

import pytest

from studio.book.drafts import KEPT_FOR, drafts
from studio.book.orders import order, orders_page
from studio.craft.roles import Role
from tests.builders import NOW, an_order
from tests.web.counter_desk import chosen, typed, value_of, words
from tests.web.house import House
from tests.web.morning import Morning, a_morning

KEY = "a-key-of-twenty-signs"
HALF = typed(draft=KEY, finger__size="", alloy="", width="5 1/2")


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def keep(morning: Morning, form: dict[str, str], query: str = "", role: Role = Role.COUNTER) -> str:
    answer = morning.house.browse(
        "POST", f"/counter/drafts{query}", role, headers=morning._cookie(role), data=form
    )
    assert answer.status_code == 200
    return words(answer.text)


def page(morning: Morning, path: str, role: Role = Role.COUNTER) -> str:
    answer = morning.house.browse("GET", path, role, headers=morning._cookie(role))
    assert answer.status_code == 200
    text: str = answer.text
    return text


def test_the_form_keeps_itself_and_comes_back_as_it_was_typed(morning: Morning) -> None:
    assert keep(morning, HALF) == "Saved 10:00"
    again = page(morning, f"/orders/new?draft={KEY}")
    for name in ("customer.name", "customer.phone", "width", "finger.size", "wanted_on", "draft"):
        assert value_of(again, name) == HALF.get(name, ""), name
    assert chosen(again, "finger.place") == "left ring"
    assert "Saved 10:00" in words(again)


def test_a_form_is_kept_once_and_in_its_last_state(morning: Morning) -> None:
    keep(morning, HALF)
    keep(morning, {**HALF, "width": "7"})
    with morning.book() as book:
        (kept,) = drafts(book)
    assert kept.typed["width"] == "7"
    assert "act" not in kept.typed
    assert "idempotency_key" not in kept.typed


def test_saving_for_later_with_half_a_ring_keeps_the_form_on_the_list_of_orders(morning: Morning) -> None:
    status, where, _ = morning.send("/orders", HALF, Role.COUNTER)
    assert (status, where) == (303, "/orders#unfinished")
    listed = morning.see("/orders", Role.COUNTER)
    assert "A form nobody has finished" in listed.words
    assert "Oda Wrenlow, a new order Ivo, 10:00" in listed.words
    link = next(href for text, href in listed.links if text.startswith("Go on with it"))
    assert value_of(page(morning, link), "width") == "5 1/2"
    assert "Oda Wrenlow, a new order" in morning.see("/", Role.COUNTER).words
    with morning.book() as book:
        assert orders_page(book).items == []


def test_saving_for_later_with_something_wrong_shows_it_and_keeps_the_form(morning: Morning) -> None:
    status, _, shown = morning.send("/orders", {**HALF, "width": "60"}, Role.COUNTER)
    assert status == 422
    assert "Nothing you typed is lost. The form is kept as it stands." in shown.words
    assert value_of(page(morning, f"/orders/new?draft={KEY}"), "width") == "60"


def test_reading_back_with_half_a_ring_asks_for_the_rest(morning: Morning) -> None:
    status, _, shown = morning.send("/orders", {**HALF, "act": "quote"}, Role.COUNTER)
    assert status == 422
    assert "Two things to answer" in shown.title


def test_an_order_taken_from_a_form_ends_it_and_the_way_back_leads_to_the_order(morning: Morning) -> None:
    keep(morning, HALF)
    whole = typed(draft=KEY, act="quote")
    status, where, _ = morning.send("/orders", whole, Role.COUNTER)
    assert (status, where) == (303, "/orders/2026-1/read-back")
    with morning.book() as book:
        assert drafts(book) == ()
    answer = morning.house.browse("GET", f"/orders/new?draft={KEY}", headers=morning._cookie(Role.COUNTER))
    assert (answer.status_code, answer.headers["location"]) == (303, "/orders/2026-1")


def test_the_address_of_a_form_sent_before_it_kept_itself_leads_to_the_order(morning: Morning) -> None:
    status, where, _ = morning.send("/orders", typed(draft=KEY, act="save"), Role.COUNTER)
    assert status == 303
    path = f"/orders/new?draft={KEY}"
    back = morning.house.browse("GET", path, Role.COUNTER, headers=morning._cookie(Role.COUNTER))
    assert (back.status_code, back.headers["location"]) == (303, where)


def test_a_page_left_before_it_was_kept_opens_under_its_own_key_and_a_thrown_away_one_does_not(
    morning: Morning,
) -> None:
    path = f"/orders/new?draft={KEY}"
    assert value_of(page(morning, path), "draft") == KEY
    keep(morning, HALF)
    morning.send(f"/counter/drafts/{KEY}/end", {}, Role.COUNTER)
    assert value_of(page(morning, path), "draft") not in {KEY, ""}
    assert value_of(page(morning, "/orders/new?draft=short"), "draft") not in {"short", ""}


def test_a_save_that_was_on_its_way_does_not_bring_the_form_back(morning: Morning) -> None:
    keep(morning, HALF)
    morning.send("/orders", typed(draft=KEY), Role.COUNTER)
    assert keep(morning, HALF) == "Saved in 2026-1"
    with morning.book() as book:
        assert drafts(book) == ()


def test_a_ring_of_an_order_that_stands_is_kept_with_its_place(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    keep(morning, {**HALF, "version": "1"}, f"?order={number}&ring=1")
    listed = morning.see("/orders", Role.OWNER)
    assert f"Jorun Müller, {number}, ring 1 Ivo, 10:00" in listed.words
    assert (
        listed.link(f"Go on with it: Jorun Müller, {number}, ring 1")
        == f"/orders/{number}/rings/1?draft={KEY}"
    )
    assert value_of(page(morning, f"/orders/{number}/rings/1?draft={KEY}"), "width") == "5 1/2"
    with morning.book() as book:
        assert order(book, number).rings[0].design.width_mm == 6


def test_a_form_is_thrown_away_by_a_button(morning: Morning) -> None:
    keep(morning, HALF)
    form = next(form for form in morning.see("/orders", Role.COUNTER).forms if form.action.endswith("/end"))
    assert morning.send(form.action, form.fields, Role.COUNTER)[:2] == (303, "/orders")
    assert "nobody has finished" not in morning.see("/orders", Role.COUNTER).words
    assert value_of(page(morning, f"/orders/new?draft={KEY}"), "width") == ""


def test_a_form_that_nobody_touched_for_two_months_is_forgotten(morning: Morning) -> None:
    keep(morning, HALF)
    later = a_morning(morning.house, morning.monkeypatch, NOW + KEPT_FOR + timedelta(hours=1))
    keep(later, {**HALF, "draft": "another-key-of-some-signs"})
    with later.book() as book:
        assert [kept.key for kept in drafts(book)] == ["another-key-of-some-signs"]


@pytest.mark.parametrize(
    "key", ["", "short", "x" * 65, "a key with spaces in it", "<script>alert(1)</script>"]
)
def test_a_key_that_no_page_made_keeps_nothing(morning: Morning, key: str) -> None:
    assert keep(morning, {**HALF, "draft": key}).startswith("Not saved")
    with morning.book() as book:
        assert drafts(book) == ()


def test_more_than_a_form_can_hold_is_not_kept(morning: Morning) -> None:
    assert keep(morning, {**HALF, "note": "x" * 60_000}) == "Not saved, too long"


def test_a_maker_sees_no_unfinished_form(morning: Morning) -> None:
    keep(morning, HALF)
    for path in ("/", "/orders"):
        assert "Oda Wrenlow" not in morning.see(path, Role.MAKER).words


def test_a_form_sent_when_the_sign_in_had_ended_leads_back_to_itself(morning: Morning) -> None:
    address = f"http://127.0.0.1:8321/orders/new?draft={KEY}"
    answer = morning.house.browse(
        "POST", "/orders", None, data=typed(draft=KEY), headers={"referer": address}
    )
    assert answer.status_code == 303
    assert answer.headers["location"] == f"/sign-in?next=/orders/new%3Fdraft%3D{KEY}"


def test_the_way_back_after_signing_in_never_leads_elsewhere(morning: Morning) -> None:
    for elsewhere in ("https://elsewhere.example/orders/new", "", "http://[", "//elsewhere.example/"):
        answer = morning.house.browse("POST", "/orders", None, data=typed(), headers={"referer": elsewhere})
        assert answer.headers["location"] == "/sign-in"


def test_two_people_at_one_ring_both_find_their_words(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    path = f"/orders/{number}/rings/1"
    form = typed(draft=KEY, version="1", idempotency_key="hers", width="5")
    assert morning.send(path, form, Role.OWNER)[0] == 303
    late = typed(
        draft="the-key-of-the-other-one", version="1", idempotency_key="his", width="4", note="Wider"
    )
    status, _, shown = morning.send(path, late, Role.COUNTER)
    assert status == 409
    assert "Somebody else changed this order meanwhile" in shown.title
    assert "Width you typed 4 stands now 5" in shown.words
    assert "Maren changed the order" in shown.words
    kept = page(morning, f"{path}?draft=the-key-of-the-other-one")
    assert value_of(kept, "width") == "4"
    assert re.search(r">\s*Wider\s*</textarea>", kept)
