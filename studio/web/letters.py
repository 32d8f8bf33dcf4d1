"""The letter with a quote, out of the book: what it says, and whether it may still go."""

from dataclasses import replace
from datetime import datetime

from sqlmodel import Session

from studio import clock
from studio.book.answer_links import waits_for_answer
from studio.book.order_reads import order
from studio.book.outbox_values import LINK_HERE
from studio.book.quote_paper import paper_of_issued
from studio.book.quote_reads import quote
from studio.papers.quote_parts import QuotePaper
from studio.post import (
    AddressRefused,
    LineBreakRefused,
    QuoteLetter,
    ReminderLetter,
    quote_mail,
    reminder_mail,
)
from studio.web.errors import Declined

_ADDRESS_WORDS = {
    "studio_email": "The studio has no e-mail address yet. It is written on the Studio page.",
    "email": "The customer's e-mail is no address that mail can go to. Put it right on their page.",
}


LINK_STANDS_HERE = "(here the customer finds the link to a page of their own)"
"""What a test says in the place of the link: one that is made for nobody could be used by anybody."""


def letter_of(book: Session, number: str, *, to: str | None = None, is_test: bool = False) -> QuoteLetter:
    """The words of the letter with a quote, to the customer's own address unless `to` is another.

    It has no link yet: one is made when the letter leaves. A test says where it would stand.
    """
    found = quote(book, number)
    customer = order(book, found.order_number).customer
    paper = paper_of_issued(book, number)
    tax = f"{paper.tax.amount} {paper.tax.text.partition(',')[0]}" if paper.tax else ""
    return QuoteLetter(
        number=number,
        studio=paper.studio.full_name,
        studio_email=paper.studio.email,
        address=paper.studio.address,
        phone=paper.studio.phone,
        customer=customer.name,
        email=(customer.email or "") if to is None else to,
        rings=tuple(ring.sentence for ring in paper.rings),
        variants=variant_lines(paper),
        ready=paper.ready,
        total=paper.total,
        tax=tax,
        deposit=paper.deposit.amount if paper.deposit else "",
        holds=paper.holds,
        kind=paper.kind,
        is_test=is_test,
        link=LINK_STANDS_HERE if is_test and waits_for_answer(book, number, clock.now()) else "",
    )


def answer_address(base_url: str, key: str) -> str:
    """The whole address of a customer's own page: what their link says."""
    return f"{base_url}/answer/{key}"


def linked(letter: QuoteLetter | ReminderLetter, address: str) -> QuoteLetter | ReminderLetter:
    """The letter with a link to the customer's own page; in a reminder where its words say so."""
    if isinstance(letter, QuoteLetter):
        return replace(letter, link=address)
    return replace(letter, link=address, words=letter.words.replace(LINK_HERE, address))


def written(
    letter: QuoteLetter | ReminderLetter, pdf: bytes | None, *, now: datetime, message_id: str = ""
) -> bytes:
    """The letter as `post` writes it; what it cannot write is declined in words (409)."""
    try:
        if isinstance(letter, ReminderLetter):
            return reminder_mail(letter, pdf, now=now, message_id=message_id)
        return quote_mail(letter, pdf or b"", now=now, message_id=message_id)
    except AddressRefused as refused:
        raise Declined(409, _ADDRESS_WORDS.get(refused.field, _ADDRESS_WORDS["email"])) from refused
    except LineBreakRefused as refused:
        raise Declined(
            409, "A name or an address in this letter breaks its line. Put it right first."
        ) from refused


def variant_lines(paper: QuotePaper) -> tuple[str, ...]:
    """'Variant B, £450.00: A flat band, ...' for each way to choose from; none without a choice."""
    if paper.variants is None:
        return ()
    rings = paper.variants.rings
    return tuple(
        f"{column.title}, {column.total}: {' '.join(ring.rows[0].cells[place] for ring in rings)}"
        for place, column in enumerate(paper.variants.columns)
    )
