"""Cutting plans: which blanks are cut from which pieces of sheet, strip and wire, with a kerf at every cut.

Two-stage guillotine cuts: strips are ripped across the width of a piece, each as wide as its blanks, and then
crosscut. A kerf lies between neighbours, none at the edge.
"""

from studio.craft.cutting.first_fit import first_fit
from studio.craft.cutting.planner import is_at_once, plan
from studio.craft.cutting.sawing import CutsOverlap, sawn
from studio.craft.cutting.values import (
    Blank,
    Cut,
    Offcut,
    Opened,
    Plan,
    Stock,
    Strip,
    Unplaced,
    WhyUnplaced,
)

__all__ = [
    "Blank",
    "Cut",
    "CutsOverlap",
    "Offcut",
    "Opened",
    "Plan",
    "Stock",
    "Strip",
    "Unplaced",
    "WhyUnplaced",
    "first_fit",
    "is_at_once",
    "plan",
    "sawn",
]
