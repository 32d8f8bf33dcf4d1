"""The alloys a ring can be made of, by key, and what they weigh."""

from studio.craft.alloy_table import BASE_METALS, GOLDS, PALLADIUMS, PLATINUMS, SILVERS
from studio.craft.metals import Alloy, Anneal, Metal

__all__ = ["ALLOYS", "Alloy", "Anneal", "Metal", "density_differs", "density_g_cm3"]

ALLOYS: dict[str, Alloy] = {
    alloy.key: alloy for alloy in (*GOLDS, *SILVERS, *PLATINUMS, *PALLADIUMS, *BASE_METALS)
}
"""Every alloy by its key, in the order a list of them shows."""


def density_g_cm3(alloy: Alloy) -> float:
    """Density in g/cm3 to weigh with: the listed value, else the inverse rule of mixtures.

    Silver 925: 10.36 as listed. Gold 750 white with palladium, which no source lists: 16.33 as computed.
    """
    return alloy.computed_density if alloy.listed_density is None else alloy.listed_density


def density_differs(alloy: Alloy) -> bool:
    """Whether the listed and the computed density lie more than 1 % apart, so that both must be shown."""
    difference = alloy.density_difference_percent
    return difference is not None and abs(difference) > 1
