"""That the list of what runs on SQLite alone is true, and that nothing else does."""

from importlib import import_module
from pathlib import Path

import pytest

from tests.postgresql.both import (
    OF_THE_FILE,
    PAGES,
    PAGES_ON_BOTH,
    POSTGRESQL,
    ROOMS,
    SQLITE,
    databases_of,
)

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("name", sorted(OF_THE_FILE))
def test_the_list_names_what_is_there(name: str) -> None:
    assert OF_THE_FILE[name]
    room, _, last = name.rpartition(".")
    if last.startswith("test_") and room not in ROOMS:
        assert callable(getattr(import_module(room), last))
    else:
        assert import_module(name).__name__ == name


def test_every_room_runs_on_both_but_for_the_list(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.postgresql.both.ONLY", "")
    for room in ROOMS - {PAGES}:
        assert (ROOT / room.rpartition(".")[2]).is_dir()
        assert databases_of(f"{room}.test_anything", "test_it") == (SQLITE, POSTGRESQL)
    assert databases_of("tests.book.test_backups", "test_it") == (SQLITE,)
    assert databases_of("tests.laws.test_prices", "test_it") == (SQLITE,)


def test_the_pages_run_on_one_database_each_about_half_here_and_half_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("tests.postgresql.both.ONLY", "")
    for module in PAGES_ON_BOTH:
        assert databases_of(import_module(module).__name__, "test_it") == (SQLITE, POSTGRESQL)
    tests = [
        (f"{PAGES}.{path.stem}", line.removeprefix("def ").partition("(")[0])
        for path in sorted((ROOT / "web").glob("test_*.py"))
        for line in path.read_text("utf-8").splitlines()
        if line.startswith("def test_") and f"{PAGES}.{path.stem}" not in PAGES_ON_BOTH
    ]
    where = [databases_of(*test) for test in tests]
    assert set(where) == {(SQLITE,), (POSTGRESQL,)}
    assert 0.4 < where.count((POSTGRESQL,)) / len(where) < 0.6


def test_one_database_alone_is_looked_at_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.postgresql.both.ONLY", POSTGRESQL)
    assert databases_of("tests.web.test_week", "test_it") == (POSTGRESQL,)
    assert databases_of("tests.book.test_backups", "test_it") == (SQLITE,)
