"""Every figure comes with a formula and inputs that give its value again."""

import math
import re

import pytest

from studio.craft.designs import (
    Finger,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
    design,
)
from studio.craft.form import Form, FormKind
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.working import Working

EVERY_FIGURE = {
    "ring.circumference_mm", "ring.diameter_mm", "ring.sizes.uk", "ring.sizes.us", "ring.sizes.iso",
    "ring.sizes.jp", "ring.doubt_mm", "ring.chance",
    "ring.sizes.ch", "ring.sizes.de", "ring.finished_width_mm", "blank.true_length_mm", "blank.mark_mm",
    "blank.width_mm", "blank.thickness_mm", "blank.neutral_mm", "blank.section_mm2", "mass.blank_g",
    "mass.issue_g",
    "mass.ring_g", "mass.finished_g", "stretch.mean_percent", "stretch.low_percent", "stretch.high_percent",
    "stretch.used_percent", "stretch.records",
}  # fmt: skip
GAUGED = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 3.0)
GAUGED_AS_WIDE = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 5.0)
STAMPED_LATE = design(Profile.FLAT, 6, 3, "brass", pattern=Pattern.STAMPED, pattern_when=PatternWhen.CLOSED)
TYPED = design(Profile.FLAT, 6, 1.6, "copper", pattern=Pattern.HAMMERED, stretch_percent=1.6, fit_mm=-0.5)
RECKONINGS = [
    reckon(GAUGED, design(Profile.FLAT, 6, 1.6, "gold-750-yellow")),
    reckon(GAUGED, design(Profile.FLAT, 6, 1.6, "silver-925", pattern=Pattern.HAMMERED)),
    reckon(GAUGED_AS_WIDE, design(Profile.FLAT, 6, 1.6, "gold-750-white-pd-25")),
    reckon(GAUGED, STAMPED_LATE),
    reckon(GAUGED, TYPED),
    reckon(GAUGED, design(Profile.FLAT, 8, 0.8, "silver-925", form=Form(FormKind.ANTICLASTIC, 12.4))),
    reckon(GAUGED, design(Profile.FLAT, 8, 0.8, "silver-925", form=Form(FormKind.ANTICLASTIC, None, 0.9))),
    reckon(GAUGED, design(Profile.COURT, 12, 1.6, "gold-750-white-pd", Stock.STRIP)),
    reckon(
        Finger(System.US, "7", 54.42, Measured.RING, 8.0), design(Profile.SQUARE, 3, 3, "platinum-950-ru")
    ),
    *(reckon(Finger(System.JP, "10", 50.27), design(p, 2, 2, "palladium-950-ru")) for p in Profile),
]


def worked_again(working: Working) -> float:
    """The value that the formula gives when its inputs are put in.

    After `where` stands the condition under which it holds, after `, to` the place it is rounded to.
    """
    values = {entry.name: entry.value for entry in working.inputs if not isinstance(entry.value, str)}
    names = sorted(values, key=len, reverse=True)
    formula = working.formula
    if names:
        formula = re.sub("|".join(map(re.escape, names)), lambda found: f"({values[found[0]]!r})", formula)
    formula = formula.replace("×", "*").replace("÷", "/").replace("−", "-").replace("π", "pi")
    formula = re.sub(r"\|(.*?)\|", r"abs(\1)", formula).replace("≤", "<=")
    formula = re.sub(r"(.*), to 0\.001", r"round(\1, 3)", formula)
    formula, _, condition = formula.partition(" where ")
    formula = re.sub(r"√(\d+)", r"sqrt(\1)", formula).replace("√(", "sqrt(").replace("²", "**2")
    known = {
        "pi": math.pi, "log10": math.log10, "sqrt": math.sqrt, "erf": math.erf, "max": max, "abs": abs,
        "round": round, "sin": math.sin, "cos": math.cos,
    }  # fmt: skip
    assert eval(condition or "1 == 1", known)  # noqa: S307  the formulas are our own
    return float(eval(formula, known))  # noqa: S307  the formulas are our own


@pytest.mark.parametrize("reckoning", RECKONINGS)
def test_every_formula_gives_its_value_again(reckoning: Reckoning) -> None:
    for working in reckoning.working:
        assert worked_again(working) == pytest.approx(working.value, rel=1e-12, abs=1e-12), working.figure


@pytest.mark.parametrize("reckoning", RECKONINGS)
def test_every_figure_has_one_working_with_unit_and_source(reckoning: Reckoning) -> None:
    figures = [working.figure for working in reckoning.working]
    assert len(set(figures)) == len(figures)
    assert set(figures) >= EVERY_FIGURE
    for working in reckoning.working:
        assert working.source
        assert working.formula
        assert working.inputs
        assert working.unit


def test_the_workings_hold_the_figures_of_the_reckoning() -> None:
    for reckoning in RECKONINGS:
        values = {working.figure: working.value for working in reckoning.working}
        assert values["ring.fit_mm"] == reckoning.fit_mm
        assert values["ring.circumference_mm"] == reckoning.circumference_mm
        assert values["ring.diameter_mm"] == reckoning.diameter_mm
        assert values["ring.finished_width_mm"] == reckoning.finished_width_mm
        assert values["ring.finished_thickness_mm"] == reckoning.finished_thickness_mm
        assert values["ring.opening_mm"] == reckoning.opening_mm
        assert values["blank.true_length_mm"] == reckoning.true_length_mm
        assert values["blank.mark_mm"] == reckoning.mark_mm
        assert values["blank.neutral_mm"] == reckoning.neutral_mm
        assert values["blank.section_mm2"] == reckoning.section_mm2
        assert values["blank.stock_section_mm2"] == reckoning.stock_section_mm2
        assert values.get("blank.din_length_mm") == reckoning.din_length_mm
        assert values["mass.density_g_cm3"] == reckoning.density_g_cm3
        assert values["mass.blank_g"] == reckoning.blank_g
        assert values["mass.issue_g"] == reckoning.issue_g
        assert values["mass.ring_g"] == reckoning.ring_g
        assert values["mass.finished_g"] == reckoning.finished_g
        assert values["stretch.used_percent"] == reckoning.stretch.used_percent
        for system, near in reckoning.sizes.items():
            assert values.get(f"ring.sizes.{system}") == (near and near.error_mm)


def test_a_gauge_as_wide_as_the_ring_gives_both_widths_and_the_rule() -> None:
    reckoning = reckon(GAUGED_AS_WIDE, design(Profile.FLAT, 6, 1.6, "silver-925"))
    (fit,) = (working for working in reckoning.working if working.figure == "ring.fit_mm")
    assert (fit.value, fit.formula) == (0, "0 where |width of the ring − width of the gauge| ≤ 1")
    assert [(entry.name, entry.value) for entry in fit.inputs] == [
        ("width of the ring", 6),
        ("width of the gauge", 5),
    ]


def test_weights_come_out_again_from_the_density_as_it_is_shown() -> None:
    # the density that a page shows to 0.001 is the one that was weighed with, computed ones too
    for alloy in ("gold-750-white-pd", "gold-585-white-pd", "palladium-950-ru", "silver-925"):
        band = reckon(GAUGED_AS_WIDE, design(Profile.FLAT, 6, 1.6, alloy))
        shown = float(f"{band.density_g_cm3:.3f}")
        assert band.ring_g == pytest.approx(shown * band.section_mm2 * band.true_length_mm / 1000, rel=1e-12)
        assert shown == band.density_g_cm3


def test_a_system_without_a_label_for_the_ring_has_no_working() -> None:
    huge = reckon(Finger(System.ISO, "85", 85.0), design(Profile.FLAT, 6, 1.4, "silver-925"))
    assert {w.figure for w in huge.working if w.figure.startswith("ring.sizes")} == {"ring.sizes.uk"}
