"""The tables of buying: what suppliers sell, and what was ordered of them."""

from datetime import date, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import CheckConstraint, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind


class LineState(StrEnum):
    """How it stands with one thing that was ordered."""

    ORDERED = "ordered"
    ARRIVED = "arrived"
    CALLED_OFF = "called off"


class SupplyRow(Row, table=True):
    """What one supplier sells of one alloy, form and thickness. The row stays when it is dropped."""

    __tablename__ = "supplies"
    __table_args__ = (
        CheckConstraint(one_of("kind", PieceKind), name="kind"),
        CheckConstraint(f"profile IS NULL OR {one_of('profile', Profile)}", name="profile"),
        CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="section"),
        CheckConstraint(
            "thickness_um > 0 AND least_width_um > 0 AND width_step_um >= 0 AND length_step_um > 0 "
            "AND least_length_um > 0 AND most_length_um >= least_length_um AND least_mass_mg >= 0 "
            "AND least_charge_minor >= 0 AND lead_days >= 0 AND spare_days >= 0 AND version > 0",
            name="numbers",
        ),
    )

    id: int = Field(default=None, primary_key=True)
    supplier: str = Field(sa_type=Text)
    alloy: str = Field(sa_type=Text)
    kind: str = Field(sa_type=Text)
    profile: str | None = Field(default=None, sa_type=Text)
    thickness_um: int
    least_width_um: int
    width_step_um: int
    length_step_um: int
    least_length_um: int
    most_length_um: int
    least_mass_mg: int
    least_charge_minor: int
    lead_days: int
    spare_days: int
    note: str = Field(default="", sa_type=Text)
    is_dropped: bool = False
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    changed_at: datetime = Field(sa_type=Moment)


class PurchaseRow(Row, table=True):
    """One order to a supplier."""

    __tablename__ = "purchases"
    __table_args__ = (CheckConstraint("version > 0", name="version"),)

    id: int = Field(default=None, primary_key=True)
    supplier: str = Field(sa_type=Text)
    ordered_at: datetime = Field(sa_type=Moment)
    ordered_on: date
    expected_on: date
    currency: str = Field(sa_type=Text)
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class PurchaseLineRow(Row, table=True):
    """One whole thing of an order. Arrived, it is a piece of the drawer that weighs `arrived_mg`."""

    __tablename__ = "purchase_lines"
    __table_args__ = (
        UniqueConstraint("purchase_id", "position"),
        CheckConstraint(one_of("state", LineState), name="state"),
        CheckConstraint(one_of("kind", PieceKind), name="kind"),
        CheckConstraint(f"profile IS NULL OR {one_of('profile', Profile)}", name="profile"),
        CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="section"),
        CheckConstraint(
            "(state = 'arrived') = (piece_id IS NOT NULL) AND (piece_id IS NULL) = (arrived_mg IS NULL)",
            name="arrived",
        ),
        CheckConstraint(
            "length_um > 0 AND width_um > 0 AND thickness_um > 0 AND mass_mg > 0",
            name="numbers",
        ),
    )

    id: int = Field(default=None, primary_key=True)
    purchase_id: int = Field(foreign_key="purchases.id")
    position: int
    supply_id: int | None = Field(default=None, foreign_key="supplies.id", index=True)
    state: str = Field(default=LineState.ORDERED, sa_type=Text, index=True)
    kind: str = Field(sa_type=Text)
    alloy: str = Field(sa_type=Text)
    profile: str | None = Field(default=None, sa_type=Text)
    length_um: int
    width_um: int
    thickness_um: int
    mass_mg: int
    cost_minor: int | None = None
    rings: Any = Field(sa_type=JsonText, nullable=False)
    piece_id: int | None = Field(default=None, foreign_key="pieces.id", index=True)
    arrived_mg: int | None = None
    settled_at: datetime | None = Field(default=None, sa_type=Moment)
