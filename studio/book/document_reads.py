"""Reading the documents of an order, their papers, and what is held of the customer's."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.document_errors import DocumentPdfNotYet, DocumentUnknown
from studio.book.document_tables import DocumentPaperRow, DocumentRow
from studio.book.document_values import GIVES_BACK, Document, DocumentKind
from studio.book.plain_values import from_plain
from studio.craft.goods import GivenBack, Good, held

# Documents by columns: the papers' bytes and the frozen inputs stay where they are. Built once, since orders
# are read all the time.
_LISTED = (
    pick(
        col(DocumentRow.number),
        col(DocumentRow.kind),
        col(DocumentRow.revision),
        col(DocumentRow.issued_at),
        col(DocumentRow.actor),
        col(DocumentRow.goods),
        col(DocumentPaperRow.sha256),
    )
    .join(DocumentPaperRow, col(DocumentPaperRow.document_id) == col(DocumentRow.id), isouter=True)
    .order_by(col(DocumentRow.id))
)
_BY_ORDER = _LISTED.where(col(DocumentRow.order_id) == bindparam("order_id"))
_BY_NUMBER = _LISTED.where(col(DocumentRow.number) == bindparam("number"))


def documents_of(session: Session, order_id: int) -> tuple[Document, ...]:
    """The documents of an order, the oldest first."""
    return tuple(map(_document, session.connection().execute(_BY_ORDER, {"order_id": order_id})))


def document(session: Session, number: str) -> Document:
    """The document of this number. Raises `DocumentUnknown`."""
    found = session.connection().execute(_BY_NUMBER, {"number": number}).one_or_none()
    if found is None:
        raise DocumentUnknown(number)
    return _document(found)


def document_pdf(session: Session, number: str) -> bytes:
    """The paper of a document, byte for byte as it was issued.

    Raises `DocumentUnknown`, and `DocumentPdfNotYet`.
    """
    found = session.exec(
        select(DocumentRow.id, DocumentPaperRow.pdf)
        .join(DocumentPaperRow, col(DocumentPaperRow.document_id) == col(DocumentRow.id), isouter=True)
        .where(col(DocumentRow.number) == number)
    ).one_or_none()
    if found is None:
        raise DocumentUnknown(number)
    if found[1] is None:
        raise DocumentPdfNotYet(number)
    return found[1]


def goods_held(session: Session, order_id: int) -> tuple[Good, ...]:
    """What of the customer's goods taken in for an order was not given back yet; empty when all was."""
    return held_of(documents_of(session, order_id))


def goods_held_of(session: Session, order_ids: Sequence[int]) -> dict[int, tuple[Good, ...]]:
    """What is held of the customers' for several orders, by the order's id; left out where nothing is."""
    taken: defaultdict[int, list[Good]] = defaultdict(list)
    back: defaultdict[int, list[GivenBack]] = defaultdict(list)
    rows = session.exec(
        select(DocumentRow.order_id, DocumentRow.kind, DocumentRow.goods)
        .where(
            col(DocumentRow.order_id).in_(order_ids),
            col(DocumentRow.kind).in_([DocumentKind.RECEIPT, *GIVES_BACK]),
        )
        .order_by(col(DocumentRow.id))
    )
    for order_id, kind, goods in rows:
        if kind == DocumentKind.RECEIPT:
            taken[order_id] += [from_plain(Good, one) for one in goods]
        else:
            back[order_id] += [from_plain(GivenBack, one) for one in goods]
    return {order_id: left for order_id in taken if (left := held(taken[order_id], back[order_id]))}


def held_of(documents: Iterable[Document]) -> tuple[Good, ...]:
    """What these documents of one order say is held of the customer's."""
    told = tuple(documents)
    return held(
        (good for one in told for good in one.taken_in), (back for one in told for back in one.given_back)
    )


def _document(row: Any) -> Document:
    kind = DocumentKind(row.kind)
    return Document(
        number=row.number,
        kind=kind,
        revision=row.revision,
        issued_at=row.issued_at,
        issued_by=row.actor,
        sha256=row.sha256,
        taken_in=tuple(from_plain(Good, one) for one in row.goods) if kind is DocumentKind.RECEIPT else (),
        given_back=tuple(from_plain(GivenBack, one) for one in row.goods) if kind in GIVES_BACK else (),
    )
