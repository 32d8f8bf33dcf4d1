"""What is typed on an order's page: days that cannot be, and two people who change one order."""

import pytest

from studio.book.orders import Order, OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from tests.builders import NOW, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, NUMBER)


def put(morning: Morning, state: State = State.DRAFT, **facts: object) -> Order:
    with morning.book() as book:
        return an_order(book, state=state, **facts)  # type: ignore[arg-type]  # handed on as they are


def test_the_bench_date_and_the_note_are_changed_in_any_state(morning: Morning) -> None:
    put(morning, State.HANDED_OVER)
    form = morning.see(PAGE).form(f"{PAGE}/plan")
    status, location, _ = morning.send(form.action, form.filled(bench_on="3/12", note="Polish twice"))
    assert (status, location) == (303, PAGE)
    terms = stands(morning).terms
    assert (str(terms.bench_on), terms.note) == ("2026-12-03", "Polish twice")
    words = morning.see(PAGE).words
    assert "Maren changed the order. bench date Thu 3 Dec, before Tue 1 Dec note Polish twice" in words


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("31 Feb", "February 2027 ends on Sunday the 28th. Which day is meant?"),
        ("soon", "Which day is meant?"),
        ("{{7*7}}", "Which day is meant?"),
        ("<script>alert(1)</script>", "Which day is meant?"),
        ("1" * 10_000, "This is too long for a day."),
    ],
)
def test_a_day_that_cannot_be_is_told_beside_its_field_and_stays_there(
    morning: Morning, typed: str, told: str
) -> None:
    put(morning)
    form = morning.see(PAGE).form(f"{PAGE}/plan")
    status, _, page = morning.send(form.action, form.filled(bench_on=typed, note="kept"))
    assert status == 422
    assert told in page.by_id("f-bench-on-wrong")
    again = page.form(f"{PAGE}/plan").fields
    assert (again["bench_on"], again["note"]) == (typed, "kept")
    assert str(stands(morning).terms.bench_on) == "2026-12-01"


def test_a_day_and_a_note_that_both_cannot_be_are_told_together(morning: Morning) -> None:
    put(morning)
    form = morning.see(PAGE).form(f"{PAGE}/plan")
    _, _, page = morning.send(form.action, form.filled(bench_on="soon", note="x" * 4001))
    assert page.title.startswith("Two things to put right: ")


def test_two_who_change_one_order_see_both_versions_and_lose_nothing(morning: Morning) -> None:
    opened = put(morning, note="as taken")
    mine = morning.see(PAGE).form(f"{PAGE}/plan")
    with morning.book() as book:
        changes = OrderChanges(note="Ring up before noon")
        change_order(book, number=NUMBER, version=opened.version, changes=changes, actor=PROGRAM, now=NOW)
    status, _, page = morning.send(mine.action, mine.filled(note="Polish twice"))
    assert status == 409
    assert "Somebody else changed this order meanwhile" in page.title
    assert "note Ring up before noon, before as taken" in page.words
    assert "Note you typed Polish twice stands now Ring up before noon" in page.words
    again = page.form(f"{PAGE}/plan")
    assert again.fields["note"] == "Polish twice"
    assert stands(morning).terms.note == "Ring up before noon"
    assert morning.send(again.action, again.fields)[0] == 303
    assert stands(morning).terms.note == "Polish twice"


@pytest.mark.parametrize("version", ["", "one", "-1", "1.5", "9" * 40])
def test_a_version_nobody_sent_is_refused_without_a_fault(morning: Morning, version: str) -> None:
    put(morning)
    fields = {"version": version, "bench_on": "3/12", "note": ""}
    assert morning.send(f"{PAGE}/plan", fields)[0] in {409, 422}
