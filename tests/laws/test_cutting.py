"""Nothing overlaps, no blank twice, no area lost, never behind first-fit, and the best way for a few."""

from hypothesis import given, settings
from hypothesis import strategies as st

from studio.craft.cutting import Blank, Stock, first_fit, plan
from tests.cutting import best, check, placed

KERFS = st.integers(0, 3)
WIDTHS = st.sampled_from([3, 4, 6, 8])


@st.composite
def stocks(draw: st.DrawFn, most: int, most_count: int = 1) -> list[Stock]:
    sizes = st.tuples(st.integers(20, 60), st.integers(4, 24), st.integers(1, most_count), st.booleans())
    return [
        Stock(f"s{at}", long, wide, count, is_offcut=is_offcut)
        for at, (long, wide, count, is_offcut) in enumerate(draw(st.lists(sizes, min_size=1, max_size=most)))
    ]


@st.composite
def blank_lists(draw: st.DrawFn, most: int, most_count: int = 1) -> list[Blank]:
    sizes = st.tuples(st.integers(8, 30), WIDTHS, st.integers(1, most_count), st.booleans())
    return [
        Blank(f"b{at}", long, wide, count, may_turn)
        for at, (long, wide, count, may_turn) in enumerate(draw(st.lists(sizes, min_size=1, max_size=most)))
    ]


@settings(max_examples=120)
@given(stocks(3), blank_lists(5), KERFS)
def test_the_plan_of_a_few_is_the_best_of_all_that_can_be_tried(
    stock: list[Stock], blanks: list[Blank], kerf: int
) -> None:
    made = plan(stock, blanks, kerf)
    check(made, stock, blanks, kerf)
    assert made.is_proved
    assert (placed(made, blanks), made.opened_area_um2) == best(stock, blanks, kerf)


@settings(max_examples=25)
@given(stocks(4), blank_lists(7).filter(lambda blanks: len(blanks) > 6), KERFS)
def test_what_the_solver_proves_is_the_best_of_all_that_can_be_tried(
    stock: list[Stock], blanks: list[Blank], kerf: int
) -> None:
    made = plan(stock, blanks, kerf, seconds=30)
    check(made, stock, blanks, kerf)
    assert made.is_proved
    assert (placed(made, blanks), made.opened_area_um2) == best(stock, blanks, kerf)


@settings(max_examples=40)
@given(stocks(5, 3), blank_lists(8, 3), KERFS)
def test_no_plan_falls_behind_first_fit(stock: list[Stock], blanks: list[Blank], kerf: int) -> None:
    made, plain = plan(stock, blanks, kerf, seconds=2), first_fit(stock, blanks, kerf)
    check(made, stock, blanks, kerf)
    check(plain, stock, blanks, kerf)
    ours, theirs = placed(made, blanks), placed(plain, blanks)
    assert len(ours) >= len(theirs)
    if len(ours) == len(theirs):
        assert ours <= theirs
    if ours == theirs:
        assert made.opened_area_um2 <= plain.opened_area_um2


@settings(max_examples=40)
@given(stocks(3), blank_lists(6), stocks(1), KERFS)
def test_more_stock_never_places_fewer(
    stock: list[Stock], blanks: list[Blank], more: list[Stock], kerf: int
) -> None:
    added = Stock("more", more[0].length_um, more[0].width_um)
    before, after = plan(stock, blanks, kerf), plan([*stock, added], blanks, kerf)
    assert len(placed(after, blanks)) >= len(placed(before, blanks))
