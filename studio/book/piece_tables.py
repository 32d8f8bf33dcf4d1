"""The tables of the drawer: pieces of stock, and what was cut from them."""

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.craft.metals import Metal


class CutRow(Row, table=True):
    """One booking of a cutting plan: what was sawn, what became of it, and whether it was undone.

    `told` has the pieces, strips, blanks and offcuts with their masses in mg, as they were booked.
    """

    __tablename__ = "cuts"
    __table_args__ = (Index(None, "booked_at"),)

    id: int = Field(default=None, primary_key=True)
    booked_at: datetime = Field(sa_type=Moment)
    actor: str = Field(sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    kerf_um: int
    lemel_mg: int
    told: Any = Field(sa_type=JsonText, nullable=False)
    undone_at: datetime | None = Field(default=None, sa_type=Moment)
    undone_by: str | None = Field(default=None, sa_type=Text)


class PieceRow(Row, table=True):
    """One piece of sheet, strip or wire. Lengths in µm, its mass in mg, what was paid in minor units.

    `is_weighed` is false where the mass was reckoned from the measures. A piece of a customer's has their
    `owner_id`; one that is set aside has the order's. `cut_id` is the cut it is an offcut of, `used_in_id`
    that in which it was used up; `gone` says why it is not in the drawer any more, '' while it is.
    """

    __tablename__ = "pieces"
    __table_args__ = (
        CheckConstraint(one_of("kind", PieceKind), name="kind"),
        CheckConstraint(one_of("metal", Metal), name="metal"),
        CheckConstraint(f"profile IS NULL OR {one_of('profile', Profile)}", name="profile"),
        CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="section"),
        CheckConstraint(
            "length_um > 0 AND width_um > 0 AND thickness_um > 0 AND mass_mg > 0 AND version > 0",
            name="numbers",
        ),
        Index("ix_pieces_there", "gone", "alloy", "thickness_um", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    kind: str = Field(sa_type=Text)
    alloy: str = Field(sa_type=Text)
    metal: str = Field(sa_type=Text)
    profile: str | None = Field(default=None, sa_type=Text)
    length_um: int
    width_um: int
    thickness_um: int
    mass_mg: int
    is_weighed: bool = False
    lot: str = Field(default="", sa_type=Text)
    paid_minor: int | None = None
    place: str = Field(default="", sa_type=Text)
    owner_id: int | None = Field(default=None, foreign_key="customers.id", index=True)
    order_id: int | None = Field(default=None, foreign_key="orders.id", index=True)
    is_offcut: bool = False
    cut_id: int | None = Field(default=None, foreign_key="cuts.id", index=True)
    used_in_id: int | None = Field(default=None, foreign_key="cuts.id", index=True)
    gone: str = Field(default="", sa_type=Text)
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    changed_at: datetime = Field(sa_type=Moment)
