"""The studio's own figures that stand behind a reckoning. All may be changed; these are the start."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from studio.craft.designs import Pattern, PatternWhen, System


@dataclass(frozen=True, slots=True)
class FitRow:
    """One row of the fit rule: up to and including this ring width, add this to the circumference, in mm.

    The last row has no `up_to_mm`: it stands for every wider ring.
    """

    up_to_mm: float | None
    add_mm: float


@dataclass(frozen=True, slots=True)
class Prior:
    """What is expected of a pattern before the studio's own rings are counted, in percent of length.

    `half_width_percent` is half of the 90 % interval for the next ring.
    """

    mean_percent: float
    half_width_percent: float


FIT_RULE = (
    FitRow(4.0, 0.0),
    FitRow(6.0, 0.5),
    FitRow(8.0, 1.0),
    FitRow(10.0, 1.25),
    FitRow(None, 1.75),
)

PRIORS: Mapping[tuple[Pattern, PatternWhen], Prior] = MappingProxyType(
    {
        (Pattern.HAMMERED, PatternWhen.FLAT): Prior(1.5, 1.0),
        (Pattern.STAMPED, PatternWhen.FLAT): Prior(1.5, 1.0),
        (Pattern.HAMMERED, PatternWhen.CLOSED): Prior(1.1, 0.8),
        (Pattern.STAMPED, PatternWhen.CLOSED): Prior(2.1, 1.0),
        (Pattern.ROLLED, PatternWhen.FLAT): Prior(0.0, 0.0),
    }
)


STEPS_MM: Mapping[System, float] = MappingProxyType(
    {
        System.UK: 0.625,  # half a letter
        System.US: 1.277,  # half a size
        System.ISO: 1.0,
        System.JP: 1.047,  # a whole number
        System.CH: 0.5,
        System.DE: 0.785,  # a quarter of a mm of diameter
    }
)
"""From one gauge of a set to the next, in mm of circumference, where the studio's own set is not known."""


@dataclass(frozen=True, slots=True)
class DoubtTerms:
    """What makes a size doubtful, each as a standard deviation in mm but for the gauges' steps.

    `day_mm` is what a finger changes over a day; `thickness_mm` is of the strip, `cut_mm` of saw cut and
    joint.
    """

    steps_mm: Mapping[System, float] = field(default_factory=lambda: STEPS_MM)
    calibration_mm: float = 0.1
    day_mm: float = 0.3
    thickness_mm: float = 0.02
    cut_mm: float = 0.15


@dataclass(frozen=True, slots=True)
class Practice:
    """How the studio works, in figures: lengths in mm, shares in percent.

    `trim_each_end_mm` is left at each end of a blank to be squared off; `kerf_mm` is what one saw cut takes
    (blade 1/0, 0.279 mm thick, cuts about a tenth wider); `finishing_loss_percent` is the weight that
    filing, sanding and polishing take off a closed ring; `finishing_allowance_mm` is the thickness they
    take off each face that is filed up; `stated_on` is the day these figures were written down.
    """

    fit_rule: tuple[FitRow, ...] = FIT_RULE
    trim_each_end_mm: float = 0.5
    kerf_mm: float = 0.31
    finishing_loss_percent: float = 3.0
    finishing_allowance_mm: float = 0.05
    priors: Mapping[tuple[Pattern, PatternWhen], Prior] = field(default_factory=lambda: PRIORS)
    doubt: DoubtTerms = field(default_factory=DoubtTerms)
    stated_on: date = date(2026, 11, 25)
    source: str = "common practice, no source"

    @property
    def trim_mm(self) -> float:
        """What both ends of a blank are longer than its squared length, in mm."""
        return 2 * self.trim_each_end_mm


COMMON_PRACTICE = Practice()
"""What a studio starts with. Published fit rules conflict; this one lies between them."""
