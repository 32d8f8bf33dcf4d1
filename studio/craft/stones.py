"""A stone in words, as the trade writes it on a job: count, shape, size, what it is, setting, whose."""

from studio.craft.particulars import Stone, Whose

MOST_KINDS = 12
"""Kinds of stones on one ring, each told once."""
MOST_ALIKE = 200
LONGEST_WORDS = 120


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
