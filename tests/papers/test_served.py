"""The papers of a server that runs as it does in a studio."""

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

from studio.book.engine import open_book, session
from studio.book.people import PROGRAM
from studio.book.tokens import make_token
from studio.clock import now as this_moment
from studio.craft.roles import Role
from tests.founding import found_book
from tests.papers.printed import text_of
from tests.papers.processes import is_there, wait_until, workers_of
from tests.running import Served, a_served_book

PATIENCE_S = 120.0


@contextmanager
def a_studio(home: Path) -> Iterator[tuple[Served, httpx.Client]]:
    """A served book, and somebody who may print."""
    engine = open_book(f"sqlite:///{home / 'book.db'}")
    found_book(engine)
    with session(engine) as book:
        token = make_token(book, name="bench", role=Role.MAKER, actor=PROGRAM, now=this_moment())
    engine.dispose()
    headers = {"Authorization": f"Bearer {token}"}
    with (
        a_served_book(home, says="This book has no owner yet") as served,
        httpx.Client(base_url=served.base_url, headers=headers, timeout=PATIENCE_S) as maker,
    ):
        yield served, maker


def test_a_server_prints_with_two_workers_and_outlives_their_end(tmp_path: Path) -> None:
    with a_studio(tmp_path) as (served, maker):
        first = maker.get("/week/papers.pdf")
        assert first.status_code == 200
        assert "No bench sheets this week" in text_of(first.content)
        wait_until(lambda: len(workers_of(served.process.pid)) == 2)
        before = workers_of(served.process.pid)
        for worker in before:
            os.kill(worker, signal.SIGKILL)
        told = [maker.get("/week/papers.pdf") for _ in range(3)]
        assert {answer.status_code for answer in told} <= {200, 503}
        for answer in told:
            if answer.status_code == 503:
                assert "The paper was interrupted" in answer.json()["errors"][0]["message"]
        assert told[-1].content == first.content
        assert not set(workers_of(served.process.pid)) & set(before)


@pytest.mark.parametrize("ending", [signal.SIGTERM, signal.SIGINT], ids=["terminate", "interrupt"])
def test_a_server_that_is_told_to_end_takes_its_workers_along_in_silence(
    tmp_path: Path, ending: signal.Signals
) -> None:
    with a_studio(tmp_path) as (served, maker):
        assert maker.get("/week/papers.pdf").status_code == 200
        workers = workers_of(served.process.pid)
        assert workers
        served.process.send_signal(ending)
        assert served.process.wait(PATIENCE_S) == 0
        assert served.process.stderr is not None
        assert served.process.stderr.read() == ""
        assert not any(is_there(worker) for worker in workers)


def test_the_workers_of_a_killed_server_end_by_themselves(tmp_path: Path) -> None:
    with a_studio(tmp_path) as (served, maker):
        assert maker.get("/week/papers.pdf").status_code == 200
        workers = workers_of(served.process.pid)
        assert workers
        served.process.kill()
        served.process.wait(PATIENCE_S)
        wait_until(lambda: not any(is_there(worker) for worker in workers))


def test_a_server_told_to_end_at_once_leaves_no_worker_that_just_starts(tmp_path: Path) -> None:
    with a_studio(tmp_path) as (served, _):
        wait_until(lambda: len(workers_of(served.process.pid)) == 2)
        workers = workers_of(served.process.pid)
        served.process.terminate()
        assert served.process.wait(PATIENCE_S) == 0
        assert served.process.stderr is not None
        assert served.process.stderr.read() == ""
        wait_until(lambda: not any(is_there(worker) for worker in workers))
