"""The list of what to buy as CSV: a line for each thing to order, one for what no supplier is given for."""

import csv
import io

from studio.craft.money import from_minor
from studio.craft.units import from_micrometres, from_milligrams
from studio.web.buying_page import gauge_words
from studio.web.buying_reading import Buying
from studio.web.month_csv import BOM, cell

HEAD = (
    "supplier", "order by", "late", "alloy", "form", "section", "length mm", "width mm", "thickness mm",
    "gauge", "grams", "cost of the line", "currency", "needed", "rings", "note",
)  # fmt: skip
"""The columns; the cost stands in the first thing of each line alone, so that the column sums."""


def buying_csv(found: Buying, *, sees_cost: bool) -> bytes:
    """The list in UTF-8, with the mark by which spreadsheets tell that it is."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEAD)
    for line in found.lines:
        cost = found.hand.cost_minor(line) if sees_cost else None
        money = "" if cost is None else f"{from_minor(cost, found.hand.currency):f}"
        rings = " ".join(blank.ring for blank in line.blanks)
        form = str(line.kind.stock if line.supply is None else line.supply.kind)
        thickness_um = line.kind.thickness_um if line.supply is None else line.supply.thickness_um
        things = [
            (f"{from_micrometres(one.length_um):g}", f"{from_micrometres(one.width_um):g}",
             f"{from_milligrams(one.mass_mg):.2f}")
            for one in line.things
        ] or [("", "", "")]  # fmt: skip
        for place, (length, width, grams) in enumerate(things):
            row = (
                "no supplier given" if line.supply is None else line.supply.supplier,
                "" if line.order_by is None else line.order_by.isoformat(),
                "late" if line.is_late else "",
                line.kind.alloy,
                form,
                line.kind.profile or "",
                length,
                width,
                f"{from_micrometres(thickness_um):g}",
                gauge_words(thickness_um),
                grams,
                "" if place else money,
                found.hand.currency,
                line.needed_on.isoformat(),
                rings,
                "" if line.supply is None else line.supply.note,
            )
            writer.writerow([cell(str(value)) for value in row])
    return f"{BOM}{text.getvalue()}".encode()
