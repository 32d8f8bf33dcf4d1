"""A stone in words, as the trade writes it on a job: count, shape, size, what it is, setting, whose."""

import re

from studio.craft.particulars import Stone, Whose

MOST_KINDS = 20
"""Kinds of stones on one ring, each told once."""
MOST_ALIKE = 200
LONGEST_WORDS = 120
DELICATE = (
    "amber", "apatite", "bone", "cameo", "coral", "doublet", "emerald", "fluorite", "horn", "ivory", "jet",
    "kunzite", "lapis", "malachite", "moonstone", "mother of pearl", "opal", "paste", "pearl", "peridot",
    "rhodochrosite", "shell", "tanzanite", "triplet", "turquoise", "zircon",
)  # fmt: skip
"""Stones that stand neither fire nor acid, or fly in a bath: common practice, no source."""
_DELICATE = re.compile(rf"\b(?:{'|'.join(DELICATE)})s?\b")


def stone_line(stone: Stone) -> str:
    """'1 round, 3 mm, said to be sapphire, tested corundum, bezel, the customer's, at their risk'.

    What was not said is left out.
    """
    what = [f"{stone.count} {stone.shape}".strip(), stone.size]
    what.append(f"said to be {stone.stated}" if stone.stated else "")
    what.append(f"tested {stone.tested}" if stone.tested else "")
    what.append(stone.condition)
    what.append(str(stone.setting) if stone.setting else "")
    if stone.whose is Whose.CUSTOMER:
        risk = {"customer": "at their risk", "studio": "at our risk"}.get(
            stone.risk or "", "risk not answered"
        )
        what += ["the customer's", risk]
    return ", ".join(part for part in what if part)


def is_delicate(stone: Stone) -> bool:
    """Whether it is said or found to be one that stands neither fire, acid nor bath: 'opal', 'two pearls'."""
    return bool(_DELICATE.search(f"{stone.stated} {stone.tested}".lower()))
