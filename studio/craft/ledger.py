"""Where every milligram of metal went: movements of one alloy from one account to another.

Every movement takes from one account what it gives to another, so all accounts of an alloy sum to nothing,
whatever happened. What is a customer's moves in accounts of that customer's and is in no sum of the studio's.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum


class Account(StrEnum):
    """Where metal is, or where it came from and went to."""

    DRAWER = "drawer"
    BENCH = "bench"
    SCRAP = "scrap box"
    LEMEL = "lemel"
    BEFORE = "before the ledger"
    SUPPLIER = "supplier"
    CUSTOMER = "customer"
    SELLER = "seller of old gold"
    SOLD = "sold"
    REFINER = "refiner"
    LOSS = "loss"
    DIFFERENCE = "difference"


INSIDE = (Account.DRAWER, Account.BENCH, Account.SCRAP, Account.LEMEL)
"""The accounts of metal that is in the studio, in the order a list of them shows."""


class MetalMove(StrEnum):
    """What a movement was."""

    CARRIED_IN = "carried in"  # what was there when the ledger began
    BOUGHT = "bought"
    CUSTOMERS_IN = "customer metal in"
    OLD_GOLD = "old gold bought in"
    ISSUED = "issued to the bench"
    OFFCUT = "offcut"  # from one piece of the drawer to another
    SAWN = "lemel of the saw"
    RETURNED = "returned from the bench"
    IN_A_RING = "in a finished ring"
    FILINGS = "filings"
    LEMEL = "lemel collected"
    SWEEPS = "sweeps"
    SCRAPPED = "scrap"
    GAINED = "solder and other gain"
    LOSS = "loss"
    TAKEN_OUT = "taken out of the drawer"
    TO_REFINER = "to the refiner"
    FROM_REFINER = "back from the refiner"
    COUNTED = "stock-take difference"
    PUT_RIGHT = "put right"
    CORRECTION = "correction"


@dataclass(frozen=True, slots=True)
class Movement:
    """So many mg of one alloy from one account to another; `owner_id` is the customer's whose metal it is.

    `ring` is the one it was for, '2026-118/1'; `operation` the work in which it was lost.
    """

    what: MetalMove
    source: Account
    target: Account
    alloy: str
    mass_mg: int
    owner_id: int | None = None
    ring: str = ""
    operation: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Pot:
    """One alloy of one owner in one account; the studio's own has `owner_id` 0."""

    account: Account
    alloy: str
    owner_id: int = 0


def balances(movements: Iterable[Movement]) -> dict[Pot, int]:
    """What each account holds of each alloy and owner, in mg; accounts outside the studio are below 0.

    50 g bought and 5.6 g issued: supplier -50,000, drawer 44,400, bench 5,600. What holds nothing is left
    out; all of them sum to 0.
    """
    found: dict[Pot, int] = defaultdict(int)
    for one in movements:
        owner = one.owner_id or 0
        found[Pot(one.source, one.alloy, owner)] -= one.mass_mg
        found[Pot(one.target, one.alloy, owner)] += one.mass_mg
    return {pot: mass for pot, mass in sorted(found.items()) if mass}


def fine_mg(mass_mg: int, fineness: int) -> int:
    """The precious metal in an alloy of so many parts per thousand, rounded down to the milligram.

    Rounded down, since nobody is paid for what may not be there; it is reckoned of a whole balance, never
    summed of rounded parts. 10 g of 750 gold: 7,500 mg; 5,601 mg of sterling: 5,180 (5,180.925).
    """
    return mass_mg * fineness // 1000


def share_bp(part_mg: int, whole_mg: int) -> int | None:
    """A part in hundredths of a percent, half up; None of nothing. 168 of 5,600: 300, which is 3 %."""
    return None if whole_mg <= 0 else (20_000 * part_mg + whole_mg) // (2 * whole_mg)


@dataclass(frozen=True, slots=True)
class Job:
    """What one ring took of one alloy, in mg: issued, given back, gone into the ring, swept up, lost."""

    ring: str
    alloy: str
    owner_id: int
    issued_mg: int = 0
    returned_mg: int = 0
    in_ring_mg: int = 0
    lemel_mg: int = 0
    lost_mg: int = 0

    @property
    def at_bench_mg(self) -> int:
        """What is at the bench of it still; below 0 where more came back than was issued."""
        return self.issued_mg - self.returned_mg - self.in_ring_mg - self.lemel_mg - self.lost_mg

    @property
    def off_bp(self) -> int | None:
        """What came off the metal that stayed at the bench, swept up or lost, in hundredths of a percent."""
        return share_bp(self.lemel_mg + self.lost_mg, self.issued_mg - self.returned_mg)


def jobs(movements: Iterable[Movement]) -> tuple[Job, ...]:
    """What each ring took, by ring and alloy. Only what goes to the bench of a ring or from it counts.

    What comes to the bench out of a ring, the lemel or the loss again is taken off there.
    """
    found: dict[tuple[str, str, int], dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for one in movements:
        if not one.ring or (one.source is Account.BENCH) == (one.target is Account.BENCH):
            continue
        is_in = one.target is Account.BENCH
        side = _SIDES.get(one.source if is_in else one.target)
        sums = found[one.ring, one.alloy, one.owner_id or 0]
        if side is not None:
            sums[side] += -one.mass_mg if is_in else one.mass_mg
        else:
            sums["issued_mg" if is_in else "returned_mg"] += one.mass_mg
    return tuple(Job(*key, *(found[key][name] for name in _MASSES)) for key in sorted(found))


_MASSES = ("issued_mg", "returned_mg", "in_ring_mg", "lemel_mg", "lost_mg")
_SIDES: Mapping[Account, str] = {
    Account.SOLD: "in_ring_mg",
    Account.CUSTOMER: "in_ring_mg",
    Account.LEMEL: "lemel_mg",
    Account.LOSS: "lost_mg",
}


@dataclass(frozen=True, slots=True)
class LossAt:
    """What one kind of work took off one alloy, in mg, beside what was issued for those rings."""

    operation: str
    alloy: str
    lemel_mg: int
    lost_mg: int
    issued_mg: int

    @property
    def lost_bp(self) -> int | None:
        """What is lost for good, in hundredths of a percent of what was issued."""
        return share_bp(self.lost_mg, self.issued_mg)


def losses(movements: Iterable[Movement]) -> tuple[LossAt, ...]:
    """Lemel and loss by operation and alloy; what names no operation stands under 'not said'.

    Issued is all that went to the bench of that alloy, so that the shares of the operations add up.
    """
    issued: dict[str, int] = defaultdict(int)
    off: dict[tuple[str, str], list[int]] = defaultdict(lambda: [0, 0])
    for one in movements:
        if one.target is Account.BENCH and one.source is Account.DRAWER:
            issued[one.alloy] += one.mass_mg
        for place, account in enumerate((Account.LEMEL, Account.LOSS)):
            inside = set(INSIDE) - {account}
            if one.target is account and one.source in inside:
                off[one.operation or "not said", one.alloy][place] += one.mass_mg
            elif one.source is account and one.target in inside:
                off[one.operation or "not said", one.alloy][place] -= one.mass_mg
    return tuple(
        LossAt(operation, alloy, lemel, lost, issued[alloy])
        for (operation, alloy), (lemel, lost) in sorted(off.items())
        if lemel or lost
    )


BY_HAND: Mapping[MetalMove, tuple[Account, Account]] = {
    MetalMove.RETURNED: (Account.BENCH, Account.SCRAP),
    MetalMove.LEMEL: (Account.BENCH, Account.LEMEL),
    MetalMove.LOSS: (Account.BENCH, Account.LOSS),
    MetalMove.SWEEPS: (Account.LOSS, Account.LEMEL),
    MetalMove.ISSUED: (Account.SCRAP, Account.BENCH),
}
"""What is written down by hand, from where to where; all else follows from what is done elsewhere."""
OPERATIONS = ("saw", "file", "roll", "forge", "solder", "polish", "set", "cast", "making")
"""The work that metal is lost in, as a movement names it."""


class LotKind(StrEnum):
    """What a refiner's lot is of: each kind comes back with another share of its fine metal."""

    SCRAP = "clean scrap"
    LEMEL = "lemel"
    SWEEPS = "sweeps"

    @property
    def account(self) -> Account:
        """The account it is sent out of."""
        return Account.SCRAP if self is LotKind.SCRAP else Account.LEMEL
