"""Stock and finished ring: the length by each rule, and the faces that are filed up.

Lengths in mm. C is the ring's inside circumference, t the thickness of the stock.
"""

import math
from dataclasses import dataclass

from studio.craft import blanks
from studio.craft.designs import Design, Pattern
from studio.craft.practice import LengthRule

WORTH_SHOWING_MM = 0.1
"""Lengths that differ by more than this are shown side by side."""


@dataclass(frozen=True, slots=True)
class Lengths:
    """The neutral line of the closed ring by each rule, in mm, and the rule that was used.

    `din_mm` is None where DIN 6935 says nothing else than the centroid; a studio that goes by DIN goes by the
    centroid there, and `rule` says so.
    """

    centroid_mm: float
    mid_line_mm: float
    din_mm: float | None
    rule: LengthRule

    @property
    def reckoned_mm(self) -> float:
        """The length by the rule that was used."""
        if self.rule is LengthRule.DIN and self.din_mm is not None:
            return self.din_mm
        return self.mid_line_mm if self.rule is LengthRule.MID_LINE else self.centroid_mm

    def differs(self, length_mm: float) -> bool:
        """Whether a length is worth showing beside the one that was reckoned with."""
        return abs(length_mm - self.reckoned_mm) > WORTH_SHOWING_MM

    @property
    def beside(self) -> tuple[tuple[LengthRule, float], ...]:
        """The lengths by other rules, more than 0.1 mm from it and from each other, longest first.

        Half-round 4 x 1.7 mm on C = 57 mm by the centroid, 61.53: the mid-line, 62.34.
        """
        found: list[tuple[LengthRule, float]] = []
        for rule, length_mm in (
            (LengthRule.MID_LINE, self.mid_line_mm),
            (LengthRule.CENTROID, self.centroid_mm),
            (LengthRule.DIN, self.din_mm),
        ):
            known = [other for _, other in found]
            if length_mm is None or not self.differs(length_mm):
                continue
            if all(abs(length_mm - other) > WORTH_SHOWING_MM for other in known):
                found.append((rule, length_mm))
        return tuple(sorted(found, key=lambda one: -one[1]))


def lengths(design: Design, circumference_mm: float, rule: LengthRule) -> Lengths:
    """The length of the closed ring by centroid (Pappus), mid-line (C + pi t) and DIN 6935.

    Flat 6 x 2 mm on C = 54.35: centroid and mid-line 60.63, DIN 60.43.
    """
    profile, t = design.profile, design.thickness_mm
    din = blanks.din_length(profile, t, circumference_mm)
    used = LengthRule.CENTROID if rule is LengthRule.DIN and din is None else rule
    return Lengths(
        centroid_mm=blanks.true_length(profile, design.width_mm, t, circumference_mm),
        mid_line_mm=circumference_mm + math.pi * t,
        din_mm=din,
        rule=used,
    )


def faces_filed(design: Design) -> tuple[str, ...]:
    """The faces that finishing takes metal off: always the inside, the outside where it bears no pattern.

    A pattern, struck or rolled, stays as it was put on. So it is for every section: the edges of a filed
    profile run into its outside. Common practice, no source.
    """
    return ("inside", "outside") if design.pattern is Pattern.PLAIN else ("inside",)
