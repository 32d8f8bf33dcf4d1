"""What customers' goods are worth together, and what passes the insured limit."""

from hypothesis import given
from hypothesis import strategies as st

from studio.craft.custody import Exposure, exposure
from studio.craft.goods import shows

VALUES = st.lists(st.none() | st.integers(0, 10_000_000), max_size=12)


def test_the_worked_example_of_the_rule() -> None:
    found = exposure([80_000, None, 45_000], 100_000)
    assert found == Exposure(125_000, 1, 100_000)
    assert found.over_minor == 25_000


def test_without_a_limit_nothing_is_over_it() -> None:
    assert exposure([10**9]).over_minor == 0


@given(VALUES, VALUES, st.none() | st.integers(0, 10_000_000))
def test_more_goods_are_worth_the_sum_and_only_a_higher_limit_helps(
    some: list[int | None], more: list[int | None], limit: int | None
) -> None:
    both = exposure(some + more, limit)
    assert both.held_minor == exposure(some).held_minor + exposure(more).held_minor
    assert both.without_value == exposure(some).without_value + exposure(more).without_value
    assert both.over_minor >= exposure(some, limit).over_minor
    assert exposure(some + more, both.held_minor).over_minor == 0


def test_a_picture_shows_the_line_that_its_note_names() -> None:
    assert shows("Chip at the girdle, 2026-118-r1/2", "2026-118-r1/2")
    assert not shows("2026-118-r1/21", "2026-118-r1/2")
