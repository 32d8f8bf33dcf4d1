import subprocess
import sys
import time
from pathlib import Path

import httpx
import pytest

import studio
from tests.running import ROOT, a_running_demo, a_served_book, environment
from tests.web.house import make_book


def test_a_child_runs_the_code_of_this_checkout_wherever_it_starts(tmp_path: Path) -> None:
    found = subprocess.run(
        [sys.executable, "-c", "import studio; print(studio.__file__)"],
        check=True, capture_output=True, text=True, cwd=tmp_path, env=environment(),
    ).stdout  # fmt: skip
    assert Path(found.strip()) == ROOT / "studio" / "__init__.py"
    assert Path(studio.__file__) == ROOT / "studio" / "__init__.py"


def test_a_child_may_be_told_to_run_the_code_of_another_place(tmp_path: Path) -> None:
    (tmp_path / "studio").mkdir()
    (tmp_path / "studio" / "__init__.py").touch()
    found = subprocess.run(
        [sys.executable, "-c", "import studio; print(studio.__file__)"],
        check=True, capture_output=True, text=True, cwd=tmp_path.parent, env=environment(str(tmp_path)),
    ).stdout  # fmt: skip
    assert Path(found.strip()).parent == tmp_path / "studio"


def test_a_child_gets_none_of_the_settings_of_the_one_who_started_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("STUDIO_PORT", "8123")
    assert not any(name.startswith("STUDIO_") for name in environment())


HEAVY = ("weasyprint", "fontTools", "PIL", "alembic", "pint", "numpy")
"""What takes longest to load, and is for papers, for a book that is behind, or for tests alone."""


def test_what_serves_the_pages_loads_no_printer_and_no_migrations() -> None:
    """The figures of a start are those of `python -m tests.benchmarks`; this keeps them small."""
    loaded = subprocess.run(
        [
            sys.executable, "-c",
            "import studio.cli, studio.web.app, studio.book.demo, sys; print(*sys.modules)",
        ],
        check=True, capture_output=True, text=True, env=environment(),
    ).stdout.split()  # fmt: skip
    assert "studio.web.app" in loaded
    assert [name for name in HEAVY if name in loaded] == []


def test_a_demo_answers_soon(tmp_path: Path) -> None:
    with a_running_demo(tmp_path / "home", seconds=60) as running:
        assert running.seconds_to_answer < 20


def test_a_book_that_is_there_is_served_soon(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    make_book(home)
    started = time.monotonic()
    with a_served_book(home) as served:
        assert httpx.get(f"{served.base_url}/health").status_code == httpx.codes.OK
        assert time.monotonic() - started < 10
