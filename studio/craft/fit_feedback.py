"""What customers say of the fit after weeks, beside what the fit rule allowed, and the shift it suggests."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from studio.craft.designs import Limits, Profile
from studio.craft.fit import allowance_mm
from studio.craft.practice import FitRow, Practice
from studio.craft.stretch_learning import t_95
from studio.craft.units import shown_length

OFF_MM = Limits(0.05, 10.0)
UNSAID_MM = 0.625
"""What a ring is off by where nobody said by how much: half a UK size; common practice, no source."""
LEAST_SD_MM = 0.3
"""What answers scatter by at least: 'right' is said of what is near. Common practice, no source."""
FROM_ANSWERS = 5
"""Fewer answers suggest nothing: common practice, no source."""
LONGEST_FIT_NOTE = 300
_EXACT = 1e-9


class Verdict(StrEnum):
    """What a customer says of a ring they have worn for weeks."""

    TIGHT = "too tight"
    RIGHT = "right"
    LOOSE = "loose"
    NO_ANSWER = "no answer"  # asked, and nothing came of it: nobody is reminded any more


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """One answer: of which ring (2026-118/1), its section, width and what the fit rule allowed, in mm.

    `off_mm` is by how much of the circumference it is too tight or loose, None where nobody knows.
    """

    ring: str
    profile: Profile
    width_mm: float
    allowed_mm: float
    verdict: Verdict
    off_mm: float | None = None
    note: str = ""
    at: datetime | None = None
    by: str = ""

    @property
    def wants_mm(self) -> float:
        """By how much larger it should have been: above 0 where it is tight, below where it is loose."""
        off = UNSAID_MM if self.off_mm is None else self.off_mm
        return {Verdict.TIGHT: off, Verdict.LOOSE: -off}.get(self.verdict, 0.0)


@dataclass(frozen=True, slots=True)
class Shift:
    """What the answers say the allowance is off by: their mean in mm, and ± nine times in ten."""

    mean_mm: float
    half_width_mm: float

    @property
    def is_clear(self) -> bool:
        """Whether the interval leaves out 0: less than that speaks for no change."""
        return abs(self.mean_mm) > self.half_width_mm


@dataclass(frozen=True, slots=True)
class BandHeard:
    """What was heard of one kind of ring in one band of width.

    `up_to_mm` is the end of the band, None for every wider ring; `adds_mm` what the rule adds there now,
    `allowed_mm` what these rings were really given, on average. `shift` is None while answers are few.
    """

    profile: Profile
    band: str
    up_to_mm: float | None
    adds_mm: float
    allowed_mm: float
    tight: int
    right: int
    loose: int
    shift: Shift | None

    @property
    def answers(self) -> int:
        """How many said anything."""
        return self.tight + self.right + self.loose


def shift_of(wants_mm: Sequence[float]) -> Shift | None:
    """The mean of what rings should have been larger by, with its interval; None below five answers.

    The interval is that of Student's t for the mean, with a standard deviation of 0.3 mm at least. Four rings
    right and two loose by 0.6 mm: mean -0.20, deviation 0.31, t 2.015, so -0.20 ± 0.25 mm: no clear change.
    """
    count = len(wants_mm)
    if count < FROM_ANSWERS:
        return None
    mean = math.fsum(wants_mm) / count
    spread = math.sqrt(math.fsum((one - mean) ** 2 for one in wants_mm) / (count - 1))
    return Shift(mean, t_95(count - 1) * max(LEAST_SD_MM, spread) / math.sqrt(count))


def heard(answers: Iterable[FitAnswer], practice: Practice) -> tuple[BandHeard, ...]:
    """The answers by kind of ring and band of width, as the fit rule of that kind has its bands now.

    Where nobody answered there is no line. The rule itself is not touched.
    """
    groups: dict[tuple[Profile, int], list[FitAnswer]] = {}
    for one in answers:
        if one.verdict is not Verdict.NO_ANSWER:
            rule = practice.fit_rows(one.profile)
            groups.setdefault((one.profile, _band_at(rule, one.width_mm)), []).append(one)
    kinds = list(Profile)
    return tuple(
        _heard(profile, at, groups[profile, at], practice.fit_rows(profile))
        for profile, at in sorted(groups, key=lambda key: (kinds.index(key[0]), key[1]))
    )


def verdict_words(verdict: Verdict, off_mm: float | None) -> str:
    """'loose by 0.6 mm', 'too tight', 'right'."""
    return verdict if off_mm is None else f"{verdict} by {shown_length(off_mm)} mm"


def _heard(profile: Profile, at: int, found: Sequence[FitAnswer], rule: tuple[FitRow, ...]) -> BandHeard:
    said = [one.verdict for one in found]
    return BandHeard(
        profile=profile,
        band=_band_words(rule, at),
        up_to_mm=rule[at].up_to_mm,
        adds_mm=allowance_mm(rule, found[0].width_mm),
        allowed_mm=math.fsum(one.allowed_mm for one in found) / len(found),
        tight=said.count(Verdict.TIGHT),
        right=said.count(Verdict.RIGHT),
        loose=said.count(Verdict.LOOSE),
        shift=shift_of([one.wants_mm for one in found]),
    )


def _band_at(rule: tuple[FitRow, ...], width_mm: float) -> int:
    return next(
        at for at, row in enumerate(rule) if row.up_to_mm is None or width_mm <= row.up_to_mm + _EXACT
    )


def _band_words(rule: tuple[FitRow, ...], at: int) -> str:
    """'up to 4 mm', 'over 4, up to 6 mm', 'over 8 mm', or 'every width'."""
    below = None if at == 0 else rule[at - 1].up_to_mm
    up_to = rule[at].up_to_mm
    if up_to is None:
        return "every width" if below is None else f"over {shown_length(below)} mm"
    if below is None:
        return f"up to {shown_length(up_to)} mm"
    return f"over {shown_length(below)}, up to {shown_length(up_to)} mm"
