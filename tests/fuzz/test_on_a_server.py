"""The same play with the book in a server, by the owner, who comes everywhere; it takes less than a file."""

from collections.abc import Iterator

import pytest

from studio.craft.roles import Role
from tests.fuzz.description import Operation, operations, takes_something
from tests.fuzz.playing import Play, Way
from tests.postgresql.server import Server

FEW, SOME = 1, 6
"""How many requests of each kind, papers are slow; `python -m tests.fuzz --database postgresql` sends any."""


@pytest.fixture(scope="module")
def play(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Play]:
    with Play(tmp_path_factory.mktemp("played-on-a-server"), server) as opened:
        yield opened


@pytest.mark.parametrize("operation", operations(), ids=lambda one: f"{one[1]} {one[0]}")
def test_whatever_is_sent_is_answered_as_described_from_a_server(play: Play, operation: Operation) -> None:
    most = SOME if operation[0].startswith("/api/") else FEW
    for way in Way:
        if way is not Way.NOT_AS_DESCRIBED or takes_something(play.document, operation):
            play.play(operation, Role.OWNER, way, most=most)
    answered = {status for (asked, _, status), times in play.seen.items() if times and asked == operation}
    assert min(answered) < 300, "nothing came through to what the operation does"
