"""The clock as it really goes: set back, changed in spring and autumn, with leap days and long years."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from studio.book.errors import QuoteExpired, SignInRefused
from studio.book.links import enter_by_link, make_link
from studio.book.people import PROGRAM
from studio.book.quotes import agree
from studio.book.sign_in import sign_in
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, an_order
from tests.web.house import PASSPHRASE, House
from tests.web.house import an_order as sent_order
from tests.web.morning import Morning, a_morning
from tests.web.priced import a_quote

HOUR = timedelta(hours=1)
PAGES = ("/", "/orders", "/orders/new", "/customers", "/week", "/studio", "/orders/{number}")
At = Callable[[datetime], Morning]


@pytest.fixture
def at(house: House, monkeypatch: pytest.MonkeyPatch) -> At:
    return lambda now: a_morning(house, monkeypatch, now)


def test_a_clock_set_back_an_hour_disturbs_neither_numbers_nor_history_nor_sign_ins(at: At) -> None:
    morning = at(NOW)
    ask = morning.house.ask
    key = {"idempotency-key": "k-1"}
    first = ask("POST", "/api/orders", json=sent_order(), headers=key)
    morning.turn_to(NOW - HOUR)
    assert ask("POST", "/api/orders", json=sent_order(), headers=key).content == first.content
    assert morning.house.take_order() == "2026-2"
    changed = ask("PATCH", "/api/orders/2026-1", json={"version": 1, "note": "two wrens"})
    assert changed.json()["version"] == 2
    off = {"version": 2, "to": "called off", "reason": "moved abroad"}
    assert ask("POST", "/api/orders/2026-1/moves", json=off).json()["version"] == 3
    shown = [line["number"] for line in ask("GET", "/api/orders").json()["items"]]
    assert shown == ["2026-2", "2026-1"]
    for role in (Role.OWNER, Role.COUNTER):
        assert morning.see("/orders/2026-1", role).status == 200
    for path in PAGES:
        assert morning.see(path.format(number="2026-2")).status == 200


def test_a_clock_set_back_over_new_year_gives_no_number_twice(at: At) -> None:
    new_year = datetime(2027, 1, 1, 0, 20, tzinfo=UTC)
    morning = at(new_year - HOUR)
    numbers = []
    for moment in (new_year - HOUR, new_year, new_year - HOUR, new_year):
        morning.turn_to(moment)
        with morning.book() as book:
            numbers.append(an_order(book, now=moment).number)
    assert numbers == ["2026-1", "2027-1", "2026-2", "2027-2"]


def test_nobody_waits_for_the_hour_that_the_clock_was_set_back(at: At) -> None:
    with at(NOW).book() as book:
        for minute in range(8):
            moment = NOW + minute * timedelta(minutes=10)
            with pytest.raises(SignInRefused):
                sign_in(book, name="Maren", passphrase="wrong", address="192.0.2.7", now=moment)
        right = {"name": "Maren", "passphrase": PASSPHRASE, "address": "192.0.2.7"}
        assert sign_in(book, **right, now=moment - HOUR).actor.name == "Maren"


def test_wrong_tries_after_the_clock_was_set_back_cost_their_time(house: House, at: At) -> None:
    morning = at(NOW)
    wrong = {"name": "Maren", "passphrase": "wrong", "next": ""}
    for minute in range(8):
        morning.turn_to(NOW + minute * timedelta(minutes=10))
        assert house.browse("POST", "/sign-in", None, data=wrong).status_code == 401
    morning.turn_to(NOW)
    assert house.browse("POST", "/sign-in", None, data=wrong).status_code == 401
    assert house.browse("POST", "/sign-in", None, data=wrong).status_code == 429


def test_a_link_printed_before_the_clock_was_set_back_still_opens(at: At) -> None:
    with at(NOW).book() as book:
        link = make_link(book, user_name="Ivo", actor=PROGRAM, now=NOW)
        entered = enter_by_link(book, key=link, now=NOW - HOUR, passphrase=PASSPHRASE)
    assert entered.actor.name == "Ivo"


def test_of_two_promises_for_the_hour_that_comes_twice_only_the_passed_one_is_late(at: At) -> None:
    in_summer_time = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    between = datetime(2026, 10, 25, 1, 0, tzinfo=UTC)
    in_winter_time = datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
    morning = at(between)
    for promised in (in_summer_time, in_winter_time):
        with morning.book() as book:
            an_order(
                book, state=State.AGREED, promised_at=promised, bench_on=None, now=between - timedelta(days=1)
            )
    for number in ("2026-1", "2026-2"):
        assert "01:30" in morning.see(f"/orders/{number}").words
    hands = {line["number"]: line["hand"] for line in morning.house.ask("GET", "/api/orders").json()["items"]}
    assert hands == {"2026-1": "late", "2026-2": "soon"}


def test_a_promise_over_the_hour_that_is_left_out_is_said_on_the_changed_clock(at: At) -> None:
    before = datetime(2027, 3, 28, 0, 59, tzinfo=UTC)
    morning = at(before)
    promised = before + timedelta(minutes=2)
    order = sent_order(promised_at=promised.isoformat())
    number = morning.house.ask("POST", "/api/orders", json=order).json()["number"]
    assert "02:01" in morning.see(f"/orders/{number}").words
    hands = []
    for moment in (before, promised):
        morning.turn_to(moment)
        hands.append(morning.house.ask("GET", "/api/orders").json()["items"][0]["hand"])
    assert hands == ["soon", "late"]


@pytest.mark.parametrize(
    ("issued", "last_day", "turns"),
    [
        (datetime(2027, 3, 20, 12, tzinfo=UTC), date(2027, 4, 3), datetime(2027, 4, 3, 23, tzinfo=UTC)),
        (datetime(2026, 10, 20, 12, tzinfo=UTC), date(2026, 11, 3), datetime(2026, 11, 4, 0, tzinfo=UTC)),
        (datetime(2028, 2, 15, 12, tzinfo=UTC), date(2028, 2, 29), datetime(2028, 3, 1, 0, tzinfo=UTC)),
        (datetime(2027, 2, 15, 12, tzinfo=UTC), date(2027, 3, 1), datetime(2027, 3, 2, 0, tzinfo=UTC)),
    ],
    ids=["into summer time", "out of summer time", "to the leap day", "past a short February"],
)
def test_a_quote_is_good_to_the_end_of_its_last_day_on_the_studios_clock(
    at: At, issued: datetime, last_day: date, turns: datetime
) -> None:
    morning = at(issued)
    with morning.book() as book:
        number = an_order(book, now=issued, wanted_on=date(2028, 6, 1)).number
    quote = a_quote(morning.house, number)
    assert quote.valid_until == last_day
    said: dict[str, Any] = {"quote": quote.number, "name": "Jorun Müller", "without_deposit": "old customer"}
    with morning.book() as book, pytest.raises(QuoteExpired):
        agree(book, **said, actor=PROGRAM, now=turns)
    with morning.book() as book:
        agree(book, **said, actor=PROGRAM, now=turns - timedelta(seconds=1))
    assert morning.house.ask("GET", f"/api/orders/{number}").json()["state"] == "agreed"


def test_the_leap_day_is_a_day_like_others(at: At) -> None:
    leap = date(2028, 2, 29)
    morning = at(datetime(2028, 2, 28, 10, tzinfo=UTC))
    with morning.book() as book:
        an_order(
            book, state=State.AGREED, bench_on=leap, wanted_on=leap, now=datetime(2028, 2, 28, tzinfo=UTC)
        )
    assert "Tue 29 Feb" in morning.see("/orders/2028-1").words
    week = morning.house.ask("GET", "/api/week", params={"from": "29 Feb"}).json()
    assert (week["from"], week["to"]) == ("2028-02-28", "2028-03-05")
    assert [line["blanks"] for line in week["need"]] == [1]


def test_the_fifty_third_week_reaches_into_the_new_year(at: At) -> None:
    morning = at(datetime(2027, 1, 1, 10, tzinfo=UTC))
    with morning.book() as book:
        for day in (date(2026, 12, 28), date(2027, 1, 3), date(2027, 1, 4)):
            an_order(book, state=State.AGREED, bench_on=day)
    page = morning.see("/week")
    assert page.title.startswith("Week 53")
    assert page.link("Week 52") == "/week?from=2026-12-21"
    assert page.link("Week 1") == "/week?from=2027-01-04"
    week = morning.house.ask("GET", "/api/week").json()
    assert [line["blanks"] for line in week["need"]] == [2]


@pytest.mark.parametrize(
    "moment",
    [
        datetime(2026, 12, 31, 23, 59, 59, 999_999, tzinfo=UTC),
        datetime(2027, 1, 3, 12, tzinfo=UTC),
        datetime(2028, 2, 29, 12, tzinfo=UTC),
        datetime(2027, 3, 28, 1, tzinfo=UTC),
        datetime(2026, 10, 25, 1, 30, tzinfo=UTC),
        datetime(2027, 6, 30, 23, 30, tzinfo=UTC),
    ],
    ids=["last of the year", "week 53", "leap day", "clocks forward", "clocks back", "past midnight here"],
)
def test_every_page_opens_at_every_odd_moment(at: At, moment: datetime) -> None:
    morning = at(moment)
    number = morning.house.take_order()
    opened = {path: morning.see(path.format(number=number)).status for path in PAGES}
    assert opened == dict.fromkeys(PAGES, 200)
