"""Rings of every kind that a route may have to be made for: so few that each pair of features is in one."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations, product
from random import Random
from typing import Any

from studio.craft.alloys import ALLOYS
from studio.craft.designs import WIRE_PROFILES, Pattern, PatternWhen, Profile, Stock, design
from studio.craft.form import BAND, Form, FormKind
from studio.craft.hallmark import HallmarkRule
from studio.craft.operations import Operation
from studio.craft.particulars import (
    Face,
    Inscription,
    MarkPlace,
    Marks,
    MarkWish,
    Particulars,
    Setting,
    Stone,
    Surface,
)
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.route import route
from tests.builders import a_finger

FLARED = Form(FormKind.ANTICLASTIC, radius_mm=12.4)
TIGHT = Form(FormKind.ANTICLASTIC, radius_mm=4.0)
OPAL = Stone(stated="opal", setting=Setting.BEZEL)
FEATURES: Mapping[str, tuple[Any, ...]] = {
    "profile": tuple(Profile),
    "face": (
        (Pattern.PLAIN, None),
        *product((Pattern.HAMMERED, Pattern.STAMPED), PatternWhen),
        (Pattern.ROLLED, PatternWhen.FLAT),
    ),
    "form": (BAND, FLARED, TIGHT),
    "alloy": tuple({(one.metal, one.anneal): one.key for one in ALLOYS.values()}.values()),
    "stones": (
        None,
        (),
        *((Stone(stated="ruby", setting=setting),) for setting in Setting),
        (Stone(),),
        (OPAL,),
        (Stone(2, stated="pearls"), Stone(12, stated="diamond", setting=Setting.PAVE)),
    ),
    "letters": (None, Inscription(), *(Inscription("Ada & Jon", face) for face in Face)),
    "inside": (None, *Surface),
    "outside": (None, *Surface),
    "marks": (None, *(Marks(wish, where=where) for wish, where in product(MarkWish, MarkPlace))),
    "rule": tuple(HallmarkRule),
    "pair": (False, True),
    "stock": tuple(Stock),
}
"""Every feature with all it may be; of alloys one for each metal and way of annealing."""


@dataclass(frozen=True)
class Case:
    """One ring with what is asked of it, and its route."""

    chosen: Mapping[str, Any]
    reckoning: Reckoning
    particulars: Particulars
    operations: tuple[Operation, ...]

    @property
    def keys(self) -> list[str]:
        return [one.key for one in self.operations]


def go_together(chosen: Mapping[str, int]) -> bool:
    """Whether such a ring can be made: only a flat strip is sunk over a groove."""
    form, profile = chosen.get("form", 0), chosen.get("profile", 0)
    return FEATURES["form"][form] == BAND or FEATURES["profile"][profile] is Profile.FLAT


def pairs_of(chosen: Mapping[str, int]) -> set[tuple[tuple[str, int], tuple[str, int]]]:
    return set(combinations(sorted(chosen.items()), 2))


def every_pair() -> set[tuple[tuple[str, int], tuple[str, int]]]:
    """Each two features that can be one ring's."""
    singles = sorted((name, place) for name, values in FEATURES.items() for place in range(len(values)))
    return {
        (one, other)
        for one, other in combinations(singles, 2)
        if one[0] != other[0] and go_together(dict((one, other)))
    }


def _choices() -> Iterator[dict[str, int]]:
    """Features by their places until each pair has been in one; of some tries the one with most new pairs."""
    wanted, chance = every_pair(), Random(118)  # noqa: S311  the same rings every time
    while wanted:
        held = dict(min(wanted))
        tries: list[dict[str, int]] = []
        while len(tries) < 12:
            made = {name: held.get(name, chance.randrange(len(values))) for name, values in FEATURES.items()}
            if go_together(made):
                tries.append(made)
        best = max(tries, key=lambda made: len(pairs_of(made) & wanted))
        wanted -= pairs_of(best)
        yield best


def made_of(chosen: Mapping[str, Any]) -> Case:
    """The ring with these features, in full."""
    profile, (pattern, when), form = chosen["profile"], chosen["face"], chosen["form"]
    wide, thick = (2.0, 2.0) if profile in WIRE_PROFILES else (8.0, 0.8) if form != BAND else (4.0, 1.8)
    made = design(
        profile, wide, thick, chosen["alloy"], chosen["stock"], pattern=pattern, pattern_when=when, form=form
    )
    told = Particulars(
        chosen["inside"], chosen["outside"], chosen["letters"], chosen["stones"], chosen["marks"]
    )
    found = reckon(a_finger(), made)
    mate = reckon(a_finger("J"), made) if chosen["pair"] else None
    return Case(chosen, found, told, route(found, told, chosen["rule"], mate=mate))


@cache
def cases() -> tuple[Case, ...]:
    """Rings that have every pair of features among them."""
    return tuple(
        made_of({name: FEATURES[name][place] for name, place in chosen.items()}) for chosen in _choices()
    )
