"""One order's page: read back whole, and moved on from there."""

import re
from datetime import timedelta

import pytest

from studio.book.orders import Order, OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, a_finger, a_narrowly_measured_ring, a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

DAY = timedelta(days=1)
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


def test_an_order_that_is_not_in_the_book_is_not_found(morning: Morning) -> None:
    page = morning.see("/orders/2026-999")
    assert page.status == 404
    assert "There is no order 2026-999." in page.words


def test_the_order_is_read_back_whole(morning: Morning) -> None:
    put(morning, promised_at=NOW + 10 * DAY, note="Would like to watch the seam being closed.")
    page = morning.see(PAGE)
    assert page.title.startswith("Jorun Müller, 2026-1")
    for told in (
        "Order 2026-1, one ring, taken 10:00",
        "Draft since 10:00",
        "01632 960 715",
        "Wanted by Sat 19 Dec",
        "Promised Sat 5 Dec, 10:00",
        "The ring left ring finger",
        "Size UK O½ gauge 6 mm wide, warm hands; taken by shankwright, 10:00",
        "Fit 0.0 mm the gauge is as wide as the ring",
        "Section Flat 6 × 1.6 mm cut from strip",
        "Finished 1.55 mm thick 0.05 mm off inside; cleaning up opens the size by 0.31 mm round",
        "Metal 750 yellow gold",
        "Pattern Hammered on the flat strip stretch 0.5 % reckoned, common practice, no source",
        "The bench sheet waits for the yes.",
    ):
        assert told in page.words, told
    plan = page.form(f"{PAGE}/plan").fields
    assert plan["bench_on"] == "Tue 1 Dec 2026"
    assert plan["note"] == "Would like to watch the seam being closed."


def test_the_figures_are_those_of_the_reckoning(morning: Morning) -> None:
    reckoning = put(morning).rings[0].reckoning
    words = morning.see(PAGE).words
    mark = rf"{reckoning.mark_mm:.1f} ?mm true length {reckoning.true_length_mm:.2f}"
    issue = rf"{reckoning.issue_g:.2f} ?g ring {reckoning.finished_g:.1f} g, finished"
    assert re.search(mark, words)
    assert re.search(issue, words)
    assert f"to issue {reckoning.issue_g:.2f} g" in words


def test_each_ring_of_a_pair_has_its_own_drawing_and_its_own_working(morning: Morning) -> None:
    put(morning, rings=[a_ring(a_finger("M")), a_ring(a_finger("V"))])
    answer = morning.house.browse("GET", PAGE, headers=morning._cookie(Role.OWNER))
    assert answer.text.count("The ring drawn to scale") == 6  # two rings in three cuts
    ids = [part.partition('"')[0] for part in answer.text.split(' id="')[1:]]
    assert {"ring-1", "ring-2", "working-mark-1", "working-mark-2"} <= set(ids)
    assert len([one for one in ids if one.startswith("working-")]) == len(
        {one for one in ids if one.startswith("working-")}
    )


def test_a_maker_sees_neither_telephone_nor_e_mail_nor_a_way_to_the_customer(morning: Morning) -> None:
    put(morning)
    words = morning.see(PAGE, Role.MAKER)
    assert "01632" not in words.words
    assert not [href for _, href in words.links if href.startswith(("/customers", "tel:", "mailto:"))]
    assert "Read back and quote" not in words.words


def test_rings_are_changed_only_until_the_yes(morning: Morning) -> None:
    put(morning)
    assert morning.see(PAGE).link("change The ring") == f"{PAGE}/rings/1"
    assert morning.see(PAGE).link("Add a ring") == f"{PAGE}/rings/new"
    assert "change" not in [words for words, _ in morning.see(PAGE, Role.MAKER).links]
    agreed = put(morning, State.AGREED).number
    left = [href for _, href in morning.see(f"/orders/{agreed}").links if "/rings/" in href]
    pages = ("route", "bench-record", "repeats", "came-about", "metals")
    assert left == [f"/orders/{agreed}/rings/1/{page}" for page in pages]


@pytest.mark.parametrize(
    ("state", "button", "end"),
    [
        (State.AGREED, "Give it to the bench", State.AT_THE_BENCH),
        (State.AT_THE_BENCH, "Mark it ready", State.READY),
        (State.AT_THE_BENCH, "Take it back from the bench", State.AGREED),
        (State.READY, "Put it back on the bench", State.AT_THE_BENCH),
        (State.CALLED_OFF, "Take it up again", State.DRAFT),
    ],
)
def test_a_button_moves_the_order(morning: Morning, state: State, button: str, end: State) -> None:
    put(morning, state)
    form = next(form for form in morning.see(PAGE).forms if button in form.buttons)
    status, location, _ = morning.send(form.action, form.filled(press=button))
    assert (status, location) == (303, PAGE)
    assert stands(morning).state is end
    assert str(end).capitalize() in morning.see(PAGE).words


def test_calling_off_asks_why_and_keeps_what_was_typed(morning: Morning) -> None:
    put(morning, State.AGREED)
    form = next(form for form in morning.see(PAGE).forms if "Call it off" in form.buttons)
    status, _, page = morning.send(form.action, form.filled(press="Call it off"))
    assert status == 422
    assert "Say why, in a few words." in page.by_id("f-reason-called-off-wrong")
    again = next(form for form in page.forms if "Call it off" in form.buttons)
    reason = {"reason-called-off": "They moved away."}
    assert morning.send(again.action, again.filled(press="Call it off", **reason))[0] == 303
    assert stands(morning).state is State.CALLED_OFF
    page = morning.see(PAGE)
    assert "Maren called it off. Why: They moved away." in page.words
    assert "Called off, so there is nothing to make." in page.words
    assert "Print the bench sheet" not in page.words


def test_the_bench_waits_for_its_date_and_for_a_reason(morning: Morning) -> None:
    put(morning, State.AGREED, bench_on=None, rings=[a_narrowly_measured_ring()])
    page = morning.see(PAGE)
    assert "Missing for the bench: bench date and reason for narrow gauge on ring 1" in page.words
    assert not [form for form in page.forms if "Give it to the bench" in form.buttons]
    assert "Missing a reason:" in page.words


def test_a_reason_that_was_given_stands_beside_its_warning(morning: Morning) -> None:
    put(morning, rings=[a_narrowly_measured_ring(reasons={"narrow-gauge": "Only gauge on the trip."})])
    page = morning.see(PAGE)
    assert "Only gauge on the trip." in page.words
    assert "Missing a reason:" not in page.words


@pytest.mark.parametrize(
    ("state", "to", "role"),
    [
        (State.READY, State.HANDED_OVER, Role.MAKER),
        (State.AGREED, State.CALLED_OFF, Role.MAKER),
        (State.QUOTED, State.DRAFT, Role.MAKER),
    ],
)
def test_a_move_that_is_not_theirs_is_refused_to_a_maker(
    morning: Morning, state: State, to: State, role: Role
) -> None:
    before = put(morning, state)
    fields = {"version": str(before.version), "to": str(to), f"reason-{to}".replace(" ", "-"): "because"}
    assert morning.send(f"{PAGE}/moves", fields, role)[0] == 403
    assert stands(morning).state is state


def test_a_maker_moves_what_is_the_benchs_own(morning: Morning) -> None:
    before = put(morning, State.AT_THE_BENCH)
    fields = {"version": str(before.version), "to": "ready"}
    assert morning.send(f"{PAGE}/moves", fields, Role.MAKER)[0] == 303


def test_a_step_that_the_table_has_not_changes_nothing(morning: Morning) -> None:
    before = put(morning)
    status, _, page = morning.send(f"{PAGE}/moves", {"version": str(before.version), "to": "handed over"})
    assert status == 409
    assert "Nothing was changed" in page.title
    assert "An order that is draft does not become handed over in one step." in page.words


@pytest.mark.parametrize("to", ["", "polished", "<script>", "9" * 5000])
def test_a_state_nobody_knows_is_refused(morning: Morning, to: str) -> None:
    put(morning)
    assert morning.send(f"{PAGE}/moves", {"version": "1", "to": to})[0] == 422


def test_the_history_tells_what_changed_in_a_ring(morning: Morning) -> None:
    opened = put(morning)
    with morning.book() as book:
        changes = OrderChanges(rings=(a_ring(a_finger("P")), a_ring()))
        change_order(book, number=NUMBER, version=opened.version, changes=changes, actor=PROGRAM, now=NOW)
    words = morning.see(PAGE).words
    assert "ring 2 added" in words
    assert "ring 1, size P, before O½" in words


def test_what_is_not_yet_asked_is_named_while_the_order_is_open(morning: Morning) -> None:
    put(morning, wanted_on=None)
    work = "finish of ring 1, inscription of ring 1, stones of ring 1 and marks of ring 1"
    asked = f"Wanted day, promised day, {work}"
    assert f"Not yet asked: {asked}." in morning.see(PAGE).words


def test_the_bench_sheet_is_a_quiet_link_while_the_bench_waits(morning: Morning) -> None:
    put(morning, State.AGREED, bench_on=None)
    answer = morning.house.browse("GET", PAGE, headers=morning._cookie(Role.OWNER))
    assert f'<a href="{PAGE}/bench-sheet.pdf">Print the bench sheet</a>' in answer.text
    assert "Print the bench sheet, marked not yet for the bench." in morning.see(PAGE).words
    with morning.book() as book:
        known = OrderChanges(bench_on=NOW.date())
        change_order(book, number=NUMBER, version=2, changes=known, actor=PROGRAM, now=NOW)
    answer = morning.house.browse("GET", PAGE, headers=morning._cookie(Role.OWNER))
    assert f'class="button button-outlined" href="{PAGE}/bench-sheet.pdf"' in answer.text
    assert "not yet for the bench" not in answer.text


def test_days_that_are_past_are_heeded_while_there_is_something_to_make(morning: Morning) -> None:
    put(morning, wanted_on=TODAY - timedelta(days=3))
    words = morning.see(PAGE).words
    assert "Heed The wanted day, Sun 22 Nov, is past." in words
    assert "Missing a reason" not in words


def test_days_that_are_past_are_no_matter_once_it_is_handed_over(morning: Morning) -> None:
    put(morning, State.HANDED_OVER, wanted_on=TODAY - timedelta(days=3))
    assert "is past" not in morning.see(PAGE).words


def test_a_number_stands_behind_a_name_written_from_the_right(house: House) -> None:
    number = house.take_order(customer={"name": "محمد عبد الله", "phone": "01632 960 411"})
    page = Shown(house.browse("GET", f"/orders/{number}"))
    assert f"\u2068محمد عبد الله\u2069, {number}" in page.title
