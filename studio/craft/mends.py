"""A ring that mends an earlier one: made again, resized or repaired, why, and who pays for it."""

from dataclasses import dataclass
from enum import StrEnum

LONGEST_WORDS = 200


class MendKind(StrEnum):
    """What is done for the earlier ring."""

    REMAKE = "remake"
    RESIZE = "resize"
    REPAIR = "repair"


class Cause(StrEnum):
    """Why it has to be done."""

    MEASURED_WRONG = "measured wrong"
    MADE_WRONG = "made wrong"
    FINGER_CHANGED = "finger has changed"
    WORN = "worn or damaged in wear"
    LOST = "lost"
    CHANGED_MIND = "changed mind"
    OTHER = "other"


class PaidBy(StrEnum):
    """Who pays for it."""

    CUSTOMER = "customer"
    STUDIO = "studio"


DONE = {MendKind.REMAKE: "remade", MendKind.RESIZE: "resized", MendKind.REPAIR: "repaired"}
"""What happened to the earlier ring, by what the new order is."""


@dataclass(frozen=True, slots=True)
class Mends:
    """Which earlier ring an order mends: the order's number and the ring's place in it.

    `cause` and `paid_by` are None while they were not asked; `words` say more about the cause.
    """

    order: str
    ring: int
    kind: MendKind = MendKind.REMAKE
    cause: Cause | None = None
    words: str = ""
    paid_by: PaidBy | None = None

    @property
    def line(self) -> str:
        """'remake of 2026-118/1, measured wrong: read from a ring, paid by the studio'."""
        told = (
            f"{self.kind} of {self.order}/{self.ring}",
            cause_words(self.cause, self.words),
            paid_words(self.paid_by),
        )
        return ", ".join(part for part in told if part)


def cause_words(cause: Cause | None, words: str) -> str:
    """'measured wrong', 'lost: in the sea', the words alone for another cause, '' where nobody said."""
    if cause in {None, Cause.OTHER}:
        return words or (cause or "")
    return f"{cause}: {words}" if words else str(cause)


def paid_words(paid_by: PaidBy | None) -> str:
    """'paid by the studio', '' while nobody said."""
    return "" if paid_by is None else f"paid by the {paid_by}"
