"""The tables of what rings were made as, of proofs that were signed, and of what is said of the fit."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.designs import Profile, System
from studio.craft.fit_feedback import Verdict


class AsMadeRow(Row, table=True):
    """A ring as it was handed over, written by the hand-over; one taken back in is written anew.

    `size_um` is its inside round, `ordered_um` what it was reckoned for; the others are as the bench measured
    them. None is not known.
    """

    __tablename__ = "as_made"
    __table_args__ = (
        UniqueConstraint("order_id", "position"),
        CheckConstraint("position > 0 AND ordered_um > 0", name="numbers"),
        CheckConstraint(one_of("system", System), name="system"),
        CheckConstraint(
            "(size_um IS NULL OR size_um > 0) AND (before_um IS NULL OR before_um > 0)"
            " AND (after_um IS NULL OR after_um > 0) AND (closed_um IS NULL OR closed_um > 0)"
            " AND (issued_mg IS NULL OR issued_mg > 0) AND (finished_mg IS NULL OR finished_mg > 0)",
            name="figures",
        ),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position)
    position: int
    system: str = Field(sa_type=Text)
    label: str = Field(default="", sa_type=Text)
    ordered_um: int
    size_um: int | None = None
    before_um: int | None = None
    after_um: int | None = None
    closed_um: int | None = None
    issued_mg: int | None = None
    finished_mg: int | None = None
    lot: str = Field(default="", sa_type=Text)
    makers: str = Field(default="", sa_type=Text)
    handed_over_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)


class InscriptionProofRow(Row, table=True):
    """A proof that was read back and signed: of exactly this text. Never changed; a new one is a new row."""

    __tablename__ = "inscription_proofs"
    __table_args__ = (CheckConstraint("position > 0 AND text <> '' AND read_by <> ''", name="said"),)

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id", index=True)
    position: int
    text: str = Field(sa_type=Text)
    read_by: str = Field(sa_type=Text)
    signed_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class FitAnswerRow(Row, table=True):
    """What the customer said of a ring's fit, with what the ring was then: these do not move with it."""

    __tablename__ = "fit_answers"
    __table_args__ = (
        UniqueConstraint("order_id", "position"),
        CheckConstraint("position > 0 AND width_um > 0", name="numbers"),
        CheckConstraint(one_of("profile", Profile), name="profile"),
        CheckConstraint(one_of("verdict", Verdict), name="verdict"),
        CheckConstraint("off_um IS NULL OR (off_um > 0 AND verdict IN ('too tight', 'loose'))", name="off"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position)
    position: int
    ring: str = Field(sa_type=Text)
    profile: str = Field(sa_type=Text)
    width_um: int
    allowed_um: int
    verdict: str = Field(sa_type=Text)
    off_um: int | None = None
    note: str = Field(default="", sa_type=Text)
    answered_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
