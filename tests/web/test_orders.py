"""The list of orders: 'where is my ring?' answered in one step, by name, number or telephone."""

from datetime import datetime, timedelta
from urllib.parse import urlencode

import pytest

from studio.book.orders import CustomerDraft
from studio.craft.designs import Profile, System
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_finger, a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

DAY = timedelta(days=1)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def test_a_book_without_orders_says_so(morning: Morning) -> None:
    page = morning.see("/orders")
    assert "There is no order yet." in page.words
    assert "Older orders" not in page.words


def test_a_line_reads_number_customer_ring_state_and_next_day(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, state=State.AGREED)
    page = morning.see("/orders")
    assert "2026- Customer Ring State Next day Needs a hand" in page.words
    assert "1 Jorun Müller O½, flat 6 × 1.6, hammered, 750 yellow Agreed Bench Tue 1 Dec" in page.words
    assert ("1", "/orders/2026-1") in page.links


def test_a_pair_alike_but_for_the_size_is_one_line(morning: Morning) -> None:
    pair = [a_ring(a_finger("M")), a_ring(a_finger("10", System.US))]
    with morning.book() as book:
        an_order(book, rings=pair)
    assert "M and US 10, flat 6 × 1.6, hammered, 750 yellow" in morning.see("/orders").words


def test_rings_of_one_order_that_differ_have_a_line_each(morning: Morning) -> None:
    rings = [a_ring(), a_ring(design=a_design(profile=Profile.HALF_ROUND, width_mm=4.0, thickness_mm=1.7))]
    with morning.book() as book:
        an_order(book, rings=rings)
    words = morning.see("/orders").words
    assert "O½, flat 6 × 1.6, hammered, 750 yellow O½, half-round 4 × 1.7, hammered, 750 yellow" in words


def test_the_sections_of_a_page_share_one_scale_that_has_room_for_the_widest(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, rings=[a_ring(design=a_design(width_mm=20.0))])
        an_order(book)
    answer = morning.house.browse("GET", "/orders", headers=morning._cookie(Role.OWNER))
    scales = {part.partition('"')[0] for part in answer.text.split('data-mm-per-unit="')[1:]}
    assert scales == {f"{20 / 72:.6f}"}


@pytest.mark.parametrize("query", ["muller", "JORUN", "2026-1", "1", "0715", "07 15", "960715", " Müller "])
def test_where_is_my_ring_is_answered_in_one_step(morning: Morning, query: str) -> None:
    with morning.book() as book:
        an_order(book, state=State.AT_THE_BENCH, now=NOW - 2 * DAY)
        an_order(book, customer=CustomerDraft("Somebody Else", "01632 960 222"))
    page = morning.see(f"/orders?{urlencode({'q': query})}")
    assert "One order found" in page.words
    assert "At the bench since Mon 23 Nov" in page.words
    assert "Somebody Else" not in page.words


def test_a_maker_finds_nobody_by_a_telephone_number(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see("/orders?q=0715", Role.MAKER)
    assert "No orders found" in page.words
    assert "No order is found by this name or number." in page.words
    assert "All 0 Draft 0" in page.words
    assert "telephone" not in page.words.lower()
    assert "One order found" in morning.see("/orders?q=muller", Role.MAKER).words


def test_what_is_not_found_is_said_and_stays_in_its_field(morning: Morning) -> None:
    page = morning.see("/orders?q=nobody")
    assert "No order is found by this name, number or telephone." in page.words
    assert page.form("/orders").fields["q"] == "nobody"
    assert page.link("Show all") == "/orders"


@pytest.mark.parametrize(
    "query", ["<script>alert(1)</script>", "{{7*7}}", "%", "_", "'--", "٣٤٥٦", "🪙", "\0", "x" * 10_000]
)
def test_strange_words_find_nothing_and_break_nothing(morning: Morning, query: str) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see(f"/orders?{urlencode({'q': query})}")
    assert page.status == 200
    assert "No orders found" in page.words or not query.strip("\0")
    assert "49" not in page.words


def test_each_state_stands_with_its_count_and_keeps_the_search(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
        an_order(book, state=State.READY)
        an_order(book, state=State.CALLED_OFF, customer=CustomerDraft("Somebody Else"))
    page = morning.see("/orders?q=muller")
    assert "All 2 Draft 1 Quoted 0 Agreed 0 At the bench 0 Ready 1 Handed over 0 Called off 0" in page.words
    assert page.link("At the bench 0") == "/orders?q=muller&state=at+the+bench"
    ready = morning.see(page.link("Ready 1"))
    assert "One order found" in ready.words
    assert ready.form("/orders").fields["state"] == "ready"


def test_a_state_that_does_not_exist_is_not_found(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see("/orders?state=polished")
    assert page.status == 404
    assert "There is no such state, so all of them are shown." in page.words
    assert ("1", "/orders/2026-1") in page.links


def test_older_orders_go_on_without_leaving_one_out_or_showing_one_twice(morning: Morning) -> None:
    with morning.book() as book:
        for _ in range(53):
            an_order(book)
    first = morning.see("/orders")
    second = morning.see(first.link("Older orders"))
    numbers = [words for words, href in [*first.links, *second.links] if href.startswith("/orders/2026-")]
    assert [int(number) for number in numbers] == list(range(53, 0, -1))
    assert "Older orders" not in second.words
    assert second.link("Newest orders") == "/orders"


@pytest.mark.parametrize("after", ["yesterday", "2026-", "-", f"2026-{'9' * 30}", f"{'9' * 30}-1"])
def test_a_page_that_goes_on_from_nowhere_shows_the_beginning_and_says_so(
    morning: Morning, after: str
) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see(f"/orders?after={after}")
    assert page.status == 404
    assert "The list does not go on from there. This is its beginning." in page.words
    assert ("1", "/orders/2026-1") in page.links


def test_after_the_oldest_order_a_link_leads_back(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see("/orders?after=2026-1")
    assert page.status == 200
    assert "There are no older orders." in page.words
    assert page.link("Newest orders") == "/orders"


@pytest.mark.parametrize("query", [f"2026-{'9' * 30}", "9" * 30, f"{'9' * 30}-1", "0" * 40])
def test_numbers_nobody_counts_to_are_not_found(morning: Morning, query: str) -> None:
    assert "No orders found" in morning.see(f"/orders?q={query}").words


def test_the_year_stands_once_above_its_numbers(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, now=datetime(2025, 12, 30, 10, tzinfo=NOW.tzinfo))
        an_order(book)
    words = morning.see("/orders").words
    assert "2026- Customer" in words
    assert words.index("2026-") < words.index("2025-")
    assert words.count("2025-") == 1


@pytest.mark.parametrize(
    ("state", "facts", "told"),
    [
        (State.AGREED, {"bench_on": None}, "Missing bench date"),
        (State.AT_THE_BENCH, {"promised_at": NOW - DAY}, "Late promised Tue 24 Nov"),
        (State.DRAFT, {"now": NOW - 3 * DAY}, "Waiting untouched 3 days"),
        (State.READY, {"now": NOW - DAY}, "Collect ready since Tue 24 Nov"),
    ],
    ids=["bench date", "late", "draft", "collect"],
)
def test_what_needs_a_hand_is_a_word_and_a_reason(
    morning: Morning, state: State, facts: dict[str, object], told: str
) -> None:
    with morning.book() as book:
        an_order(book, state=state, **facts)  # type: ignore[arg-type]  # a table of keywords
    assert told in morning.see("/orders").words


def test_a_maker_sees_the_list_but_takes_no_order(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    page = morning.see("/orders", Role.MAKER)
    assert "Jorun Müller" in page.words
    assert "Take an order" not in page.words
