"""What the bench measured: the form on a ring's page, the page of all of it, and the file."""

import csv
import io
from datetime import timedelta

import pytest

from studio.book.bench_records import BenchDraft, bench_record, put_bench_record
from studio.book.people import PROGRAM
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.form import Form, FormKind
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

HAMMERED = a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
PLAIN = a_design(pattern=Pattern.PLAIN, pattern_when=None)
ORDER = "/orders/2026-1"
FORM = f"{ORDER}/rings/1/bench-record"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """One order that is agreed: a hammered ring and one that is plain."""
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        put_figures(book)
        a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=HAMMERED), a_ring(design=PLAIN)])))
    return found


def measured(morning: Morning, **typed: str) -> str:
    """Fill in the form of the first ring; where it leads, '' where it came back."""
    form = morning.see(FORM, Role.MAKER).form(FORM)
    _, where, _ = morning.send(FORM, form.filled(**typed), Role.MAKER)
    return where


@pytest.mark.parametrize("role", Role)
def test_what_the_bench_measured_is_put_down_on_the_rings_page(morning: Morning, role: Role) -> None:
    page = morning.see(ORDER, role)
    form = morning.see(page.link("What the bench measured, First ring"), role).form(FORM)
    typed = form.filled(before_mm="60,0", after_mm="6.12 cm", closed_mm="O½", tool="planishing hammer")
    status, where, _ = morning.send(FORM, typed, role)
    assert (status, where) == (303, f"{ORDER}#ring-1")
    assert "The pattern added 2.0 %." in morning.see(FORM, role).words
    with morning.book() as book:
        found = bench_record(book, "2026-1", 1)
    assert found is not None
    told = found.draft
    # UK O½ is 55.625 mm round by the metric rule of BS EN 28653, as in tests/outside/test_standards.py
    assert (told.before_mm, told.after_mm) == (60.0, 61.2)
    assert told.closed_mm == pytest.approx(55.625, abs=0.001)
    assert "put down what the bench measured" in morning.see(ORDER, role).words


def test_the_counter_names_the_rings_behind_a_stretch(morning: Morning) -> None:
    assert measured(morning, before_mm="60", after_mm="61.8")
    with morning.book() as book:
        number = an_order(book, rings=[a_ring(design=HAMMERED)]).number
    words = morning.see(f"/orders/{number}/rings/1").words
    assert "Stretch 2.25 % (" in words
    assert "1 of our own (2026-1/1)." in words
    assert "1 of our own (2026-1/1)" in morning.see(f"/orders/{number}/rings/1/came-about").words


@pytest.mark.parametrize(
    ("name", "typed", "sentence"),
    [
        ("before_mm", "sixty", "We cannot read"),
        ("after_mm", "", "not given yet"),
        ("closed_mm", "56.9.1", "UK has no size 56.9.1"),
        ("closed_mm", "112", "than we can use for the size once closed, 25 to 110"),
        ("formed_mm", "QQ", "UK has no size QQ"),
    ],
)
def test_a_measure_that_cannot_be_read_is_put_right_and_nothing_typed_is_lost(
    morning: Morning, name: str, typed: str, sentence: str
) -> None:
    form = morning.see(FORM).form(FORM)
    sent = form.fields | {"before_mm": "60", "after_mm": "61", "tool": "hammer"} | {name: typed}
    status, _, page = morning.send(FORM, sent)
    assert status == 422
    assert sentence in page.words
    assert page.form(FORM).fields["tool"] == "hammer"
    with morning.book() as book:
        assert bench_record(book, "2026-1", 1) is None


def test_a_plain_ring_is_asked_for_its_size_alone(morning: Morning) -> None:
    fields = morning.see(f"{ORDER}/rings/2/bench-record").form(f"{ORDER}/rings/2/bench-record").fields
    assert {"before_mm", "after_mm", "formed_mm"} & set(fields) == set()
    assert "closed_mm" in fields


def test_a_ring_that_is_not_being_made_has_no_place_for_measures(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    assert "What the bench measured" not in morning.see(f"/orders/{number}").words
    path = f"/orders/{number}/rings/1/bench-record"
    form = morning.see(FORM).form(FORM)
    status, _, page = morning.send(path, form.filled(closed_mm="55"))
    assert status == 409
    assert "This ring is not being made" in page.words
    assert morning.see(f"{ORDER}/rings/7/bench-record").status == 404


def test_of_two_people_at_one_ring_the_second_sees_both(morning: Morning) -> None:
    form = morning.see(FORM).form(FORM)
    assert measured(morning, before_mm="60", after_mm="61.2")
    status, _, page = morning.send(FORM, form.filled(before_mm="60", after_mm="61.5"))
    assert status == 409
    assert "Somebody else put down this ring meanwhile" in page.words
    assert page.form(FORM).fields["after_mm"] == "61.5"
    status, where, _ = morning.send(FORM, page.form(FORM).filled())
    assert (status, where) == (303, f"{ORDER}#ring-1")


def test_the_page_of_all_records_says_what_to_expect_and_why_one_is_set_aside(morning: Morning) -> None:
    nothing = morning.see("/bench-records").words
    assert "Nothing is measured yet" in nothing
    assert measured(morning, before_mm="60", after_mm="67", wrong="The rule lay on the burr.")
    page = morning.see("/bench-records", Role.MAKER).words
    assert "Hammered on the flat strip" in page
    assert "60 to 67 mm, 11.7 %" in page
    assert "Set aside: The rule lay on the burr." in page


def test_one_in_nine_that_lies_too_far_is_set_aside_and_says_so(morning: Morning) -> None:
    with morning.book() as book:
        for _ in range(9):
            a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=HAMMERED)])))
        for number in range(2, 11):
            after = 67.2 if number == 6 else 61.2 + 0.01 * number
            put_bench_record(
                book,
                number=f"2026-{number}",
                position=1,
                record=BenchDraft(before_mm=60.0, after_mm=after),
                actor=PROGRAM,
                now=NOW,
            )
    words = morning.see("/bench-records").words
    assert "Set aside: 12.0 % lies too far from the other 8" in words
    assert words.count("Set aside") == 1


def test_the_page_says_how_far_waists_fell_short_of_what_was_closed(morning: Morning) -> None:
    form = Form(FormKind.ANTICLASTIC, radius_mm=14.0)
    strip = a_design(width_mm=9, thickness_mm=0.9, form=form, pattern=Pattern.PLAIN, pattern_when=None)
    with morning.book() as book:
        number = a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=strip)]))).number
    path = f"/orders/{number}/rings/1/bench-record"
    sent = morning.see(path).form(path).filled(closed_mm="57.4", formed_mm="56,9 mm")
    assert morning.send(path, sent)[0] == 303
    assert "the waist came out 0.50 mm round smaller than it was closed, in the mean of 1." in (
        morning.see("/bench-records").words
    )


def test_all_records_are_taken_as_a_file_that_no_table_program_runs(morning: Morning) -> None:
    assert measured(morning, before_mm="60", after_mm="61.2", tool="=HYPERLINK(1)")
    answer = morning.house.browse("GET", "/bench-records.csv", Role.MAKER)
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    (row,) = csv.DictReader(io.StringIO(answer.text))
    assert (row["ring"], row["measured_on"], row["stretch_percent"], row["tool"]) == (
        "2026-1/1", (NOW + timedelta(0)).date().isoformat(), "2.0", "'=HYPERLINK(1)",
    )  # fmt: skip
