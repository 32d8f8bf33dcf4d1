"""The figures for the strip or wire that is on the bench, once its thickness is measured."""

from dataclasses import replace

from studio.craft.designs import WIRE_PROFILES
from studio.craft.reckonings import Reckoning, reckon


def in_measured_stock(reckoning: Reckoning, thickness_mm: float) -> Reckoning:
    """The same ring, as large as it was, in stock `thickness_mm` thick; wire is as wide as it is thick.

    Reckoned anew by the ring's own practice, its fit kept. Flat 6 x 1.6 plain on UK O½ has the mark 61.65
    (55.625 + pi x 1.6 + 1.0 trim); in strip that measures 1.63 it is 61.75. Raises `Refused` at 'thickness'
    for a thickness that cannot be made.
    """
    design = reckoning.design
    width_mm = thickness_mm if design.profile in WIRE_PROFILES else design.width_mm
    asked = replace(design, thickness_mm=thickness_mm, width_mm=width_mm, fit_mm=reckoning.fit_mm)
    return reckon(reckoning.finger, asked, reckoning.practice)
