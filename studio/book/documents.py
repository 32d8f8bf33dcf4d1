"""The documents of an order: what was agreed, confirmed; the customer's goods, taken in and given back.

They are drafted from the book as it stands and issued once their paper is printed, as quotes are. None of
them changes the order: its version stays.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreed_quotes import agreed_steps, frozen_confirmation
from studio.book.audit import note
from studio.book.custody import custody_of
from studio.book.document_errors import (
    DocumentUnknown,
    GoodsStand,
    NothingHeld,
    NothingTakenIn,
    NothingToConfirm,
    RiskUnanswered,
)
from studio.book.document_reads import document
from studio.book.document_tables import DocumentPaperRow, DocumentRow
from studio.book.document_values import (
    LETTERS,
    Document,
    DocumentDraft,
    DocumentKind,
    GivingBack,
    TakingIn,
)
from studio.book.errors import VersionStale
from studio.book.goods_to_take_in import (
    is_new,
    stones_of_customer,
    stones_to_take_in,
    unanswered_stones,
)
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.order_writing import locked_order
from studio.book.outwork_reads import refuse_out
from studio.book.plain_values import as_plain, from_plain
from studio.book.quote_reads import sha256_of
from studio.book.studio import Studio, letterhead_of, studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.custody import LONGEST_CONDITION
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.goods import LONGEST_BAG, LONGEST_GOODS, LONGEST_NOTE, GivenBack, Good
from studio.craft.orders import BEFORE_AGREEMENT, State

CLOSED = frozenset({State.HANDED_OVER, State.CALLED_OFF})
"""States in which nothing more is taken in for an order."""
_VERBS: Mapping[DocumentKind, str] = {
    DocumentKind.CONFIRMATION: "make a confirmation",
    DocumentKind.RECEIPT: "take goods in",
    DocumentKind.RETURN: "give goods back",
}


def confirmable(session: Session, number: str, *, now: datetime) -> DocumentDraft:
    """The confirmation as it would be issued now: all that is agreed, the last amendment counted.

    Raises `OrderUnknown`, and `NothingToConfirm` where no quote of the order is agreed.
    """
    found = order(session, number)
    if found.agreement is None or found.state in {*BEFORE_AGREEMENT, State.CALLED_OFF}:
        raise NothingToConfirm(number, found.state)
    facts = studio(session)
    draft = _draft(found, DocumentKind.CONFIRMATION, facts, now)
    kept = frozen_confirmation(
        found,
        agreement=found.agreement,
        steps=agreed_steps(session, found.agreement),
        facts=facts,
        number=draft.number,
        issued_on=draft.issued_on,
    )
    return replace(draft, frozen=kept)


def receivable(
    session: Session, number: str, *, asked: TakingIn, actor: Actor, now: datetime
) -> DocumentDraft:
    """The receipt for goods taken in as it would be issued now by `actor`.

    Raises `OrderUnknown`; `GoodsStand` for an order that is handed over or called off; `RiskUnanswered` while
    nobody said who bears the risk of a customer's stone; `NothingTakenIn` without a line; `Refused` for what
    cannot stand: 'goods', 'weight_g', 'bag', 'stones'.
    """
    found = order(session, number)
    if found.state in CLOSED:
        raise GoodsStand(number, found.state)
    if unanswered := unanswered_stones(found):
        raise RiskUnanswered(number, unanswered)
    _check_taking_in(found, asked)
    facts = studio(session)
    draft = _draft(found, DocumentKind.RECEIPT, facts, now)
    wanted = [
        (ring, at, stone)
        for ring, at, stone in stones_of_customer(found)
        if (f"{ring}/{at}" in asked.stones if asked.stones is not None else is_new(found, ring, at, stone))
    ]
    worth = asked.values_minor
    goods = [
        Good(draft.number, 0, ring, at, stone, bag=asked.bag, value_minor=worth.get(f"{ring}/{at}"))
        for ring, at, stone in wanted
    ]
    if asked.words:
        goods.append(
            Good(
                draft.number,
                0,
                words=asked.words,
                weight_mg=asked.weight_mg,
                bag=asked.bag,
                condition=asked.condition,
                value_minor=asked.value_minor,
            )
        )
    if not goods:
        raise NothingTakenIn(number)
    lines = tuple(as_plain(replace(good, place=place)) for place, good in enumerate(goods, 1))
    kept = _frozen(found, draft, facts, actor) | {
        "goods": list(lines),
        "custody": facts.custody_note,
        "currency": facts.currency,
    }
    return replace(draft, frozen=kept, goods=lines)


def returnable(
    session: Session, number: str, *, asked: GivingBack, actor: Actor, now: datetime
) -> DocumentDraft:
    """The receipt for goods given back as it would be issued now by `actor`.

    Raises `OrderUnknown`; `NothingHeld`; `Refused` for lines that are not held, for none, and for a note of
    more than 500 signs: 'goods', 'note'.
    """
    found = order(session, number)
    if not found.goods_held:
        raise NothingHeld(number)
    wanted: Mapping[str, int | None] = (
        dict.fromkeys(good.key for good in found.goods_held) if asked.lines is None else asked.lines
    )
    _check_giving_back(found, wanted, asked.note)
    facts = studio(session)
    draft = _draft(found, DocumentKind.RETURN, facts, now)
    lines = tuple(
        as_plain(GivenBack(good, wanted[good.key])) for good in found.goods_held if good.key in wanted
    )
    kept = _frozen(found, draft, facts, actor) | {
        "goods": list(lines),
        "note": asked.note,
        "left": [as_plain(good) for good in found.goods_held if good.key not in wanted],
    }
    return replace(draft, frozen=kept, goods=lines)


def issue_document(
    session: Session, *, draft: DocumentDraft, pdf: bytes | None, actor: Actor, now: datetime
) -> Document:
    """Issue the document as drafted; it is kept and never changes, nor do those before it.

    `pdf` is None where the paper follows (`put_document_pdf`). Raises `OrderUnknown`, and `VersionStale` when
    the order changed or another document of its kind was issued since the draft was made; `ThingOut` where
    goods would be given back that are out of the house.
    """
    with transaction(session):
        row = locked_order(session, draft.order_number, draft.version)
        of_its_kind = select(DocumentRow.id).where(
            col(DocumentRow.order_id) == row.id, col(DocumentRow.kind) == draft.kind
        )
        if draft.revision != len(session.exec(of_its_kind).all()) + 1:
            raise VersionStale(draft.order_number, draft.version, row.version)
        is_receipt, is_return = draft.kind is DocumentKind.RECEIPT, draft.kind is DocumentKind.RETURN
        taken_in = [from_plain(Good, one) for one in draft.goods] if is_receipt else []
        given_back = [from_plain(GivenBack, one) for one in draft.goods] if is_return else []
        refuse_out(session, row.id, [one.good.key for one in given_back])
        custody_of(
            session,
            row,
            draft.number,
            taken_in=taken_in,
            given_back=given_back,
            actor=actor,
            now=now,
        )
        issued = DocumentRow(
            number=draft.number,
            order_id=row.id,
            kind=draft.kind,
            revision=draft.revision,
            issued_at=now,
            user_id=actor.id,
            actor=actor.name,
            goods=list(draft.goods),
            frozen=draft.frozen,
        )
        row.changed_at = now
        session.add_all((issued, row))
        session.flush()
        if pdf is not None:
            _keep(session, issued.id, pdf, now)
        new = {"document": draft.number}
        note(session, actor=actor, now=now, verb=_VERBS[draft.kind], order_id=row.id, new=new)
    return document(session, draft.number)


def put_document_pdf(session: Session, *, number: str, pdf: bytes, now: datetime) -> Document:
    """Keep the paper of a document that was issued without one. One that is there already stays as it is.

    Raises `DocumentUnknown`.
    """
    with transaction(session):
        found = session.exec(
            select(DocumentRow).where(col(DocumentRow.number) == number).with_for_update()
        ).one_or_none()
        if found is None:
            raise DocumentUnknown(number)
        if session.get(DocumentPaperRow, found.id) is None:
            _keep(session, found.id, pdf, now)
    return document(session, number)


def _draft(found: Order, kind: DocumentKind, facts: Studio, now: datetime) -> DocumentDraft:
    revision = 1 + sum(one.kind is kind for one in found.documents)
    return DocumentDraft(
        number=f"{found.number}-{LETTERS[kind]}{revision}",
        order_number=found.number,
        kind=kind,
        revision=revision,
        version=found.version,
        issued_on=day_of(now, facts.time_zone),
        frozen={},
    )


def _frozen(found: Order, draft: DocumentDraft, facts: Studio, actor: Actor) -> dict[str, Any]:
    """What every receipt keeps, as plain JSON values."""
    return {
        "number": draft.number,
        "order": found.number,
        "issued_on": draft.issued_on.isoformat(),
        "studio": letterhead_of(facts),
        "customer": found.customer.name,
        "actor": actor.name,
    }


def _check_taking_in(found: Order, asked: TakingIn) -> None:
    refused: list[Refusal] = []
    for name, words, longest in (
        ("goods", asked.words, LONGEST_GOODS),
        ("bag", asked.bag, LONGEST_BAG),
        ("condition", asked.condition, LONGEST_CONDITION),
    ):
        if len(words) > longest:
            refused.append(Refusal(name, Why.TOO_LONG, words[:24], high=longest, unit="signs"))
    if asked.weight_mg is not None and not asked.words:
        refused.append(Refusal("goods", Why.EMPTY))
    new = {f"{ring}/{at}" for ring, at, _ in stones_to_take_in(found)}
    unknown = [place for place in asked.stones or () if place not in new]
    if unknown:
        refused.append(Refusal("stones", Why.UNKNOWN_CHOICE, unknown[0][:24]))
    if refused:
        raise Refused(*refused)


def _check_giving_back(found: Order, wanted: Mapping[str, int | None], words: str) -> None:
    refused: list[Refusal] = []
    keys = [good.key for good in found.goods_held]
    unknown = [key for key in wanted if key not in keys]
    if unknown:
        refused.append(Refusal("goods", Why.UNKNOWN_CHOICE, unknown[0][:24]))
    elif not wanted:
        refused.append(Refusal("goods", Why.EMPTY))
    if len(words) > LONGEST_NOTE:
        refused.append(Refusal("note", Why.TOO_LONG, words[:24], high=LONGEST_NOTE, unit="signs"))
    if refused:
        raise Refused(*refused)


def _keep(session: Session, document_id: int, pdf: bytes, now: datetime) -> None:
    session.add(DocumentPaperRow(document_id=document_id, pdf=pdf, sha256=sha256_of(pdf), rendered_at=now))
