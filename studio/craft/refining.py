"""What a refiner should pay for a lot beside what was paid, and what scrap is worth to whoever brings it."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from studio.craft.ledger import fine_mg, share_bp

GRAIN_MG = Decimal("64.79891")
"""A grain, exactly, by the international yard and pound agreement of 1959."""
TROY_OUNCE_MG = 480 * GRAIN_MG
"""A troy ounce is 480 grains, 31,103.4768 mg."""
CREDITED_PERCENT = {"clean scrap": Decimal(97), "lemel": Decimal(93), "sweeps": Decimal(10)}
"""What is expected back of the fine metal sent, the middle of what is usual: common practice, no source."""


@dataclass(frozen=True, slots=True)
class RefinerLot:
    """A lot as it was sent, in mg: its alloy's fineness, and the percent that is expected to be paid."""

    mass_mg: int
    fineness: int
    credited_bp: int

    @property
    def fine_mg(self) -> int:
        """The fine metal sent, by the book, rounded down."""
        return fine_mg(self.mass_mg, self.fineness)

    @property
    def expected_mg(self) -> int:
        """The fine metal that should be paid, rounded down. 412 g of 750 at 97 %: 299,730 mg."""
        return self.fine_mg * self.credited_bp // 10_000


@dataclass(frozen=True, slots=True)
class Settled:
    """A lot beside what the refiner said: the assay in parts per thousand, the fine metal paid, money."""

    lot: RefinerLot
    assay_fineness: int
    paid_fine_mg: int
    charges_minor: int
    paid_minor: int

    @property
    def difference_mg(self) -> int:
        """What was paid beyond what was expected; short of it is below 0."""
        return self.paid_fine_mg - self.lot.expected_mg

    @property
    def difference_bp(self) -> int | None:
        """The difference in hundredths of a percent of what was expected; None where that is nothing."""
        share = share_bp(abs(self.difference_mg), self.lot.expected_mg)
        return None if share is None else (share if self.difference_mg >= 0 else -share)

    def difference_minor(self) -> int | None:
        """The difference in money, at the price this lot was paid by, half up; None where nothing was paid.

        299,730 mg expected, 296,000 paid with 14,208.00 before charges of 150.00: -179.04.
        """
        if not self.paid_fine_mg:
            return None
        before = Decimal(self.paid_minor + self.charges_minor)
        return int(
            (self.difference_mg * before / self.paid_fine_mg).quantize(Decimal(1), rounding=ROUND_HALF_UP)
        )


def scrap_credit_minor(
    mass_mg: int, fineness: int, minor_a_gram: Decimal, *, credited_percent: Decimal, fee_minor: int = 0
) -> int:
    """What scrap is credited with: its fine metal at the day's price, by the percent, less a fee, half up.

    8.42 g of 375 gold, 6,520 minor units a gram fine, 95 %, no fee: 3,157 mg fine, 19,554. Never below 0.
    """
    worth = Decimal(fine_mg(mass_mg, fineness)) / 1000 * minor_a_gram * credited_percent / 100
    return max(0, int(worth.quantize(Decimal(1), rounding=ROUND_HALF_UP)) - fee_minor)
