"""Handing an order over: what was made is kept, goods go back, and the customer's sheet is made."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.as_made import put_as_made
from studio.book.bench_records import SIZE_MM
from studio.book.custody import custody_of
from studio.book.document_reads import document
from studio.book.document_tables import DocumentRow
from studio.book.document_values import LETTERS, Document, DocumentKind
from studio.book.frozen import ring_kept
from studio.book.ledger import Hand, ledger_moved
from studio.book.making_errors import NotToHandOver
from studio.book.making_reads import as_made_of
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.order_writing import locked_order, put_state
from studio.book.outwork_reads import refuse_out
from studio.book.plain_values import as_plain
from studio.book.studio import letterhead_of, studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.as_made import LONGEST_LOT, WEIGHT_G
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.goods import GivenBack
from studio.craft.orders import State
from studio.craft.units import figure_words, from_milligrams, shown_length

_GOES_BACK = GoodGiven(GoodEnd.BACK)


def hand_over(
    session: Session, *, number: str, version: int, asked: HandingOver, actor: Actor, now: datetime
) -> Document:
    """Hand a ready order over: keep what its rings were made as, give goods back, and make its sheet.

    The sheet is a document of the order and is frozen with all it says; its paper follows when it is asked
    for (`put_document_pdf`). Raises `OrderUnknown`, `VersionStale`, `NotToHandOver`, `ThingOut` while
    something of the order is out of the house, and `Refused` for what cannot be: 'size-1', 'weight-1',
    'lot-1' of a ring by its place, 'goods' for a line that is not held, and 'back-r1-2' where more would go
    back than was taken in.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        if row.state != State.READY:
            raise NotToHandOver(number, State(row.state))
        refuse_out(session, row.id)
        found = order(session, number)
        _check(found, asked)
        made = put_as_made(session, row, given=asked.rings, actor=actor, now=now)
        revision = 1 + sum(one.kind is DocumentKind.HAND_OVER for one in found.documents)
        goods = _given_back(found, asked)
        sheet = DocumentRow(
            number=f"{number}-{LETTERS[DocumentKind.HAND_OVER]}{revision}",
            order_id=row.id,
            kind=DocumentKind.HAND_OVER,
            revision=revision,
            issued_at=now,
            user_id=actor.id,
            actor=actor.name,
            goods=[as_plain(one) for one in goods],
            frozen={},
        )
        custody_of(session, row, sheet.number, given_back=goods, actor=actor, now=now)
        sheet.frozen = _frozen(session, found, sheet, goods, actor)
        session.add(sheet)
        session.flush()
        ledger_moved(session, Hand(actor, now), row, State.READY, State.HANDED_OVER)
        also: dict[str, object] = {"document": sheet.number}
        also |= {"made": made} if made else {}
        put_state(session, row, State.HANDED_OVER, verb="hand it over", actor=actor, now=now, also=also)
        session.flush()
    return document(session, sheet.number)


def good_field(key: str) -> str:
    """The name of a line among what is typed: '2026-118-r1/2' is 'r1-2'."""
    return key.rpartition("-")[2].replace("/", "-")


def _given_back(found: Order, asked: HandingOver) -> tuple[GivenBack, ...]:
    told = []
    for good in found.goods_held:
        given = asked.goods.get(good.key, _GOES_BACK)
        if given.end is GoodEnd.STAYS:
            continue
        is_used = given.end is GoodEnd.USED
        weight_mg = given.weight_mg
        if is_used and weight_mg is None and good.weight_mg is not None:
            weight_mg = 0  # all of it is in the ring
        told.append(GivenBack(good, weight_mg, is_used))
    return tuple(told)


def _frozen(
    session: Session,
    found: Order,
    sheet: DocumentRow,
    goods: tuple[GivenBack, ...],
    actor: Actor,
) -> Mapping[str, Any]:
    """All that stands on the sheet, as plain JSON values."""
    facts = studio(session)
    gone = {one.good.key for one in goods}
    before = [back for one in found.documents for back in one.given_back]
    account = found.account
    made = {one.position: one for one in as_made_of(session, sheet.order_id)}
    return {
        "number": sheet.number,
        "order": found.number,
        "issued_on": day_of(sheet.issued_at, facts.time_zone).isoformat(),
        "studio": letterhead_of(facts),
        "customer": found.customer.name,
        "actor": actor.name,
        "resizing_note": facts.resizing_note,
        "rings": [ring_kept(ring, facts.hallmark_rule) for ring in found.rings],
        "made": [
            {
                "label": made[ring.position].label,
                "figures": as_plain(made[ring.position].figures),
                "ordered_mm": made[ring.position].ordered_mm,
            }
            for ring in found.rings
        ],
        "given_back": [as_plain(one) for one in (*before, *goods)],
        "left": [as_plain(good) for good in found.goods_held if good.key not in gone],
        "due_minor": account.due_minor if found.agreement is not None else None,
        "paid_minor": account.paid_minor,
        "currency": found.currency,
    }


def _check(found: Order, asked: HandingOver) -> None:
    refused: list[Refusal] = []
    for position, given in asked.rings.items():
        size, weight = given.size_mm, given.finished_g
        if size is not None and not SIZE_MM.low <= size <= SIZE_MM.high:
            why = Why.TOO_LARGE if size > SIZE_MM.high else Why.TOO_SMALL
            typed = shown_length(size)
            refused.append(Refusal(f"size-{position}", why, typed, SIZE_MM.low, SIZE_MM.high, "mm"))
        if weight is not None and not WEIGHT_G.low <= weight <= WEIGHT_G.high:
            why = Why.TOO_LARGE if weight > WEIGHT_G.high else Why.TOO_SMALL
            typed = figure_words(weight)
            refused.append(Refusal(f"weight-{position}", why, typed, WEIGHT_G.low, WEIGHT_G.high, "g"))
        if len(given.lot) > LONGEST_LOT:
            refused.append(Refusal(f"lot-{position}", Why.TOO_LONG, high=LONGEST_LOT, unit="characters"))
    held = {good.key: good for good in found.goods_held}
    for key, one in asked.goods.items():
        good = held.get(key)
        if good is None:
            refused.append(Refusal("goods", Why.UNKNOWN_CHOICE, key[:24]))
        elif one.weight_mg is not None and good.weight_mg is not None and one.weight_mg > good.weight_mg:
            typed, most = figure_words(from_milligrams(one.weight_mg), 3), from_milligrams(good.weight_mg)
            name = f"back-{good_field(key)}"
            refused.append(Refusal(name, Why.HEAVIER_THAN_TAKEN_IN, typed, high=most, unit="g"))
    if refused:
        raise Refused(*refused)
