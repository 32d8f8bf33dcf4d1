"""The studio's list of alloys. Parts per thousand by mass, densities in g/cm3 at 20 degrees C.

Sources are named by what they are: public trade pages, a standard, or memory of one. A listed density is
the published value for the alloy, the middle where two values within 1.5 % are printed; a wider spread
stands as a range only. Recipes given to the tenth of a percent are rounded to whole parts per thousand.
"""

from collections.abc import Mapping

from studio.craft import annealing
from studio.craft.metals import Alloy, Anneal, Metal

_TRADE_NOTE = "US trade note and reference page on specific gravity"
_UK_RECIPE = "recipe: UK page on gold alloys and carats"
_MAKERS_RECIPE = "recipe: page on gold alloys for instrument makers"
_CARAT_TABLE = "recipe: common carat-gold tables, from memory"
_BULLION = "UK bullion reference on densities"
_SELLER = "EU seller's specific-gravity list"
_MEMORY = "from memory of handbook tables"

_ELEMENT_NAMES = {"Ru": "ruthenium", "Ir": "iridium", "Co": "cobalt", "Cu": "copper"}
_CARATS = {999: "24", 916: "22", 750: "18", 585: "14", 417: "10", 375: "9"}


def _gold(
    kind: str,
    fineness: int,
    colour: str,
    composition: Mapping[str, int],
    *,
    listed: float | None,
    source: str,
    anneal: Anneal,
    spread: tuple[float, float] | None = None,
    detail: str = "",
) -> Alloy:
    tail = f", {detail}" if detail else ""
    key = f"gold-{fineness}-{kind}" if kind else f"gold-{fineness}"
    tint = f" {colour}" if colour else ""
    solder = min(fineness, 750)  # the assay offices let even the highest carats be soldered with 750
    return Alloy(
        key=key,
        name=f"{fineness}{tint} gold{tail}",
        short_name=f"{fineness}{tint or ' gold'}",
        plain_name=f"{_CARATS[fineness]} carat{tint} gold ({fineness})",
        metal=Metal.GOLD,
        fineness=fineness,
        composition=composition,
        listed_density=listed,
        density_range=spread,
        source=source,
        anneal=anneal,
        solder=f"hard {solder}{tint} gold solder",
        solder_hard_name=f"hard {solder}",
    )


def _silver(
    fineness: int, plain: str, listed: float, source: str, *, spread: tuple[float, float] | None = None
) -> Alloy:
    return Alloy(
        key=f"silver-{fineness}",
        name=f"{fineness} silver",
        short_name=f"{fineness} silver",
        plain_name=f"{plain} ({fineness})",
        metal=Metal.SILVER,
        fineness=fineness,
        composition={"Ag": fineness, "Cu": 1000 - fineness},
        listed_density=listed,
        density_range=spread,
        source=source,
        anneal=annealing.FINE_SILVER if fineness == 999 else annealing.SILVER,
        solder="hard silver solder",
        solder_hard_name="hard silver",
    )


def _white(
    metal: Metal,
    fineness: int,
    other: str,
    listed: float | None,
    source: str,
    *,
    spread: tuple[float, float] | None = None,
) -> Alloy:
    """A platinum or palladium alloy with one other element."""
    return Alloy(
        key=f"{metal}-{fineness}-{other.lower()}",
        name=f"{fineness} {metal}, {_ELEMENT_NAMES[other]}",
        short_name=f"{fineness} {metal}",
        plain_name=f"{metal} ({fineness})",
        metal=metal,
        fineness=fineness,
        composition={"Pt" if metal is Metal.PLATINUM else "Pd": fineness, other: 1000 - fineness},
        listed_density=listed,
        density_range=spread,
        source=source,
        anneal=annealing.PLATINUM if metal is Metal.PLATINUM else annealing.PALLADIUM,
        solder=f"hard {metal} solder",
        solder_hard_name=f"hard {metal}",
    )


def _base(
    key: str, metal: Metal, composition: Mapping[str, int], listed: float, source: str, *, anneal: Anneal
) -> Alloy:
    name = key.replace("-", " ")
    return Alloy(
        key=key,
        name=name,
        short_name=name,
        plain_name=name,
        metal=metal,
        fineness=0,
        composition=composition,
        listed_density=listed,
        density_range=None,
        source=source,
        anneal=anneal,
        solder="hard silver solder",
        solder_hard_name="hard silver",
    )


GOLDS = (
    _gold(
        "", 999, "", {"Au": 999, "Ag": 1}, listed=19.32, anneal=annealing.FINE_GOLD, detail="fine",
        source=f"density: {_TRADE_NOTE}",
    ),
    _gold(
        "yellow", 916, "yellow", {"Au": 917, "Ag": 55, "Cu": 28}, listed=17.75, spread=(17.7, 17.8),
        anneal=annealing.HIGH_CARAT, source=f"{_UK_RECIPE}; density: {_BULLION}, 17.7 to 17.8",
    ),
    _gold(
        "yellow-zn", 916, "yellow", {"Au": 917, "Ag": 50, "Cu": 20, "Zn": 13}, listed=17.75,
        spread=(17.7, 17.8), anneal=annealing.HIGH_CARAT, detail="with zinc",
        source=f"{_MAKERS_RECIPE}; density: {_BULLION}, 17.7 to 17.8",
    ),
    _gold(
        "red", 916, "red", {"Au": 917, "Cu": 83}, listed=17.7, spread=(17.7, 17.8), anneal=annealing.RED,
        source=f"{_CARAT_TABLE}; density: {_BULLION}",
    ),
    _gold(
        "yellow", 750, "yellow", {"Au": 750, "Ag": 160, "Cu": 90}, listed=15.58, spread=(15.2, 15.9),
        anneal=annealing.YELLOW_18, source=f"{_UK_RECIPE}; density: {_TRADE_NOTE}",
    ),
    _gold(
        "yellow-3n", 750, "yellow", {"Au": 750, "Ag": 125, "Cu": 125}, listed=15.4, spread=(15.2, 15.9),
        anneal=annealing.YELLOW_18, detail="3N",
        source=f"recipe: ISO 8654 colour 3N, from memory; density: {_SELLER}",
    ),
    _gold(
        "green", 750, "green", {"Au": 750, "Ag": 250}, listed=15.9, anneal=annealing.YELLOW_18,
        source=f"{_MAKERS_RECIPE}; density: {_TRADE_NOTE}",
    ),
    _gold(
        "rose", 750, "rose", {"Au": 750, "Ag": 28, "Cu": 222}, listed=15.1, spread=(15.1, 15.18),
        anneal=annealing.RED, source=f"{_MAKERS_RECIPE}; density: {_SELLER}, given for red",
    ),
    _gold(
        "red", 750, "red", {"Au": 750, "Cu": 250}, listed=15.18, spread=(15.1, 15.18), anneal=annealing.RED,
        source=f"{_MAKERS_RECIPE}; density: {_TRADE_NOTE}",
    ),
    _gold(
        "white-ni", 750, "white", {"Au": 750, "Pd": 100, "Ni": 100, "Zn": 50}, listed=14.64,
        spread=(14.64, 14.8), anneal=annealing.NICKEL_WHITE, detail="nickel",
        source=f"{_MAKERS_RECIPE}; density: {_TRADE_NOTE}, given for nickel white",
    ),
    _gold(
        "white-pd", 750, "white", {"Au": 750, "Ag": 40, "Cu": 40, "Pd": 170}, listed=None,
        spread=(14.7, 16.9), anneal=annealing.PALLADIUM_WHITE, detail="palladium",
        source=f"{_UK_RECIPE}; density: computed; {_BULLION} gives 14.7 to 16.9 for the carat",
    ),
    _gold(
        "white-pd-25", 750, "white", {"Au": 750, "Pd": 250}, listed=None, spread=(14.7, 16.9),
        anneal=annealing.PALLADIUM_WHITE, detail="25 % palladium",
        source=f"{_MAKERS_RECIPE}; density: computed; {_BULLION} gives up to 16.9 for the carat",
    ),
    _gold(
        "yellow", 585, "yellow", {"Au": 585, "Ag": 40, "Cu": 312, "Zn": 63}, listed=13.07,
        spread=(12.9, 14.6), anneal=annealing.YELLOW_14, source=f"{_UK_RECIPE}; density: {_TRADE_NOTE}",
    ),
    _gold(
        "yellow-pale", 585, "yellow", {"Au": 585, "Ag": 299, "Cu": 116}, listed=13.7, spread=(12.9, 14.6),
        anneal=annealing.YELLOW_14, detail="pale",
        source=f"{_CARAT_TABLE}, raised from 583; density: {_SELLER}",
    ),
    _gold(
        "rose", 585, "rose", {"Au": 585, "Ag": 92, "Cu": 323}, listed=13.26, spread=(13.1, 13.3),
        anneal=annealing.RED,
        source=f"{_CARAT_TABLE}, raised from 583; density: {_TRADE_NOTE}, given for red",
    ),
    _gold(
        "white-ni", 585, "white", {"Au": 585, "Ag": 5, "Cu": 270, "Zn": 70, "Ni": 70}, listed=12.61,
        spread=(12.61, 12.8), anneal=annealing.NICKEL_WHITE, detail="nickel",
        source=f"{_UK_RECIPE}; density: {_TRADE_NOTE}",
    ),
    _gold(
        "white-pd", 585, "white", {"Au": 585, "Ag": 320, "Pd": 95}, listed=None, spread=(14.0, 14.6),
        anneal=annealing.PALLADIUM_WHITE, detail="palladium",
        source=f"{_CARAT_TABLE}, raised from 583; density: computed; {_BULLION} gives 12.9 to 14.6",
    ),
    _gold(
        "yellow", 417, "yellow", {"Au": 417, "Ag": 110, "Cu": 410, "Zn": 63}, listed=11.57,
        anneal=annealing.YELLOW_9,
        source=f"recipe: of the common commercial kind, from memory; density: {_TRADE_NOTE}",
    ),
    _gold(
        "yellow", 375, "yellow", {"Au": 375, "Ag": 100, "Cu": 450, "Zn": 75}, listed=11.1,
        spread=(10.9, 12.7), anneal=annealing.YELLOW_9, source=f"{_UK_RECIPE}; density: {_SELLER}",
    ),
    _gold(
        "yellow-pale", 375, "yellow", {"Au": 375, "Ag": 425, "Cu": 200}, listed=None, spread=(12.0, 12.7),
        anneal=annealing.YELLOW_9, detail="pale",
        source=f"{_CARAT_TABLE}; density: computed; {_BULLION} gives 10.9 to 12.7 for the carat",
    ),
    _gold(
        "rose", 375, "rose", {"Au": 375, "Ag": 200, "Cu": 425}, listed=11.6, anneal=annealing.RED,
        source=f"{_CARAT_TABLE}; density: {_MEMORY}",
    ),
    _gold(
        "white-ni", 375, "white", {"Au": 378, "Cu": 400, "Zn": 104, "Ni": 118}, listed=10.7,
        anneal=annealing.NICKEL_WHITE, detail="nickel", source=f"{_UK_RECIPE}; density: {_SELLER}",
    ),
    _gold(
        "white-ag", 375, "white", {"Au": 375, "Ag": 625}, listed=12.7, anneal=annealing.YELLOW_9,
        detail="silver", source=f"{_CARAT_TABLE}; density: {_BULLION}, top of the carat's range",
    ),
)  # fmt: skip

SILVERS = (
    _silver(
        925, "sterling silver", 10.36, "density: metal supplier's data page for sterling",
        spread=(10.2, 10.4),
    ),
    _silver(999, "fine silver", 10.5, f"density: {_BULLION}", spread=(10.49, 10.53)),
    _silver(958, "Britannia silver", 10.4, f"density: {_MEMORY}"),
    _silver(950, "silver", 10.4, f"density: {_MEMORY}"),
    _silver(
        935, "silver", 10.35, f"density: {_MEMORY}, 10.3 to 10.4; the rest is counted as copper",
        spread=(10.3, 10.4),
    ),
    _silver(900, "coin silver", 10.3, f"density: {_MEMORY}"),
    _silver(835, "silver", 10.2, f"density: {_SELLER}"),
    _silver(800, "silver", 10.15, f"density: {_MEMORY}, 10.1 to 10.2", spread=(10.1, 10.2)),
)  # fmt: skip

PLATINUMS = (
    _white(
        Metal.PLATINUM, 950, "Ru", 20.7,
        f"recipe: metallurgist's note on US platinum alloys; density: {_MEMORY}",
    ),
    _white(Metal.PLATINUM, 950, "Ir", 21.5, f"density: {_MEMORY}"),
    _white(
        Metal.PLATINUM, 950, "Co", 20.1,
        f"density: {_BULLION}, for 950 platinum; a trade note's 20.8 fits 2 % cobalt, not 5",
    ),
    _white(Metal.PLATINUM, 950, "Cu", 20.05, f"density: {_BULLION}, 20.0 to 20.1", spread=(20.0, 20.1)),
    _white(Metal.PLATINUM, 900, "Ir", 21.54, f"density: {_TRADE_NOTE}"),
)  # fmt: skip

PALLADIUMS = (
    _white(
        Metal.PALLADIUM, 950, "Ru", None,
        f"recipe: palladium technical manual, UK edition; density: computed; {_MEMORY} 11.8 to 12.1",
        spread=(11.8, 12.1),
    ),
    _white(Metal.PALLADIUM, 950, "Cu", 11.8, f"density: {_MEMORY}"),
)  # fmt: skip

BASE_METALS = (
    _base("copper", Metal.COPPER, {"Cu": 1000}, 8.96, f"density: {_TRADE_NOTE}", anneal=annealing.COPPER),
    _base("brass", Metal.BRASS, {"Cu": 700, "Zn": 300}, 8.53, f"density: {_MEMORY}", anneal=annealing.BRASS),
    _base(
        "gilding-metal", Metal.BRASS, {"Cu": 850, "Zn": 150}, 8.75, f"density: {_MEMORY}",
        anneal=annealing.BRASS,
    ),
    _base(
        "bronze", Metal.BRONZE, {"Cu": 940, "Sn": 60}, 8.8, f"density: {_MEMORY}, CuSn6",
        anneal=annealing.BRASS,
    ),
    _base(
        "nickel-silver", Metal.NICKEL_SILVER, {"Cu": 650, "Ni": 180, "Zn": 170}, 8.7, f"density: {_MEMORY}",
        anneal=annealing.NICKEL_SILVER,
    ),
)  # fmt: skip
