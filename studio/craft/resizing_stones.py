"""What stones do to a later change of size: how far round they run, which bear no heat. Common practice."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from studio.craft.designs import Design
from studio.craft.particulars import Particulars, Setting, Stone
from studio.craft.practice import ResizingTerms

LARGEST_MM = 30.0
"""A stone said to be larger than this is not said in mm."""
_FIGURE = re.compile(r"\d+(?:[.,]\d+)?")
_OTHER_UNIT = re.compile(r"ct\b|carat|point|inch|\"|%", re.IGNORECASE)
_ROWS = {Setting.CHANNEL: "channel-set", Setting.PAVE: "pavé"}
_NO_HEAT = (
    "amber", "ammolite", "apatite", "coral", "emerald", "fluorite", "iolite", "ivory", "jet", "kunzite",
    "labradorite", "lapis", "malachite", "moonstone", "mother-of-pearl", "mother of pearl", "opal", "pearl",
    "peridot", "rhodochrosite", "shell", "sphene", "sunstone", "tanzanite", "turquoise", "zircon",
)  # fmt: skip
"""Stones that a torch, or a change of heat, spoils: soft, cleaving, grown, filled or full of water."""


@dataclass(frozen=True, slots=True)
class StoneLimits:
    """What the stones of a ring mean for its size.

    `reasons` are why it is not to be resized, each as the end of a sentence. `out_first` are stones to take
    out before any heat. `run_percent` is how much of the way round, outside, the stones take, None where
    nobody said how large they are.
    """

    reasons: tuple[str, ...] = ()
    out_first: tuple[str, ...] = ()
    run_percent: float | None = None

    @property
    def has_words(self) -> bool:
        """Whether there is anything to heed beyond a ring without stones."""
        return bool(self.reasons or self.out_first)


def stone_limits(
    particulars: Particulars, design: Design, around_mm: float, terms: ResizingTerms
) -> StoneLimits:
    """What the stones of a ring of `around_mm` inside mean for a later change of its size.

    Five of 3 mm on a flat ring 1.4 mm thick of 57 mm take 22.8 % of the way round. A row in a channel or in
    pavé whose length nobody knows is taken to run all round, and so are more stones than stand at the top.
    """
    stones = particulars.stones or ()
    run = run_percent(stones, design, around_mm)
    reasons = []
    if run is not None and run > terms.stones_percent:
        reasons.append(f"its stones take {run:.0f} % of the way round, and their seats would not follow")
    elif run is None:
        rows = dict.fromkeys(_ROWS[one.setting] for one in stones if one.setting in _ROWS)
        reasons += [f"its {kind} stones may run all round; say their size to tell" for kind in rows]
        if not rows and particulars.stone_count > terms.stones_most:
            reasons.append(f"it has {particulars.stone_count} stones, more than stand at its top")
    return StoneLimits(tuple(reasons), tuple(dict.fromkeys(filter(None, map(_no_heat, stones)))), run)


def run_percent(stones: Sequence[Stone], design: Design, around_mm: float) -> float | None:
    """How much of the way round the outside the stones take, side by side, in percent; None if not known."""
    length = length_mm(stones)
    outside = around_mm + 2 * math.pi * design.thickness_mm
    return None if length is None else 100 * length / outside


def length_mm(stones: Sequence[Stone]) -> float | None:
    """How long the stones are side by side; None without stones, or where the size of one is not known."""
    sizes = [size_mm(one) for one in stones]
    known = [one.count * size for one, size in zip(stones, sizes, strict=True) if size is not None]
    return sum(known) if stones and len(known) == len(stones) else None


def size_mm(stone: Stone) -> float | None:
    """The larger side of a stone, as far as it was said in mm: '2.5 x 3 mm' gives 3; None for '0.1 ct'."""
    if _OTHER_UNIT.search(stone.size):
        return None
    sides = [float(figure.replace(",", ".")) for figure in _FIGURE.findall(stone.size)]
    return max(sides) if sides and 0 < max(sides) <= LARGEST_MM else None


def _no_heat(stone: Stone) -> str:
    """The name by which a stone is known that bears no heat, '' for another; what was found counts first."""
    told = (stone.tested or stone.stated).lower()
    return next((name for name in _NO_HEAT if re.search(rf"\b{name}s?\b", told)), "")
