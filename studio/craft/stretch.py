"""What a pattern adds to the length of a strip, in percent."""

import math
from dataclasses import dataclass

from studio.craft.designs import Design, Pattern, PatternWhen
from studio.craft.learned import Learned
from studio.craft.practice import Practice, Prior
from studio.craft.stretch_learning import learned_for
from studio.craft.units import figure_words


@dataclass(frozen=True, slots=True)
class Stretch:
    """The stretch expected of the next ring, in percent of length, and the one that was reckoned with.

    `low_percent` and `high_percent` hold the next ring nine times in ten; `sd_percent` is the standard
    deviation of the next ring. `records` is the number of the studio's own rings behind it.
    """

    mean_percent: float
    low_percent: float
    high_percent: float
    used_percent: float
    sd_percent: float
    records: int
    source: str


FEW_NAMED = 3
"""So many rings are named where a line has to do; the working names more."""
NOT_STRETCHED = Prior(0.0, 0.0)
_FOUR_DEGREES = 2.132
"""The 95th percentile of Student's t with 4 degrees of freedom: a table of the distribution."""


def predictive_sd_percent(half_width_percent: float) -> float:
    """Standard deviation of a Student t with 4 degrees of freedom whose 90 % interval is ± this, in percent.

    half width / 2.132 x sqrt(4 / (4 - 2)). ± 1.0: 0.663.
    """
    return half_width_percent / _FOUR_DEGREES * math.sqrt(2)


def prior_of(design: Design, practice: Practice) -> Prior:
    """What the studio's own rings say of the pattern, else the practice; nothing for a plain ring."""
    if design.pattern is Pattern.PLAIN or design.pattern_when is None:
        return NOT_STRETCHED
    known = _known(design, practice)
    if known is not None:
        return Prior(known.mean_percent, known.half_width_percent)
    return practice.priors[design.pattern, design.pattern_when]


def stretch(design: Design, practice: Practice) -> Stretch:
    """The stretch to reckon with: 0 for plain, the low end for a pattern on flat, the mean after closing.

    A strip that comes out long is filed, a short one is lost: so the flat strip is marked for the low end,
    which is never taken below 0. A stretch the maker typed is taken as it is. Hammered flat 1.5 ± 1.0:
    0.5 %; hammered after closing 1.1 ± 0.8: 1.1 %.
    """
    prior = prior_of(design, practice)
    low = max(0.0, prior.mean_percent - prior.half_width_percent)
    high = prior.mean_percent + prior.half_width_percent
    known = _known(design, practice)
    records = 0 if known is None else known.records
    sd = predictive_sd_percent(prior.half_width_percent) if known is None else known.sd_percent
    if design.pattern is Pattern.PLAIN:
        return Stretch(0.0, 0.0, 0.0, 0.0, 0.0, 0, "plain, nothing stretches")
    if design.stretch_percent is not None:
        return Stretch(prior.mean_percent, low, high, design.stretch_percent, sd, records, "typed by us")
    used = low if design.pattern_when is PatternWhen.FLAT else prior.mean_percent
    return Stretch(prior.mean_percent, low, high, used, sd, records, stretch_source(design, practice))


def stretch_source(design: Design, practice: Practice) -> str:
    """Where the expected stretch comes from, in words.

    'common practice, no source', or '3 rings of our own (2026-23/1, 2026-30/1, 2026-31/2), 5 more alike'.
    """
    known = _known(design, practice)
    if known is not None:
        return learned_words(known)
    if design.pattern is Pattern.ROLLED:
        return "rolled before marking: the strip is measured after rolling"
    if design.pattern_when is None:
        return practice.source
    return practice.prior_source(design.pattern, design.pattern_when)


def _known(design: Design, practice: Practice) -> Learned | None:
    return learned_for(design, practice.alloys[design.alloy].metal, practice.learned)


def learned_words(known: Learned, *, named: int = 12) -> str:
    """Which rings stand behind a forecast: the last `named` of its kind, others by number.

    '3 of our own (2026-23/1, 2026-30/1, 2026-31/2); 5 of other metals or thicknesses'.
    """
    others = f"{known.others} of other metals or thicknesses" if known.others else ""
    if not known.records:
        return f"none of our own of this kind; {others}" if others else "none of our own that counts"
    shown = known.rings[-named:]
    more = "…, " if known.records > len(shown) else ""
    own = f"{known.records} of our own ({more}{', '.join(shown)})"
    return f"{own}; {others}" if others else own


def expected_words(design: Design, told: Stretch, practice: Practice) -> str:
    """The stretch to expect, where nine rings of ten lie, and who says so, as a line has room for.

    '1.5 % (0.5 to 2.5), common practice', '1.9 % (1.2 to 2.6), 1 of our own (2026-23/1)', '2 %, typed by us'.
    """
    source = told.source.partition(",")[0]
    if design.stretch_percent is not None:
        return f"{figure_words(told.used_percent)} %, {source}"
    known = _known(design, practice)
    if known is not None:
        source = learned_words(known, named=FEW_NAMED)
    span = f"{figure_words(told.low_percent)} to {figure_words(told.high_percent)}"
    return f"{figure_words(told.mean_percent)} % ({span}), {source}"
