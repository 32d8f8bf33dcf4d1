"""A quote as it was on the day it was issued: whatever the book says of it, but how it stands with it."""

import json
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from sqlmodel import Session, col, select

from studio.book.quote_tables import QuotePaperRow, QuoteRow
from studio.book.quotes import paper_of_issued, quote, quote_breakdown, quote_pdf
from studio.papers.quote_parts import QuotePaper


@dataclass(frozen=True, slots=True)
class AsIssued:
    """A quote as it was on the day it was issued; `pdf` is None while its paper is not made."""

    pdf: bytes | None
    told: tuple[Any, ...]
    paper: QuotePaper
    row: str


def as_issued(session: Session, number: str) -> AsIssued:
    session.expire_all()
    stands = quote(session, number)
    told = (
        stands.lines, stands.net_minor, stands.tax_minor, stands.total_minor, stands.deposit_minor,
        stands.currency, stands.valid_until, stands.expires_at, stands.issued_at, stands.issued_by,
        stands.revision, stands.sha256, quote_breakdown(session, number),
    )  # fmt: skip
    row = session.exec(select(QuoteRow).where(col(QuoteRow.number) == number)).one()
    paper = session.get(QuotePaperRow, row.id)
    kept = [row.model_dump(exclude={"state", "superseded_at"}), paper and paper.model_dump()]
    pdf = None if paper is None else quote_pdf(session, number)
    assert stands.sha256 == (None if pdf is None else sha256(pdf).hexdigest())
    return AsIssued(pdf, told, paper_of_issued(session, number), json.dumps(kept, default=repr))
