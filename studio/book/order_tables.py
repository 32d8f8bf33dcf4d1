"""The tables of orders, their rings, and the counters that number them."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import CheckConstraint, Index, Text, UniqueConstraint
from sqlmodel import Field

from studio.book import piece_tables  # noqa: F401  a ring names the cut its blank was sawn in
from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.designs import Pattern, PatternWhen, Profile, Stock
from studio.craft.orders import State


class OrderCounterRow(Row, table=True):
    """The last number given in a year. It moves in the transaction of the order, so none is lost."""

    __tablename__ = "order_counters"

    year: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    last: int


_LISTED = ("state_since", "customer_id", "wanted_on", "promised_at", "bench_on", "changed_at")
_FOUND = ("year", "serial", "state", "id")


class OrderRow(Row, table=True):
    """An order of one or more rings. `changed_at` is when anything in it was last touched.

    `variants` are other ways to make its rings that are offered beside them, `amending` what an agreed order
    is to become while nobody has quoted that yet: both as `ring_sets` keeps rings, None where there is none.
    """

    __tablename__ = "orders"
    __table_args__ = (
        UniqueConstraint("year", "serial"),
        CheckConstraint(one_of("state", State), name="state"),
        CheckConstraint("version > 0", name="version"),
        # The two indexes of the list carry its columns, so that a page is read without touching the table.
        Index("ix_orders_list", "year", "serial", "number", "state", *_LISTED),
        Index("ix_orders_list_by_state", "state", "year", "serial", "number", *_LISTED),
        # A search goes from the customer, or from the serial alone, to the orders' places in the list.
        Index("ix_orders_of_customer", "customer_id", *_FOUND),
        Index("ix_orders_serial", "serial", "year", "state", "id"),
        Index("ix_orders_state_bench_on", "state", "bench_on"),
        Index("ix_orders_agreed_at", "agreed_at"),
        Index("ix_orders_state_state_since", "state", "state_since"),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    year: int
    serial: int
    state: str = Field(sa_type=Text)
    state_since: datetime = Field(sa_type=Moment)
    version: int = 1
    customer_id: int = Field(foreign_key="customers.id")  # indexed by ix_orders_of_customer
    wanted_on: date | None = None
    is_wanted_hard: bool = False
    promised_at: datetime | None = Field(default=None, sa_type=Moment)
    bench_on: date | None = None
    note: str = Field(default="", sa_type=Text)
    avoid: str | None = Field(default=None, sa_type=Text)
    collects: str = Field(default="", sa_type=Text)
    variants: Any = Field(default=None, sa_type=JsonText, nullable=True)
    amending: Any = Field(default=None, sa_type=JsonText, nullable=True)
    agreed_name: str | None = Field(default=None, sa_type=Text)
    agreed_at: datetime | None = Field(default=None, sa_type=Moment)
    created_at: datetime = Field(sa_type=Moment)
    changed_at: datetime = Field(sa_type=Moment)


class RingRow(Row, table=True):
    """One ring of an order: its design, and the figures reckoned when it was saved.

    Without a `form` it is a band; with one it has the radius of its groove or its rise.
    `practice_id` is the practice it was reckoned by; without one, the common practice. `learned` is what the
    studio's own rings said of its pattern that day, as JSON; nothing where they said nothing.
    `particulars` are its finish and inscription as JSON, None while nothing of them was asked.
    `cut_id` is the cut in which its blank was sawn, None while it is still to be cut.
    """

    __tablename__ = "rings"
    __table_args__ = (
        UniqueConstraint("order_id", "position"),
        CheckConstraint("position > 0", name="position"),
        CheckConstraint(one_of("profile", Profile), name="profile"),
        CheckConstraint(one_of("stock", Stock), name="stock"),
        CheckConstraint(one_of("pattern", Pattern), name="pattern"),
        CheckConstraint(
            f"pattern_when IS NULL OR {one_of('pattern_when', PatternWhen)}", name="pattern_when"
        ),
        CheckConstraint("width_um > 0 AND thickness_um > 0", name="sides"),
        CheckConstraint("form IS NULL OR form IN ('anticlastic')", name="form"),
        CheckConstraint(
            "(form IS NULL AND radius_um IS NULL AND rise_um IS NULL)"
            " OR (form IS NOT NULL AND (radius_um IS NULL) <> (rise_um IS NULL)"
            " AND (radius_um IS NULL OR radius_um > 0) AND (rise_um IS NULL OR rise_um > 0))",
            name="groove",
        ),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position)
    position: int
    finger_id: int = Field(foreign_key="fingers.id", index=True)
    profile: str = Field(sa_type=Text)
    width_um: int
    thickness_um: int
    alloy: str = Field(sa_type=Text)
    stock: str = Field(sa_type=Text)
    pattern: str = Field(sa_type=Text)
    pattern_when: str | None = Field(default=None, sa_type=Text)
    stretch_ppm: int | None = None
    fit_um: int | None = None
    form: str | None = Field(default=None, sa_type=Text)
    radius_um: int | None = None
    rise_um: int | None = None
    reasons: Any = Field(default_factory=dict, sa_type=JsonText, nullable=False)
    practice_id: int | None = Field(default=None, foreign_key="practices.id", index=True)
    learned: str | None = Field(default=None, sa_type=Text)
    particulars: str | None = Field(default=None, sa_type=Text)
    cut_id: int | None = Field(default=None, foreign_key="cuts.id", index=True)
    circumference_um: int
    true_length_um: int
    mark_um: int
    issue_mg: int
    ring_mg: int
    finished_mg: int
