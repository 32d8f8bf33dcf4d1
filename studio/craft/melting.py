"""Where alloys begin to melt and where they have melted, as far as it is published. Degrees C.

A spread is the lowest and the highest figure that is printed. What no source has stands in no row: an alloy
that is not here has no published solidus, and nothing is guessed from its neighbours.
"""

from dataclasses import dataclass

from studio.craft.metals import Alloy

_MEMORY = "from memory of handbook tables"
_EUTECTIC = "silver-copper diagram, from memory: its eutectic"


@dataclass(frozen=True, slots=True)
class Melting:
    """The solidus and the liquidus of an alloy, each from the lowest to the highest figure printed, in °C."""

    solidus_c: tuple[float, float]
    liquidus_c: tuple[float, float] | None
    source: str

    @property
    def begins_c(self) -> float:
        """The lowest heat at which it may begin to melt."""
        return self.solidus_c[0]


_STERLING = Melting(
    (788, 788), (891, 899),
    "metal supplier's data page for sterling, whose labels are swapped there; 779 to 802 by others from"
    " memory",
)  # fmt: skip
_COPPER_RICH_SILVER = Melting((779, 779), None, _EUTECTIC)
_YELLOW_22 = Melting((940, 960), (960, 990), _MEMORY)
_YELLOW_18 = Melting((885, 920), (895, 930), _MEMORY)
_YELLOW_14 = Melting((810, 830), (840, 880), _MEMORY)
_RED_18 = Melting((880, 890), (890, 910), _MEMORY)
_NICKEL_WHITE = Melting((900, 950), (950, 1000), _MEMORY)
_PALLADIUM_WHITE = Melting((1100, 1200), (1200, 1300), _MEMORY)
_PALLADIUM = Melting((1380, 1450), (1400, 1500), _MEMORY)

MELTING: dict[str, Melting] = {
    "silver-999": Melting((961.8, 961.8), (961.8, 961.8), "melting point of silver, reference page"),
    "silver-925": _STERLING,
    "silver-900": _COPPER_RICH_SILVER,
    "silver-835": _COPPER_RICH_SILVER,
    "silver-800": _COPPER_RICH_SILVER,
    "gold-999": Melting((1063, 1064), (1063, 1064), "melting point of gold, two reference pages"),
    "gold-916-yellow": _YELLOW_22,
    "gold-916-yellow-zn": _YELLOW_22,
    "gold-750-yellow": _YELLOW_18,
    "gold-750-yellow-3n": _YELLOW_18,
    "gold-750-rose": _RED_18,
    "gold-750-red": _RED_18,
    "gold-750-white-ni": _NICKEL_WHITE,
    "gold-750-white-pd": _PALLADIUM_WHITE,
    "gold-750-white-pd-25": _PALLADIUM_WHITE,
    "gold-585-yellow": _YELLOW_14,
    "gold-585-yellow-pale": _YELLOW_14,
    "gold-585-white-ni": _NICKEL_WHITE,
    "gold-375-yellow": Melting((880, 900), (900, 960), _MEMORY),
    "platinum-950-ru": Melting((1780, 1780), (1795, 1795), _MEMORY),
    "platinum-900-ir": Melting((1780, 1780), (1790, 1790), _MEMORY),
    "palladium-950-ru": _PALLADIUM,
    "palladium-950-cu": _PALLADIUM,
    "copper": Melting((1083, 1084.6), (1083, 1084.6), "melting point of copper, reference page and memory"),
    "brass": Melting((915, 915), (955, 955), _MEMORY),
}
"""By the alloy's key."""


def melting_of(alloy: Alloy) -> Melting | None:
    """Where the alloy melts; one of the studio's own as the one it is worked like. None: unpublished.

    750 yellow: from 885 °C at the lowest.
    """
    return MELTING.get(alloy.key) or MELTING.get(alloy.priced_as)
