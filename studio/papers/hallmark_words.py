"""What is foreseen of a ring's hallmark, in one quiet line: the same on screen and on the bench sheet."""

from collections.abc import Sequence

from studio.craft.designs import WIRE_PROFILES
from studio.craft.hallmark import ASK, Foresight, HallmarkRule, Verdict, foresight
from studio.craft.hallmark_crossing import Crossing, crossings
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words


def hallmark_line(reckoning: Reckoning, rule: HallmarkRule, *, is_short: bool = False) -> str:
    """The verdict, the mass against the limit, and what would cross it; '' without rule or precious metal.

    A short one leaves out that nothing which can be made crosses the limit.

    'Hallmark not required: finished 5.01 to 5.35 g, silver from 7.78 g. The limit is crossed at 2.04 mm thick
    (0.64 more) or 8.90 mm wide (2.90 more). Ask the assay office first.'
    """
    foreseen = foresight(reckoning, rule)
    if foreseen is None:
        return ""
    head = verdict_words(foreseen)
    if foreseen.limit_g <= 0:
        return f"{head}: under the Convention no weight of {foreseen.metal} is exempt. {ASK}"
    mass = f"finished {foreseen.low_g:.2f} to {foreseen.high_g:.2f} g, {foreseen.metal} from "
    is_wire = reckoning.design.profile in WIRE_PROFILES
    found = crossings(reckoning, foreseen)
    if is_short and all(crossing.at_mm is None for crossing in found):
        return f"{head}: {mass}{figure_words(foreseen.limit_g)} g. {ASK}"
    crossed = crossing_words(found, is_wire=is_wire)
    return f"{head}: {mass}{figure_words(foreseen.limit_g)} g. {crossed} {ASK}"


def verdict_words(foreseen: Foresight) -> str:
    """'Hallmark required', 'Hallmark not required', or that the finished ring has to be weighed first."""
    return {
        Verdict.REQUIRED: "Hallmark required",
        Verdict.EXEMPT: "Hallmark not required",
        Verdict.WEIGH: "Hallmark open, weigh the finished ring",
    }[foreseen.verdict]


def crossing_words(found: Sequence[Crossing], *, is_wire: bool) -> str:
    """Where the limit is crossed, or that nothing that can be made crosses it."""
    told = [_one(crossing, is_wire=is_wire) for crossing in found if crossing.at_mm is not None]
    missing = [_SIDES[crossing.side] for crossing in found if crossing.at_mm is None]
    none = (
        f"No {' or '.join(['diameter'] if is_wire else missing)} within what can be made crosses the limit."
    )
    if not told:
        return none
    where = f"The limit is crossed at {' or '.join(told)}"
    return f"{where}. {none}" if missing else f"{where}."


_SIDES = {"thick": "thickness", "wide": "width"}


def _one(crossing: Crossing, *, is_wire: bool) -> str:
    change = crossing.change_mm or 0.0
    way = "more" if change > 0 else "less"
    side = "across" if is_wire else crossing.side
    return f"{crossing.at_mm:.2f} mm {side} ({abs(change):.2f} {way})"
