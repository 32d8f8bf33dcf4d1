"""Customers' goods in the studio's keeping: how they came and went, and what they are worth together."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

LONGEST_CONDITION = 200


class CustodyMove(StrEnum):
    """How goods came into the studio's keeping, and how they left it."""

    CARRIED_IN = "carried in"  # they were held already when the record of custody began
    TAKEN_IN = "taken in"
    GIVEN_BACK = "given back"
    USED = "used in the ring"


COMES = frozenset({CustodyMove.CARRIED_IN, CustodyMove.TAKEN_IN})


@dataclass(frozen=True, slots=True)
class Exposure:
    """What the goods held are worth together, in minor units, and how many of them have no value.

    `limit_minor` is for how much they are insured, None where the studio did not say.
    """

    held_minor: int
    without_value: int
    limit_minor: int | None = None

    @property
    def over_minor(self) -> int:
        """By how much the goods held pass what is insured; 0 within it and where no limit is set."""
        return 0 if self.limit_minor is None else max(0, self.held_minor - self.limit_minor)


def exposure(values_minor: Iterable[int | None], limit_minor: int | None = None) -> Exposure:
    """What goods of these values are worth together; None is a value that nobody said.

    exposure([80_000, None, 45_000], 100_000) holds 125 000, one without a value, 25 000 over the limit.
    """
    told = list(values_minor)
    known = [one for one in told if one is not None]
    return Exposure(sum(known), len(told) - len(known), limit_minor)
