"""Days and moments as they are typed at the counter, and as they are said."""

from datetime import UTC, date, datetime

import pytest

from studio.web.counter_days import read_promised
from studio.web.days import (
    HourUnclear,
    day_words,
    full_day_words,
    moment_words,
    read_date,
    read_exact_moment,
    read_moment,
    week_end,
)
from studio.web.errors import FieldErrors
from studio.web.forms import Calendar

TODAY = date(2026, 11, 25)
ZONE = "Europe/London"


def sentence_for(typed: object) -> str:
    with pytest.raises(FieldErrors) as told:
        read_date(typed, "wanted_on", today=TODAY)
    (error,) = told.value.errors
    assert error.field == "wanted_on"
    return error.message


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2027-03-27", date(2027, 3, 27)),
        ("27/3", date(2027, 3, 27)),
        ("27.3.", date(2027, 3, 27)),
        ("27 . 3 . 2027", date(2027, 3, 27)),
        ("27-3-27", date(2027, 3, 27)),
        ("27 Mar", date(2027, 3, 27)),
        ("27th march", date(2027, 3, 27)),
        ("27. Mar", date(2027, 3, 27)),
        ("27 mar 2028", date(2028, 3, 27)),
        ("Sat 19 Dec 2026", date(2026, 12, 19)),
        ("Saturday, 19 December", date(2026, 12, 19)),
        ("sat 19/12", date(2026, 12, 19)),
        ("1 Sept", date(2027, 9, 1)),
        ("２７／３", date(2027, 3, 27)),
        ("25/11", TODAY),
        ("24/11", date(2027, 11, 24)),
        ("29 Feb", date(2028, 2, 29)),
        ("  ", None),
        (None, None),
    ],
)
def test_a_day_is_read_with_the_day_before_the_month(typed: object, meant: date | None) -> None:
    assert read_date(typed, "wanted_on", today=TODAY) == meant


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("31 Feb 2027", "February 2027 ends on Sunday the 28th. Which day is meant?"),
        ("31/6", "June 2027 ends on Wednesday the 30th. Which day is meant?"),
        ("29 Feb 2027", "February 2027 ends on Sunday the 28th. Which day is meant?"),
        ("3/27", "There is no month 27. The day comes first, as in 27/3."),
        ("0/3", "March 2027 ends on Wednesday the 31st. Which day is meant?"),
        ("Mon 19 Dec 2026", "19 December 2026 is a Saturday. Which day is meant?"),
        ("27 Foo", "Which month is meant? Type the day like 27 Mar or 27/3/2027."),
        ("27 Mar 0001", "The year 0001 is not one we plan in. Which day is meant?"),
        ("0001-03-27", "The year 0001 is not one we plan in. Which day is meant?"),
        ("27/3/2201", "The year 2201 is not one we plan in. Which day is meant?"),
        ("27 Mar 1926", "The year 1926 is not one we plan in. Which day is meant?"),
        ("soon", "Which day is meant? Type it like 27 Mar or 27/3/2027."),
        ("27 Mar " + "x" * 40, "This is too long for a day. Type it like 27 Mar or 27/3/2027."),
        (27, "Which day is meant? Type it like 27 Mar or 27/3/2027."),
        ([], "Which day is meant? Type it like 27 Mar or 27/3/2027."),
    ],
)
def test_what_is_no_day_is_asked_for_again(typed: object, sentence: str) -> None:
    assert sentence_for(typed) == sentence


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Fri 11 Dec 10:00", datetime(2026, 12, 11, 10, tzinfo=UTC)),
        ("11/12 at 4.30pm", None),
        ("11/12 at 4:30 pm", datetime(2026, 12, 11, 16, 30, tzinfo=UTC)),
        ("11/12 12 am", datetime(2026, 12, 11, 0, tzinfo=UTC)),
        ("Fri 16 Jul 2027, 10:00", datetime(2027, 7, 16, 9, tzinfo=UTC)),  # London summer time
        ("2026-12-11T10:00:00Z", datetime(2026, 12, 11, 10, tzinfo=UTC)),
        ("2026-12-11T10:00:00+02:00", datetime(2026, 12, 11, 8, tzinfo=UTC)),
        ("2027-07-16T10:00", datetime(2027, 7, 16, 9, tzinfo=UTC)),
        ("11 Dec", datetime(2026, 12, 11, 12, tzinfo=UTC)),
        ("", None),
    ],
)
def test_a_moment_is_read_in_the_studios_time(typed: str, meant: datetime | None) -> None:
    if meant is None and typed:
        with pytest.raises(FieldErrors):
            read_moment(typed, "promised_at", today=TODAY, zone=ZONE)
        return
    assert read_moment(typed, "promised_at", today=TODAY, zone=ZONE) == meant


@pytest.mark.parametrize(
    "typed",
    ["Fri 11 Dec 25:00", "11 Dec 10:61", "10:00", "2026-12-11T99:00", "2026-13-11T10:00:00Z", "31/2 10:00"],
)
def test_what_is_no_moment_is_asked_for_again(typed: str) -> None:
    with pytest.raises(FieldErrors) as told:
        read_moment(typed, "promised_at", today=TODAY, zone=ZONE)
    assert told.value.errors[0].message.endswith(("?", ".", "Fri 11 Dec 10:00."))


def test_days_are_said_short_and_the_year_only_where_it_is_another() -> None:
    assert day_words(date(2026, 12, 1)) == "Tue 1 Dec"
    assert day_words(date(2026, 12, 1), today=TODAY) == "Tue 1 Dec"
    assert day_words(date(2027, 1, 4), today=TODAY) == "Mon 4 Jan 2027"
    assert full_day_words(date(2026, 12, 19)) == "Sat 19 Dec 2026"
    assert moment_words(datetime(2027, 7, 16, 9, 5, tzinfo=UTC), ZONE) == "Fri 16 Jul 2027, 10:05"
    assert week_end(date(2026, 11, 23)) == date(2026, 11, 29)


SKIPPED = (
    "On Sun 28 Mar the hour 01:30 is left out, the clocks go forward over it. Which other hour is meant?"
)
DOUBLED = "On Sun 31 Oct the hour 01:30 comes twice, the clocks go back. Which other hour is meant?"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [("28 Mar 2027 1:30", SKIPPED), ("2027-03-28T01:30", SKIPPED), ("31 Oct 2027, 01:30", DOUBLED)],
)
def test_an_hour_the_clock_shows_never_or_twice_is_asked_for_again(typed: str, sentence: str) -> None:
    with pytest.raises(HourUnclear) as told:
        read_moment(typed, "promised_at", today=TODAY, zone=ZONE)
    assert told.value.by_field == {"promised_at": sentence}


def test_the_hours_beside_the_change_of_the_clocks_are_clear() -> None:
    def read(typed: str) -> datetime | None:
        return read_moment(typed, "promised_at", today=TODAY, zone=ZONE)

    assert read("28 Mar 2027 0:59") == datetime(2027, 3, 28, 0, 59, tzinfo=UTC)
    assert read("28 Mar 2027 2:00") == datetime(2027, 3, 28, 1, tzinfo=UTC)
    assert read("31 Oct 2027 0:59") == datetime(2027, 10, 30, 23, 59, tzinfo=UTC)
    assert read("31 Oct 2027 2:00") == datetime(2027, 10, 31, 2, tzinfo=UTC)


def test_the_counter_says_why_the_hour_is_not_taken() -> None:
    with pytest.raises(HourUnclear) as told:
        read_promised("28 Mar 2027", "1.30", Calendar(TODAY, ZONE))
    assert told.value.by_field == {"promised_hour": SKIPPED}


@pytest.mark.parametrize(
    "typed", ["2026-12-11T10:00:00Z", "2026-12-11t12:00:00+02:00", " 2026-12-11T10:00z "]
)
def test_a_program_writes_a_moment_with_its_distance_from_utc(typed: str) -> None:
    assert read_exact_moment(typed, "promised_at") == datetime(2026, 12, 11, 10, tzinfo=UTC)


def test_no_moment_is_no_moment_for_a_program_too() -> None:
    assert read_exact_moment(None, "promised_at") is None
    assert Calendar(TODAY, ZONE, is_exact=True).moment("", "promised_at") is None


@pytest.mark.parametrize(
    "typed", ["2026-12-11T10:00:00", "2026-12-11", "11 Dec 10:00", "20261211T100000Z", "1999-12-11T10:00Z", 7]
)
def test_what_a_program_leaves_open_is_asked_for(typed: object) -> None:
    with pytest.raises(FieldErrors):
        Calendar(TODAY, ZONE, is_exact=True).moment(typed, "promised_at")
