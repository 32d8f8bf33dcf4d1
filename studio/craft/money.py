"""Amounts of money: whole minor units in storage, Decimal in between, one rule of rounding."""

from decimal import ROUND_HALF_UP, Decimal

_WITHOUT_MINOR_UNIT = frozenset({
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF",
    "XOF", "XPF",
})  # fmt: skip
_WITH_THREE_DIGITS = frozenset({"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})
_HUNDRED = Decimal(100)


def minor_digits(currency: str) -> int:
    """How many digits a currency has after its decimal sign.

    GBP 2, JPY 0, KWD 3. Source: ISO 4217, column 'minor unit'; every code not listed here has two.
    """
    if currency in _WITHOUT_MINOR_UNIT:
        return 0
    return 3 if currency in _WITH_THREE_DIGITS else 2


def to_minor(amount: Decimal, currency: str) -> int:
    """An amount in whole currency units as minor units, rounded half up: GBP 6.505 gives 651."""
    return half_up(amount.scaleb(minor_digits(currency)))


def from_minor(minor: int, currency: str) -> Decimal:
    """Minor units as an amount in whole currency units, exactly: GBP 651 gives 6.51."""
    return Decimal(minor).scaleb(-minor_digits(currency))


def half_up(number: Decimal) -> int:
    """The nearest whole number; a half goes away from zero: 650.5 gives 651."""
    return int(number.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def up_to_step(minor: int, step_minor: int) -> int:
    """The smallest multiple of the rounding step not below `minor`; step 0 leaves it as it is.

    24130 by a step of 500 gives 24500.
    """
    return minor if step_minor == 0 else -(-minor // step_minor) * step_minor


def share(minor: int, percent: Decimal) -> int:
    """`percent` of an amount, half up: 20 % of 229.30 is 45.86."""
    return half_up(Decimal(minor) * percent / _HUNDRED)
