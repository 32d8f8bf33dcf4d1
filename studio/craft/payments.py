"""Money of an order: the ways it is paid, and how its account stands. Amounts are in minor units."""

import re
from dataclasses import dataclass
from enum import StrEnum

LONGEST_REFERENCE = 100
LONGEST_WHY = 200
SHORTEST_CARD, LONGEST_CARD = 13, 19
"""Digits of a payment card's number, as ISO/IEC 7812 has them in use."""
_DIGITS = re.compile(r"\d(?:[ .\-]?\d)+")


class Method(StrEnum):
    """How money came, or went back."""

    NOT_SAID = "not said"
    CASH = "cash"
    CARD = "card"
    TRANSFER = "bank transfer"
    CHEQUE = "cheque"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Account:
    """What is owed of an order in all, and what was paid of it, less what was given back.

    `due_minor` is None while nobody said it: an order called off before the studio said what is owed.
    """

    due_minor: int | None
    paid_minor: int

    @property
    def left_minor(self) -> int:
        """What is still to be paid: 867.40 of 1,500.00 with 632.60 paid."""
        return 0 if self.due_minor is None else max(0, self.due_minor - self.paid_minor)

    @property
    def back_minor(self) -> int:
        """What was paid beyond what is owed, and goes back."""
        return 0 if self.due_minor is None else max(0, self.paid_minor - self.due_minor)


def holds_card_number(words: str) -> bool:
    """Whether a payment card's number stands in `words`, in groups or in one: '4111 1111 1111 1111' does.

    Thirteen to nineteen digits in a row whose check digit is right by the formula of ISO/IEC 7812-1, annex B
    (each second digit from the right doubled, the sum of all digits a multiple of ten). Such a number is
    kept nowhere.
    """
    runs = (re.sub(r"\D", "", found) for found in _DIGITS.findall(words))
    return any(SHORTEST_CARD <= len(run) <= LONGEST_CARD and _is_checked(run) for run in runs)


def _is_checked(digits: str) -> bool:
    doubled = [int(sign) * 2 if place % 2 else int(sign) for place, sign in enumerate(reversed(digits))]
    return sum(value - 9 if value > 9 else value for value in doubled) % 10 == 0
