"""All metal prices ever put in, the latest first."""

from decimal import Decimal

from sqlmodel import Session, col, select

from studio.book.metal_prices import MetalPriceEntry
from studio.book.order_values import Page
from studio.book.rate_tables import MetalPriceRow
from studio.craft.rates import MetalPrice, WeightUnit


def metal_price_history(
    session: Session, *, after: str | None = None, limit: int = 50
) -> Page[MetalPriceEntry]:
    """One page of the prices as they were put in, the last first; `after` is the last page's `next`."""
    asked = select(MetalPriceRow).order_by(col(MetalPriceRow.id).desc()).limit(limit + 1)
    if after is not None:
        asked = asked.where(col(MetalPriceRow.id) < int(after))
    rows = session.exec(asked).all()
    shown = rows[:limit]
    return Page([_entry(row) for row in shown], str(shown[-1].id) if len(rows) > limit else None)


def _entry(row: MetalPriceRow) -> MetalPriceEntry:
    price = MetalPrice(row.metal, Decimal(row.price), WeightUnit(row.unit), row.on_day, row.source)
    return MetalPriceEntry(price, row.currency, row.entered_at, row.actor)
