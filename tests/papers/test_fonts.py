import os
from pathlib import Path

import pytest

from studio.papers import render
from studio.papers.fonts import STAND_IN, printable, private_fonts, unprintable
from tests.papers.printed import fonts, sheet


@pytest.mark.parametrize("kind", ["plain", "widest-band"])
def test_a_sheet_is_set_in_source_and_carries_its_fonts(kind: str) -> None:
    found = fonts(sheet(kind))
    assert set(found) == {"Source-Sans-Pro", "Source-Sans-Pro-Semi-Bold", "Source-Serif-Pro"}
    assert all("/FontFile2" in font for font in found.values())


def test_registering_the_fonts_leaves_no_trace_in_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("FONTCONFIG_FILE", raising=False)
    with private_fonts():
        file = os.environ["FONTCONFIG_FILE"]
        assert Path(file).exists()
    assert "FONTCONFIG_FILE" not in os.environ
    assert not Path(file).exists()


def test_a_configuration_given_from_outside_is_kept_and_built_upon(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    own = str(tmp_path / "own & only.conf")
    monkeypatch.setenv("FONTCONFIG_FILE", own)
    with private_fonts():
        assert "own &amp; only.conf" in Path(os.environ["FONTCONFIG_FILE"]).read_text(encoding="utf-8")
    assert os.environ["FONTCONFIG_FILE"] == own


@pytest.mark.parametrize(
    "text", ["Tue 1 Dec", "6 × 1.6 mm, O½, 650 °C", "Müller", "Ωμέγα", "Пётр", "a\nb", "e\u0301"]
)
def test_what_every_machine_can_print_is_printable(text: str) -> None:
    assert unprintable(text) == ()
    assert printable(text) == text


def test_what_no_font_has_is_named_once_and_replaced() -> None:
    assert unprintable("A\x07B\U0010fffdC\x07") == ("\x07", "\U0010fffd")
    assert printable("A\x07B") == f"A{STAND_IN}B"


def test_the_same_fonts_and_stylesheets_serve_every_paper_of_a_process() -> None:
    assert render._fonts() is render._fonts()
    assert render._stylesheets("bench_sheet") is render._stylesheets("bench_sheet")
