import subprocess
import sys
from pathlib import Path

import pytest

import studio
from tests.running import ROOT, environment


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
