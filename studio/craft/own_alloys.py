"""Alloys the studio adds to the list: from their parts, from their maker's density, or from a carat alone.

An own alloy is worked like one of the list: heat, cooling and solder are that one's, and so is the metal it
is called by. It weighs the typed density, else the mixture of its parts; where only the fineness is known it
is the middle of what is printed for it, and every weight has that spread.
"""

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from studio.craft.alloys import ALLOYS, density_g_cm3
from studio.craft.designs import Limits
from studio.craft.elements import ELEMENT_DENSITIES, mixture_density
from studio.craft.errors import Refusal, Why
from studio.craft.metals import Alloy, Metal
from studio.craft.units import shown_length

MARK = "own-"
"""With this begins the key of an own alloy; its name in small letters follows."""
LONGEST_NAME, LONGEST_NOTE, MOST = 40, 300, 60
DENSITY = Limits(6.0, 23.0)
FINENESS = Limits(1, 1000)
ELEMENT_NAMES = {
    "Au": "gold", "Ag": "silver", "Cu": "copper", "Zn": "zinc", "Ni": "nickel", "Pd": "palladium",
    "Pt": "platinum", "Ru": "ruthenium", "Ir": "iridium", "Co": "cobalt", "Sn": "tin",
}  # fmt: skip
SYMBOLS = {Metal.GOLD: "Au", Metal.SILVER: "Ag", Metal.PLATINUM: "Pt", Metal.PALLADIUM: "Pd"}
_FULL = 1000
_PRINTED_SPREADS = {
    (Metal.GOLD, 375): (10.9, 12.7),
    (Metal.GOLD, 585): (12.9, 14.6),
    (Metal.GOLD, 750): (14.7, 16.9),
    (Metal.GOLD, 916): (17.7, 17.8),
    (Metal.SILVER, 925): (10.2, 10.3),
}
_PRINTED = "UK bullion reference on densities, the middle of what it prints for this fineness"
_RESTS = {
    Metal.GOLD: ("Cu", "Ag"),
    Metal.SILVER: ("Zn", "Cu"),
    Metal.PLATINUM: ("Cu", "Ir"),
    Metal.PALLADIUM: ("Cu", "Ru"),
}
"""What the rest of an alloy is made of at the lightest and at the heaviest: common practice, no source."""
_MIXED = "inverse rule of mixtures, the middle between a rest of {} and one of {}"


@dataclass(frozen=True, slots=True)
class Part:
    """An element and its parts per thousand by mass."""

    element: str
    parts: int


@dataclass(frozen=True, slots=True)
class OwnAlloy:
    """One alloy of the studio's own: `alike` is the key of the alloy of the list it is worked like.

    `parts` sum to 1000 or are not known; `density` (g/cm3) is the maker's, or not known. `fineness` is that
    of the metal it is called by, 0 for a base metal. One that is put away is offered no more.
    """

    key: str
    name: str
    alike: str
    fineness: int
    parts: tuple[Part, ...] = ()
    density: float | None = None
    note: str = ""
    is_put_away: bool = False


def own_key(name: str, taken: frozenset[str] = frozenset()) -> str:
    """A key for an alloy of this name that none of `taken` has: 'Pale 750 rosé', 'own-pale-750-rose'."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = "-".join(re.findall(r"[a-z0-9]+", plain)) or "alloy"
    key, place = f"{MARK}{words}", 2
    while key in taken:
        key, place = f"{MARK}{words}-{place}", place + 1
    return key


def short_name(key: str) -> str:
    """What a list calls an alloy: '750 yellow'; of its own the words of its key: 'pale 750 rose'."""
    known = ALLOYS.get(key)
    return key.removeprefix(MARK).replace("-", " ") if known is None else known.short_name


def alloys_with(own: tuple[OwnAlloy, ...]) -> Mapping[str, Alloy]:
    """Every alloy by its key: those of the list, then the studio's own."""
    return _joined(own) if own else ALLOYS


@lru_cache(maxsize=64)
def _joined(own: tuple[OwnAlloy, ...]) -> Mapping[str, Alloy]:
    return MappingProxyType({**ALLOYS, **{one.key: alloy_of(one) for one in own}})


@lru_cache(maxsize=256)
def alloy_of(own: OwnAlloy) -> Alloy:
    """The alloy as it is reckoned with.

    A 750 gold of which nothing else is known weighs 15.75 g/cm3, the middle of 14.6 to 16.9.
    """
    alike = ALLOYS[own.alike]
    symbol = SYMBOLS.get(alike.metal)
    listed, span, source = own.density, None, own.note or "the maker's density"
    parts = {part.element: part.parts for part in own.parts}
    if own.density is None and not parts:
        span, source = spread(alike.metal, own.fineness)
        listed = round(sum(span) / 2, 3)
    elif own.density is None:
        source = own.note or "its parts as put in"
    return replace(
        alike,
        key=own.key,
        name=own.name,
        short_name=own.name,
        plain_name=own.name,
        fineness=own.fineness,
        composition=parts or ({symbol: own.fineness} if symbol else {}),
        listed_density=listed,
        density_range=span,
        source=source,
        knows_parts=bool(parts),
        priced_as=alike.priced_as or alike.key,
    )


def spread(metal: Metal, fineness: int) -> tuple[tuple[float, float], str]:
    """What an alloy of which only the fineness is known may weigh, in g/cm3, and who says so.

    Where nothing is printed, the mixture with the lightest and the heaviest rest: gold 800, 15.69 with
    copper alone and 16.54 with silver alone. Widened to what the list has of that fineness, and outward to
    0.1: gold 750, 14.6 to 16.9, since its white alloy with nickel is lighter than the 14.7 that is printed.
    """
    source = _PRINTED
    printed = _PRINTED_SPREADS.get((metal, fineness))
    if printed is None:
        rests = _RESTS[metal]
        source = _MIXED.format(*(ELEMENT_NAMES[rest] for rest in rests))
        light, heavy = (
            round(mixture_density({SYMBOLS[metal]: fineness, rest: _FULL - fineness}), 2) for rest in rests
        )
        printed = light, heavy
    listed = [
        density_g_cm3(alloy)
        for alloy in ALLOYS.values()
        if (alloy.metal, alloy.fineness) == (metal, fineness)
    ]
    low, high = min([printed[0], *listed]), max([printed[1], *listed])
    low, high = math.floor(round(low * 10, 6)) / 10, math.ceil(round(high * 10, 6)) / 10
    return (low, high), source if (low, high) == printed else f"{source}, and this list"


def check_own_alloys(own: tuple[OwnAlloy, ...]) -> list[Refusal]:
    """What is wrong with the studio's own alloys, each by its path: `own_alloys.0.density`."""
    found: list[Refusal] = []
    if len(own) > MOST:
        found.append(Refusal("own_alloys", Why.TOO_LONG, high=MOST, unit="alloys"))
    names: set[str] = set()
    for place, one in enumerate(own):
        path = f"own_alloys.{place}"
        found += [replace(refusal, field=f"{path}.{refusal.field}") for refusal in _wrong(one)]
        if one.name.casefold() in names or one.name.casefold() in _listed_names():
            found.append(Refusal(f"{path}.name", Why.NAME_TAKEN, one.name))
        names.add(one.name.casefold())
    return found


def _wrong(one: OwnAlloy) -> list[Refusal]:
    found: list[Refusal] = []
    if not one.name.strip():
        found.append(Refusal("name", Why.EMPTY))
    if one.alike not in ALLOYS:
        return [*found, Refusal("alike", Why.UNKNOWN_CHOICE, one.alike[:24])]
    if one.density is not None and not DENSITY.low <= one.density <= DENSITY.high:
        why = Why.TOO_LARGE if one.density > DENSITY.high else Why.TOO_SMALL
        found.append(Refusal("density", why, shown_length(one.density), DENSITY.low, DENSITY.high, "g/cm³"))
    metal = ALLOYS[one.alike].metal
    symbol = SYMBOLS.get(metal)
    if symbol is not None and not FINENESS.low <= one.fineness <= FINENESS.high:
        why = Why.TOO_LARGE if one.fineness > FINENESS.high else Why.TOO_SMALL
        typed = str(one.fineness)
        found.append(Refusal("fineness", why, typed, FINENESS.low, FINENESS.high, "in 1000"))
    found += _of_parts(one, symbol)
    if symbol is None and not one.parts and one.density is None:
        found.append(Refusal("density", Why.EMPTY))
    return found


def _of_parts(one: OwnAlloy, symbol: str | None) -> list[Refusal]:
    """Parts are of known elements, each named once, sum to 1000, and hold the fineness at the least."""
    if not one.parts:
        return []
    elements = [part.element for part in one.parts]
    strange = next((element for element in elements if element not in ELEMENT_DENSITIES), None)
    if strange is not None or len(set(elements)) < len(elements):
        twice = next((element for element in elements if elements.count(element) > 1), "")
        return [Refusal("parts", Why.UNKNOWN_CHOICE, strange or twice)]
    total = sum(part.parts for part in one.parts)
    if any(part.parts <= 0 for part in one.parts) or total != _FULL:
        return [Refusal("parts", Why.NOT_WHOLE, str(total), high=_FULL)]
    held = sum(part.parts for part in one.parts if part.element == symbol)
    if symbol is not None and held < one.fineness:
        return [Refusal("parts", Why.TOO_SMALL, str(held), one.fineness, _FULL, "in 1000")]
    return []


@lru_cache(maxsize=1)
def _listed_names() -> frozenset[str]:
    return frozenset(alloy.name.casefold() for alloy in ALLOYS.values())
