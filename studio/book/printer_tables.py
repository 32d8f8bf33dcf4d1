"""The table of the studio's printers."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.printers import PaperSize


class PrinterRow(Row, table=True):
    """One printer: its paper, and what it gives for a bar of 100 mm. Sheets are drawn for the usual one."""

    __tablename__ = "printers"
    __table_args__ = (
        CheckConstraint("length(name) > 0", name="name"),
        CheckConstraint(one_of("paper", PaperSize), name="paper"),
        CheckConstraint(
            "across_um BETWEEN 90000 AND 110000 AND down_um BETWEEN 90000 AND 110000", name="lengths"
        ),
        CheckConstraint("version > 0", name="version"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    paper: str = Field(sa_type=Text)
    across_um: int
    down_um: int
    is_usual: bool = False
    version: int = 1
    changed_at: datetime = Field(sa_type=Moment)
