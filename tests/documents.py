"""Documents of an order as the tests make them: drafted and issued with a paper of any bytes."""

from dataclasses import replace
from typing import Any

from sqlmodel import Session

from studio.book.document_values import Document, DocumentDraft, GivingBack, TakingIn
from studio.book.documents import (
    issue_document,
    receivable,
    returnable,
)
from studio.book.people import PROGRAM
from studio.craft.particulars import NOT_ASKED, Risk, Setting, Stone, Whose
from tests.amending import LATER
from tests.builders import a_ring
from tests.quoting import PDF

SAPPHIRE = Stone(1, Whose.CUSTOMER, "oval", "5 x 3 mm", "sapphire", setting=Setting.BEZEL, risk=Risk.CUSTOMER)
GARNET = Stone(2, Whose.STUDIO, "round", "2 mm", tested="garnet", setting=Setting.FLUSH)


def set_with(*stones: Stone) -> dict[str, Any]:
    """An order's one ring, set with these stones."""
    return {"rings": [a_ring(particulars=replace(NOT_ASKED, stones=stones))]}


def made(session: Session, draft: DocumentDraft, pdf: bytes | None = PDF) -> Document:
    """The document as it is issued."""
    return issue_document(session, draft=draft, pdf=pdf, actor=PROGRAM, now=LATER)


def taken_in(session: Session, number: str, **asked: Any) -> Document:
    """A receipt for what is asked: all the customer's stones unless `asked` names some."""
    draft = receivable(session, number, asked=TakingIn(**asked), actor=PROGRAM, now=LATER)
    return made(session, draft)


def given_back(session: Session, number: str, **asked: Any) -> Document:
    """A receipt for what goes back: all that is held unless `asked` names some."""
    draft = returnable(session, number, asked=GivingBack(**asked), actor=PROGRAM, now=LATER)
    return made(session, draft)
