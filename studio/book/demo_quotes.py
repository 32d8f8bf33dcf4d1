"""How the demo's quotes go out and are answered. Their papers are made when somebody asks for them."""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.agreements import agree
from studio.book.amendments import amendable, amending_of
from studio.book.answer_links import make_answer_link, say_no
from studio.book.order_values import Order, OrderChanges
from studio.book.orders import change_order, order, orders_page
from studio.book.payment_values import Sum
from studio.book.payments import take_payment
from studio.book.quote_values import Quote, SentHow
from studio.book.quotes import issue_quote, note_sent, quotable
from studio.book.variants import add_variant
from studio.craft.designs import WIRE_PROFILES
from studio.craft.orders import State
from studio.craft.payments import Method

_WITHOUT_DEPOSIT = "A customer of many years; all of it is paid on the day."
_A_LITTLE = timedelta(minutes=2)


def quote_in_demo(
    session: Session, draft: Order, *, is_revised: bool, chance: Random, actor: Actor, now: datetime
) -> Quote:
    """The quote that stands, now and then a second one since the wanted day moved by a few days."""
    number = draft.number
    issued = _issue(session, number, actor=actor, now=now)
    if is_revised and draft.terms.wanted_on is not None:
        change_order(
            session,
            number=number,
            version=draft.version + 1,
            changes=OrderChanges(wanted_on=draft.terms.wanted_on + timedelta(days=3)),
            actor=actor,
            now=now + _A_LITTLE,
        )
        issued = _issue(session, number, actor=actor, now=now + 2 * _A_LITTLE)
    email = draft.customer.email
    is_mailed = email is not None and chance.random() < 0.5
    return note_sent(
        session,
        number=issued.number,
        how=SentHow.MAIL if is_mailed else SentHow.BY_HAND,
        to=email if email is not None and is_mailed else draft.customer.name,
        actor=actor,
        now=now + 3 * _A_LITTLE,
    )


def choice_in_demo(session: Session, draft: Order, *, actor: Actor, now: datetime) -> Order:
    """The draft with its ring offered in another metal too, and narrower."""
    (ring,) = draft.rings
    metal = "silver-925" if ring.design.alloy != "silver-925" else "gold-375-yellow"
    narrower = {"width_mm": ring.design.width_mm - 1}
    if ring.design.profile in WIRE_PROFILES:
        narrower |= {"thickness_mm": narrower["width_mm"]}
    for change in ({"alloy": metal}, narrower):
        other = replace(ring.draft, design=replace(ring.design, **change))
        draft = add_variant(
            session, number=draft.number, version=draft.version, rings=[other], actor=actor, now=now
        )
    return draft


def yes_in_demo(
    session: Session,
    standing: Quote,
    *,
    name: str,
    is_deposit_open: bool,
    chance: Random,
    actor: Actor,
    now: datetime,
) -> Order:
    """The quote agreed: the deposit paid with the yes, rarely waived, or open."""
    is_waived = not is_deposit_open and chance.random() < 0.08
    return agree(
        session,
        quote=standing.number,
        name=name,
        deposit=None if is_deposit_open or is_waived else _deposit(standing, chance),
        without_deposit=_WITHOUT_DEPOSIT if is_waived else None,
        actor=actor,
        now=now,
    )


def balance_in_demo(session: Session, found: Order, *, chance: Random, actor: Actor, now: datetime) -> Order:
    """What was left is paid as the ring is collected."""
    left = found.account.left_minor
    if not left:
        return found
    method = chance.choice((Method.CARD, Method.CARD, Method.CASH))
    return take_payment(session, number=found.number, money=Sum(left, method), actor=actor, now=now)


def _deposit(standing: Quote, chance: Random) -> Sum | None:
    """The deposit as most pay it: by card or by transfer, a few in cash."""
    method = chance.choice((Method.CARD, Method.CARD, Method.TRANSFER, Method.CASH))
    return Sum(standing.deposit_minor, method) if standing.deposit_minor else None


def _issue(session: Session, number: str, *, actor: Actor, now: datetime) -> Quote:
    return issue_quote(session, draft=quotable(session, number, now=now), pdf=None, actor=actor, now=now)


def amendments_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Two agreed orders of one ring are amended: the newest narrower and said yes to, the next one waits."""
    lines = orders_page(session, state=State.AGREED, limit=200, now=now).items
    agreed = [order(session, line.number) for line in lines]
    single = [
        found
        for found in agreed
        if len(found.rings) == 1 and found.rings[0].design.profile not in WIRE_PROFILES
    ]
    said = ("Narrower, as told on the telephone.", "A little narrower.")
    for found, words in zip(single, said, strict=False):
        first = found.rings[0].draft
        narrower = replace(first, design=replace(first.design, width_mm=first.design.width_mm - 0.5))
        amending = replace(amending_of(found), rings=(narrower,), words=words)
        draft = amendable(session, found.number, amending=amending, actor=actor, now=now)
        issued = issue_quote(session, draft=draft, pdf=None, actor=actor, now=now)
        if found is single[0]:
            agree(session, quote=issued.number, name=found.customer.name, actor=actor, now=now)


def answers_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """The customer of the quote that holds longest said, by the link they got, that it is not right yet."""
    lines = orders_page(session, state=State.QUOTED, limit=200, now=now).items
    waiting = [
        one for line in lines for one in order(session, line.number).quotes if not one.has_expired(now)
    ]
    last = max(waiting, key=lambda one: (one.valid_until, one.number))
    sent_at = max(last.issued_at, *(sending.at for sending in last.sendings), now - 3 * _A_LITTLE)
    key = make_answer_link(session, number=last.number, actor=actor, now=sent_at)
    words = "Could it be a little narrower? The rest is just right."
    say_no(session, key=key, words=words, address="192.0.2.17", now=now)
