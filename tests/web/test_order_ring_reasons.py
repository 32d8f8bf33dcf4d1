"""The reason for a warning, given after the quote and after the yes."""

import pytest

from studio.book.orders import Order, order
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import a_narrowly_measured_ring, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
REASONS = f"{PAGE}/rings/2/reasons"
FIELD = "reason-ring-2-narrow-gauge"
WHY = "Tried on a sizer 8 mm wide."


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, NUMBER)


def put(morning: Morning, state: State) -> Order:
    with morning.book() as book:
        put_figures(book)
        asked = a_quote(book, an_order(book, rings=[a_ring(), a_narrowly_measured_ring()]))
        return a_yes(book, asked) if state is State.AGREED else order(book, NUMBER)


@pytest.mark.parametrize("state", [State.QUOTED, State.AGREED])
def test_a_reason_is_given_beside_its_warning_and_the_quote_stands(morning: Morning, state: State) -> None:
    before = put(morning, state)
    assert before.missing.bench[-1] == "reason for narrow gauge on ring 2"
    form = morning.see(PAGE, Role.COUNTER).form(REASONS)
    status, where, _ = morning.send(form.action, {**form.fields, FIELD: WHY}, Role.COUNTER)
    assert (status, where) == (303, PAGE)
    found = stands(morning)
    assert (found.state, found.version, found.quotes) == (state, before.version + 1, before.quotes)
    assert found.agreement == before.agreement
    assert found.rings[1].reasons == {"narrow-gauge": WHY}
    assert "reason for narrow gauge on ring 2" not in found.missing.bench
    page = morning.see(PAGE)
    assert f"Ivo changed the order. ring 2, reasons {WHY}, before nothing" in page.words
    assert not [form for form in page.forms if form.action == REASONS]


def test_an_empty_reason_is_asked_for_beside_its_field(morning: Morning) -> None:
    before = put(morning, State.AGREED)
    form = morning.see(PAGE).form(REASONS)
    status, _, page = morning.send(form.action, {**form.fields, FIELD: " "})
    assert status == 422
    assert "Say why, in a few words." in page.by_id("f-reason-ring-2-narrow-gauge-wrong")
    assert stands(morning) == before


def test_a_ring_that_is_not_there_gets_no_reason(morning: Morning) -> None:
    put(morning, State.AGREED)
    form = morning.see(PAGE).form(REASONS)
    status, _, page = morning.send(f"{PAGE}/rings/7/reasons", {**form.fields, FIELD: WHY})
    assert status == 404
    assert "2026-1 has no ring 7." in page.words


def test_a_draft_says_why_with_the_ring_and_a_maker_nowhere(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, rings=[a_ring(), a_narrowly_measured_ring()])
    assert not [form for form in morning.see(PAGE).forms if form.action == REASONS]
    with morning.book() as book:
        put_figures(book)
        a_quote(book, order(book, NUMBER))
    assert not [form for form in morning.see(PAGE, Role.MAKER).forms if form.action == REASONS]
