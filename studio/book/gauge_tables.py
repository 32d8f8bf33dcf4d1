"""The table of the studio's gauges."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.designs import GaugeKind


class GaugeRow(Row, table=True):
    """One gauge as it is calibrated now. What it measured before is kept with each finger as it was then.

    `is_usual` marks the one the counter begins with; one that `is_put_away` measures no more.
    """

    __tablename__ = "gauges"
    __table_args__ = (
        CheckConstraint("length(name) > 0", name="name"),
        CheckConstraint(one_of("kind", GaugeKind), name="kind"),
        CheckConstraint("step_um > 0 AND (width_um IS NULL OR width_um > 0)", name="lengths"),
        CheckConstraint("version > 0", name="version"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    kind: str = Field(sa_type=Text)
    system: str = Field(sa_type=Text)
    width_um: int | None = None
    step_um: int
    correction_um: int
    calibrated_on: date | None = None
    note: str = Field(default="", sa_type=Text)
    is_usual: bool = False
    is_put_away: bool = False
    version: int = 1
    changed_at: datetime = Field(sa_type=Moment)
