"""Reading metal prices out of a table: one line a price, columns named in the first."""

import csv
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from io import StringIO

from studio.book.metal_prices import price_refusals, read_price
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.rates import MetalPrice, WeightUnit
from studio.craft.units import shortened

COLUMNS = ("metal", "price", "unit", "on", "source")
LONGEST_CSV = 200_000
MOST_ROWS = 1000


def read_metal_prices_csv(text: str) -> tuple[MetalPrice, ...]:
    """The prices in a table whose first line names its columns: metal, price, unit, on, source.

    Columns may stand in any order, parted by comma, semicolon or tab; days are YYYY-MM-DD. Raises `Refused`
    with every reason, by row from 0: 'prices.0.price'; 'prices' where the table itself cannot be read.
    """
    if len(text) > LONGEST_CSV:
        raise Refused(Refusal("prices", Why.TOO_LONG, high=LONGEST_CSV, unit="signs"))
    lines = text.removeprefix("\ufeff").strip()
    head = lines.partition("\n")[0].lower()
    parted_by = next((sign for sign in ";\t" if sign in head), ",")
    try:
        header, *rows = list(csv.reader(StringIO(lines), delimiter=parted_by, strict=True)) or [[]]
    except csv.Error:
        raise Refused(Refusal("prices", Why.NOT_A_NUMBER)) from None
    names = [name.strip().lower() for name in header]
    if sorted(names) != sorted(COLUMNS):
        raise Refused(Refusal("prices", Why.UNKNOWN_CHOICE, shortened(head), suggestion=",".join(COLUMNS)))
    rows = [row for row in rows if any(cell.strip() for cell in row)]
    if not rows:
        raise Refused(Refusal("prices", Why.EMPTY))
    if len(rows) > MOST_ROWS:
        raise Refused(Refusal("prices", Why.TOO_LONG, high=MOST_ROWS, unit="rows"))
    refusals: list[Refusal] = []
    prices: list[MetalPrice] = []
    for place, row in enumerate(rows):
        try:
            prices.append(_read_row(f"prices.{place}.", dict(zip(names, row, strict=False))))
        except Refused as refused:
            refusals += refused.refusals
    if refusals:
        raise Refused(*refusals)
    return tuple(prices)


def _read_row(before: str, cells: Mapping[str, str]) -> MetalPrice:
    said = {name: cells.get(name, "").strip() for name in COLUMNS}
    refusals: list[Refusal] = []
    price, on, unit = Decimal(1), date.min, WeightUnit.G
    try:
        price = read_price(said["price"], f"{before}price")
    except Refused as refused:
        refusals += refused.refusals
    try:
        on = date.fromisoformat(said["on"])
    except ValueError:
        refusals.append(Refusal(f"{before}on", Why.NOT_A_NUMBER, shortened(said["on"])))
    if said["unit"].lower() in set(WeightUnit):
        unit = WeightUnit(said["unit"].lower())
    else:
        refusals.append(Refusal(f"{before}unit", Why.UNKNOWN_CHOICE, shortened(said["unit"])))
    read = MetalPrice(said["metal"].lower(), price, unit, on, said["source"])
    refusals += price_refusals(read, before)
    if refusals:
        raise Refused(*refusals)
    return read
