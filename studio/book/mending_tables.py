"""The table of mendings: which order mends which ring of an earlier one."""

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Row, one_of
from studio.craft.mends import Cause, MendKind, PaidBy


class MendingRow(Row, table=True):
    """One order that mends one ring: `order_id` is the mending order, `mended_id` the earlier one."""

    __tablename__ = "mendings"
    __table_args__ = (
        CheckConstraint("position > 0", name="position"),
        CheckConstraint("order_id <> mended_id", name="other"),
        CheckConstraint(one_of("kind", MendKind), name="kind"),
        CheckConstraint(f"cause IS NULL OR {one_of('cause', Cause)}", name="cause"),
        CheckConstraint(f"paid_by IS NULL OR {one_of('paid_by', PaidBy)}", name="paid_by"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id", index=True, unique=True)
    mended_id: int = Field(foreign_key="orders.id", index=True)
    position: int
    kind: str = Field(sa_type=Text)
    cause: str | None = Field(default=None, sa_type=Text)
    words: str = Field(default="", sa_type=Text)
    paid_by: str | None = Field(default=None, sa_type=Text)
