"""How much fine metal and master alloy a wanted fineness takes: in Decimal, and never below the fineness.

Fineness is parts of the precious metal per thousand by mass, and a standard's fineness is a minimum without
any tolerance below it; so what is left over by the balance's step goes to the fine metal.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_HALF_UP, Decimal

FINEST = Decimal(1000)
STEP_G = Decimal("0.01")
"""What a studio's balance shows."""


class AlloyingRefused(ValueError):
    """These parts cannot give that fineness; `why` says so as a sentence for who asked."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True, slots=True)
class Melt:
    """What goes into the crucible, in g to the balance's step, and what comes out.

    `fine_g` is of the finer metal, `other_g` of the less fine (master alloy, or scrap to be raised).
    `fineness` is the result's, unrounded, and never below the wanted one.
    """

    fine_g: Decimal
    other_g: Decimal
    total_g: Decimal
    fineness: Decimal


def melt(
    wanted: Decimal,
    mass_g: Decimal,
    fine: Decimal = FINEST,
    other: Decimal = Decimal(0),
    step_g: Decimal = STEP_G,
) -> Melt:
    """What gives `mass_g` of the `wanted` fineness, out of metal of `fine` and of `other` fineness.

    The shares by alligation: fine : other = (wanted - other) : (fine - wanted). The other is rounded down
    and the fine metal takes the rest, so that the fineness never falls below. 20 g of 750 from fine gold of
    1000 and a master alloy without gold: 15.00 g and 5.00 g. Raises `AlloyingRefused`.
    """
    _check(wanted, fine, other)
    total = _at_step(mass_g, step_g, ROUND_CEILING)
    if total <= 0:
        raise AlloyingRefused("There has to be something to melt.")
    other_g = _at_step(total * (fine - wanted) / (fine - other), step_g, ROUND_DOWN)
    return _melt(total - other_g, other_g, fine, other)


def raised(
    wanted: Decimal,
    scrap_g: Decimal,
    scrap: Decimal,
    fine: Decimal = FINEST,
    step_g: Decimal = STEP_G,
) -> Melt:
    """The fine metal that brings `scrap_g` of `scrap` fineness up to the `wanted` one, rounded up.

    scrap x (wanted - scrap) / (fine - wanted): 30 g of 585 to 750 with fine gold of 1000 takes 19.80 g.
    Raises `AlloyingRefused`.
    """
    _check(wanted, fine, scrap)
    if scrap_g <= 0:
        raise AlloyingRefused("There has to be something to melt.")
    fine_g = _at_step(scrap_g * (wanted - scrap) / (fine - wanted), step_g, ROUND_CEILING)
    return _melt(fine_g, scrap_g, fine, scrap)


def lowered(
    wanted: Decimal,
    metal_g: Decimal,
    metal: Decimal,
    other: Decimal = Decimal(0),
    step_g: Decimal = STEP_G,
) -> Melt:
    """The master alloy (of fineness `other`) that brings `metal_g` of `metal` down, rounded down.

    metal x (metal - wanted) / (wanted - other): 10 g of fine gold to 585 takes 7.09 g, and is 585.1 fine.
    Raises `AlloyingRefused`.
    """
    _check(wanted, metal, other)
    if metal_g <= 0:
        raise AlloyingRefused("There has to be something to melt.")
    other_g = _at_step(metal_g * (metal - wanted) / (wanted - other), step_g, ROUND_DOWN)
    return _melt(metal_g, other_g, metal, other)


def of_carat(carat: Decimal) -> Decimal:
    """The fineness that a carat is, of 24: 18 carat is 750, 14 carat 583.3 (sold as 585)."""
    return (carat * FINEST / 24).quantize(Decimal("0.1"), ROUND_HALF_UP)


def _check(wanted: Decimal, fine: Decimal, other: Decimal) -> None:
    if not 0 < fine <= FINEST:
        raise AlloyingRefused("The finer metal has to be above 0 and at most 1000 fine.")
    if not 0 <= other < FINEST:
        raise AlloyingRefused("The other metal has to be at least 0 and below 1000 fine.")
    if not other < wanted < fine:
        raise AlloyingRefused(
            f"The fineness has to lie between {other:g} and {fine:g}, the two that are melted."
        )


def _melt(fine_g: Decimal, other_g: Decimal, fine: Decimal, other: Decimal) -> Melt:
    total = fine_g + other_g
    return Melt(fine_g, other_g, total, (fine_g * fine + other_g * other) / total)


def _at_step(value: Decimal, step: Decimal, rounding: str) -> Decimal:
    return (value / step).to_integral_value(rounding) * step
