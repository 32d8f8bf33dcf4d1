"""The built wheel carries all it needs: a page and a paper come out of it, away from the checkout."""

import subprocess
import sys
import zipfile
from pathlib import Path

import httpx
import pytest

from tests.running import a_running_demo, environment

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def unpacked_wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project's wheel, built offline with this environment's build backend, and unpacked."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--no-deps", "--no-build-isolation", "-q", "-w", folder, ROOT],
        check=True, capture_output=True,
    )  # fmt: skip
    (built,) = folder.glob("shankwright-*.whl")
    site = folder / "site"
    with zipfile.ZipFile(built) as archive:
        archive.extractall(site)
    return site


def test_the_wheel_holds_the_folders_the_app_reads(unpacked_wheel: Path) -> None:
    for folder in ("templates", "static", "migrations/versions", "craft"):
        assert any((unpacked_wheel / "studio" / folder).iterdir()), folder
    assert not (unpacked_wheel / "tests").exists()


def test_the_wheel_serves_a_page_and_a_paper_from_elsewhere(unpacked_wheel: Path, tmp_path: Path) -> None:
    found = subprocess.run(
        [sys.executable, "-c", "import studio; print(studio.__file__)"],
        check=True, capture_output=True, text=True, cwd=tmp_path, env=environment(str(unpacked_wheel)),
    ).stdout  # fmt: skip
    assert Path(found.strip()).is_relative_to(unpacked_wheel)

    with a_running_demo(tmp_path / "home", str(unpacked_wheel)) as demo:
        assert "Sign in" in httpx.get(f"{demo.base_url}/sign-in").text
        signed = {"Authorization": f"Bearer {demo.token('maker')}"}
        week = httpx.get(f"{demo.base_url}/week/papers.pdf", headers=signed, params={"from": "2026-01-05"})
        assert week.status_code == httpx.codes.OK, week.text
        assert week.content.startswith(b"%PDF-")
