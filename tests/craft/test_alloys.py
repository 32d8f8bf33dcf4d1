import re

import pytest

from studio.craft.alloys import ALLOYS, Metal, density_differs, density_g_cm3
from studio.craft.elements import mixture_density
from studio.craft.metals import Alloy

EVERY_ALLOY = pytest.mark.parametrize("alloy", ALLOYS.values(), ids=ALLOYS)
SYMBOLS = {Metal.GOLD: "Au", Metal.SILVER: "Ag", Metal.PLATINUM: "Pt", Metal.PALLADIUM: "Pd"}


def test_there_are_thirty_alloys_and_more_with_keys_that_stay() -> None:
    assert len(ALLOYS) >= 30
    assert ALLOYS.keys() >= {
        "silver-925", "gold-375-yellow", "gold-585-rose", "gold-750-yellow", "gold-750-white-pd",
        "platinum-950-ru",
        "palladium-950-ru", "copper", "brass",
    }  # fmt: skip


@EVERY_ALLOY
def test_the_parts_of_an_alloy_sum_to_a_thousand(alloy: Alloy) -> None:
    assert sum(alloy.composition.values()) == 1000
    assert min(alloy.composition.values()) > 0


@EVERY_ALLOY
def test_fineness_is_the_precious_part_at_the_least(alloy: Alloy) -> None:
    if alloy.is_precious:
        assert alloy.composition[SYMBOLS[alloy.metal]] >= alloy.fineness >= 333
        assert str(alloy.fineness) in alloy.key
    else:
        assert alloy.fineness == 0


@EVERY_ALLOY
def test_an_alloy_names_its_source_its_anneal_and_its_solder(alloy: Alloy) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", alloy.key)
    assert "density: " in alloy.source
    assert 200 < alloy.anneal.low_c < alloy.anneal.high_c <= 1100
    assert alloy.anneal.range_words == f"{alloy.anneal.low_c} to {alloy.anneal.high_c} °C"
    assert alloy.solder.startswith("hard ")
    assert alloy.solder_hard_name.startswith("hard ")


@EVERY_ALLOY
def test_it_is_weighed_by_the_listed_density_else_by_the_computed_one(alloy: Alloy) -> None:
    assert density_g_cm3(alloy) == (alloy.listed_density or alloy.computed_density)
    if alloy.density_range is not None:
        low, high = alloy.density_range
        assert low <= density_g_cm3(alloy) <= high


def test_names_tell_alloys_apart() -> None:
    assert len({alloy.name for alloy in ALLOYS.values()}) == len(ALLOYS)
    yellow, silver = ALLOYS["gold-750-yellow"], ALLOYS["silver-925"]
    assert (yellow.name, yellow.short_name) == ("750 yellow gold", "750 yellow")
    assert (silver.name, silver.short_name) == ("925 silver", "925 silver")
    assert (yellow.plain_name, silver.plain_name) == ("18 carat yellow gold (750)", "sterling silver (925)")


def test_sterling_by_the_inverse_rule_of_mixtures() -> None:
    assert mixture_density({"Ag": 925, "Cu": 75}) == pytest.approx(10.36, abs=0.005)
    assert mixture_density({"Au": 75, "Ag": 16, "Cu": 9}) == pytest.approx(15.60, abs=0.005)
    assert mixture_density({"Au": 75, "Cu": 25}) == pytest.approx(14.99, abs=0.005)


def test_palladium_white_gold_has_no_listed_density_and_is_computed() -> None:
    white = ALLOYS["gold-750-white-pd"]
    assert white.listed_density is None
    assert white.density_difference_percent is None
    assert density_g_cm3(white) == pytest.approx(16.33, abs=0.005)


def test_copper_golds_are_quenched_and_nickel_white_never_from_red() -> None:
    for key in ("gold-375-rose", "gold-585-rose", "gold-750-rose", "gold-750-red"):
        assert "brittle" in ALLOYS[key].anneal.quench
    for key in ("gold-375-white-ni", "gold-585-white-ni", "gold-750-white-ni"):
        assert "never from red" in ALLOYS[key].anneal.quench


def test_the_highest_carats_are_soldered_with_750() -> None:
    assert ALLOYS["gold-916-yellow"].solder == "hard 750 yellow gold solder"
    assert ALLOYS["gold-916-yellow"].solder_hard_name == "hard 750"
    assert ALLOYS["silver-925"].solder == "hard silver solder"


def test_densities_that_differ_by_over_a_percent_are_both_to_be_shown() -> None:
    assert {key for key, alloy in ALLOYS.items() if density_differs(alloy)} == {
        "gold-750-red", "gold-750-white-ni", "gold-585-yellow", "gold-585-yellow-pale", "gold-375-white-ni",
        "brass",
        "gilding-metal", "nickel-silver",
    }  # fmt: skip
