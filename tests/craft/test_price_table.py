"""The table in DEVELOPERS.md, worked out again row by row."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from studio.craft.alloys import ALLOYS
from studio.craft.money import to_minor
from studio.craft.pricing import Bought, Job, price
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit

PAGE = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"
INPUTS = 17
"""The first columns are what is given, the rest is what comes of it."""


def rows() -> list[list[str]]:
    lines = PAGE.read_text("utf-8").splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("| alloy | g |"))
    body = lines[start + 2 :]
    end = next(number for number, line in enumerate(body) if not line.startswith("|"))
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in body[:end]]


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row[0]} in {row[16]}")
def test_the_table_of_prices_comes_out_again(row: list[str]) -> None:
    (alloy, grams, metal, of_metal, unit, premium, waste, minutes, hour, overhead, consumables, margin, assay,
     tax, step, deposit, currency) = row[:INPUTS]  # fmt: skip

    def minor(amount: str) -> int:
        return to_minor(Decimal(amount), currency)

    rates = Rates(
        currency=currency, labour_hour_minor=minor(hour), overhead_percent=Decimal(overhead),
        consumables_minor=minor(consumables), premium_percent=Decimal(premium), waste_percent=Decimal(waste),
        margin_percent=Decimal(margin), extra_margin_percent={}, assay_minor=minor(assay),
        tax_percent=Decimal(tax), step_minor=minor(step), deposit_percent=Decimal(deposit), valid_days=14,
        stale_after_days=7, minutes={},
    )  # fmt: skip
    prices = {metal: MetalPrice(metal, Decimal(of_metal), WeightUnit(unit), date(2026, 11, 25), "the table")}
    bought = (Bought(Extra.ASSAY, "Assay", minor(assay)),) if minor(assay) else ()
    job = Job("The ring", ALLOYS[alloy], int(Decimal(grams) * 1000), int(minutes), bought)
    whole = price([job], prices, rates)
    ring = whole.rings[0]
    assert [
        ring.metal_minor, ring.labour_minor, ring.overhead_minor, ring.own_minor, ring.line_minor,
        whole.rounding_minor, whole.net_minor, whole.tax_minor, whole.total_minor, whole.deposit_minor,
    ] == [minor(amount) for amount in row[INPUTS:]]  # fmt: skip
