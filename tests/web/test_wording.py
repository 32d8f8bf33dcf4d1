"""How days, counts, sizes and rings read on the screens."""

from datetime import UTC, date, datetime

import pytest

from studio.book.order_list_values import RingLine
from studio.craft.alloys import ALLOYS
from studio.craft.designs import Pattern, Profile, System
from studio.web.wording import (
    count_words,
    counted,
    days_words,
    family_name,
    hour_words,
    joined,
    order_short,
    ordinal,
    rings_words,
    since_words,
    size_words,
    stock_words,
    title_day_words,
)

TODAY = date(2026, 11, 26)


def test_a_title_says_the_day_whole() -> None:
    assert title_day_words(TODAY) == "Thursday, 26 November"


@pytest.mark.parametrize(
    ("moment", "since", "hour"),
    [
        (datetime(2026, 11, 26, 14, 5, tzinfo=UTC), "14:05", "Thu 26 Nov, 14:05"),
        (datetime(2026, 11, 24, 9, 0, tzinfo=UTC), "Tue 24 Nov", "Tue 24 Nov, 09:00"),
        (datetime(2025, 7, 1, 22, 30, tzinfo=UTC), "Tue 1 Jul 2025", "Tue 1 Jul 2025, 23:30"),
        (datetime(2025, 7, 1, 23, 30, tzinfo=UTC), "Wed 2 Jul 2025", "Wed 2 Jul 2025, 00:30"),
    ],
    ids=["today", "this year", "summer time", "past midnight in the studio"],
)
def test_moments_are_said_in_the_studios_time(moment: datetime, since: str, hour: str) -> None:
    assert since_words(moment, "Europe/London", TODAY) == since
    assert hour_words(moment, "Europe/London", TODAY) == hour


def test_small_counts_are_letters() -> None:
    assert [count_words(count) for count in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]
    assert [counted(count, "ring", "rings") for count in (0, 1, 2)] == ["no rings", "one ring", "two rings"]
    assert [days_words(count) for count in (0, 1, 12)] == ["today", "1 day", "12 days"]


def test_rings_are_counted_in_order() -> None:
    places = [1, 10, 11, 12, 13, 21, 22, 23, 111]
    words = ["first", "tenth", "11th", "12th", "13th", "21st", "22nd", "23rd", "111th"]
    assert [ordinal(place) for place in places] == words


@pytest.mark.parametrize(
    ("words", "together"), [([], ""), (["M"], "M"), (["M", "V"], "M and V"), (["M", "N", "V"], "M, N and V")]
)
def test_words_in_a_row_end_in_and(words: list[str], together: str) -> None:
    assert joined(words) == together


def test_a_size_says_whose_it_is_where_the_figure_does_not() -> None:
    sizes = [
        size_words(system, label)
        for system, label in ((System.UK, "O½"), (System.ISO, "57"), (System.US, "10"))
    ]
    assert sizes == ["O½", "57", "US 10"]


@pytest.mark.parametrize("profile", list(Profile))
def test_wire_has_one_measure_and_every_other_section_two(profile: Profile) -> None:
    is_wire = profile in {Profile.ROUND, Profile.SQUARE}
    assert stock_words(profile, 2.0, 2.0).endswith("wire 2" if is_wire else " 2 × 2")


def test_every_alloy_has_a_short_name_for_the_list() -> None:
    ring = RingLine(1, System.UK, "O½", Profile.FLAT, 6.0, 1.6, Pattern.PLAIN, "")
    for key, alloy in ALLOYS.items():
        line = RingLine(1, *(ring.system, ring.label, ring.profile, 6.0, 1.6, ring.pattern), key)
        assert rings_words([line]) == (f"O½, flat 6 × 1.6, {alloy.short_name}",)


@pytest.mark.parametrize(
    ("name", "family"),
    [
        ("Corin Vey", "Vey"),
        ("Pieter van der Aa", "Aa"),
        ("Ελένη Βασιλάκη", "Βασιλάκη"),
        ("Ayo", "Ayo"),
        ("", ""),
    ],
)
def test_the_bench_calls_a_customer_by_the_last_word_of_the_name(name: str, family: str) -> None:
    assert family_name(name) == family


def test_a_number_is_short_within_its_year() -> None:
    assert order_short("2026-118") == "118"
