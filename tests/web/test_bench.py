"""A ring at the bench over HTTP: ticking, measuring, the clock, undo, and what two at one ring are told."""

import re

import httpx
import pytest
from sqlmodel import col, select

from studio import clock
from studio.book.bench_records import bench_record
from studio.book.bench_work import Deed, do_at_bench, ring_at_bench
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.engine import session
from studio.book.order_reads import order
from studio.book.people import PROGRAM
from studio.craft.bench_work import What
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import a_narrowly_measured_ring, a_ring, an_order
from tests.web.house import House
from tests.web.shown import Shown

NOTHING_OF_YOURS = "Nothing of yours was saved."


@pytest.fixture
def number(house: House) -> str:
    """An order of one hammered ring at the bench."""
    with session(house.engine) as book:
        return an_order(book, state=State.AT_THE_BENCH).number


def shown(answer: httpx.Response) -> str:
    """The words of a page."""
    return Shown(answer).words


def hidden(page: str) -> dict[str, str]:
    """The hidden fields of the page's form."""
    found = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', page)
    return dict(found)


def press(
    house: House, number: str, act: str, step: str = "", role: Role = Role.MAKER, **typed: str
) -> httpx.Response:
    """Open the page of the ring and press one of its buttons, with these fields typed."""
    page = house.browse("GET", f"/bench/{number}/1?step={step}", role).text
    return house.browse("POST", f"/bench/{number}/1", role, data=hidden(page) | {"act": act} | typed)


def rows(house: House) -> list[BenchWorkRow]:
    with session(house.engine) as book:
        return list(book.exec(select(BenchWorkRow).order_by(col(BenchWorkRow.serial))).all())


def test_the_list_shows_rings_at_the_bench_the_nearest_day_first(house: House, number: str) -> None:
    with session(house.engine) as book:
        an_order(book, state=State.QUOTED)
        ready = an_order(book, state=State.READY).number
    page = house.browse("GET", "/bench", Role.MAKER)
    assert f'href="/bench/{number}/1"' in page.text
    assert ready not in page.text
    assert "Not begun" in shown(page)
    press(house, number, "done", figure="9.2")
    press(house, number, "start", "saw")
    told = shown(house.browse("GET", "/bench", Role.MAKER))
    assert "One step done, Tilde is at it since" in told


def test_a_tick_with_its_figure_leads_to_the_next_step(house: House, number: str) -> None:
    answer = press(house, number, "done", figure="9,17", minutes="4")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/bench/{number}/1")
    page = shown(house.browse("GET", answer.headers["location"], Role.MAKER))
    assert "Step 2 of" in page
    assert "9.17 g" in page
    assert "4 min, Tilde" in page
    assert "Undo takes back: ticked 'Weigh out', 9.17 g, 4 min" in page


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"figure": "heavy"}, "figure", "We cannot read 'heavy' as a figure."),
        ({"figure": "5000"}, "figure", "5000 g is more than we can use for the figure"),
        ({"minutes": "0"}, "minutes", "The time has to be above 0."),
        ({"minutes": "2000"}, "minutes", "more than we can use for the time"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field_and_stays_typed(
    house: House, number: str, typed: dict[str, str], field: str, words: str
) -> None:
    answer = press(house, number, "done", "", Role.MAKER, **typed)
    assert answer.status_code == 422
    assert words in shown(answer)
    assert f'id="f-{field}-wrong"' in answer.text
    assert f'value="{typed[field]}"' in answer.text
    assert rows(house) == []


def test_a_length_that_contradicts_the_one_before_is_refused_with_both(house: House, number: str) -> None:
    press(house, number, "done", figure="9.2")
    press(house, number, "done", figure="61.0")
    answer = press(house, number, "done", figure="58")
    assert answer.status_code == 422
    assert "It was 61 mm before: a pattern makes it no smaller. Measure again." in shown(answer)


def test_a_step_out_of_order_wants_a_reason(house: House, number: str) -> None:
    page = shown(house.browse("GET", f"/bench/{number}/1?step=bend", Role.MAKER))
    assert "'Weigh out' is not done yet. Why is this done first?" in page
    refused = press(house, number, "done", "bend")
    assert refused.status_code == 422
    assert "'Weigh out' comes before and is not done. Say why this is done first." in shown(refused)
    assert press(house, number, "done", "bend", reason="bent at the school").status_code == 303
    page = shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    assert "Tilde, bent at the school" in page
    assert "Step 1 of" in page


def test_the_clock_starts_pauses_and_goes_on(house: House, number: str) -> None:
    assert press(house, number, "start").headers["location"] == f"/bench/{number}/1?step=weigh"
    page = house.browse("GET", f"/bench/{number}/1", Role.MAKER).text
    assert 'data-runs="yes"' in page
    assert press(house, number, "start", "weigh").status_code == 409
    assert press(house, number, "pause", "weigh").status_code == 303
    press(house, number, "start")
    press(house, number, "done")
    with session(house.engine) as book:
        running = ring_at_bench(book, number, 1).work.running
    assert running is not None
    assert running.operation == "saw"


def test_undo_takes_back_the_last_thing_and_erases_nothing(house: House, number: str) -> None:
    press(house, number, "done", figure="9.2")
    assert press(house, number, "undo").status_code == 303
    page = shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    assert "Step 1 of" in page
    assert "Undo takes back" not in page
    assert [row.what for row in rows(house)] == ["done", "undone"]


def test_a_done_step_is_put_right_or_opened_again(house: House, number: str) -> None:
    press(house, number, "done", figure="9.2")
    assert press(house, number, "note", "weigh", figure="9.1").status_code == 303
    refused = press(house, number, "open", "weigh")
    assert (refused.status_code, "The reason is not given yet." in refused.text) == (422, True)
    assert press(house, number, "open", "weigh", reason="another piece").status_code == 303
    with session(house.engine) as book:
        step = ring_at_bench(book, number, 1).work.step("weigh")
    assert (step.figure, step.is_done) == (9.1, False)


def test_lengths_reach_the_ring_s_own_record(house: House, number: str) -> None:
    for figure in ("9.2", "61.0", "62.2"):
        press(house, number, "done", figure=figure)
    with session(house.engine) as book:
        record = bench_record(book, number, 1)
    assert record is not None
    assert (record.draft.before_mm, record.draft.after_mm) == (61.0, 62.2)
    history = shown(house.browse("GET", f"/orders/{number}", Role.OWNER))
    assert "Tilde ticked a step off: Hammer the face of ring 1, 62.2 mm." in history
    assert "length after the pattern 62.2, before nothing" in history


def test_two_at_one_ring_the_second_is_told_what_happened_and_keeps_what_was_typed(
    house: House, number: str
) -> None:
    read = hidden(house.browse("GET", f"/bench/{number}/1", Role.MAKER).text)
    press(house, number, "done", role=Role.OWNER, figure="9.3")
    answer = house.browse(
        "POST", f"/bench/{number}/1", Role.MAKER, data=read | {"act": "done", "figure": "9.2"}
    )
    assert answer.status_code == 409
    page = shown(answer)
    assert "Maren ticked 'Weigh out', 9.3 g," in page
    assert NOTHING_OF_YOURS in page
    assert 'value="9.2"' in answer.text
    assert len(rows(house)) == 1


def test_the_same_press_sent_twice_is_done_once(house: House, number: str) -> None:
    sent = hidden(house.browse("GET", f"/bench/{number}/1", Role.MAKER).text) | {
        "act": "done",
        "figure": "9.2",
    }
    first, second = (house.browse("POST", f"/bench/{number}/1", Role.MAKER, data=sent) for _ in range(2))
    assert (first.status_code, second.status_code) == (303, 303)
    assert first.headers["location"] == second.headers["location"]
    assert len(rows(house)) == 1


def test_a_press_without_a_button_says_so(house: House, number: str) -> None:
    answer = press(house, number, "")
    assert answer.status_code == 422
    assert "Which of the buttons was it? Press it again." in shown(answer)


def finish(house: House, number: str, position: int) -> None:
    """Tick every step of a ring."""
    with session(house.engine) as book:
        operations = ring_at_bench(book, number, position).operations
        for operation in operations:
            deed = Deed(What.DONE, operation.key)
            do_at_bench(book, number=number, position=position, deed=deed, actor=PROGRAM, now=clock.now())


def move(house: House, number: str, **typed: str) -> httpx.Response:
    """Press the button that moves the order of the ring on."""
    page = Shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    form = page.form(f"/bench/{number}/1/moves")
    [words] = form.buttons
    sent = form.filled(words, **typed)
    return house.browse("POST", f"/bench/{number}/1/moves", Role.MAKER, data=sent)


def test_an_order_is_ready_once_no_ring_of_it_has_a_step_left(house: House) -> None:
    with session(house.engine) as book:
        number = an_order(book, state=State.AT_THE_BENCH, rings=[a_ring(), a_ring()]).number
    finish(house, number, 1)
    page = Shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    assert "Every step is done" in page.words
    assert "Ring 2 of the order still has steps left." in page.words
    assert f"/bench/{number}/1/moves" not in [form.action for form in page.forms]
    finish(house, number, 2)
    assert move(house, number).status_code == 303
    with session(house.engine) as book:
        assert order(book, number).state is State.READY


def test_an_agreed_order_is_given_to_the_bench_from_its_ring(house: House) -> None:
    with session(house.engine) as book:
        number = an_order(book, state=State.AGREED).number
    stale = move(house, number, order_version="1")
    assert stale.status_code == 409
    assert "The order stays where it is" in shown(stale)
    assert move(house, number).status_code == 303
    with session(house.engine) as book:
        assert order(book, number).state is State.AT_THE_BENCH


def test_what_holds_the_work_up_is_told_at_the_bench(house: House) -> None:
    with session(house.engine) as book:
        number = an_order(book, state=State.AGREED, rings=[a_narrowly_measured_ring()]).number
    answer = move(house, number)
    assert answer.status_code == 409
    assert "The order waits for:" in shown(answer)


def test_the_bench_hands_nothing_over(house: House, number: str) -> None:
    sent = {"to": "handed over", "order_version": "9"}
    answer = house.browse("POST", f"/bench/{number}/1/moves", Role.MAKER, data=sent)
    assert answer.status_code == 422


@pytest.mark.parametrize(
    ("state", "words"),
    [(State.AGREED, "This order is not at the bench yet."), (State.READY, "This order is ready.")],
)
def test_away_from_the_bench_the_page_only_shows(house: House, state: State, words: str) -> None:
    with session(house.engine) as book:
        number = an_order(book, state=state).number
    page = house.browse("GET", f"/bench/{number}/1", Role.MAKER)
    assert words in shown(page)
    assert f'action="/bench/{number}/1"' not in page.text
    sent = {"act": "done", "step": "weigh", "version": "0"}
    answer = house.browse("POST", f"/bench/{number}/1", Role.MAKER, data=sent)
    assert answer.status_code == 409
    assert words in shown(answer)


@pytest.mark.parametrize("where", ["2026-999/1", "{number}/2", "{number}/none"])
def test_a_ring_that_is_not_there_is_not_found(house: House, number: str, where: str) -> None:
    assert house.browse("GET", f"/bench/{where.format(number=number)}", Role.MAKER).status_code == 404


def test_no_price_and_no_contact_stands_on_the_page(house: House, number: str) -> None:
    page = house.browse("GET", f"/bench/{number}/1", Role.MAKER).text
    assert "£" not in page
    assert "01632" not in page
