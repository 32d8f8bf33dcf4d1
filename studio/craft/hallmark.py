"""Which rings the law asks to have hallmarked. A rule is a setting: ask the assay office."""

from collections.abc import Mapping
from enum import StrEnum

from studio.craft.metals import Metal


class HallmarkRule(StrEnum):
    """Whose rule a studio follows."""

    UK = "uk"
    CONVENTION = "convention"
    NONE = "none"


LIMITS_G: Mapping[HallmarkRule, Mapping[Metal, float]] = {
    HallmarkRule.UK: {Metal.GOLD: 1.0, Metal.SILVER: 7.78, Metal.PLATINUM: 0.5, Metal.PALLADIUM: 1.0},
    HallmarkRule.CONVENTION: {
        Metal.GOLD: 0.0,
        Metal.SILVER: 0.0,
        Metal.PLATINUM: 0.0,
        Metal.PALLADIUM: 0.0,
    },
    HallmarkRule.NONE: {},
}
"""From what mass in g an article must be marked. UK: exemption weights as assay offices publish them;
Convention on the Control and Marking of Articles of Precious Metals (1972): no exemption."""


def is_marked(rule: HallmarkRule, metal: Metal, finished_g: float) -> bool:
    """Whether a ring of this finished mass is to be hallmarked: at or above the limit of its metal.

    UK: silver of 7.78 g is marked, of 7.77 g exempt; no rule or no precious metal is never asked. The mass is
    taken as it is predicted, without its doubt: a ring foreseen within a few percent of the limit may come
    out on the other side of it, so it is the finished ring's weighing that settles it.
    """
    limit = LIMITS_G[rule].get(metal)
    return limit is not None and finished_g >= limit
