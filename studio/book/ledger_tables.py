"""The tables of the metal ledger: movements, and the lots of the refiner. None is ever changed."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.ledger import Account, MetalMove


class RefinerLotRow(Row, table=True):
    """One lot as it was sent: alloy, mass in mg, the percent (`_bp`) that is expected of its fine metal."""

    __tablename__ = "refiner_lots"
    __table_args__ = (CheckConstraint("mass_mg > 0 AND fineness > 0 AND credited_bp > 0", name="numbers"),)

    id: int = Field(default=None, primary_key=True)
    refiner: str = Field(sa_type=Text)
    sent_on: date
    kind: str = Field(sa_type=Text)
    alloy: str = Field(sa_type=Text)
    fineness: int
    mass_mg: int
    credited_bp: int
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class RefinerSettlementRow(Row, table=True):
    """What the refiner said and paid of a lot: fine metal in mg, money in minor units."""

    __tablename__ = "refiner_settlements"
    __table_args__ = (
        CheckConstraint(
            "assay_fineness >= 0 AND paid_fine_mg >= 0 AND charges_minor >= 0 AND paid_minor >= 0",
            name="numbers",
        ),
    )

    lot_id: int = Field(
        primary_key=True, foreign_key="refiner_lots.id", sa_column_kwargs={"autoincrement": False}
    )
    settled_on: date
    assay_fineness: int
    paid_fine_mg: int
    charges_minor: int
    paid_minor: int
    currency: str = Field(sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class LedgerRow(Row, table=True):
    """One movement. Its number counts without a gap, `hash` is that of the row before it and its own text.

    `ring` is '2026-118/1'; the pieces are those of the drawer that it left and that it became;
    `corrects_id` names the row it takes back.
    """

    __tablename__ = "metal_ledger"
    __table_args__ = (
        CheckConstraint("id > 0 AND mass_mg > 0", name="numbers"),
        CheckConstraint(one_of("what", MetalMove), name="what"),
        CheckConstraint(one_of("source", Account), name="source"),
        CheckConstraint(one_of("target", Account), name="target"),
        CheckConstraint("source <> target OR (source = 'drawer' AND what = 'offcut')"
                        " OR (source = 'drawer' AND what = 'correction')", name="moves"),
        Index(None, "on_day", "id"),
        Index(None, "ring"),
        *(Index(None, side, "alloy", "owner_id", "on_day", "mass_mg") for side in ("source", "target")),
    )  # fmt: skip

    id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    at: datetime = Field(sa_type=Moment)
    on_day: date
    what: str = Field(sa_type=Text)
    source: str = Field(sa_type=Text)
    target: str = Field(sa_type=Text)
    alloy: str = Field(sa_type=Text)
    mass_mg: int
    owner_id: int | None = Field(default=None, foreign_key="customers.id", index=True)
    ring: str = Field(default="", sa_type=Text)
    operation: str = Field(default="", sa_type=Text)
    from_piece_id: int | None = Field(default=None, foreign_key="pieces.id", index=True)
    to_piece_id: int | None = Field(default=None, foreign_key="pieces.id", index=True)
    cut_id: int | None = Field(default=None, foreign_key="cuts.id", index=True)
    lot_id: int | None = Field(default=None, foreign_key="refiner_lots.id", index=True)
    corrects_id: int | None = Field(default=None, foreign_key="metal_ledger.id", unique=True)
    note: str = Field(default="", sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    hash: str = Field(sa_type=Text)
