"""The week's metal: what its rings need, and the rings that make each sum up."""

import re
from datetime import date, timedelta
from decimal import Decimal

import pytest

from studio.book.orders import CustomerDraft, Order
from studio.craft.designs import Pattern, Profile, Stock
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, a_design, a_finger, a_ring, an_order, one_step
from tests.web.house import House
from tests.web.morning import Morning, a_morning

DAY = timedelta(days=1)
FAR = NOW + 20 * DAY


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def put(morning: Morning, state: State = State.AGREED, **facts: object) -> Order:
    with morning.book() as book:
        return an_order(book, state=state, **facts)  # type: ignore[arg-type]  # handed on as they are


def test_a_week_runs_from_monday_to_sunday_and_names_its_neighbours(morning: Morning) -> None:
    page = morning.see("/week?from=2026-12-02")
    assert page.title.startswith("Week 49")
    assert "Monday 30 November to Sunday 6 December" in page.words
    assert page.link("Week 48") == "/week?from=2026-11-23"
    assert page.link("Week 50") == "/week?from=2026-12-07"
    assert page.link("Print the week") == "/week/papers.pdf?from=2026-11-30"
    assert page.link("Print the labels") == "/week/labels.pdf?from=2026-11-30"


def test_without_a_day_it_is_this_week(morning: Morning) -> None:
    assert "Monday 23 November to Sunday 29 November" in morning.see("/week").words


@pytest.mark.parametrize(
    ("day", "words"),
    [("2026-12-31", "Week 53"), ("2027-01-03", "Week 53"), ("2027-01-04", "Week 1")],
)
def test_weeks_are_numbered_by_iso_8601(morning: Morning, day: str, words: str) -> None:
    assert morning.see(f"/week?from={day}").title.startswith(words)


def test_an_empty_week_says_so(morning: Morning) -> None:
    page = morning.see("/week?from=2027-05-03")
    assert "No ring is planned for the bench in this week, so it needs no metal." in page.words


@pytest.mark.parametrize("day", ["31 Feb", "soon", "<script>", "{{7*7}}", "1" * 10_000])
def test_a_day_that_is_none_is_told(morning: Morning, day: str) -> None:
    page = morning.see(f"/week?from={day}")
    assert page.status == 422
    assert page.title.startswith("Week 48")
    assert "This is the week of today." in page.words
    assert "Which day is meant?" in page.words or "too long for a day" in page.words


@pytest.mark.parametrize("day", ["2000-01-01", "2100-12-31"])
def test_the_ends_of_the_calendar_are_weeks_too(morning: Morning, day: str) -> None:
    assert morning.see(f"/week?from={day}").status == 200


def test_each_line_is_the_sum_of_the_marks_it_opens(morning: Morning) -> None:
    sizes = ["J", "M½", "O½", "V", "Z"]
    orders = [put(morning, rings=[a_ring(a_finger(size)), a_ring(a_finger("L"))]) for size in sizes]
    page = morning.see("/week?from=2026-12-01")
    marks = [Decimal(mark) for mark in re.findall(r"2026-\d+/\d [\w ü]+? Tue 1 Dec (\d+\.\d{3})", page.words)]
    reckoned = [ring.reckoning.mark_mm for order in orders for ring in order.rings]
    assert [float(mark) for mark in marks] == [pytest.approx(mark, abs=0.0005) for mark in reckoned]
    together = re.search(r"Together (\d+\.\d{3}) (\d+\.\d{3})", page.words)
    assert together is not None
    assert Decimal(together[1]) == sum(marks)
    assert float(together[2]) == pytest.approx(
        sum(ring.reckoning.issue_g for order in orders for ring in order.rings), abs=0.005
    )
    line = re.search(
        r"750 yellow, strip 1.6 6 10 (\d+\.\d) (\d+\.\d\d) 1 Müller × 2, 2 Müller × 2", page.words
    )
    assert line is not None
    assert float(line[1]) == pytest.approx(float(together[1]), abs=0.0501)
    assert float(line[2]) == pytest.approx(float(together[2]), abs=0.00501)


def test_lines_of_one_metal_are_held_together_and_name_it_once(morning: Morning) -> None:
    for width in (6.0, 4.0):
        put(morning, rings=[a_ring(design=a_design(width_mm=width))])
    put(morning, rings=[a_ring(design=a_design(alloy="silver-925"))])
    answer = morning.house.browse("GET", "/week?from=2026-12-01", headers=morning._cookie(Role.OWNER))
    assert answer.text.count('class="goes-on"') == 1
    assert len(re.findall(r"\n +750 yellow, strip 1.6\n", answer.text)) == 1


@pytest.mark.parametrize(
    ("profile", "stock", "words"),
    [
        (Profile.FLAT, Stock.STRIP, "750 yellow, strip 2"),
        (Profile.HALF_ROUND, Stock.WIRE, "750 yellow, half-round wire 2"),
        (Profile.HALF_ROUND, Stock.STRIP, "750 yellow, strip 2 for half-round"),
        (Profile.SQUARE, Stock.WIRE, "750 yellow, square wire 2"),
        (Profile.ROUND, Stock.WIRE, "750 yellow, round wire 2"),
    ],
)
def test_the_metal_is_named_by_what_lies_in_the_drawer(
    morning: Morning, profile: Profile, stock: Stock, words: str
) -> None:
    design = a_design(
        profile=profile,
        stock=stock,
        width_mm=2.0,
        thickness_mm=2.0,
        pattern=Pattern.PLAIN,
        pattern_when=None,
    )
    put(morning, rings=[a_ring(design=design)])
    assert f"Drawer {words} 2 1 " in morning.see("/week?from=2026-12-01").words


def test_only_agreed_and_begun_orders_of_the_week_are_counted(morning: Morning) -> None:
    put(morning, State.AGREED, customer=CustomerDraft("Ann Agreed"))
    put(morning, State.AT_THE_BENCH, customer=CustomerDraft("Ben Bench"))
    put(morning, State.DRAFT, customer=CustomerDraft("Dan Draft"))
    put(morning, State.READY, customer=CustomerDraft("Rea Ready"))
    put(morning, State.AGREED, customer=CustomerDraft("Nell Next"), bench_on=date(2026, 12, 7))
    off = put(morning, State.AGREED, customer=CustomerDraft("Olli Off"))
    with morning.book() as book:
        one_step(book, off, State.CALLED_OFF)
    words = morning.see("/week?from=2026-12-01").words
    assert "1 Agreed, 2 Bench" in words
    assert not [name for name in ("Draft", "Ready", "Next", "Off") if f" {name}" in words]


def test_orders_that_want_a_look_stand_above_the_need(morning: Morning) -> None:
    put(morning, State.AT_THE_BENCH, bench_on=TODAY - 4 * DAY, customer=CustomerDraft("Lena Late"))
    put(morning, State.AGREED, bench_on=None, customer=CustomerDraft("Uwe Unplanned"), promised_at=FAR)
    page = morning.see("/week")
    before = page.words.partition("What this week’s rings need")[0]
    assert "Late One order whose bench date passed before this week, not ready" in before
    assert "2026-1 Lena Late bench Sat 21 Nov, at the bench" in before
    assert "Missing One order agreed without a bench date 2026-2 Uwe Unplanned" in before
    assert page.link("2026-1 Lena Late") == "/orders/2026-1"
    assert page.link("2026-2 Uwe Unplanned") == "/orders/2026-2#plan"


def test_a_maker_sees_the_week_and_no_contact(morning: Morning) -> None:
    put(morning)
    words = morning.see("/week?from=2026-12-01", Role.MAKER).words
    assert "1 Müller" in words
    assert "01632" not in words
