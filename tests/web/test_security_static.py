"""Static files: what is served, and how long it is kept."""

from pathlib import Path

import pytest

from tests.web.house import House


def test_a_static_file_under_its_hash_is_kept_for_good_and_no_other(house: House) -> None:
    marked = house.app.state.static.url("css/base.css")
    kept = house.send("GET", marked)
    assert kept.status_code == 200
    assert kept.headers["cache-control"] == "public, max-age=31536000, immutable"
    assert kept.headers["content-type"].startswith("text/css")
    assert house.send("GET", "/static/css/base.css").headers["cache-control"] == "no-store"
    assert house.send("GET", "/static/0123456789abcdef/css/base.css").status_code == 404


@pytest.mark.parametrize(
    "path", ["../studio/settings.py", "%2e%2e/pyproject.toml", "css/%2e%2e/%2e%2e/README.md", ""]
)
def test_nothing_beside_the_static_files_is_served(house: House, path: str) -> None:
    assert house.send("GET", f"/static/{path}").status_code == 404


def test_the_address_of_a_static_file_changes_with_any_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from studio.web import static_files

    monkeypatch.setattr(static_files, "static_dir", lambda: tmp_path)
    (tmp_path / "a.css").write_text("p { margin: 0 }")
    before = static_files.read_static_files().url("a.css")
    (tmp_path / "b.js").write_text("let a;")
    (tmp_path / "notes.md").write_text("not served")
    after = static_files.read_static_files()
    assert after.url("a.css") != before
    assert "notes.md" not in after.contents
