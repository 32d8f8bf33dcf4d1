"""In hand: the day's sentences, one act each, and what stands around them."""

from datetime import UTC, date, datetime, timedelta

import pytest

from studio.book.bench_days import bench_days, said_yes
from studio.book.orders import CustomerDraft
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, a_finger, a_ring, an_order, one_step
from tests.web.house import House
from tests.web.morning import Morning, a_morning

DAY = timedelta(days=1)
FAR = NOW + 20 * DAY


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def test_an_empty_book_has_its_first_day(morning: Morning) -> None:
    page = morning.see("/")
    assert "Wednesday, 25 November" in page.words
    assert "Nothing needs a hand. The book is new." in page.words
    assert page.link("Take an order") == "/orders/new"
    assert "Let the others in" in page.words


def test_the_first_day_asks_a_maker_for_nothing_they_may_not_do(morning: Morning) -> None:
    page = morning.see("/", Role.MAKER)
    assert "Take an order" not in [words for words, _ in page.links]
    assert "Let the others in" not in page.words


@pytest.mark.parametrize(
    ("state", "facts", "told"),
    [
        (
            State.AT_THE_BENCH,
            {"promised_at": NOW - DAY},
            (
                "Late",
                "Promised for yesterday, 10:00, and it is still at the bench.",
                "Call the customer",
                "#customer",
            ),
        ),
        (
            State.AGREED,
            {"bench_on": TODAY - 2 * DAY, "promised_at": FAR},
            (
                "Late",
                "Its bench date was Mon 23 Nov, and the work is not begun.",
                "Give it to the bench",
                "#next",
            ),
        ),
        (
            State.AT_THE_BENCH,
            {"promised_at": NOW + DAY},
            (
                "Soon",
                "Promised for tomorrow, 10:00, and it is still at the bench.",
                "Mark it ready",
                "#next",
            ),
        ),
        (
            State.QUOTED,
            {"promised_at": NOW + 2 * DAY},
            (
                "Soon",
                "Promised for Fri 27 Nov, 10:00, and nobody has said yes yet.",
                "Note the yes",
                "#next",
            ),
        ),
        (
            State.AGREED,
            {"bench_on": None, "promised_at": FAR},
            (
                "Missing",
                "Agreed, but no bench date is set.",
                "Set the bench date",
                "#plan",
            ),
        ),
        (
            State.DRAFT,
            {"now": NOW - 3 * DAY},
            (
                "Waiting",
                "A draft that nobody has touched for three days.",
                "Finish the draft",
                "/rings/1",
            ),
        ),
        (
            State.READY,
            {"now": NOW - 4 * DAY},
            (
                "Collect",
                "Ready, and no day to collect it is promised.",
                "Call the customer",
                "#customer",
            ),
        ),
    ],
    ids=["promise passed", "bench date passed", "soon", "soon, no yes", "no bench date", "draft", "ready"],
)
def test_each_rule_is_one_sentence_with_one_act(
    morning: Morning, state: State, facts: dict[str, object], told: tuple[str, str, str, str]
) -> None:
    word, sentence, act, href = told
    with morning.book() as book:
        number = an_order(book, state=state, **facts).number  # type: ignore[arg-type]  # a table of keywords
    page = morning.see("/")
    assert "One thing needs a hand" in page.words
    assert f"{word} {sentence} Jorun Müller, {number}" in page.words
    assert page.link(f"{act}: Jorun Müller, {number}") == f"/orders/{number}{href}"


def test_the_count_in_the_masthead_is_the_number_of_lines(morning: Morning) -> None:
    with morning.book() as book:
        for _ in range(3):
            an_order(book, state=State.AGREED, bench_on=None, promised_at=FAR)
        an_order(book, state=State.AGREED, promised_at=FAR)
    page = morning.see("/")
    assert "Three things need a hand" in page.words
    assert page.link("In hand 3") == "/"
    assert page.words.count("Set the bench date") == 3


def test_a_maker_gets_no_act_that_is_not_theirs(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book, state=State.READY, now=NOW - 4 * DAY).number
        an_order(book, state=State.AT_THE_BENCH, promised_at=NOW + DAY)
    page = morning.see("/", Role.MAKER)
    assert page.link(f"See the order: Jorun Müller, {number}") == f"/orders/{number}"
    assert "Call the customer" not in page.words
    assert "Mark it ready" in page.words


def test_rings_on_the_bench_are_named_with_their_size_and_day(morning: Morning) -> None:
    pair = [a_ring(a_finger("M")), a_ring(a_finger("V"))]
    with morning.book() as book:
        order = an_order(book, state=State.AT_THE_BENCH, rings=pair, promised_at=FAR)
    page = morning.see("/")
    line = "flat 6 × 1.6, hammered, 750 yellow Promised Tue 15 Dec, 10:00 bench date Tue 1 Dec"
    assert f"Jorun Müller {order.number} M, {line}" in page.words
    assert f"Jorun Müller {order.number}, second V, {line}" in page.words
    assert ("Jorun Müller", f"/orders/{order.number}#ring-2") in page.links


def test_who_said_yes_since_yesterday_is_named_and_nobody_else(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, state=State.AGREED, customer=CustomerDraft("Old Yes"), now=NOW - 3 * DAY)
        an_order(book, state=State.AGREED, customer=CustomerDraft("Late Yesterday"), now=NOW - DAY)
        begun = an_order(book, state=State.AGREED, customer=CustomerDraft("Begun Already"))
        one_step(book, begun, State.AT_THE_BENCH)
        gone = an_order(book, state=State.AGREED, customer=CustomerDraft("Called Off"))
        one_step(book, gone, State.CALLED_OFF)
    page = morning.see("/")
    yes = page.words.partition("Said yes since yesterday")[2].partition("The next five days")[0]
    assert "Late Yesterday" in yes
    assert "Begun Already" in yes
    assert "Old Yes" not in yes
    assert "Called Off" not in yes


def test_more_than_six_who_said_yes_are_counted(morning: Morning) -> None:
    with morning.book() as book:
        for _ in range(8):
            an_order(book, state=State.AGREED)
    page = morning.see("/")
    assert page.link("and two more") == "/orders?state=agreed"
    assert len([href for words, href in page.links if words == "Jorun Müller"]) == 6


def test_yesterday_begins_at_midnight_in_the_studios_time(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, state=State.AGREED, now=datetime(2026, 11, 23, 23, 59, tzinfo=UTC))
        an_order(book, state=State.AGREED, now=datetime(2026, 11, 24, 0, 0, tzinfo=UTC))
        found = said_yes(book, since=datetime(2026, 11, 24, tzinfo=UTC))
    assert [yes.number for yes in found] == ["2026-2"]


def test_the_next_five_days_leave_out_a_weekend_without_work(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, state=State.AGREED, bench_on=date(2026, 11, 27), rings=[a_ring(), a_ring()])
        an_order(book, state=State.DRAFT, bench_on=date(2026, 11, 30))
        assert [day.on.day for day in bench_days(book, today=TODAY)] == [25, 26, 27, 30, 1]
    page = morning.see("/")
    days = page.words.partition("The next five days at the bench")[2]
    assert " ".join(days.split()) == "Wed 25 free Thu 26 free Fri 27 Müller × 2 Mon 30 free Tue 1 free"


def test_a_weekend_with_work_is_among_the_days(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, state=State.AGREED, bench_on=date(2026, 11, 28))
        days = bench_days(book, today=TODAY)
    assert [day.on.day for day in days] == [25, 26, 27, 28, 30]
    assert [len(day.orders) for day in days] == [0, 0, 0, 1, 0]
