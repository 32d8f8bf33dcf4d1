"""A size agreed as a range, settled on the order's page."""

import pytest

from studio.book.orders import Order, order
from studio.craft.roles import Role
from studio.craft.sizes import read_size
from tests.builders import a_finger, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
SIZE = f"{PAGE}/rings/1/size"
FIELD = "size-ring-1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, NUMBER)


def put(morning: Morning) -> None:
    with morning.book() as book:
        put_figures(book)
        finger = a_finger("L")
        largest = read_size(finger.system, "N")
        finger = a_finger("L", to_label=largest.label, to_circumference_mm=largest.circumference_mm)
        a_yes(book, a_quote(book, an_order(book, rings=[a_ring(finger)])))


def test_the_size_measured_again_is_settled_beside_the_ring(morning: Morning) -> None:
    put(morning)
    page = morning.see(PAGE, Role.COUNTER)
    assert "Size of ring 1, measured again" in page.words
    assert "Agreed as UK L to N. The price stands." in page.words
    form = page.form(SIZE)
    status, where, _ = morning.send(SIZE, {**form.fields, FIELD: "m 1/2"}, Role.COUNTER)
    assert (status, where) == (303, PAGE)
    found = stands(morning)
    assert (found.rings[0].finger.label, found.missing.bench) == ("M½", ())
    page = morning.see(PAGE)
    assert "Ivo settled a size. ring 1, size M½, before L" in page.words
    assert not [form for form in page.forms if form.action == SIZE]
    status, _, again = morning.send(
        SIZE, {**form.fields, FIELD: "M", "idempotency_key": "another", "version": str(found.version)}
    )
    assert status == 409
    assert "No size of ring 1 of 2026-1 waits to be settled." in again.words


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("P", "P lies outside what was agreed, L to N. Take the yes back and quote anew for it."),
        ("", "The size is not given yet."),
        ("QQ", "UK has no size QQ."),
    ],
)
def test_what_does_not_settle_it_is_said_beside_the_field(
    morning: Morning, typed: str, sentence: str
) -> None:
    put(morning)
    before = stands(morning)
    form = morning.see(PAGE).form(SIZE)
    status, _, page = morning.send(SIZE, {**form.fields, FIELD: typed})
    assert status == 422
    assert sentence in page.by_id(f"f-{FIELD}-wrong")
    assert page.form(SIZE).fields[FIELD] == typed
    assert stands(morning) == before


def test_a_maker_settles_no_size(morning: Morning) -> None:
    put(morning)
    assert not [form for form in morning.see(PAGE, Role.MAKER).forms if form.action == SIZE]
