"""The piece as it lies on the bench: which one at which step, drawn to scale, within its width."""

from math import pi

import pytest

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.drawing import BenchCut, Piece, bench_drawing, piece_at
from studio.craft.form import Form, FormKind
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from tests.craft.drawn import SVG, a_reckoning, read, text_boxes, words

HAMMERED = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
ON_THE_RING = a_reckoning(pattern=Pattern.STAMPED, pattern_when=PatternWhen.CLOSED)
FLARING = a_reckoning(width_mm=12.0, form=Form(FormKind.ANTICLASTIC, radius_mm=6.0))
ALL = [
    HAMMERED,
    ON_THE_RING,
    FLARING,
    a_reckoning(width_mm=0.8, thickness_mm=0.3, circumference_mm=30.0),
    a_reckoning(width_mm=40.0, thickness_mm=6.0, circumference_mm=90.0),
    a_reckoning(width_mm=40.0, thickness_mm=6.0, circumference_mm=30.0),
]


def pieces(reckoning: Reckoning) -> dict[str, Piece]:
    operations = route(reckoning)
    return {one.key: piece_at(one, operations) for one in operations}


def test_a_hammered_ring_is_a_blank_a_strip_and_a_ring_in_turn() -> None:
    assert pieces(HAMMERED) == {
        "weigh": Piece.BLANK,
        "saw": Piece.BLANK,
        "pattern": Piece.SAWN,
        "square": Piece.WORKED,
        "anneal": Piece.TRUE,
        "bend": Piece.TRUE,
        "solder": Piece.RING,
        "round": Piece.RING,
        "sides": Piece.RING,
        "seam-pattern": Piece.RING,
        "size": Piece.RING,
        "finish": Piece.RING,
    }


def test_before_it_is_sunk_or_its_pattern_opens_it_a_ring_is_drawn_as_closed() -> None:
    for reckoning, key in ((FLARING, "form"), (ON_THE_RING, "pattern")):
        told = pieces(reckoning)
        assert told["round"] is Piece.CLOSED
        assert told[key] is Piece.RING
    inside_mm = ON_THE_RING.true_length_mm / pi - 2 * ON_THE_RING.neutral_mm
    closed = bench_drawing(ON_THE_RING, Piece.CLOSED, BenchCut.WIDE)
    assert f"{inside_mm:.2f}" in words(read(closed))
    assert f"{ON_THE_RING.diameter_mm:.2f}" in words(
        read(bench_drawing(ON_THE_RING, Piece.RING, BenchCut.WIDE))
    )
    assert "12" in words(read(bench_drawing(FLARING, Piece.CLOSED, BenchCut.WIDE)))  # as wide as its strip


@pytest.mark.parametrize("cut", list(BenchCut))
@pytest.mark.parametrize("piece", list(Piece))
@pytest.mark.parametrize("reckoning", ALL)
def test_every_piece_fits_its_width_and_says_what_it_is(
    reckoning: Reckoning, piece: Piece, cut: BenchCut
) -> None:
    svg = bench_drawing(reckoning, piece, cut)
    root = read(svg)
    assert svg.width == cut.value
    assert root.get("role") == "img"
    assert root.get("aria-label", "").endswith(".")
    for said, left, top, right, foot in text_boxes(root):
        assert 0 <= left <= right <= cut.value, said
        assert 0 <= top <= foot <= svg.height, said
    for strip in root.iter(f"{SVG}rect"):
        assert float(strip.get("x", "0")) >= 0
        assert float(strip.get("x", "0")) + float(strip.get("width", "0")) <= cut.value


@pytest.mark.parametrize(
    ("piece", "long_mm", "told"),
    [
        (Piece.BLANK, HAMMERED.mark_mm, f"mark {HAMMERED.mark_mm:.1f}"),
        (Piece.TRUE, HAMMERED.true_length_mm, f"true {HAMMERED.true_length_mm:.2f}"),
    ],
)
def test_a_strip_is_drawn_to_the_scale_it_tells(piece: Piece, long_mm: float, told: str) -> None:
    svg = bench_drawing(HAMMERED, piece, BenchCut.WIDE)
    root = read(svg)
    [strip] = [one for one in root.iter(f"{SVG}rect") if one.get("data-part") == "strip"]
    drawn_mm = float(strip.get("width", "0")) * float(root.get("data-mm-per-unit", "0"))
    assert drawn_mm == pytest.approx(long_mm, abs=0.01)
    assert told in svg.markup


def test_the_strip_to_be_squared_is_longer_than_true_and_shows_its_pattern() -> None:
    worked = bench_drawing(HAMMERED, Piece.WORKED, BenchCut.WIDE).markup
    assert "stroke-dasharray" in worked
    assert len(worked) > 2 * len(bench_drawing(HAMMERED, Piece.SAWN, BenchCut.WIDE).markup)
