"""The states of an order and the moves between them, as one table."""

from dataclasses import dataclass
from enum import StrEnum


class State(StrEnum):
    """How far an order has come."""

    DRAFT = "draft"
    QUOTED = "quoted"
    AGREED = "agreed"
    AT_THE_BENCH = "at the bench"
    READY = "ready"
    HANDED_OVER = "handed over"
    CALLED_OFF = "called off"


BEFORE_AGREEMENT = frozenset({State.DRAFT, State.QUOTED})
COUNTED_FOR_THE_WEEK = frozenset({State.AGREED, State.AT_THE_BENCH})
"""Orders whose rings need metal: agreed or at the bench."""
AMENDABLE = frozenset({State.AGREED, State.AT_THE_BENCH, State.READY})
"""Orders whose agreement an amendment can still change: agreed, and not handed over or called off."""


@dataclass(frozen=True, slots=True)
class Move:
    """One way from a state to another.

    `verb` is what the button says; `is_step_back` marks the undoing of an everyday move; a move that
    `needs_reason` is refused without one.
    """

    start: State
    end: State
    verb: str
    is_step_back: bool = False
    needs_reason: bool = False


# No row leads forward to quoted or agreed: an order is quoted by a quote, and agreed by the yes to it alone.
MOVES: tuple[Move, ...] = (
    Move(State.AGREED, State.AT_THE_BENCH, "Give it to the bench"),
    Move(State.AT_THE_BENCH, State.READY, "Mark it ready"),
    Move(State.READY, State.HANDED_OVER, "Hand it over"),
    Move(State.DRAFT, State.CALLED_OFF, "Call it off", needs_reason=True),
    Move(State.QUOTED, State.CALLED_OFF, "Call it off", needs_reason=True),
    Move(State.AGREED, State.CALLED_OFF, "Call it off", needs_reason=True),
    Move(State.AT_THE_BENCH, State.CALLED_OFF, "Call it off", needs_reason=True),
    Move(State.READY, State.CALLED_OFF, "Call it off", needs_reason=True),
    Move(State.QUOTED, State.DRAFT, "Take the quote back", is_step_back=True),
    Move(State.AGREED, State.QUOTED, "Take the yes back", is_step_back=True, needs_reason=True),
    Move(State.AT_THE_BENCH, State.AGREED, "Take it back from the bench", is_step_back=True),
    Move(State.READY, State.AT_THE_BENCH, "Put it back on the bench", is_step_back=True),
    Move(State.HANDED_OVER, State.READY, "Take it back in", is_step_back=True, needs_reason=True),
    Move(State.CALLED_OFF, State.DRAFT, "Take it up again", is_step_back=True),
)


def moves_from(state: State) -> tuple[Move, ...]:
    """The moves open to an order in `state`, forward ones first."""
    return tuple(sorted((m for m in MOVES if m.start is state), key=lambda move: move.is_step_back))


def move_between(start: State, end: State) -> Move | None:
    """The move from `start` to `end`, or None where the table has none."""
    return next((move for move in MOVES if move.start is start and move.end is end), None)
