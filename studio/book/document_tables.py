"""The tables of an order's papers besides its quotes: confirmations, and receipts for goods."""

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, LargeBinary, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.document_values import DocumentKind
from studio.book.types import JsonText, Moment, Row, one_of


class DocumentRow(Row, table=True):
    """A document as issued: nothing of it ever changes. The paper lies beside it.

    `frozen` holds all that stands on it. `goods` are the lines of a receipt: what was taken in, or what was
    given back; none on a confirmation.
    """

    __tablename__ = "documents"
    __table_args__ = (
        UniqueConstraint("order_id", "kind", "revision"),
        CheckConstraint(one_of("kind", DocumentKind), name="kind"),
        CheckConstraint("revision > 0", name="revision"),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, kind, revision)
    kind: str = Field(sa_type=Text)
    revision: int
    issued_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    goods: Any = Field(default_factory=list, sa_type=JsonText, nullable=False)
    frozen: Any = Field(sa_type=JsonText, nullable=False)


class DocumentPaperRow(Row, table=True):
    """The paper of a document, as the customer has it: written once, never again."""

    __tablename__ = "document_papers"

    document_id: int = Field(
        primary_key=True, foreign_key="documents.id", sa_column_kwargs={"autoincrement": False}
    )
    pdf: bytes = Field(sa_type=LargeBinary)
    sha256: str = Field(sa_type=Text)
    rendered_at: datetime = Field(sa_type=Moment)
