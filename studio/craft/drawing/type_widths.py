"""How wide a line of Source Sans Pro runs, so that a figure is only put where it fits.

Advance widths in thousandths of the type size, read from the fonts' own tables (Source Sans Pro, OFL).
"""

from functools import lru_cache

_FIRST = 32
_REGULAR = (
    200, 289, 426, 497, 497, 824, 609, 249, 303, 303, 418, 497, 249, 311, 249, 350, 497, 497, 497, 497, 497,
    497, 497, 497, 497, 497, 249, 249, 497, 497, 497, 425, 847, 544, 588, 571, 615, 527, 494, 617, 652, 263,
    480, 579, 486, 727, 647, 664, 566, 664, 569, 534, 536, 645, 515, 786, 513, 476, 539, 303, 350, 303, 497,
    500, 542, 504, 553, 456, 555, 496, 292, 504, 544, 246, 247, 495, 255, 829, 547, 542, 555, 555, 347, 419,
    338, 544, 467, 718, 446, 467, 425, 303, 241, 303, 497,
)  # fmt: skip
_SEMIBOLD = (
    200, 315, 482, 513, 513, 841, 639, 275, 324, 324, 438, 513, 275, 322, 275, 344, 513, 513, 513, 513, 513,
    513, 513, 513, 513, 513, 275, 275, 513, 513, 513, 444, 875, 558, 597, 576, 625, 538, 510, 628, 663, 282,
    494, 597, 502, 745, 656, 674, 582, 674, 592, 545, 546, 655, 536, 800, 541, 501, 540, 324, 344, 324, 513,
    500, 549, 516, 563, 462, 564, 507, 317, 520, 558, 262, 263, 522, 271, 843, 560, 549, 564, 564, 373, 431,
    361, 556, 495, 748, 481, 495, 443, 324, 255, 324, 513,
)  # fmt: skip
_REGULAR_SIGNS = {"Ø": 664, "×": 497, "½": 808, "¼": 781, "¾": 796, "−": 497, "–": 480, "’": 249, "°": 331}
_SEMIBOLD_SIGNS = {"Ø": 674, "×": 513, "½": 827, "¼": 795, "¾": 807, "−": 513, "–": 480, "’": 275, "°": 348}
_UNLISTED = 664
"""A sign outside the table counts as a broad capital, so a line is never taken for narrower than it is."""


@lru_cache(maxsize=1024)
def text_width(words: str, size: float, weight: int = 400) -> float:
    """Width of `words` at `size`, in the unit of `size`. Weights 400 and 600.

    `text_width("61.0", 10)` is 17.4: three figures of 4.97 and a point of 2.49.
    """
    table, signs = (_SEMIBOLD, _SEMIBOLD_SIGNS) if weight > 400 else (_REGULAR, _REGULAR_SIGNS)
    thousandths = 0
    for sign in words:
        place = ord(sign) - _FIRST
        thousandths += table[place] if 0 <= place < len(table) else signs.get(sign, _UNLISTED)
    return thousandths * size / 1000


def first_that_fits(candidates: tuple[str, ...], room: float, size: float, weight: int = 400) -> str:
    """The first of `candidates`, told longest to shortest, that fits in `room`; nothing when none does."""
    return next((words for words in candidates if text_width(words, size, weight) <= room), "")
