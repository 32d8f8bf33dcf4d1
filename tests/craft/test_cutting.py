"""Cutting plans: first-fit by hand, plans that are known, and what is said of blanks without a place."""

import pickle
import subprocess
import sys

import pytest

from studio.craft.cutting import Blank, Offcut, Plan, Stock, WhyUnplaced, first_fit, plan
from tests.cutting import KERF_UM, check, one_width, several_widths, triplets, wire


def strips(made: Plan) -> list[tuple[str, list[tuple[int, list[int]]]]]:
    return [
        (piece.stock, [(strip.width_um, [cut.length_um for cut in strip.cuts]) for strip in piece.strips])
        for piece in made.pieces
    ]


def test_first_fit_takes_the_widest_then_the_longest_and_opens_the_smallest_piece() -> None:
    stock = [Stock("large", 200, 20), Stock("small", 100, 12)]
    blanks = [Blank("a", 40, 5), Blank("b", 90, 6), Blank("c", 50, 5), Blank("d", 95, 5)]
    made = first_fit(stock, blanks, 1)
    check(made, stock, blanks, 1)
    assert strips(made) == [("large", [(5, [50, 40])]), ("small", [(6, [90]), (5, [95])])]


def test_a_kerf_lies_between_neighbours_and_none_at_the_edge() -> None:
    stock = [Stock("bar", 122, 4)]
    blanks = [Blank("a", 40, 4, 3)]
    assert plan(stock, blanks, 1).is_proved
    assert plan(stock, blanks, 1).unplaced == ()
    assert [one.why for one in plan([Stock("bar", 121, 4)], blanks, 1).unplaced] == [WhyUnplaced.NO_ROOM]


def test_less_than_a_kerf_left_over_is_lost_and_more_is_an_offcut() -> None:
    made = plan([Stock("sheet", 100, 20)], [Blank("a", 60, 8, 2)], 3)
    assert strips(made) == [("sheet", [(8, [60]), (8, [60])])]
    assert made.pieces[0].offcuts == (Offcut(37, 8), Offcut(37, 8))
    made = plan([Stock("sheet", 62, 20)], [Blank("a", 60, 8)], 3)
    assert made.pieces[0].offcuts == (Offcut(62, 9),)


def test_a_blank_that_may_turn_lies_across_where_that_saves_a_piece() -> None:
    stock = [Stock("sheet", 60, 50), Stock("long", 100, 50)]
    blanks = [Blank("a", 60, 20), Blank("b", 50, 29, 1, may_turn=True)]
    made = plan(stock, blanks, 1)
    check(made, stock, blanks, 1)
    assert [piece.stock for piece in made.pieces] == ["sheet"]
    assert made.is_proved
    turned = plan([Stock("sheet", 30, 50)], [Blank("b", 50, 30, 1, may_turn=True)], 1)
    assert turned.pieces[0].strips[0].cuts[0].is_turned
    assert plan([Stock("sheet", 30, 50)], [Blank("b", 50, 30)], 1).unplaced


def test_an_offcut_goes_before_a_fresh_piece_of_its_size() -> None:
    stock = [Stock("fresh", 100, 10), Stock("old", 100, 10, 1, is_offcut=True)]
    assert plan(stock, [Blank("a", 60, 10)], 1).pieces[0].stock == "old"


def test_where_not_all_go_in_the_earlier_in_the_list_are_placed() -> None:
    stock = [Stock("bar", 100, 4)]
    blanks = [Blank("late", 30, 4), Blank("long", 95, 4), Blank("a", 50, 4), Blank("b", 45, 4)]
    made = plan(stock, blanks, 1)
    assert [(one.blank, one.why) for one in made.unplaced] == [
        ("long", WhyUnplaced.NO_ROOM),
        ("b", WhyUnplaced.NO_ROOM),
    ]
    assert made.is_proved


@pytest.mark.parametrize(
    ("blank", "why"),
    [
        (Blank("a", 150, 5), WhyUnplaced.TOO_LONG),
        (Blank("a", 50, 25), WhyUnplaced.TOO_WIDE),
        (Blank("a", 90, 15), WhyUnplaced.TOO_LARGE),
    ],
    ids=["too long", "too wide", "too large"],
)
def test_a_blank_that_goes_into_no_piece_is_told_why(blank: Blank, why: WhyUnplaced) -> None:
    made = plan([Stock("long", 100, 10), Stock("wide", 40, 20)], [blank], 1)
    assert [one.why for one in made.unplaced] == [why]
    assert (made.pieces, made.opened_area_um2, made.is_proved, made.gap) == ((), 0, True, 0.0)


def test_nothing_asked_for_opens_nothing() -> None:
    assert plan([Stock("bar", 100, 4)], [], 1).is_proved
    assert first_fit([], [Blank("a", 10, 4)], 1).unplaced[0].why is WhyUnplaced.NO_STOCK


@pytest.mark.parametrize("size", [(0, 4, 1), (100, 0, 1), (100, 4, 0), (-1, 4, 1)])
def test_sizes_and_counts_are_above_zero(size: tuple[int, int, int]) -> None:
    with pytest.raises(ValueError, match="above zero"):
        Stock("bar", *size)
    with pytest.raises(ValueError, match="above zero"):
        Blank("a", *size)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_sixty_blanks_of_one_width_are_proved(seed: int) -> None:
    stock, blanks = one_width(60, seed)
    made = plan(stock, blanks, KERF_UM, seconds=20)
    check(made, stock, blanks, KERF_UM)
    assert made.is_proved


def test_sixty_wires_are_proved() -> None:
    stock, blanks = wire(60, 1)
    made = plan(stock, blanks, KERF_UM, seconds=20)
    check(made, stock, blanks, KERF_UM)
    assert made.is_proved


@pytest.mark.parametrize(("count", "pieces", "share", "seed"), [(15, 8, 1.6, 4), (20, 20, 3.0, 4)])
def test_a_few_blanks_of_several_widths_are_proved(count: int, pieces: int, share: float, seed: int) -> None:
    stock, blanks = several_widths(count, pieces, seed, share)
    made = plan(stock, blanks, KERF_UM, seconds=30)
    check(made, stock, blanks, KERF_UM)
    assert made.is_proved


def test_plans_come_one_after_the_other_each_better_and_first_fit_at_once() -> None:
    stock, blanks = several_widths(15, 8, 4)
    told: list[Plan] = []
    last = plan(stock, blanks, KERF_UM, seconds=20, progress=told.append)
    for made in told:
        check(made, stock, blanks, KERF_UM)
    areas = [made.opened_area_um2 for made in told]
    assert areas[0] <= first_fit(stock, blanks, KERF_UM).opened_area_um2
    assert areas == sorted(areas, reverse=True)
    assert last.opened_area_um2 == areas[-1] < areas[0]


def test_a_search_that_is_stopped_gives_what_it_has() -> None:
    stock, blanks = several_widths(60, 20, 3)
    made = plan(stock, blanks, KERF_UM, seconds=60, stop=lambda: True)
    check(made, stock, blanks, KERF_UM)
    assert made.opened_area_um2 <= first_fit(stock, blanks, KERF_UM).opened_area_um2
    assert not made.is_proved


def test_the_same_task_gives_the_same_plan() -> None:
    stock, blanks = several_widths(15, 8, 6)
    assert plan(stock, blanks, KERF_UM, seconds=30) == plan(stock, blanks, KERF_UM, seconds=30)


def test_a_plan_travels_between_processes() -> None:
    stock, blanks = one_width(8, 2)
    made = plan(stock, blanks, KERF_UM)
    assert pickle.loads(pickle.dumps((stock, blanks, made))) == (stock, blanks, made)  # noqa: S301  our own


def test_the_solver_is_loaded_by_the_first_plan_that_needs_it() -> None:
    asked = "import sys, studio.craft.cutting; print({'highspy', 'numpy'} & set(sys.modules))"
    assert subprocess.check_output([sys.executable, "-c", asked], text=True).strip() == "set()"


def test_thirty_blanks_in_tight_threes_are_cut_without_a_rest() -> None:
    stock, blanks = triplets(30, 1)
    made = plan(stock, blanks, KERF_UM, seconds=20)
    check(made, stock, blanks, KERF_UM)
    assert (len(made.pieces), made.is_proved) == (10, True)


def test_a_crowd_of_several_widths_is_mended_until_all_lie_in_less_metal() -> None:
    stock, blanks = several_widths(400, 20, 3)
    first = first_fit(stock, blanks, KERF_UM)
    for seconds in (6.0, 40.0):  # a machine that does much else at once needs longer for the same
        made = plan(stock, blanks, KERF_UM, seconds=seconds)
        if made.opened_area_um2 < first.opened_area_um2:
            break
    check(made, stock, blanks, KERF_UM)
    assert (made.unplaced, first.unplaced) == ((), ())
    assert made.opened_area_um2 < 0.97 * first.opened_area_um2
