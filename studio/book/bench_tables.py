"""The table of the bench records: what rings really did, measured at the bench."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.metals import Metal


class BenchRecordRow(Row, table=True):
    """One ring as it was measured, with what it was then: pattern, metal and thickness do not move with it.

    Lengths in µm; `before_um` and `after_um` are the strip before and after its pattern (or the ring round),
    `closed_um` and `formed_um` the inside once closed and once formed. `wrong` is why it does not count.
    """

    __tablename__ = "bench_records"
    __table_args__ = (
        UniqueConstraint("order_id", "position"),
        CheckConstraint("position > 0 AND thickness_um > 0 AND version > 0", name="numbers"),
        CheckConstraint(one_of("pattern", Pattern), name="pattern"),
        CheckConstraint(one_of("metal", Metal), name="metal"),
        CheckConstraint(
            f"pattern_when IS NULL OR {one_of('pattern_when', PatternWhen)}", name="pattern_when"
        ),
        CheckConstraint(
            "(before_um IS NULL) = (after_um IS NULL)"
            " AND (before_um IS NULL OR (before_um > 0 AND after_um > 0))",
            name="pattern_lengths",
        ),
        CheckConstraint(
            "(closed_um IS NULL OR closed_um > 0) AND (formed_um IS NULL OR formed_um > 0)", name="sizes"
        ),
        Index(None, "measured_on", "id"),
        Index(None, "ring", unique=True),
        Index(None, "version"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position)
    position: int
    ring: str = Field(sa_type=Text)
    measured_on: date
    pattern: str = Field(sa_type=Text)
    pattern_when: str | None = Field(default=None, sa_type=Text)
    alloy: str = Field(sa_type=Text)
    metal: str = Field(sa_type=Text)
    thickness_um: int
    before_um: int | None = None
    after_um: int | None = None
    closed_um: int | None = None
    formed_um: int | None = None
    tool: str = Field(default="", sa_type=Text)
    maker: str = Field(sa_type=Text)
    wrong: str = Field(default="", sa_type=Text)
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    changed_at: datetime = Field(sa_type=Moment)
