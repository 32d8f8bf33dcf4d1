"""All tables of the book in one place, for whoever compares them with what the migrations made."""

from sqlalchemy import MetaData

from studio.book import (  # noqa: F401  importing a table's module puts it into the metadata
    answer_link_tables,
    audit,
    bench_tables,
    bench_work_tables,
    buying_tables,
    calling_off_tables,
    custody_tables,
    customer_tables,
    document_tables,
    drafts,
    gauge_tables,
    idempotency,
    invoice_tables,
    ledger_tables,
    links,
    making_tables,
    mending_tables,
    old_gold_tables,
    order_tables,
    outbox_tables,
    outwork_tables,
    people,
    picture_tables,
    piece_tables,
    pin_tables,
    place_tables,
    practice_tables,
    quote_tables,
    rate_tables,
    route_tables,
    sign_in,
    studio,
    throttle,
    tokens,
)
from studio.book.types import Row


def metadata() -> MetaData:
    """Every table, as the program expects it."""
    return Row.metadata
