"""The command line, as somebody types it."""

import re
import shutil
import socket
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from pathlib import Path

import httpx
import pytest

from studio.book.engine import open_book
from studio.book.schema import head_revision, revision
from studio.cli import main
from studio.serving import listening
from tests.running import a_running_demo, environment, free_port

ROOT = Path(__file__).resolve().parent.parent
LINK = re.compile(r"http://127\.0\.0\.1:\d+/enter/[\w-]{43}")


@pytest.fixture
def home(founded_book: Path, tmp_path: Path) -> Path:
    """A folder with a book that nobody serves."""
    shutil.copy(founded_book, tmp_path / "book.db")
    return tmp_path


@contextmanager
def started(*arguments: str, cwd: Path, **settings: str) -> Iterator[subprocess.Popen[str]]:
    """A command running as a process of its own, ended afterwards."""
    with subprocess.Popen(
        [sys.executable, "-m", "studio", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment(str(ROOT)) | settings,
        cwd=cwd,
    ) as process:
        try:
            yield process
        finally:
            process.terminate()
            process.wait(15)


def next_line(process: subprocess.Popen[str], seconds: float = 30) -> str:
    """The next line it prints, without waiting for ever."""
    assert process.stdout is not None
    with ThreadPoolExecutor(1) as reader:
        line = reader.submit(process.stdout.readline)
        try:
            return line.result(seconds).strip()
        except TimeoutError:
            process.kill()  # ends the reading, and with it the wait for its thread
            raise


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that cannot be done says, on standard error."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def test_a_demo_answers_soon_and_its_link_signs_the_owner_in(tmp_path: Path) -> None:
    with a_running_demo(tmp_path / "demo", str(ROOT)) as demo:
        # Three to five seconds on a machine with nothing else to do; here every core runs tests.
        assert demo.seconds_to_answer < 30
        health = httpx.get(f"{demo.base_url}/health")
        assert (health.status_code, health.json()) == (200, {"status": "ok"})
        with httpx.Client(follow_redirects=True) as browser:
            entered = browser.get(demo.enter_url)
            assert entered.status_code == 200
            assert "Maren" in entered.text
            assert browser.get(f"{demo.base_url}/orders").status_code == 200
        assert httpx.get(f"{demo.base_url}/orders").status_code == 303
        counter = {"Authorization": f"Bearer {demo.token('counter')}"}
        listed = httpx.get(f"{demo.base_url}/api/orders?limit=200", headers=counter)
        assert len(listed.json()["items"]) >= 60
        wrong = httpx.get(f"{demo.base_url}/api/orders", headers={"Authorization": "Bearer nonsense"})
        assert wrong.status_code == 401


def test_a_demo_prints_one_line_and_tidies_up(tmp_path: Path) -> None:
    with started("demo", cwd=tmp_path, TMPDIR=str(tmp_path), STUDIO_PORT=str(free_port())) as process:
        line = next_line(process)
        assert re.fullmatch(f"Open {LINK.pattern}", line)
        (folder,) = tmp_path.glob("shankwright-demo-*")
        address = line.split()[1].split("/enter")[0]
        assert (folder / "served-at").read_text() == address
        assert httpx.get(f"{address}/health").status_code == 200
        process.terminate()
        out, err = process.communicate(timeout=15)
    assert (out, err, process.returncode) == ("", "", 0)
    assert list(tmp_path.glob("shankwright-demo-*")) == []


def test_a_demo_does_not_touch_a_book_that_is_there(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (home / "book.db").read_bytes()
    assert "holds a book already" in refused(capsys, "demo", "--home", str(home), "--port", "0")
    assert (home / "book.db").read_bytes() == before


def test_a_port_that_is_asked_for_and_taken_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as other:
        port = other.getsockname()[1]
        said = refused(capsys, "demo", "--home", str(tmp_path / "demo"), "--port", str(port))
        assert f"Port {port}" in said
        with listening("127.0.0.1", port, may_move=True) as moved:
            assert moved.getsockname()[1] != port


def test_the_first_start_makes_the_book_and_lets_the_owner_in(tmp_path: Path) -> None:
    home = tmp_path / "new" / "studio"
    arguments = ("serve", "--home", str(home), "--port", "0")
    with started(*arguments, cwd=tmp_path) as process:
        assert "works once" in next_line(process)
        link = LINK.search(next_line(process))
        assert link is not None
        shown = httpx.get(link[0])
        assert shown.status_code == 200
        assert "passphrase" in shown.text.lower()
    assert (home / "book.db").stat().st_mode & 0o077 == 0
    with started(*arguments, cwd=tmp_path) as process:
        next_line(process)
        again = LINK.search(next_line(process))
        assert again is not None
        assert again[0] != link[0]


def test_a_book_with_an_owner_is_served_without_a_link(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(sqlite3.connect(home / "book.db")) as book:
        book.execute("UPDATE users SET passphrase_hash = 'set' WHERE role = 'owner'")
        book.commit()
    with started("serve", "--home", str(home), "--port", "0", cwd=home) as process:
        line = next_line(process)
        assert re.fullmatch(r"Listening on http://127\.0\.0\.1:\d+", line)
        address = line.removeprefix("Listening on ")
        main(["user", "enter", "ivo", "--home", str(home)])
        assert capsys.readouterr().out.splitlines()[-1].startswith(f"{address}/enter/")


def test_listening_wider_is_refused_before_anything_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("STUDIO_HOST", "::")
    said = refused(capsys, "serve", "--home", str(tmp_path / "studio"))
    assert "STUDIO_SECRET" in said
    assert "STUDIO_TLS" in said
    assert not (tmp_path / "studio").exists()


def test_a_mistyped_setting_stops_every_command(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("STUDIO_PROT", "1")
    for command in (["demo"], ["serve"], ["check"], ["token", "t", "--role", "owner"]):
        assert "Did you mean STUDIO_PORT?" in refused(capsys, *command, "--home", str(home))


def test_a_token_stands_alone_on_the_last_line(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["token", "till", "--role", "maker", "--home", str(home)])
    assert re.fullmatch(r"[\w-]{43}", capsys.readouterr().out.splitlines()[-1])


def test_somebody_new_gets_a_link_and_a_taken_name_is_told(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["user", "add", "Asta", "--role", "maker", "--home", str(home)])
    assert LINK.fullmatch(capsys.readouterr().out.splitlines()[-1])
    assert "There is a user asta already." in refused(
        capsys, "user", "add", "asta", "--role", "maker", "--home", str(home)
    )
    assert "Nobody called Osk works here." in refused(capsys, "user", "enter", "Osk", "--home", str(home))


def test_somebody_who_left_gets_no_link_any_more(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["user", "add", "Asta", "--role", "maker", "--home", str(home)])
    main(["user", "end", "asta", "--home", str(home)])
    assert "Asta signs in no more." in capsys.readouterr().out
    assert "Nobody called Asta works here." in refused(capsys, "user", "enter", "Asta", "--home", str(home))


@pytest.mark.parametrize("command", [["token", "t", "--role", "owner"], ["backup", "copy.db"], ["migrate"]])
def test_a_folder_without_a_book_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    assert "no book" in refused(capsys, *command, "--home", str(tmp_path))
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_role_or_command_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (["token", "t", "--role", "king"], ["dance"], [], ["demo", "--port", "70000"]):
        with pytest.raises(SystemExit) as left:
            main(arguments)
        assert left.value.code == 2
    assert "usage:" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["user", "add"], ["token"]])
@pytest.mark.parametrize("name", ["", "  "])
def test_a_name_that_is_none_is_refused_in_a_sentence(
    home: Path, capsys: pytest.CaptureFixture[str], command: list[str], name: str
) -> None:
    said = refused(capsys, *command, name, "--role", "maker", "--home", str(home))
    assert said == "A name has 1 to 120 signs, all of which can be seen.\n"


def test_a_backup_is_a_book_that_opens(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["backup", str(home / "copy.db"), "--home", str(home)])
    assert re.search(r"copy\.db: \d+\.\d", capsys.readouterr().out)
    copy = open_book(f"sqlite:///{home / 'copy.db'}")
    assert revision(copy) == head_revision()
    copy.dispose()
    assert "never overwrites" in refused(capsys, "backup", str(home / "copy.db"), "--home", str(home))


def test_migrate_says_where_the_book_was_and_is(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["migrate", "--home", str(home)])
    assert f"was at revision {head_revision()} and is at {head_revision()}" in capsys.readouterr().out


def test_a_book_of_a_later_version_is_refused(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(sqlite3.connect(home / "book.db")) as book:
        book.execute("UPDATE alembic_version SET version_num = '9999'")
        book.commit()
    assert "Install the newer one" in refused(capsys, "migrate", "--home", str(home))
    assert "another revision" in refused(capsys, "token", "t", "--role", "owner", "--home", str(home))


def test_a_file_that_is_no_book_is_told_without_a_trace(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "book.db").write_text("a shopping list, by mistake " * 40)
    said = refused(capsys, "token", "t", "--role", "owner", "--home", str(home))
    assert said == "The book cannot be opened: file is not a database.\n"


def test_check_looks_at_machine_and_book(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", "--home", str(home)])
    said = capsys.readouterr().out
    for words in (
        "SQLite",
        "pages and references are sound",
        "every paper is as it was issued",
        f"revision {head_revision()}",
        "fonts are there",
    ):
        assert words in said
    assert "WRONG" not in said


def test_check_finds_rows_that_point_nowhere(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(sqlite3.connect(home / "book.db")) as book:
        book.execute("INSERT INTO sign_ins (user_id, key_hash, created_at, seen_at) VALUES (99, 'x', '', '')")
        book.commit()
    with pytest.raises(SystemExit) as left:
        main(["check", "--home", str(home)])
    assert left.value.code == 1
    assert "WRONG a row of sign_ins points to a missing row of users" in capsys.readouterr().out
