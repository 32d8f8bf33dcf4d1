"""The register of old gold bought in: purchases, their sellers for as long as they are kept, and strikes."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.payments import Method


class OldGoldRow(Row, table=True):
    """One purchase, numbered without a gap; it never changes. `fineness` is what it was tested or marked.

    Money is in minor units of `currency`; `worth_minor` is the share of its fine metal by the day's price,
    None without a price that day. `movement_id` is its row of the metal ledger.
    """

    __tablename__ = "old_gold"
    __table_args__ = (
        CheckConstraint(
            "id > 0 AND mass_mg > 0 AND fineness > 0 AND fineness <= 1000 AND paid_minor >= 0", name="numbers"
        ),
        CheckConstraint(one_of("method", Method), name="method"),
    )

    id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    bought_at: datetime = Field(sa_type=Moment)
    bought_on: date
    keep_until: date
    alloy: str = Field(sa_type=Text)
    fineness: int
    mass_mg: int
    description: str = Field(sa_type=Text)
    marks: str = Field(default="", sa_type=Text)
    tested: str = Field(default="", sa_type=Text)
    worth_minor: int | None = None
    paid_minor: int
    currency: str = Field(sa_type=Text)
    method: str = Field(sa_type=Text)
    movement_id: int = Field(foreign_key="metal_ledger.id", index=True)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class OldGoldSellerRow(Row, table=True):
    """Who sold it, by which paper they showed who they are. The row goes when it need be kept no more."""

    __tablename__ = "old_gold_sellers"
    __table_args__ = (CheckConstraint("length(name) > 0 AND length(identity) > 0", name="named"),)

    old_gold_id: int = Field(
        primary_key=True, foreign_key="old_gold.id", sa_column_kwargs={"autoincrement": False}
    )
    name: str = Field(sa_type=Text)
    address: str = Field(sa_type=Text)
    identity: str = Field(sa_type=Text)


class OldGoldStrikeRow(Row, table=True):
    """A purchase that was entered wrongly, struck with its reason; its metal is taken back in the ledger."""

    __tablename__ = "old_gold_strikes"

    old_gold_id: int = Field(
        primary_key=True, foreign_key="old_gold.id", sa_column_kwargs={"autoincrement": False}
    )
    struck_at: datetime = Field(sa_type=Moment)
    why: str = Field(sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
