"""The studio's own figures that stand behind a reckoning. All may be changed; these are the start."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from types import MappingProxyType

from studio.craft.designs import Pattern, PatternWhen, Profile, System
from studio.craft.learned import Learned, LearnedForming
from studio.craft.metals import Alloy
from studio.craft.own_alloys import OwnAlloy, alloys_with
from studio.craft.sheet_gauges import BareGauge, GaugeScale, PrintedGauge
from studio.craft.sizes import BeyondZ


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
        System.HK: 1.062,  # a number, on the average of its table
        System.IN: 1.0,  # a number, on the average of its table
    }
)
"""From one gauge of a set to the next, in mm of circumference, where the studio's own set is not known."""


@dataclass(frozen=True, slots=True)
class DoubtTerms:
    """What makes a size doubtful, each as a standard deviation in mm but for the gauges' steps.

    `day_mm` is what a finger changes over a day, `two_days_mm` what is left of it when it was measured on two
    days; `thickness_mm` is of the strip, `cut_mm` of saw cut and joint. A size that was told is
    `told_times` as coarse as one from a gauge.
    """

    steps_mm: Mapping[System, float] = field(default_factory=lambda: STEPS_MM)
    calibration_mm: float = 0.1
    day_mm: float = 0.3
    thickness_mm: float = 0.02
    cut_mm: float = 0.15
    two_days_mm: float = 0.21
    told_times: float = 2.0


class LengthRule(StrEnum):
    """Which line of the section is said to keep its length when it is bent up."""

    CENTROID = "centroid"
    MID_LINE = "mid-line"
    DIN = "din"  # where the standard has a figure, else the centroid


@dataclass(frozen=True, slots=True)
class KnuckleTerms:
    """When a ring is sized between base and knuckle, and where between.

    `much_mm` is how much larger round the knuckle is then, at least: a whole US size (0.8128 mm x pi).
    """

    much_mm: float = 2.55
    share_percent: float = 50.0


class AssayWhen(StrEnum):
    """When a price has the assay in it: for a ring that must be marked, or also for one that may have to."""

    REQUIRED = "required"
    UNSURE = "unsure"


@dataclass(frozen=True, slots=True)
class HallmarkTerms:
    """What makes a finished mass doubtful, each as a standard deviation, and when the assay is charged.

    `loss_part` is the part of the finishing loss that is one standard deviation: 3 is a third of it.
    """

    thickness_mm: float = 0.02
    width_mm: float = 0.05
    density_percent: float = 0.5
    loss_part: float = 3.0
    assay_when: AssayWhen = AssayWhen.REQUIRED


@dataclass(frozen=True, slots=True)
class ResizingTerms:
    """What a ring has to be, to be resized later: lengths in mm.

    Thinner than `thin_mm` it gets no second seam; from `hammer_from_mm` on it may be hammered or stretched up
    by `hammer_most_mm` of circumference, half a US size. With stones it is changed by `stones_step_mm` at
    most, and not at all where they take more than `stones_percent` of the way round, or are more than
    `stones_most` and nobody said how large.
    """

    thin_mm: float = 0.8
    hammer_from_mm: float = 1.5
    hammer_most_mm: float = 1.28
    stones_percent: float = 33.0
    stones_most: float = 5.0
    stones_step_mm: float = 2.6


@dataclass(frozen=True, slots=True)
class AnticlasticTerms:
    """Bands sunk over a groove. `correction_mm` is by how much the studio's waists come out smaller, round.

    `strain_percent` is how much longer the edges may get than the waist, `edge_mm` how much wider across they
    may stand, before it is worth a warning.
    """

    correction_mm: float = 0.0
    strain_percent: float = 15.0
    edge_mm: float = 3.0


@dataclass(frozen=True, slots=True)
class ReadingTerms:
    """How the studio reads what is read in several ways, and which gauge number it prints.

    A number behind the letter Z, and a gauge of sheet or wire without its scale.
    """

    beyond_z: BeyondZ = BeyondZ.WHOLE
    gauge: BareGauge = BareGauge.BS
    printed_gauge: PrintedGauge = PrintedGauge.NONE

    @property
    def printed_scale(self) -> GaugeScale | None:
        """The scale of the gauge number on papers; None where none is printed."""
        return None if self.printed_gauge is PrintedGauge.NONE else GaugeScale(self.printed_gauge)


@dataclass(frozen=True, slots=True)
class MillTerms:
    """The rolling mill: the widest piece it takes in mm, and what rolling down is reckoned with.

    A pass takes `pass_percent` of the thickness; after `most_passes` it is not offered: common practice, no
    source.
    """

    width_mm: float = 60.0
    pass_percent: float = 10.0
    most_passes: float = 12.0


@dataclass(frozen=True, slots=True)
class Said:
    """Where a figure of the studio's own comes from: the day from which it holds, and its note or source."""

    since: date
    source: str

    @property
    def words(self) -> str:
        """As the working of a figure says it: 'our own trials, from 1 Dec 2026'."""
        return f"{self.source or 'our own figure'}, from {self.since.day} {self.since:%b %Y}"


@dataclass(frozen=True, slots=True)
class Practice:
    """How the studio works, in figures: lengths in mm, shares in percent.

    `trim_each_end_mm` is left at each end of a blank to be squared off; `kerf_mm` is what one saw cut takes
    (blade 1/0, 0.279 mm thick, cuts about a tenth wider); `finishing_loss_percent` is the weight that
    filing, sanding and polishing take off a closed ring; `finishing_allowance_mm` is the thickness they
    take off each face that is filed up; `stated_on` is the day these figures were written down.
    `fit_by_profile` has the profiles with a fit rule of their own; the others go by `fit_rule`. `said` tells
    by its path (`doubt.cut_mm`) where a figure comes from that the studio has put in; `source` is that of
    all the others. `learned` is what the studio's own rings say of patterns, `learned_forming` what
    they say of waists sunk over a groove; both are kept with the records and with every ring, not among the
    figures. `own_alloys` are those the studio has added to the list.
    """

    fit_rule: tuple[FitRow, ...] = FIT_RULE
    fit_by_profile: Mapping[Profile, tuple[FitRow, ...]] = field(default_factory=lambda: MappingProxyType({}))
    trim_each_end_mm: float = 0.5
    kerf_mm: float = 0.31
    finishing_loss_percent: float = 3.0
    finishing_allowance_mm: float = 0.05
    length_rule: LengthRule = LengthRule.CENTROID
    priors: Mapping[tuple[Pattern, PatternWhen], Prior] = field(default_factory=lambda: PRIORS)
    doubt: DoubtTerms = field(default_factory=DoubtTerms)
    knuckle: KnuckleTerms = field(default_factory=KnuckleTerms)
    hallmark: HallmarkTerms = field(default_factory=HallmarkTerms)
    resizing: ResizingTerms = field(default_factory=ResizingTerms)
    anticlastic: AnticlasticTerms = field(default_factory=AnticlasticTerms)
    reading: ReadingTerms = field(default_factory=ReadingTerms)
    mill: MillTerms = field(default_factory=MillTerms)
    learned: tuple[Learned, ...] = ()
    learned_forming: tuple[LearnedForming, ...] = ()
    own_alloys: tuple[OwnAlloy, ...] = ()
    stated_on: date = date(2026, 11, 25)
    source: str = "common practice, no source"
    said: Mapping[str, Said] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def trim_mm(self) -> float:
        """What both ends of a blank are longer than its squared length, in mm."""
        return 2 * self.trim_each_end_mm

    @property
    def alloys(self) -> Mapping[str, Alloy]:
        """Every alloy by its key: those of the list, then the studio's own."""
        return alloys_with(self.own_alloys)

    @property
    def offered_alloys(self) -> tuple[Alloy, ...]:
        """Those a ring is chosen from: all but the studio's own that it has put away."""
        put_away = {one.key for one in self.own_alloys if one.is_put_away}
        return tuple(alloy for key, alloy in self.alloys.items() if key not in put_away)

    def fit_rows(self, profile: Profile) -> tuple[FitRow, ...]:
        """The fit rule of this profile: its own where the studio has given it one, else the common one."""
        return self.fit_by_profile.get(profile) or self.fit_rule

    def fit_source(self, profile: Profile) -> str:
        """Where the fit rule of this profile comes from, in words."""
        return self.source_of(f"fit_by_profile.{profile}" if self.fit_by_profile.get(profile) else "fit_rule")

    def prior_source(self, pattern: Pattern, when: PatternWhen) -> str:
        """Where the prior of this pattern comes from, in words."""
        return self.source_of(f"priors.{pattern}/{when}")

    def source_of(self, *paths: str) -> str:
        """Where the figures at these paths come from, in words; a path stands for all that lies below it.

        'common practice, no source', or 'our own trials, from 1 Dec 2026' where the studio has put them in.
        """
        if not self.said:
            return self.source
        sources: dict[str, None] = {}
        for path in paths:
            own = [said for name, said in self.said.items() if name == path or name.startswith(f"{path}.")]
            sources |= dict.fromkeys(said.words for said in own) if own else {self.source: None}
        return "; ".join(sources)


COMMON_PRACTICE = Practice()
"""What a studio starts with. Published fit rules conflict; this one lies between them."""
