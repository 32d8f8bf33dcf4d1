"""The paper of a document, made from what the book keeps of it and from nothing else."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.document_errors import DocumentUnknown
from studio.book.document_tables import DocumentRow
from studio.book.document_values import DocumentDraft, DocumentKind
from studio.book.frozen import rings_read
from studio.book.plain_values import from_plain
from studio.book.quote_paper import quote_facts
from studio.clock import day_of
from studio.craft.as_made import MadeFigures
from studio.craft.goods import GivenBack, Good
from studio.craft.payments import Method
from studio.papers.confirmation import AgreedOn, ConfirmationFacts, confirmation_paper, confirmation_to_print
from studio.papers.goods import GoodsFacts, goods_paper, goods_to_print
from studio.papers.hand_over import HandedRing, HandOverFacts, hand_over_paper, hand_over_to_print
from studio.papers.paper import Paper
from studio.papers.payment import PaymentFacts, payment_paper, payment_to_print
from studio.papers.quote_facts import Letterhead


def document_to_print(draft: DocumentDraft) -> Paper:
    """The paper as it would be issued."""
    return _to_print(draft.kind, draft.frozen)


def issued_document_to_print(session: Session, number: str) -> Paper:
    """The paper of a document that was issued without one, as it stood then. Raises `DocumentUnknown`."""
    found = session.exec(
        select(DocumentRow.kind, DocumentRow.frozen).where(col(DocumentRow.number) == number)
    ).one_or_none()
    if found is None:
        raise DocumentUnknown(number)
    kind, frozen = found
    return _to_print(DocumentKind(kind), frozen)


def _to_print(kind: DocumentKind, frozen: Mapping[str, Any]) -> Paper:
    if kind is DocumentKind.CONFIRMATION:
        return confirmation_to_print(confirmation_paper(_confirmation(frozen)))
    if kind is DocumentKind.PAYMENT:
        return payment_to_print(payment_paper(_payment(frozen)))
    if kind is DocumentKind.HAND_OVER:
        return hand_over_to_print(hand_over_paper(_hand_over(frozen)))
    return goods_to_print(goods_paper(_goods(kind, frozen)))


def _confirmation(frozen: Mapping[str, Any]) -> ConfirmationFacts:
    zone, deposit = frozen["studio"]["time_zone"], frozen["deposit"]
    return ConfirmationFacts(
        agreed=quote_facts(frozen),
        steps=tuple(
            AgreedOn(
                one["number"], day_of(datetime.fromisoformat(one["at"]), zone), one["name"], one["variant"]
            )
            for one in frozen["agreed"]
        ),
        collects=frozen["collects"],
        asked_minor=deposit["asked_minor"],
        paid_minor=deposit["paid_minor"] or 0,
        paid_on=None if deposit["on"] is None else date.fromisoformat(deposit["on"]),
        is_waived=deposit["is_waived"],
    )


def _goods(kind: DocumentKind, frozen: Mapping[str, Any]) -> GoodsFacts:
    is_return = kind is DocumentKind.RETURN
    return GoodsFacts(
        studio=Letterhead(**frozen["studio"]),
        number=frozen["number"],
        order_number=frozen["order"],
        customer=frozen["customer"],
        issued_on=date.fromisoformat(frozen["issued_on"]),
        by=frozen["actor"],
        taken_in=() if is_return else tuple(from_plain(Good, one) for one in frozen["goods"]),
        custody="" if is_return else frozen["custody"],
        currency=frozen.get("currency", ""),
        given_back=tuple(from_plain(GivenBack, one) for one in frozen["goods"]) if is_return else (),
        left=tuple(from_plain(Good, one) for one in frozen["left"]) if is_return else (),
        note=frozen["note"] if is_return else "",
    )


def _payment(frozen: Mapping[str, Any]) -> PaymentFacts:
    return PaymentFacts(
        studio=Letterhead(**frozen["studio"]),
        number=frozen["number"],
        order_number=frozen["order"],
        customer=frozen["customer"],
        issued_on=date.fromisoformat(frozen["issued_on"]),
        by=frozen["actor"],
        amount_minor=frozen["amount_minor"],
        paid_minor=frozen["paid_minor"],
        due_minor=frozen["due_minor"],
        currency=frozen["currency"],
        method=Method(frozen["method"]),
        reference=frozen["reference"],
        on=date.fromisoformat(frozen["on"]),
    )


def _hand_over(frozen: Mapping[str, Any]) -> HandOverFacts:
    return HandOverFacts(
        studio=Letterhead(**frozen["studio"]),
        number=frozen["number"],
        order_number=frozen["order"],
        customer=frozen["customer"],
        issued_on=date.fromisoformat(frozen["issued_on"]),
        by=frozen["actor"],
        rings=tuple(
            HandedRing(
                ring.reckoning,
                ring.particulars,
                ring.is_marked,
                from_plain(MadeFigures, made["figures"]),
                made["label"],
                made["ordered_mm"],
            )
            for ring, made in zip(rings_read(frozen["rings"]), frozen["made"], strict=True)
        ),
        resizing_note=frozen["resizing_note"],
        given_back=tuple(from_plain(GivenBack, one) for one in frozen["given_back"]),
        left=tuple(from_plain(Good, one) for one in frozen["left"]),
        due_minor=frozen["due_minor"],
        paid_minor=frozen["paid_minor"],
        currency=frozen["currency"],
    )
