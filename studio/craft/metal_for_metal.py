"""The same ring in every metal of the list: what it weighs in each."""

from dataclasses import replace

from studio.craft.designs import Design, Finger
from studio.craft.metals import Metal
from studio.craft.practice import COMMON_PRACTICE, Practice
from studio.craft.reckonings import Reckoning, reckon


def in_every_metal(
    finger: Finger, design: Design, practice: Practice = COMMON_PRACTICE
) -> tuple[Reckoning, ...]:
    """The ring of `design` reckoned in each alloy: metal by metal, the finest first, then the list's order.

    Everything else is kept, so lengths are the same in all and the weights go as the densities: 5.18 g
    finished in silver 925 (10.36 g/cm3) are 10.35 g in platinum 950 with ruthenium (20.7).
    """
    metals = list(Metal)
    order = sorted(practice.offered_alloys, key=lambda alloy: (metals.index(alloy.metal), -alloy.fineness))
    return tuple(reckon(finger, replace(design, alloy=alloy.key), practice) for alloy in order)
