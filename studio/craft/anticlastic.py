"""Anticlastic bands: a flat strip closed to a ring and sunk over a groove, so that its edges flare. In mm.

The middle of the metal is an arc of radius g across the band, turned around the finger; the waist is its
narrowest place and carries the finger. A strip W wide covers an arc of half angle a = W/(2 g).
"""

import math
from dataclasses import dataclass

from studio.craft.errors import Refusal, Refused, Why

QUARTER_US_MM = 0.032 * 25.4 * math.pi / 4
"""A quarter of a US size on the circumference, 0.638 mm: beyond it a trial in copper tells more."""

_SMALL_ANGLE = 0.05
"""Below it the series of m is as good as the closed form, which takes two like numbers from each other."""


@dataclass(frozen=True, slots=True)
class Groove:
    """The arc across a band: radius of the middle of the metal, half angle in radians, and what follows.

    `rise_mm` is how far the edges stand above the waist, `finished_width_mm` how wide the formed band is, and
    `shortfall_mm` (m) by how much the mean radius of the band lies above that of its waist.
    """

    strip_mm: float
    thickness_mm: float
    middle_radius_mm: float

    @property
    def radius_mm(self) -> float:
        """The radius of the groove itself, as the maker knows it: half the metal more than the middle's."""
        return self.middle_radius_mm + self.thickness_mm / 2

    @property
    def half_angle(self) -> float:
        """From waist to edge, in radians: a = W/(2 g)."""
        return self.strip_mm / (2 * self.middle_radius_mm)

    @property
    def rise_mm(self) -> float:
        """How far the edges stand above the waist: g (1 - cos a), exact for a shallow one as well."""
        return 2 * self.middle_radius_mm * math.sin(self.half_angle / 2) ** 2

    @property
    def finished_width_mm(self) -> float:
        """The band's width once formed: 2 g sin a."""
        return 2 * self.middle_radius_mm * math.sin(self.half_angle)

    @property
    def shortfall_mm(self) -> float:
        """The mean radius less that of the waist, m = g (1 - sin a / a)."""
        a = self.half_angle
        if a < _SMALL_ANGLE:
            return self.middle_radius_mm * a**2 / 6 * (1 - a**2 / 20 * (1 - a**2 / 42))
        return self.middle_radius_mm * (1 - math.sin(a) / a)

    @property
    def shift_mm(self) -> float:
        """The most by which the waist may come out smaller, on the circumference: 2 pi m.

        So it does where the mean circumference is kept; where only the edges stretch, it does not at all.
        """
        return 2 * math.pi * self.shortfall_mm


def groove_of_radius(strip_mm: float, thickness_mm: float, radius_mm: float) -> Groove:
    """The arc of a strip sunk into a groove of `radius_mm`; g is half the metal less.

    Strip 8 x 0.8 mm, groove 12.4 mm: g 12, rise 0.661, finished width 7.853, m 0.221, the waist up to 1.39 mm
    smaller. Source: plane geometry, and Pappus for m. Raises `Refused` at `form.radius` at or below half the
    metal, and where the strip would reach round more than half a circle (a > pi/2).
    """
    middle_mm = radius_mm - thickness_mm / 2
    if not (math.isfinite(radius_mm) and middle_mm > 0):
        half_mm = thickness_mm / 2
        raise Refused(Refusal("form.radius", Why.GROOVE_IN_THE_METAL, f"{radius_mm:g}", half_mm, unit="mm"))
    if strip_mm > math.pi * middle_mm:
        least_mm = smallest_radius_mm(strip_mm, thickness_mm)
        raise Refused(Refusal("form.radius", Why.GROOVE_TOO_TIGHT, f"{radius_mm:g}", least_mm, unit="mm"))
    return Groove(strip_mm, thickness_mm, middle_mm)


def groove_of_rise(strip_mm: float, thickness_mm: float, rise_mm: float) -> Groove:
    """The arc whose edges stand `rise_mm` above the waist: (1 - cos a)/a = 2 f/W solved for a by halving.

    The left side grows steadily from 0 to 2/pi between a = 0 and pi/2, so the one answer is always between.
    Strip 8 x 0.8 mm, rise 0.66052 mm: groove 12.4 mm.
    Raises `Refused` at `form.rise` for none, and above W/pi.
    """
    if not rise_mm > 0:
        raise Refused(Refusal("form.rise", Why.NOT_ABOVE_ZERO, f"{rise_mm:g}"))
    most_mm = largest_rise_mm(strip_mm)
    if rise_mm > most_mm:
        raise Refused(Refusal("form.rise", Why.RISE_TOO_HIGH, f"{rise_mm:g}", high=most_mm, unit="mm"))
    wanted, low, high = 2 * rise_mm / strip_mm, 0.0, math.pi / 2
    while low < (between := (low + high) / 2) < high:
        if 2 * math.sin(between / 2) ** 2 / between < wanted:
            low = between
        else:
            high = between
    return Groove(strip_mm, thickness_mm, strip_mm / (2 * high))


def smallest_radius_mm(strip_mm: float, thickness_mm: float) -> float:
    """The tightest groove for a strip, which then reaches round half a circle: W/pi + t/2."""
    return strip_mm / math.pi + thickness_mm / 2


def largest_rise_mm(strip_mm: float) -> float:
    """The highest rise of a strip, which then reaches round half a circle: W/pi."""
    return strip_mm / math.pi


@dataclass(frozen=True, slots=True)
class AnticlasticBand:
    """A groove turned around a waist of `waist_mm` inside diameter.

    `correction_mm` is the studio's own, on the circumference: by so much its waists come out smaller than the
    closed strip, so the blank is that much longer. 0 is common practice, no source.
    """

    groove: Groove
    waist_mm: float
    correction_mm: float = 0.0

    @property
    def edge_mm(self) -> float:
        """Inside diameter at the edges: twice the rise above the waist."""
        return self.waist_mm + 2 * self.groove.rise_mm

    @property
    def edge_strain(self) -> float:
        """How much longer the metal is at the edges than at the waist, as a fraction: 2 f/(D + t)."""
        return 2 * self.groove.rise_mm / (self.waist_mm + self.groove.thickness_mm)

    @property
    def waist_length_mm(self) -> float:
        """Length of the middle of the metal round the waist: pi (D + t), that of a plain flat band."""
        return math.pi * (self.waist_mm + self.groove.thickness_mm)

    @property
    def blank_length_mm(self) -> float:
        """Length of the squared strip that puts the waist on the size: pi (D + t) + correction."""
        return self.waist_length_mm + self.correction_mm

    @property
    def area_mm2(self) -> float:
        """Area of the middle of the metal, formed: W (pi (D + t) + 2 pi m)."""
        return self.groove.strip_mm * (self.waist_length_mm + self.groove.shift_mm)

    @property
    def mean_thickness_mm(self) -> float:
        """What is left of the thickness on the mean, no metal being lost: t L/(pi (D + t) + 2 pi m).

        With no correction the blank L is pi (D + t). Strip 8 x 0.8 mm, groove 12.4, waist 57 mm round: 0.782.
        """
        formed = self.waist_length_mm + self.groove.shift_mm
        return self.groove.thickness_mm * self.blank_length_mm / formed

    @property
    def wants_copper_trial(self) -> bool:
        """Whether the waist may shift by more than a quarter US size."""
        return self.groove.shift_mm > QUARTER_US_MM

    def shift_in_steps(self, step_mm: float) -> float:
        """The range of the waist in steps of `step_mm` round: 1.39 mm is 1.11 UK sizes of 1.25."""
        return self.groove.shift_mm / step_mm
