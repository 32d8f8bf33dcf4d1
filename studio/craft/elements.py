"""Densities of the elements in ring alloys, and the rule that mixes them."""

from collections.abc import Mapping

ELEMENT_DENSITIES: dict[str, float] = {
    "Au": 19.32,
    "Ag": 10.49,
    "Cu": 8.96,
    "Zn": 7.14,
    "Ni": 8.91,
    "Pd": 12.02,
    "Pt": 21.45,
    "Ru": 12.45,
    "Ir": 22.56,
    "Co": 8.90,
    "Sn": 7.29,
}
"""g/cm3 at 20 degrees C. Au, Ag, Cu, Co: reference page on specific gravities of alloys; Pd: palladium fact
guide of 2013; Pt: US trade note on specific gravity; the others from memory of the CRC Handbook."""


def mixture_density(composition: Mapping[str, float]) -> float:
    """Density in g/cm3 of an alloy from its parts by mass, by the inverse rule of mixtures.

    1/rho = sum(w_i/rho_i): volumes are taken to add, real alloys differ by 1 to 3 %. Silver 925 with
    copper 75: 10.36. Raises KeyError for an element without a density here.
    """
    volume = sum(parts / ELEMENT_DENSITIES[element] for element, parts in composition.items())
    return sum(composition.values()) / volume
