"""What a pattern really added to the strips of this studio, and what that says of the next ring.

Each kind of work (pattern and moment, metal, thickness) is a cell. Its stretch is taken as normal with
unknown mean and variance; what is believed beforehand is a normal-inverse-gamma distribution worth one ring
(k0 = 1, a0 = 2), so its forecast is Student's t with 4 degrees of freedom, and every record adds one. A cell
starts from what the other cells of its pattern say: silver learns from gold until it has rings of its own.
Source: the conjugate analysis of the normal distribution, as in textbooks of Bayesian statistics.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import median

from studio.craft.designs import Design, Pattern, PatternWhen
from studio.craft.learned import Learned, ThicknessBand
from studio.craft.metals import Metal
from studio.craft.practice import Prior

K0, A0 = 1.0, 2.0
ROBUST_FROM, ROBUST_SDS, LEAST_SD_PERCENT = 5, 3.5, 0.2
"""From five records up, one farther than 3.5 robust standard deviations from the median is set aside."""
MOST_NAMED = 12
THIN_BELOW_MM, THICK_FROM_MM = 1.2, 1.8
"""Where one thickness works otherwise than another: common practice, no source."""

Key = tuple[Pattern, PatternWhen]
CellKey = tuple[Metal, ThicknessBand]


@dataclass(frozen=True, slots=True)
class StretchRecord:
    """One ring as it was: `ring` names it (2026-118/1); lengths in mm, before and after the pattern.

    `wrong` is why somebody said the record does not count, '' for one that does.
    """

    ring: str
    pattern: Pattern
    when: PatternWhen
    metal: Metal
    thickness_mm: float
    before_mm: float
    after_mm: float
    wrong: str = ""

    @property
    def percent(self) -> float:
        """By how much the pattern made it longer. 60.00 to 61.20 mm: 2 %."""
        return 100 * (self.after_mm / self.before_mm - 1)

    @property
    def cell(self) -> CellKey:
        """The kind of work this was, within its pattern."""
        return self.metal, band_of(self.thickness_mm)


@dataclass(frozen=True, slots=True)
class Judged:
    """A record with why it is set aside, '' where it counts."""

    record: StretchRecord
    aside: str


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is believed of one kind of work's stretch, in percent: a normal-inverse-gamma distribution."""

    mean: float
    k: float
    a: float
    b: float

    @property
    def freedom(self) -> float:
        """Degrees of freedom of the forecast for the next ring."""
        return 2 * self.a

    @property
    def scale(self) -> float:
        """Scale of that forecast: sqrt(b (k + 1) / (a k))."""
        return math.sqrt(self.b * (self.k + 1) / (self.a * self.k))

    @property
    def half_width(self) -> float:
        """Half of the interval that holds the next ring nine times in ten."""
        return t_95(round(self.freedom)) * self.scale

    @property
    def sd(self) -> float:
        """Standard deviation of the next ring."""
        return self.scale * math.sqrt(self.freedom / (self.freedom - 2))

    def after(self, seen: Sequence[float]) -> "Posterior":
        """The belief once these were seen: the conjugate update. Seeing nothing changes nothing."""
        if not seen:
            return self
        n, mean = len(seen), math.fsum(seen) / len(seen)
        squares = math.fsum((one - mean) ** 2 for one in seen)
        k = self.k + n
        off = self.k * n * (mean - self.mean) ** 2 / (2 * k)
        return Posterior((self.k * self.mean + n * mean) / k, k, self.a + n / 2, self.b + squares / 2 + off)


def believed(prior: Prior) -> Posterior:
    """The belief worth one ring whose forecast has this mean and interval. 1.5 ± 1.0: b0 = (1.0/2.132)²."""
    return Posterior(prior.mean_percent, K0, A0, (prior.half_width_percent / t_95(4)) ** 2)


def band_of(thickness_mm: float) -> ThicknessBand:
    """Thin below 1.2 mm, thick from 1.8 mm, middle between."""
    if thickness_mm < THIN_BELOW_MM:
        return ThicknessBand.THIN
    return ThicknessBand.THICK if thickness_mm >= THICK_FROM_MM else ThicknessBand.MIDDLE


def judged(records: Iterable[StretchRecord]) -> tuple[Judged, ...]:
    """The records of one cell, each with why it is set aside: said to be wrong, or too far from the others.

    From five records up the median and its robust spread (1.4826 times the median absolute deviation, at
    least 0.2 points) decide: eight at 2 % and one at 12 % set the one aside.
    """
    found = list(records)
    counted = [one.percent for one in found if not one.wrong]
    if len(counted) < ROBUST_FROM:
        return tuple(Judged(one, one.wrong) for one in found)
    middle = median(counted)
    spread = max(LEAST_SD_PERCENT, 1.4826 * median(abs(one - middle) for one in counted))

    def why(one: StretchRecord) -> str:
        if one.wrong or abs(one.percent - middle) <= ROBUST_SDS * spread:
            return one.wrong
        return f"{one.percent:.1f} % lies too far from the other {len(counted) - 1}, about {middle:.1f} %"

    return tuple(Judged(one, why(one)) for one in found)


def learned(records: Iterable[StretchRecord], priors: Mapping[Key, Prior]) -> tuple[Learned, ...]:
    """What the records say of every kind of work there are any of, and of each pattern beyond them.

    The one without metal and thickness stands for all kinds of its pattern that have no record yet.
    """
    patterns: dict[Key, dict[CellKey, list[StretchRecord]]] = {}
    for one in records:
        patterns.setdefault((one.pattern, one.when), {}).setdefault(one.cell, []).append(one)
    told = []
    for key, cells in patterns.items():
        start = believed(priors[key])
        counted = {cell: _counting(found) for cell, found in cells.items()}
        for cell in cells:
            others = [one for other, found in counted.items() if other != cell for one in found]
            told.append(_learned(key, cell, _from_others(start, others), counted[cell], len(others)))
        everyone = [one for found in counted.values() for one in found]
        if everyone:
            told.append(_learned(key, None, _from_others(start, everyone), [], len(everyone)))
    return tuple(told)


def learned_for(design: Design, metal: Metal, found: Sequence[Learned]) -> Learned | None:
    """What was learned for this design: of its own kind of work, else of its pattern; None for nothing."""
    kept = kept_for(design, metal, found)
    return kept[0] if kept else None


def kept_for(design: Design, metal: Metal, found: Sequence[Learned]) -> tuple[Learned, ...]:
    """As much of it as a ring of this design keeps: of its own kind of work first, then of its pattern.

    With the pattern's, the same ring in another metal or thickness has learned something too.
    """
    if design.pattern is Pattern.PLAIN or not found:
        return ()
    of_pattern = [one for one in found if (one.pattern, one.when) == (design.pattern, design.pattern_when)]
    own = (metal, band_of(design.thickness_mm))
    return tuple(one for cell in (own, (None, None)) for one in of_pattern if (one.metal, one.band) == cell)


def by_cell(records: Iterable[StretchRecord]) -> Mapping[tuple[Key, CellKey], tuple[Judged, ...]]:
    """All records judged within their kind of work."""
    cells: dict[tuple[Key, CellKey], list[StretchRecord]] = {}
    for one in records:
        cells.setdefault(((one.pattern, one.when), one.cell), []).append(one)
    return {key: judged(found) for key, found in cells.items()}


@lru_cache(maxsize=512)
def t_95(freedom: int) -> float:
    """The 95th percentile of Student's t: half of nine in ten lies this many scales above the middle.

    By halving the angle whose share of the distribution is 0.9, from its series for whole degrees of freedom
    (Abramowitz and Stegun 26.7.3 and 26.7.4, from memory). 4 degrees: 2.132; very many: 1.645.
    """
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        tried = (low + high) / 2
        low, high = (tried, high) if _share(tried, freedom) < 0.9 else (low, tried)
    return math.sqrt(freedom) * math.tan(high)


def _share(angle: float, freedom: int) -> float:
    """The chance that |t| stays below sqrt(freedom) tan(angle)."""
    sine, cosine = math.sin(angle), math.cos(angle)
    is_odd = freedom % 2
    term, total = (cosine, cosine) if is_odd else (1.0, 1.0)
    for place in range(2 + is_odd, freedom - 1, 2):
        term *= (place - 1) / place * cosine**2
        total += term
    if not is_odd:
        return sine * total
    return 2 / math.pi * (angle + (sine * total if freedom > 1 else 0.0))


def _counting(records: Iterable[StretchRecord]) -> list[StretchRecord]:
    return [one.record for one in judged(records) if not one.aside]


def _from_others(start: Posterior, others: Sequence[StretchRecord]) -> Posterior:
    """A cell's own start: mean and interval of what the other cells say, and again worth one ring."""
    told = start.after([one.percent for one in others])
    return believed(Prior(told.mean, told.half_width))


def _learned(
    key: Key, cell: CellKey | None, start: Posterior, own: Sequence[StretchRecord], others: int
) -> Learned:
    after = start.after([one.percent for one in own])
    metal, band = cell or (None, None)
    return Learned(
        pattern=key[0],
        when=key[1],
        metal=metal,
        band=band,
        mean_percent=after.mean,
        half_width_percent=after.half_width,
        sd_percent=after.sd,
        records=len(own),
        others=others,
        rings=tuple(one.ring for one in own[-MOST_NAMED:]),
    )
