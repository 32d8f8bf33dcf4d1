"""An order that mends an earlier ring: begun from it, asked for its cause, its cost told to the owner."""

from datetime import timedelta

import pytest

from studio.book.mendings import own_costs
from studio.book.order_values import OrderRing
from studio.book.orders import Order, order
from studio.craft.mends import Cause, MendKind, Mends, PaidBy
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.papers.money import money_words
from tests.builders import NOW, an_order
from tests.quoting import a_quote, put_figures
from tests.web.house import House
from tests.web.house import an_order as an_order_body
from tests.web.morning import Morning, a_morning

EARLIER = "/orders/2026-1"
PAGE = "/orders/2026-2"
AGAIN = "/orders/new?like=2026-1/1&mends="


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        put_figures(book)
        an_order(book, state=State.HANDED_OVER, now=NOW - timedelta(days=30))
    return opened


def begun(morning: Morning, kind: str = "remake", **changed: str) -> Order:
    form = morning.see(f"{AGAIN}{kind}", Role.COUNTER).form("/orders")
    asked = form.fields | {"wanted_on": "19 Dec 2099", "act": "save"} | changed
    status, where, page = morning.send("/orders", asked, Role.COUNTER)
    assert status == 303, page.words
    assert where == PAGE
    return stands(morning)


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, "2026-2")


def said(morning: Morning, **changed: str) -> tuple[int, str]:
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/mends")
    status, _, page = morning.send(form.action, form.fields | changed, Role.COUNTER)
    return status, page.words if status != 303 else ""


def test_make_again_begins_from_the_ring_and_keeps_which_it_mends(morning: Morning) -> None:
    links = [href for _, href in morning.see(EARLIER, Role.COUNTER).links]
    assert f"{AGAIN}remake" in links
    assert f"{AGAIN}resize" in links
    page = morning.see(f"{AGAIN}remake", Role.COUNTER)
    assert "remake of 2026-1/1" in page.words
    taken = begun(morning)
    assert taken.terms.mends == Mends("2026-1", 1, MendKind.REMAKE)
    assert taken.rings[0].design == earlier_ring(morning).design
    assert "cause of the remake" in morning.see(PAGE, Role.COUNTER).words


def earlier_ring(morning: Morning) -> OrderRing:
    with morning.book() as book:
        return order(book, "2026-1").rings[0]


def test_a_resize_asks_for_the_size_anew(morning: Morning) -> None:
    form = morning.see(f"{AGAIN}resize", Role.COUNTER).form("/orders")
    assert form.fields["finger.size"] == ""
    taken = begun(morning, "resize", **{"finger.size": "P"})
    assert (taken.terms.mends, taken.rings[0].finger.label) == (Mends("2026-1", 1, MendKind.RESIZE), "P")


def test_nothing_begins_for_a_ring_that_is_not_made_or_by_another_word(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    assert "Make again" not in morning.see(PAGE, Role.COUNTER).words
    assert "Make again" not in morning.see(EARLIER, Role.MAKER).words
    assert morning.house.browse("GET", f"{AGAIN}polish", Role.COUNTER).status_code == 404


def test_a_mending_that_the_book_refuses_is_told_at_the_counter_and_nothing_is_lost(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    form = morning.see(f"{AGAIN}remake", Role.COUNTER).form("/orders")
    for line, words in (
        ("2026-2/1 remake", "Ring 2026-2/1 is not agreed yet"),
        ("2026-1/9 remake", "There is no ring 2026-1/9."),
        ("nonsense", "We could not read which ring this mends."),
    ):
        asked = form.fields | {"wanted_on": "19 Dec 2099", "act": "save", "mends": line}
        status, _, page = morning.send("/orders", asked, Role.COUNTER)
        assert status in {422, 409}, line
        assert words in page.words
        assert page.form("/orders").fields["width"] == form.fields["width"]


def test_the_form_asks_cause_and_who_pays_and_the_earlier_page_tells_them(morning: Morning) -> None:
    begun(morning)
    assert said(morning, mends_cause="measured wrong", mends_paid_by="studio")[0] == 303
    assert stands(morning).terms.mends == Mends(
        "2026-1", 1, MendKind.REMAKE, Cause.MEASURED_WRONG, "", PaidBy.STUDIO
    )
    words = morning.see(PAGE, Role.MAKER).words
    assert "Remake of 2026-1/1, measured wrong, paid by the studio." in words
    assert "mends remake of 2026-1/1, measured wrong, paid by the studio, before remake of 2026-1/1" in words
    assert "Remade in 2026-2, measured wrong, not priced yet" in morning.see(EARLIER).words
    assert said(morning, mends_ring="")[0] == 303
    assert stands(morning).terms.mends is None
    assert "Remade" not in morning.see(EARLIER).words


def test_the_cost_is_told_to_the_owner_alone(morning: Morning) -> None:
    taken = begun(morning)
    said(morning, mends_cause="made wrong", mends_paid_by="studio")
    with morning.book() as book:
        a_quote(book, stands(morning))
        cost = own_costs(book, [taken.number])[taken.number]
    amount = money_words(cost.minor, "GBP")
    assert f"Remade in 2026-2, made wrong, cost the studio {amount}" in morning.see(EARLIER).words
    for role in (Role.COUNTER, Role.MAKER):
        words = morning.see(EARLIER, role).words
        assert "Remade in 2026-2, made wrong, paid by the studio" in words
        assert amount not in words
    table = morning.see("/studio").words
    assert "What was made twice" in table
    assert f"Made wrong 1 {amount} {amount}" in table
    said(morning, mends_paid_by="customer")
    assert f"paid by the customer, own cost {amount}" in morning.see(EARLIER).words
    assert f"Made wrong 1 {amount} £0.00" in morning.see("/studio").words


def test_a_studio_without_mendings_has_no_table_of_them(morning: Morning) -> None:
    assert "What was made twice" not in morning.see("/studio").words


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"mends_ring": "the first"}, "mends_ring", "Write the ring it mends like 2026-118/1."),
        ({"mends_ring": "2026-77/1"}, "mends_ring", "There is no ring 2026-77/1."),
        ({"mends_ring": "2026-2/1"}, "mends_ring", "An order cannot mend itself."),
        ({"mends_cause": "other"}, "mends_words", "Say what it was, in a few words."),
        ({"mends_words": "x" * 201}, "mends_words", "201 signs where 200 have room."),
        ({"mends_cause": "boredom"}, "mends_cause", "boredom"),
    ],
)
def test_what_cannot_be_kept_is_told_at_its_field(
    morning: Morning, changed: dict[str, str], field: str, words: str
) -> None:
    begun(morning)
    form = morning.see(PAGE, Role.COUNTER).form(f"{PAGE}/mends")
    status, _, page = morning.send(form.action, form.fields | changed, Role.COUNTER)
    assert status == 422
    assert words in page.by_id(f"f-{field.replace('_', '-')}-wrong")
    for name, value in changed.items():
        if name != "mends_cause":
            assert page.form(f"{PAGE}/mends").fields[name] == value


def test_over_the_api_it_is_said_changed_and_taken_away(morning: Morning) -> None:
    house = morning.house
    mends = {"order": "2026-1", "kind": "repair", "cause": "other", "words": "bent", "paid_by": "customer"}
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=an_order_body(mends=mends))
    assert taken.status_code == 201, taken.text
    path = f"/api/orders/{taken.json()['number']}"
    assert house.ask("GET", path, Role.MAKER).json()["mends"] == {**mends, "ring": 1}
    assert house.ask("GET", "/api/orders/2026-1", Role.MAKER).json()["mends"] is None
    sent = house.ask("PATCH", path, Role.COUNTER, json={"version": 1, "mends": {"order": "2026-1"}})
    assert sent.json()["mends"] == {
        "order": "2026-1", "ring": 1, "kind": "remake", "cause": None, "words": "", "paid_by": None,
    }  # fmt: skip
    assert house.ask("PATCH", path, Role.COUNTER, json={"version": 2, "note": "x"}).json()["mends"]
    assert house.ask("PATCH", path, Role.COUNTER, json={"version": 3, "mends": None}).json()["mends"] is None


@pytest.mark.parametrize(
    ("mends", "field"),
    [
        ({}, "mends.order"),
        ({"order": "the first"}, "mends.order"),
        ({"order": "2026-99"}, "mends.order"),
        ({"order": "2026-1", "ring": 0}, "mends.ring"),
        ({"order": "2026-1", "kind": "polish"}, "mends.kind"),
        ({"order": "2026-1", "cause": "other"}, "mends.words"),
    ],
)
def test_over_the_api_what_cannot_be_is_told_at_its_field(
    morning: Morning, mends: dict[str, object], field: str
) -> None:
    answer = morning.house.ask("POST", "/api/orders", Role.COUNTER, json=an_order_body(mends=mends))
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == [field]
