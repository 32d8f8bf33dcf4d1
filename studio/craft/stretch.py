"""What a pattern adds to the length of a strip, in percent."""

import math
from dataclasses import dataclass

from studio.craft.designs import Design, Pattern, PatternWhen
from studio.craft.practice import Practice, Prior


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


NOT_STRETCHED = Prior(0.0, 0.0)
_FOUR_DEGREES = 2.132
"""The 95th percentile of Student's t with 4 degrees of freedom: a table of the distribution."""


def predictive_sd_percent(half_width_percent: float) -> float:
    """Standard deviation of a Student t with 4 degrees of freedom whose 90 % interval is ± this, in percent.

    half width / 2.132 x sqrt(4 / (4 - 2)). ± 1.0: 0.663.
    """
    return half_width_percent / _FOUR_DEGREES * math.sqrt(2)


def prior_of(design: Design, practice: Practice) -> Prior:
    """What the practice expects of the design's pattern; nothing for a plain ring."""
    if design.pattern is Pattern.PLAIN or design.pattern_when is None:
        return NOT_STRETCHED
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
    sd = predictive_sd_percent(prior.half_width_percent)
    if design.pattern is Pattern.PLAIN:
        return Stretch(0.0, 0.0, 0.0, 0.0, 0.0, 0, "plain, nothing stretches")
    if design.stretch_percent is not None:
        return Stretch(prior.mean_percent, low, high, design.stretch_percent, sd, 0, "typed by us")
    used = low if design.pattern_when is PatternWhen.FLAT else prior.mean_percent
    source = (
        practice.source
        if design.pattern_when is None
        else practice.prior_source(design.pattern, design.pattern_when)
    )
    if design.pattern is Pattern.ROLLED:
        source = "rolled before marking: the strip is measured after rolling"
    return Stretch(prior.mean_percent, low, high, used, sd, 0, source)
