"""That the list of what runs on SQLite alone is true, and that nothing else does."""

from importlib import import_module
from pathlib import Path

import pytest

from tests.postgresql.both import OF_THE_FILE, POSTGRESQL, ROOMS, SQLITE, databases_of

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
    for room in ROOMS:
        assert (ROOT / room.rpartition(".")[2]).is_dir()
        assert databases_of(f"{room}.test_anything", "test_it") == (SQLITE, POSTGRESQL)
    assert databases_of("tests.book.test_backups", "test_it") == (SQLITE,)
    assert databases_of("tests.laws.test_prices", "test_it") == (SQLITE,)


def test_one_database_alone_is_looked_at_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.postgresql.both.ONLY", POSTGRESQL)
    assert databases_of("tests.web.test_week", "test_it") == (POSTGRESQL,)
    assert databases_of("tests.book.test_backups", "test_it") == (SQLITE,)
