"""Densities against a library of the elements and against published lists of alloys."""

import periodictable
import pytest

from studio.craft.alloys import ALLOYS, density_g_cm3
from studio.craft.elements import ELEMENT_DENSITIES

# Published densities in g/cm3, each with where it was read. "trade note": US trade note on the specific
# gravity of materials and a reference page on specific gravities of alloys; "bullion": UK bullion reference
# on densities of jewellery metals; "seller": a Dutch seller's specific-gravity list; "supplier": a metal
# supplier's data page for sterling; "memory": handbook tables, from memory.
LISTED = {
    "silver-999": (10.5, "bullion, seller"),
    "silver-958": (10.4, "memory"),
    "silver-950": (10.4, "memory"),
    "silver-935": (10.35, "memory, 10.3 to 10.4"),
    "silver-925": (10.36, "supplier"),
    "silver-900": (10.3, "memory"),
    "silver-835": (10.2, "seller"),
    "silver-800": (10.15, "memory, 10.1 to 10.2"),
    "gold-999": (19.32, "trade note"),
    "gold-916-yellow": (17.75, "bullion, 17.7 to 17.8"),
    "gold-916-yellow-zn": (17.75, "bullion, 17.7 to 17.8"),
    "gold-916-red": (17.7, "bullion"),
    "gold-750-yellow": (15.58, "trade note"),
    "gold-750-yellow-3n": (15.4, "seller"),
    "gold-750-green": (15.9, "trade note"),
    "gold-750-rose": (15.1, "seller, for red"),
    "gold-750-red": (15.18, "trade note"),
    "gold-750-white-ni": (14.64, "trade note, for nickel white"),
    "gold-585-yellow": (13.07, "trade note"),
    "gold-585-yellow-pale": (13.7, "seller"),
    "gold-585-rose": (13.26, "trade note, for red"),
    "gold-585-white-ni": (12.61, "trade note"),
    "gold-417-yellow": (11.57, "trade note"),
    "gold-375-yellow": (11.1, "seller"),
    "gold-375-rose": (11.6, "memory"),
    "gold-375-white-ni": (10.7, "seller"),
    "gold-375-white-ag": (12.7, "bullion, top of the carat's range"),
    "platinum-950-ru": (20.7, "memory"),
    "platinum-950-ir": (21.5, "memory"),
    "platinum-950-co": (20.1, "bullion, for 950 platinum"),
    "platinum-950-cu": (20.05, "bullion, 20.0 to 20.1"),
    "platinum-900-ir": (21.54, "trade note"),
    "palladium-950-cu": (11.8, "memory"),
    "copper": (8.96, "trade note"),
    "brass": (8.53, "memory"),
    "gilding-metal": (8.75, "memory"),
    "bronze": (8.8, "memory"),
    "nickel-silver": (8.7, "memory"),
}

# Where the rule of mixtures and the list lie more than 1 % apart, by how much, in percent of the list.
KNOWN_EXCEPTIONS = {
    "gold-750-red": -1.3,
    "gold-750-white-ni": 4.5,  # the list speaks of another nickel white than this recipe with palladium
    "gold-585-yellow": -1.6,
    "gold-585-yellow-pale": 1.8,
    "gold-375-white-ni": 1.6,
    "brass": -2.4,  # copper and zinc take less room together than apart
    "gilding-metal": -1.4,
    "nickel-silver": -1.4,
}

# Ranges that the same sources print where they list no single value.
RANGES = {
    "gold-750-white-pd": (14.7, 16.9),
    "gold-750-white-pd-25": (14.7, 16.9),
    "gold-585-white-pd": (14.0, 14.6),
    "gold-375-yellow-pale": (12.0, 12.7),
    "palladium-950-ru": (11.8, 12.1),
}


@pytest.mark.parametrize("element", sorted(ELEMENT_DENSITIES))
def test_elements_agree_with_periodictable_within_a_percent(element: str) -> None:
    # periodictable, densities of the elements near room temperature
    assert ELEMENT_DENSITIES[element] == pytest.approx(getattr(periodictable, element).density, rel=0.01)


def test_every_alloy_is_checked_against_what_is_printed_for_it() -> None:
    assert ALLOYS.keys() == LISTED.keys() | RANGES.keys()


@pytest.mark.parametrize("key", LISTED)
def test_a_listed_alloy_is_weighed_by_its_published_density(key: str) -> None:
    assert density_g_cm3(ALLOYS[key]) == LISTED[key][0]


@pytest.mark.parametrize("key", sorted(LISTED.keys() - KNOWN_EXCEPTIONS.keys()))
def test_the_rule_of_mixtures_agrees_with_the_list_within_a_percent(key: str) -> None:
    assert ALLOYS[key].computed_density == pytest.approx(LISTED[key][0], rel=0.01)


@pytest.mark.parametrize(("key", "percent"), KNOWN_EXCEPTIONS.items())
def test_the_known_exceptions_disagree_by_as_much_as_is_known(key: str, percent: float) -> None:
    assert (ALLOYS[key].computed_density / LISTED[key][0] - 1) * 100 == pytest.approx(percent, abs=0.05)


@pytest.mark.parametrize(("key", "printed"), RANGES.items())
def test_an_alloy_without_a_listed_density_lies_in_the_printed_range(
    key: str, printed: tuple[float, float]
) -> None:
    assert printed[0] <= density_g_cm3(ALLOYS[key]) <= printed[1]
