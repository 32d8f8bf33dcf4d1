"""What the studio knows of an alloy: what is in it, how heavy it is, how it is annealed and soldered."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from studio.craft.elements import mixture_density


class Metal(StrEnum):
    """The metal an alloy is called by. A base metal goes by the alloy's own name."""

    GOLD = "gold"
    SILVER = "silver"
    PLATINUM = "platinum"
    PALLADIUM = "palladium"
    COPPER = "copper"
    BRASS = "brass"
    BRONZE = "bronze"
    NICKEL_SILVER = "nickel silver"


PRECIOUS = frozenset({Metal.GOLD, Metal.SILVER, Metal.PLATINUM, Metal.PALLADIUM})


class Cooling(StrEnum):
    """How an alloy comes down from its heat."""

    ANY = "any"
    QUENCHED = "quenched"  # in water, once the red is gone
    AT_LAST_RED = "quenched at the last red"  # or it orders and turns brittle
    BELOW_RED = "quenched below red"  # never from red, or it cracks
    IN_AIR = "in air"


@dataclass(frozen=True, slots=True)
class Anneal:
    """How an alloy is softened: degrees C, what to look for, and how to cool it, as words of the bench."""

    low_c: int
    high_c: int
    sign: str
    quench: str
    cooling: Cooling

    @property
    def range_words(self) -> str:
        """The heat in words: `550 to 650 °C`."""
        return f"{self.low_c} to {self.high_c} °C"


@dataclass(frozen=True, slots=True)
class Alloy:
    """One alloy of the studio's list.

    `fineness` is the precious part in parts per thousand at the least, 0 for a base metal. `composition`
    is parts per thousand by mass and sums to 1000. `listed_density` (g/cm3) is a published value for this
    alloy; `density_range` the spread of values where sources print one. `solder` names the solder of the
    first seam (hard silver solder), `solder_hard_name` the same short (hard silver); `plain_name` is what a
    customer reads. Where only the fineness is known, `knows_parts` is false and `composition` has that alone.
    `priced_as` is the key whose price a base metal takes, '' for its own.
    """

    key: str
    name: str
    short_name: str
    plain_name: str
    metal: Metal
    fineness: int
    composition: Mapping[str, int]
    listed_density: float | None
    density_range: tuple[float, float] | None
    source: str
    anneal: Anneal
    solder: str
    solder_hard_name: str
    knows_parts: bool = True
    priced_as: str = ""

    @property
    def is_precious(self) -> bool:
        """Whether it is an alloy of gold, silver, platinum or palladium."""
        return self.metal in PRECIOUS

    @property
    def computed_density(self) -> float:
        """Density in g/cm3 by the inverse rule of mixtures, to 0.001. Silver 925: 10.357.

        Rounded here, once, to the places it is shown with, so that every weight can be worked out again from
        the density beside it. The rule itself is good to a percent, a thousandth changes no weight.
        """
        return round(mixture_density(self.composition), 3)

    @property
    def density_difference_percent(self) -> float | None:
        """How far the computed density lies above the listed one, in percent; None where none is listed."""
        if self.listed_density is None or not self.knows_parts:
            return None
        return (self.computed_density / self.listed_density - 1) * 100
