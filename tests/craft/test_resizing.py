"""What it takes to resize a ring, and which rings bear it."""

import math
from dataclasses import replace

import pytest

from studio.craft.blanks import true_length
from studio.craft.designs import Finger, Measured, Pattern, Profile, System, design
from studio.craft.metal_for_metal import in_every_metal
from studio.craft.practice import ResizingTerms
from studio.craft.reckonings import reckon
from studio.craft.resizing import STEPS, US_SIZE_MM, hammered_mm, resizing, why_not

FINGER = Finger(System.ISO, "57", 57.0, Measured.GAUGE, 6.0)
RING = reckon(FINGER, design(Profile.FLAT, 6.0, 1.4, "silver-925"))


def test_one_uk_size_of_the_worked_ring() -> None:
    step = resizing(RING).steps[0]
    assert (step.system, step.name, step.change_mm) == (System.UK, "one size", 1.25)
    assert step.metal_g == pytest.approx(0.109, abs=0.001)
    assert step.hammered_mm == pytest.approx(1.373, abs=0.001)


@pytest.mark.parametrize("profile", Profile)
@pytest.mark.parametrize("change_mm", [0.3, 1.25, US_SIZE_MM])
def test_hammering_up_keeps_width_and_volume(profile: Profile, change_mm: float) -> None:
    side = 1.8
    ring = reckon(
        FINGER, design(profile, side if profile in {"round", "square"} else 5.0, side, "silver-925")
    )
    thin = hammered_mm(ring, change_mm)
    width = ring.design.width_mm
    before = side * true_length(profile, width, side, 57.0)
    assert thin * true_length(profile, width, thin, 57.0 + change_mm) == pytest.approx(before, rel=1e-9)
    assert thin < side


def test_a_system_counts_its_own_steps() -> None:
    assert {system: steps[0][1] for system, steps in STEPS.items()} == pytest.approx(
        {
            System.UK: 1.25,
            System.US: 2.5535,
            System.ISO: 1.0,
            System.JP: 1.0472,
            System.CH: 1.0,
            System.DE: 3.1416,
            System.HK: 1.0625,
            System.IN: 1.0,
        },
        abs=5e-5,
    )
    assert math.isclose(US_SIZE_MM, 0.8128 * math.pi)


@pytest.mark.parametrize("pattern", [Pattern.ROLLED, Pattern.STAMPED])
def test_a_pattern_all_round_breaks_at_the_seam(pattern: Pattern) -> None:
    found = resizing(reckon(FINGER, design(Profile.FLAT, 6.0, 1.4, "silver-925", pattern=pattern)))
    assert found.reasons == (f"its {pattern} pattern runs all round and breaks at the seam",)
    assert not found.is_possible
    assert not found.by_hammer


def test_a_thin_ring_gets_no_second_seam_by_the_studios_own_limit() -> None:
    thin = replace(RING.design, thickness_mm=0.7)
    assert why_not(thin, ResizingTerms()) == ("it is thinner than 0.8 mm, too thin for a second seam",)
    assert why_not(thin, ResizingTerms(thin_mm=0.6)) == ()


def test_only_a_thick_plain_ring_is_hammered_up() -> None:
    assert not resizing(RING).by_hammer
    assert resizing(reckon(FINGER, replace(RING.design, thickness_mm=1.6))).by_hammer


def test_the_same_ring_in_every_metal_keeps_its_lengths_and_weighs_as_the_metal_does() -> None:
    rings = in_every_metal(RING.finger, RING.design)
    assert {ring.mark_mm for ring in rings} == {RING.mark_mm}
    for ring in rings:
        assert ring.finished_g / RING.finished_g == pytest.approx(ring.density_g_cm3 / RING.density_g_cm3)
    weights = {ring.design.alloy: ring.finished_g for ring in rings}
    assert weights["silver-925"] == pytest.approx(5.183, abs=0.001)
    assert weights["platinum-950-ru"] == pytest.approx(10.355, abs=0.01)
