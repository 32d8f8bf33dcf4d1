"""The cutting plan on the week's page: shown at once, printed, booked, undone, and what is short."""

import json
from dataclasses import replace

import pytest

from studio.book.cuts import cuts_booked
from studio.book.people import PROGRAM
from studio.book.piece_reads import pieces
from studio.book.pieces import PieceDraft, put_piece
from studio.craft.designs import Pattern
from studio.craft.drawer import Measures, PieceKind
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_ring, an_order
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

WEEK = "/week?from=2026-12-01"
PLAIN = a_design(alloy="silver-925", thickness_mm=1.5, pattern=Pattern.PLAIN, pattern_when=None)
SHEET = PieceDraft(Measures(PieceKind.SHEET, "silver-925", 198, 24, 1.5), place="top")


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """Two orders that are due next week: 6 mm and 8 mm wide, of the same stock."""
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        put_figures(book)
        for width in (6.0, 8.0):
            made = a_ring(design=replace(PLAIN, width_mm=width))
            a_yes(book, a_quote(book, an_order(book, rings=[made])))
    return found


def put(morning: Morning, draft: PieceDraft = SHEET) -> None:
    with morning.book() as book:
        put_piece(book, piece=draft, actor=PROGRAM, now=NOW)


def test_the_plan_stands_at_once_with_what_is_proved(morning: Morning) -> None:
    put(morning)
    words = morning.see(WEEK, Role.MAKER).words
    assert "What to cut from which piece" in words
    assert "925 silver, strip 1.5 proved, no plan opens less metal" in words
    assert "S-001 sheet 1.5, 198 × 24 two blanks" in words
    assert "Rip 8 wide; saw off 2 Müller" in words
    assert "Short" not in words
    assert "Still looking" not in words


def test_what_no_piece_yields_is_short_and_says_what_could_help(morning: Morning) -> None:
    put(morning, replace(SHEET, measures=Measures(PieceKind.STRIP, "silver-925", 48, 24, 1.5)))
    put(morning, replace(SHEET, measures=Measures(PieceKind.STRIP, "silver-925", 50, 20, 2.0)))
    words = morning.see(WEEK).words
    assert "Short 6 × 1.5 of 925 silver, one blank." in words
    assert "Piece S-001 holds enough grams but is 48 mm long." in words
    assert "S-002, 2 thick, rolled to 1.5 in three passes is about 67 × 20." in words


def test_a_plan_is_booked_as_cut_and_undone_from_the_page(morning: Morning) -> None:
    put(morning)
    page = morning.see(WEEK, Role.MAKER)
    way = "/week/cuts?from=2026-11-30"
    form = page.form(way)
    status, where, _ = morning.send(way, form.fields, Role.MAKER)
    assert (status, where) == (303, "/week?from=2026-11-30#booked")
    after = morning.see(WEEK)
    assert "so it needs no metal" in after.words
    assert "S-001 for 2026-2/1, 2026-1/1" in after.words
    with morning.book() as book:
        assert {one.is_offcut for one in pieces(book)} == {True}
    undo = "/week/cuts/1/undo?from=2026-11-30"
    assert morning.send(undo, after.form(undo).fields)[0] == 303
    again = morning.see(WEEK).words
    assert "S-001 sheet 1.5, 198 × 24 two blanks" in again
    assert ", undone" in again


def test_pressing_twice_books_once(morning: Morning) -> None:
    put(morning)
    way = "/week/cuts?from=2026-11-30"
    fields = morning.see(WEEK).form(way).fields
    assert [morning.send(way, fields)[0] for _ in range(2)] == [303, 303]
    with morning.book() as book:
        assert len(cuts_booked(book)) == 1


def test_a_plan_that_does_not_hold_any_more_is_refused_and_the_week_shown(morning: Morning) -> None:
    put(morning)
    way = "/week/cuts?from=2026-11-30"
    fields = morning.see(WEEK).form(way).fields
    assert morning.send(way, fields)[0] == 303
    status, _, page = morning.send(way, fields | {"idempotency_key": "another"})
    assert status == 409
    assert "This piece is not in the drawer any more: cut." in page.words
    sent = json.loads(fields["cuts"])
    sent[0]["strips"] = "all of it"
    for wrong in ("", "[1]", json.dumps(sent), "[[[[" * 20_000):
        assert morning.send(way, fields | {"cuts": wrong, "idempotency_key": "third"})[0] == 422


def test_the_plan_is_printed_with_its_cuts_and_the_cautions(morning: Morning) -> None:
    put(morning)
    paper = morning.house.browse("GET", "/week/cutting.pdf?from=2026-12-01", Role.MAKER)
    words = text_of(paper.content)
    assert "925 silver, strip 1.5" in words
    assert "Rip 8 wide; saw off 2 Müller" in words
    assert "Eyes covered" in words


def test_any_window_of_bench_dates_and_states_is_looked_at(morning: Morning) -> None:
    put(morning)
    longer = morning.see("/week?from=2026-11-23&to=2026-12-20&state=agreed").words
    assert "Weeks 48 to 51" in longer
    assert "agreed only" in longer
    assert "two blanks" in longer
    none = morning.see("/week?from=2026-11-23&to=2026-12-20&state=at the bench").words
    assert "needs no metal" in none
    for wrong in ("to=2026-01-01", "state=draft", "to=soon"):
        assert morning.see(f"/week?from=2026-12-01&{wrong}").status == 422


def test_programs_get_need_plan_and_shortfall(house: House, morning: Morning) -> None:
    whole = house.ask("GET", "/api/week?from=2026-12-01").json()
    assert (whole["plan"][0]["pieces"], len(whole["plan"][0]["unplaced"])) == ([], 2)
    assert [(one["width_mm"], one["blanks"], one["why"]) for one in whole["buy"]] == [
        (6.0, 1, "no stock"), (8.0, 1, "no stock"),
    ]  # fmt: skip
    assert sum(one["length_mm"] for one in whole["buy"]) == pytest.approx(
        sum(line["length_mm"] for line in whole["need"])
    )
    put(morning)
    whole = house.ask("GET", "/api/week?from=2026-12-01").json()
    (plan,) = whole["plan"]
    assert (plan["alloy"], plan["from"], plan["thickness_mm"], plan["proved"]) == (
        "silver-925", "strip", 1.5, True,
    )  # fmt: skip
    cut = [cut["blank"] for one in plan["pieces"] for strip in one["strips"] for cut in strip["cuts"]]
    assert sorted(cut) == ["2026-1/1", "2026-2/1"]
    assert whole["buy"] == []


def test_a_plan_reckons_with_the_blade_that_is_chosen_and_is_booked_with_it(morning: Morning) -> None:
    put(morning)
    page = morning.see("/week?from=2026-11-30&blade=6", Role.MAKER)
    assert "One saw cut takes 0.48 mm." in page.words
    way = "/week/cuts?from=2026-11-30&blade=6"
    assert morning.send(way, page.form(way).fields, Role.MAKER)[0] == 303
    with morning.book() as book:
        (below,) = [one for one in pieces(book) if one.measures.length_mm == 198]
    assert below.measures.width_mm == pytest.approx(24 - 8 - 6 - 2 * 0.48)
    assert morning.see("/week?blade=99").status == 422
