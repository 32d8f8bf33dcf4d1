"""Whatever a program sends, as whoever: no fault of ours, an answer as described, nothing told too much."""

from collections.abc import Iterator

import pytest

from studio.craft.roles import Role
from tests.fuzz.answers import rights_of
from tests.fuzz.description import Operation, closed, operations, rights, takes_something
from tests.fuzz.playing import Play, Way

ONE, FEW, SOME = 1, 2, 4
"""How many requests of each kind: of whoever is turned away at the door, of papers, which are slow to make,
and of all else; `python -m tests.fuzz` sends as many as asked."""


@pytest.fixture(scope="module")
def play(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Play]:
    with Play(tmp_path_factory.mktemp("played")) as opened:
        yield opened


def count(operation: Operation, role: Role | None) -> int:
    if not rights(closed(), operation) <= rights_of(role):
        return ONE
    return SOME if operation[0].startswith("/api/") else FEW


@pytest.mark.parametrize("role", [*Role, None], ids=lambda role: str(role or "nobody"))
@pytest.mark.parametrize("operation", operations(), ids=lambda one: f"{one[1]} {one[0]}")
def test_whatever_is_sent_is_answered_as_described(
    play: Play, operation: Operation, role: Role | None
) -> None:
    ways = [way for way in Way if way is not Way.NOT_AS_DESCRIBED or takes_something(closed(), operation)]
    for way in ways:
        play.play(operation, role, way, most=count(operation, role))
    if rights(play.document, operation) <= rights_of(role):
        done = sum(
            times for (asked, by, status), times in play.seen.items()
            if asked == operation and by is role and status < 300
        )  # fmt: skip
        assert done > 0, "nothing came through to what the operation does"
