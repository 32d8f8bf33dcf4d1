"""The tables of quotes, their papers, how they were sent, and the yes to them."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Index, LargeBinary, Text, UniqueConstraint, text
from sqlmodel import Field

from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.types import JsonText, Moment, Row, one_of

_STANDS = text("state <> 'superseded'")


class QuoteRow(Row, table=True):
    """A quote as issued. Nothing of it changes but its state; the paper lies beside it.

    `frozen` holds all that went into it: the order as it stood, the rates, the prices, the breakdown.
    `variants` are the figures of each way to make it that the customer chooses from; none for the only one.
    An amendment is a quote of its own kind: what the agreed one becomes, once there is a yes to it too.
    """

    __tablename__ = "quotes"
    __table_args__ = (
        UniqueConstraint("order_id", "kind", "revision"),
        CheckConstraint(one_of("kind", QuoteKind), name="kind"),
        CheckConstraint(one_of("state", QuoteState), name="state"),
        CheckConstraint("revision > 0", name="revision"),
        CheckConstraint("net_minor + tax_minor = total_minor", name="total_minor"),
        # An order has one quote that is agreed and one that waits, whatever happens at once.
        Index(
            "ix_quotes_standing",
            "order_id",
            "state",
            unique=True,
            sqlite_where=_STANDS,
            postgresql_where=_STANDS,
        ),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, kind, revision)
    kind: str = Field(default=QuoteKind.QUOTE, sa_type=Text)
    revision: int
    state: str = Field(sa_type=Text)
    issued_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    valid_until: date
    currency: str = Field(sa_type=Text)
    net_minor: int = Field(sa_type=BigInteger)
    tax_minor: int = Field(sa_type=BigInteger)
    total_minor: int = Field(sa_type=BigInteger)
    deposit_minor: int = Field(sa_type=BigInteger)
    lines: Any = Field(sa_type=JsonText, nullable=False)
    variants: Any = Field(default_factory=list, sa_type=JsonText, nullable=False)
    frozen: Any = Field(sa_type=JsonText, nullable=False)
    superseded_at: datetime | None = Field(default=None, sa_type=Moment)


class QuotePaperRow(Row, table=True):
    """The paper of a quote, as the customer has it: written once, never again."""

    __tablename__ = "quote_papers"

    quote_id: int = Field(
        primary_key=True, foreign_key="quotes.id", sa_column_kwargs={"autoincrement": False}
    )
    pdf: bytes = Field(sa_type=LargeBinary)
    sha256: str = Field(sa_type=Text)
    rendered_at: datetime = Field(sa_type=Moment)


class SendingRow(Row, table=True):
    """One time a quote left the studio: how, to whom, and who sent it."""

    __tablename__ = "quote_sendings"

    id: int = Field(default=None, primary_key=True)
    quote_id: int = Field(foreign_key="quotes.id", index=True)
    at: datetime = Field(sa_type=Moment)
    how: str = Field(sa_type=Text)
    sent_to: str = Field(sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


_HOLDS = text("ended_at IS NULL")


class AgreementRow(Row, table=True):
    """The yes to a quote, with the deposit it asked for.

    `ended_at` is set where it was taken back, or no longer holds. `deposit_at` is when it was last said why
    the work begins without. `deposit_minor` is what was paid by a yes from before payments had a table of
    their own; nothing reads it any more, and no old book loses it.

    `variant` is the key of the one that was chosen, None where there was no choice.
    """

    __tablename__ = "agreements"
    __table_args__ = (
        CheckConstraint("deposit_minor IS NULL OR deposit_minor > 0", name="deposit_minor"),
        Index("ix_agreements_holding", "order_id", unique=True, sqlite_where=_HOLDS, postgresql_where=_HOLDS),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id", index=True)
    quote_id: int = Field(foreign_key="quotes.id", index=True)
    name: str = Field(sa_type=Text)
    variant: str | None = Field(default=None, sa_type=Text)
    agreed_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    reason: str | None = Field(default=None, sa_type=Text)
    deposit_asked_minor: int = Field(sa_type=BigInteger)
    deposit_minor: int | None = Field(default=None, sa_type=BigInteger)
    without_deposit: str | None = Field(default=None, sa_type=Text)
    deposit_at: datetime | None = Field(default=None, sa_type=Moment)
    deposit_actor: str | None = Field(default=None, sa_type=Text)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)
