"""What is owed of an order called off after the yes, by the studio's own table."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.calling_off import MetalTo, Settlement, Stage, metal_goes_to, settled, stage_of
from studio.craft.orders import State

MONEY = st.integers(0, 10**9)


def test_the_worked_example() -> None:
    found = settled(Stage.AGREED, {Stage.AGREED: Decimal(10)}, total_minor=136_800, paid_minor=54_720)
    assert found == Settlement(136_800, 54_720, 13_680)
    assert (found.returned_minor, found.left_minor) == (41_040, 0)


@pytest.mark.parametrize(
    ("state", "are_cut", "stage"),
    [
        (State.DRAFT, (), None),
        (State.QUOTED, (), None),
        (State.AGREED, (False, False), Stage.AGREED),
        (State.AGREED, (False, True), Stage.CUT),
        (State.AT_THE_BENCH, (False,), Stage.AT_THE_BENCH),
        (State.AT_THE_BENCH, (True,), Stage.AT_THE_BENCH),
        (State.READY, (True,), Stage.READY),
        (State.HANDED_OVER, (True,), None),
        (State.CALLED_OFF, (True,), None),
    ],
)
def test_the_stage_is_how_far_the_work_had_come(
    state: State, are_cut: tuple[bool, ...], stage: Stage | None
) -> None:
    assert stage_of(state, are_cut) is stage


def test_a_stage_the_table_says_nothing_of_is_not_settled() -> None:
    assert settled(Stage.READY, {Stage.AGREED: Decimal(10)}, total_minor=100, paid_minor=0) is None
    assert settled(Stage.READY, {Stage.READY: None}, total_minor=100, paid_minor=0) is None


def test_a_blank_goes_back_while_nothing_bent_it() -> None:
    assert [metal_goes_to(stage) for stage in Stage] == [
        MetalTo.DRAWER,
        MetalTo.DRAWER,
        MetalTo.SCRAP,
        MetalTo.SCRAP,
    ]


@given(total=MONEY, paid=MONEY, percent=st.decimals(0, 100, places=2))
def test_what_was_paid_less_what_goes_back_and_with_what_is_left_is_what_is_owed(
    total: int, paid: int, percent: Decimal
) -> None:
    found = settled(Stage.CUT, {Stage.CUT: percent}, total_minor=total, paid_minor=paid)
    assert found is not None
    assert 0 <= found.owed_minor <= total
    assert paid - found.returned_minor + found.left_minor == found.owed_minor
    assert 0 in {found.returned_minor, found.left_minor}
