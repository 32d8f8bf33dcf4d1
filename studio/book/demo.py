"""The demo's book: an invented studio with nine weeks of orders around today, told by the real verbs.

The same seed and the same day give the same book. Dates hang on today, so that this week and the next five
have bench work, and a handful of orders need a hand.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from sqlmodel import Session

from studio.book.demo_bench import half_way_in_demo, made_in_demo, measured_in_demo
from studio.book.demo_buying import supplies_in_demo
from studio.book.demo_documents import documents_in_demo
from studio.book.demo_fits import fits_in_demo
from studio.book.demo_gauges import demo_gauges
from studio.book.demo_invoices import invoices_in_demo
from studio.book.demo_ledger import metal_in_demo
from studio.book.demo_mails import mails_in_demo
from studio.book.demo_old_gold import old_gold_in_demo
from studio.book.demo_outwork import outwork_in_demo
from studio.book.demo_people import CUSTOMERS, OWNER, PEOPLE, STUDIO, email_of, phone_of
from studio.book.demo_pieces import pieces_aside_in_demo, pieces_in_demo
from studio.book.demo_quotes import (
    amendments_in_demo,
    answers_in_demo,
    balance_in_demo,
    choice_in_demo,
    quote_in_demo,
    yes_in_demo,
)
from studio.book.demo_rates import RATES, demo_prices
from studio.book.demo_stories import Story, moment_at, stories_by_week, stories_that_need_a_hand
from studio.book.gauges import put_gauge
from studio.book.metal_prices import add_metal_prices
from studio.book.orders import CustomerDraft, Order, move_order, take_order
from studio.book.people import PROGRAM, Actor, add_user
from studio.book.quote_values import Quote
from studio.book.rates import put_rates
from studio.book.studio import found_studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.designs import Pattern
from studio.craft.orders import State

__all__ = ["OWNER", "SEED", "write_demo"]

SEED = 118


@dataclass(slots=True)
class _Told:
    """An order while its story is told: as it stood when it was last read, and the quote that stands."""

    order: Order | None = None
    quote: Quote | None = None


def write_demo(session: Session, *, now: datetime, seed: int = SEED) -> None:
    """Fill an empty book. All of it is one transaction: a demo is whole or not there."""
    chance = Random(seed)  # noqa: S311  the same book every time, nothing is kept secret by it
    with transaction(session):
        opened = now - timedelta(days=70)
        found_studio(session, facts=STUDIO, actor=PROGRAM, now=opened)
        people = [add_user(session, name=n, role=r, actor=PROGRAM, now=opened).actor for n, r in PEOPLE]
        today = day_of(now, STUDIO.time_zone)
        _put_figures(session, now, opened, owner=people[0], chance=Random(seed))  # noqa: S311  as above
        stories = [*stories_by_week(chance, today, now), *stories_that_need_a_hand(chance, today, now)]
        stories.sort(key=lambda story: story.taken_at)
        _tell(session, stories, people, chance)
        half_way_in_demo(session, actor=people[2], now=now)
        answers_in_demo(session, actor=people[1], now=now)
        amendments_in_demo(session, actor=people[1], now=now)
        documents_in_demo(session, actor=people[1], now=now)
        old_gold_in_demo(session, actor=people[1], now=now)
        metal_in_demo(session, owner=people[0], maker=people[2], now=now)
        outwork_in_demo(session, actor=people[1], opened=opened, now=now)
        pieces_aside_in_demo(session, actor=people[0], now=now)
        invoices_in_demo(session, actor=people[1], now=now)
        fits_in_demo(session, actor=people[1], now=now)
        mails_in_demo(session, sender=STUDIO.email, actor=people[1], now=now)


def _put_figures(session: Session, now: datetime, opened: datetime, *, owner: Actor, chance: Random) -> None:
    """The studio's gauges, rates and metal prices, as they were entered over the weeks."""
    put_rates(session, rates=RATES, actor=owner, now=opened)
    for gauge in demo_gauges(day_of(opened, STUDIO.time_zone)):
        put_gauge(session, gauge=gauge, actor=owner, now=opened)
    pieces_in_demo(session, actor=owner, now=opened)
    supplies_in_demo(session, actor=owner, opened=opened, now=now)
    first, today = (day_of(moment, STUDIO.time_zone) for moment in (opened, now))
    for day, prices in demo_prices(chance, today, first):
        at = opened if day == first else min(moment_at(day, 9), now)
        add_metal_prices(session, prices=prices, actor=owner, now=at)


def _tell(session: Session, stories: list[Story], people: list[Actor], chance: Random) -> None:
    """Let everything happen in the order of time, as it would have."""
    owner, counter, maker = people
    ids: dict[int, int] = {}
    told = [_Told() for _ in stories]
    pictured = _pictured(stories)
    places = [place % len(CUSTOMERS) for place in range(len(stories))]
    events = [(story.taken_at, place, -1) for place, story in enumerate(stories)]
    events += [
        (at, place, step) for place, story in enumerate(stories) for step, (_, at) in enumerate(story.moves)
    ]
    for at, place, step in sorted(events):
        story, mine, who = stories[place], told[place], places[place]
        before = mine.order
        if before is None:
            actor = chance.choice((owner, counter, counter))
            name = CUSTOMERS[who]
            customer = ids.get(who) or CustomerDraft(name, phone_of(who), email_of(name))
            after = take_order(
                session, customer=customer, terms=story.terms, rings=story.rings, actor=actor, now=at
            )
            ids[who] = after.customer.id
            if place == pictured:
                from studio.book.demo_pictures import pictures_in_demo  # noqa: PLC0415  only a demo draws

                pictures_in_demo(session, after, actor=counter, now=at)
        elif (to := story.moves[step][0]) is State.QUOTED:
            if len(story.moves) == 1 and len(before.rings) == 1:  # it stays quoted: the customer may choose
                before = choice_in_demo(session, before, actor=counter, now=at)
            mine.quote = quote_in_demo(
                session, before, is_revised=place % 9 == 4, chance=chance, actor=counter, now=at
            )
            continue
        elif to is State.AGREED and mine.quote is not None:
            after = yes_in_demo(
                session,
                mine.quote,
                name=CUSTOMERS[who],
                is_deposit_open=story.is_deposit_open,
                chance=chance,
                actor=counter,
                now=at,
            )
        else:
            if to is State.HANDED_OVER:
                before = balance_in_demo(session, before, chance=chance, actor=counter, now=at)
            if to is State.READY:
                made_in_demo(session, before, actor=maker, now=at)
            after = move_order(
                session,
                number=before.number,
                to=to,
                version=before.version,
                reason="The wedding is put off." if to is State.CALLED_OFF else None,
                actor=maker if to in {State.AT_THE_BENCH, State.READY} else counter,
                now=at,
            )
            if to is State.READY:
                measured_in_demo(session, after, actor=maker, now=at)
        mine.order = after


def _pictured(stories: list[Story]) -> int | None:
    """The place of the order that has pictures: the first at the bench whose ring is hammered."""
    places = (
        place
        for place, story in enumerate(stories)
        if (State.AT_THE_BENCH in (to for to, _ in story.moves[-1:]))
        and story.rings[0].design.pattern is Pattern.HAMMERED
    )
    return next(places, None)
