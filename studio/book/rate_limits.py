"""What a studio's figures may be: no amount below nothing, a margin that does not run away, known minutes."""

from collections.abc import Iterator
from decimal import Decimal

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.minutes import minute_rows
from studio.craft.pricing import HIGHEST_MARGIN_PERCENT
from studio.craft.rates import Rates

MOST_MINOR = 10**12
MOST_PERCENT = 1000
MOST_MINUTES = 10_000
MOST_DAYS = 3650
_HUNDREDTH = Decimal("0.01")


def check_rates(rates: Rates, currency: str) -> None:
    """Raise `Refused` with every figure that cannot stand, each by its name in `Rates`.

    Amounts are 0 or more, percent have at most two decimals, margins stay below 95 %, tax and deposit up to
    100 %, days at least 1, and the currency is the studio's. Minutes are named 'minutes.pattern:hammered'.
    """
    if found := tuple(_refusals(rates, currency)):
        raise Refused(*found)


def _refusals(rates: Rates, currency: str) -> Iterator[Refusal]:
    if rates.currency != currency:
        yield Refusal("currency", Why.UNKNOWN_CHOICE, rates.currency[:24], suggestion=currency)
    for name in (
        "labour_hour_minor",
        "consumables_minor",
        "assay_minor",
        "letter_minor",
        "plating_minor",
        "setting_minor",
        "step_minor",
    ):
        yield from _outside(name, getattr(rates, name), 0, MOST_MINOR)
    for name in ("overhead_percent", "premium_percent", "waste_percent"):
        yield from _percent(name, getattr(rates, name), MOST_PERCENT)
    for name in ("tax_percent", "deposit_percent"):
        yield from _percent(name, getattr(rates, name), 100)
    yield from _margin("margin_percent", rates.margin_percent)
    for kind, percent in rates.extra_margin_percent.items():
        yield from _margin(f"extra_margin.{kind}", percent)
    for name in ("valid_days", "stale_after_days"):
        yield from _outside(name, getattr(rates, name), 1, MOST_DAYS, "days")
    rows = frozenset(minute_rows())
    for row, minutes in rates.minutes.items():
        if row not in rows:
            yield Refusal(f"minutes.{row[:40]}", Why.UNKNOWN_CHOICE, row[:24])
        yield from _outside(f"minutes.{row[:40]}", minutes, 0, MOST_MINUTES, "minutes")


def _margin(name: str, percent: Decimal) -> Iterator[Refusal]:
    yield from _percent(name, percent, float(HIGHEST_MARGIN_PERCENT - _HUNDREDTH))


def _percent(name: str, percent: Decimal, high: float) -> Iterator[Refusal]:
    if not percent.is_finite():
        yield Refusal(name, Why.NOT_A_NUMBER, str(percent))
        return
    yield from _outside(name, percent, 0, high, "%")
    if percent != round(percent, 2):
        yield Refusal(name, Why.TOO_LONG, f"{percent:f}"[:24], high=2, unit="decimals")


def _outside(name: str, value: float | Decimal, low: float, high: float, unit: str = "") -> Iterator[Refusal]:
    if value < low:
        yield Refusal(name, Why.TOO_SMALL, str(value)[:24], low, high, unit)
    elif value > high:
        yield Refusal(name, Why.TOO_LARGE, str(value)[:24], low, high, unit)
