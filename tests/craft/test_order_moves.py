"""The table of moves, and who may do what."""

import pytest

from studio.craft.orders import MOVES, State, move_between, moves_from
from studio.craft.roles import Right, Role, may

UNDO_OF_EVERY_DAY = [
    (State.QUOTED, State.DRAFT),
    (State.AGREED, State.QUOTED),
    (State.AT_THE_BENCH, State.AGREED),
    (State.READY, State.AT_THE_BENCH),
    (State.HANDED_OVER, State.READY),
    (State.CALLED_OFF, State.DRAFT),
]


def test_no_row_leads_forward_to_quoted_or_agreed() -> None:
    forward = {move.end for move in MOVES if not move.is_step_back}
    assert forward == {State.AT_THE_BENCH, State.READY, State.HANDED_OVER, State.CALLED_OFF}


@pytest.mark.parametrize(("start", "end"), UNDO_OF_EVERY_DAY, ids=str)
def test_every_step_can_be_taken_back(start: State, end: State) -> None:
    move = move_between(start, end)
    assert move is not None
    assert move.is_step_back


def test_forward_moves_are_offered_first() -> None:
    for state in State:
        back = [move.is_step_back for move in moves_from(state)]
        assert back == sorted(back)


MONEY = (Right.SEE_PRICE, Right.SEE_COST, Right.KEEP_RATES, Right.QUOTE, Right.AGREE)


@pytest.mark.parametrize(
    ("role", "has"),
    [
        (Role.OWNER, set(MONEY)),
        (Role.COUNTER, {Right.SEE_PRICE, Right.QUOTE, Right.AGREE}),
        (Role.MAKER, set()),
    ],
    ids=["owner", "counter", "maker"],
)
def test_a_maker_sees_no_price_and_only_the_owner_what_it_is_made_of(role: Role, has: set[Right]) -> None:
    assert {right for right in MONEY if may(role, right)} == has
