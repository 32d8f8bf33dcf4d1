"""The commands for a book in a server: what they do there, and what they leave to the server's own tools."""

from pathlib import Path

import pytest

from studio.book.engine import open_book
from studio.book.schema import head_revision, revision
from studio.cli import main


@pytest.fixture
def nowhere(tmp_path: Path) -> str:
    """The address of a server that is not there, with a password in it."""
    return f"postgresql://studio:heron-under-the-bridge@/book?host={tmp_path}"


def use(monkeypatch: pytest.MonkeyPatch, url: str, tmp_path: Path) -> None:
    """Let the settings name this book, and a folder that is not there."""
    monkeypatch.setenv("STUDIO_DATABASE_URL", url)
    monkeypatch.setenv("STUDIO_HOME", str(tmp_path / "home"))


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def test_an_empty_database_is_migrated_and_lets_people_in(
    empty_database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    use(monkeypatch, empty_database, tmp_path)
    main(["migrate"])
    assert capsys.readouterr().out == f"The book was at revision none and is at {head_revision()}.\n"
    engine = open_book(empty_database)
    assert revision(engine) == head_revision()
    engine.dispose()
    main(["user", "add", "Asta", "--role", "maker"])
    assert "http://127.0.0.1:8321/enter/" in capsys.readouterr().out
    main(["token", "the scale", "--role", "counter"])
    assert len(capsys.readouterr().out.splitlines()[-1]) == 43
    main(["user", "end", "Asta"])
    assert capsys.readouterr().out == "Asta signs in no more.\n"


def test_a_sound_book_is_told_to_be_sound(
    server_book_url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    use(monkeypatch, server_book_url, tmp_path)
    main(["check"])
    out = capsys.readouterr().out
    assert "well  PostgreSQL " in out
    assert f"well  revision {head_revision()}, the program's is {head_revision()}" in out
    assert "well  pages and references are sound" in out
    assert "disk" not in out


def test_rows_that_point_nowhere_are_found(
    server_book_url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    use(monkeypatch, server_book_url, tmp_path)
    engine = open_book(server_book_url)
    with engine.begin() as careless:
        careless.exec_driver_sql("SET LOCAL session_replication_role = replica")
        careless.exec_driver_sql(
            "INSERT INTO fingers (customer_id, system, label, circumference_um, taken_at) "
            "VALUES (99, 'uk', 'O', 55000, '2026-11-25')"
        )
    engine.dispose()
    with pytest.raises(SystemExit) as left:
        main(["check"])
    assert left.value.code == 1
    assert "WRONG a row of fingers points to a missing row of customers" in capsys.readouterr().out


def test_a_copy_is_left_to_the_servers_own_tool(
    server_book_url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    use(monkeypatch, server_book_url, tmp_path)
    told = refused(capsys, "backup", str(tmp_path / "copy.db"))
    assert told == "A book in a database server is copied with that server's tool, such as pg_dump.\n"
    assert not (tmp_path / "copy.db").exists()


@pytest.mark.parametrize("command", ["check", "migrate", "serve --port 0", "token scale --role maker"])
def test_a_server_that_is_not_there_is_told_without_the_password(
    nowhere: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    command: str,
) -> None:
    use(monkeypatch, nowhere, tmp_path)
    told = refused(capsys, *command.split())
    assert told.startswith("The book cannot be opened: connection ")
    assert "heron" not in told
