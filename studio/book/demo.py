"""The demo's book: an invented studio with nine weeks of orders around today, told by the real verbs.

The same seed and the same day give the same book. Dates hang on today, so that this week and the next five
have bench work, and a handful of orders need a hand.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from sqlmodel import Session

from studio.book.demo_bench import half_way_in_demo, measured_in_demo
from studio.book.demo_buying import supplies_in_demo
from studio.book.demo_documents import documents_in_demo
from studio.book.demo_fits import fits_in_demo
from studio.book.demo_gauges import demo_gauges
from studio.book.demo_invoices import invoices_in_demo
from studio.book.demo_mails import mails_in_demo
from studio.book.demo_people import CUSTOMERS, NOTES, OWNER, PEOPLE, STUDIO, email_of, phone_of
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
from studio.book.demo_rings import RingMaker
from studio.book.gauges import put_gauge
from studio.book.metal_prices import add_metal_prices
from studio.book.orders import CustomerDraft, Order, OrderTerms, RingDraft, move_order, take_order
from studio.book.people import PROGRAM, Actor, add_user
from studio.book.quote_values import Quote
from studio.book.rates import put_rates
from studio.book.studio import found_studio
from studio.book.transaction import transaction
from studio.clock import day_of, monday_of
from studio.craft.designs import Pattern
from studio.craft.orders import State

__all__ = ["OWNER", "SEED", "write_demo"]

SEED = 118
_WAY = (State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER)
_WEEKS: dict[int, tuple[State, ...]] = {
    -3: (State.HANDED_OVER,) * 7,
    -2: (State.HANDED_OVER,) * 6 + (State.CALLED_OFF,),
    -1: (State.HANDED_OVER,) * 4 + (State.READY,) * 3,
    0: (State.AT_THE_BENCH,) * 3 + (State.AGREED,) * 4,
    1: (State.AGREED,) * 7 + (State.CALLED_OFF,),
    2: (State.AGREED,) * 6 + (State.QUOTED,),
    3: (State.AGREED,) * 5 + (State.QUOTED,),
    4: (State.AGREED,) * 4 + (State.QUOTED, State.DRAFT),
    5: (State.AGREED,) * 3 + (State.QUOTED, State.DRAFT),
}
"""The orders of each week around this one, by bench date and by how far they have come."""


@dataclass(frozen=True, slots=True)
class _Story:
    """One order: when it is taken, what it says, and the moments at which it moves on."""

    taken_at: datetime
    terms: OrderTerms
    rings: tuple[RingDraft, ...]
    moves: tuple[tuple[State, datetime], ...]
    is_deposit_open: bool = False


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
        stories = [*_by_week(chance, today, now), *_that_need_a_hand(chance, today, now)]
        stories.sort(key=lambda story: story.taken_at)
        _tell(session, stories, people, chance)
        half_way_in_demo(session, actor=people[2], now=now)
        answers_in_demo(session, actor=people[1], now=now)
        amendments_in_demo(session, actor=people[1], now=now)
        documents_in_demo(session, actor=people[1], now=now)
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
        at = opened if day == first else min(_at(day, 9), now)
        add_metal_prices(session, prices=prices, actor=owner, now=at)


def _tell(session: Session, stories: list[_Story], people: list[Actor], chance: Random) -> None:
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


def _pictured(stories: list[_Story]) -> int | None:
    """The place of the order that has pictures: the first at the bench whose ring is hammered."""
    places = (
        place
        for place, story in enumerate(stories)
        if (State.AT_THE_BENCH in (to for to, _ in story.moves[-1:]))
        and story.rings[0].design.pattern is Pattern.HAMMERED
    )
    return next(places, None)


def _by_week(chance: Random, today: date, now: datetime) -> Iterable[_Story]:
    maker = RingMaker(chance)
    for week, states in _WEEKS.items():
        monday = monday_of(today) + timedelta(weeks=week)
        days = [monday + timedelta(days=ahead) for ahead in range(5)]
        if week == 0:
            days = [day for day in days if day > today] or [today]
        for place, state in enumerate(states):
            bench_on = today if state is State.AT_THE_BENCH else days[place % len(days)]
            rings = maker.pair() if place % 4 == 3 else (maker.one(),)
            if (week, place) in {(2, 0), (3, 0)}:
                rings = (maker.narrowly_measured(has_reason=week == 2),)
            if (week, place) in {(1, 1), (4, 4)}:
                rings = (maker.flaring(),)
            yield _story(chance, state, bench_on, rings, now)


def _story(
    chance: Random, state: State, bench_on: date, rings: tuple[RingDraft, ...], now: datetime
) -> _Story:
    """An order that is made on `bench_on`, as far as `state` and as far as today lets it be."""
    today = day_of(now, STUDIO.time_zone)
    promised_on = _open_day(bench_on + timedelta(days=chance.randint(5, 8)))
    if state is State.READY:
        promised_on = max(promised_on, _open_day(today + timedelta(days=1)))
    has_quote = state is State.QUOTED
    terms = OrderTerms(
        wanted_on=promised_on + timedelta(days=chance.randint(2, 12)),
        wanted_hard=chance.random() < 0.3,
        promised_at=None
        if has_quote or state is State.DRAFT
        else _at(promised_on, chance.choice((10, 11, 16))),
        bench_on=None if has_quote or state is State.DRAFT else bench_on,
        note=chance.choice(NOTES) if chance.random() < 0.2 else "",
    )
    taken = min(
        bench_on - timedelta(days=chance.randint(12, 22)), today - timedelta(days=chance.randint(0, 9))
    )
    taken_at = _at(_open_day(taken), chance.randint(10, 16), chance.randrange(0, 60, 5))
    quoted_at = taken_at + timedelta(minutes=10)
    if state is State.DRAFT:
        return _clamped(_Story(now - timedelta(hours=chance.randint(1, 6)), terms, rings, ()), now)
    if state is State.QUOTED:
        return _clamped(_Story(taken_at, terms, rings, ((state, quoted_at),)), now)
    agreed_at = taken_at + timedelta(days=chance.randint(0, 2), minutes=chance.randrange(20, 90))
    if state is State.CALLED_OFF:
        moves = (
            (State.QUOTED, quoted_at),
            (State.AGREED, agreed_at),
            (state, agreed_at + timedelta(days=3)),
        )
        return _clamped(_Story(taken_at, terms, rings, moves), now)
    moments = (
        quoted_at,
        agreed_at,
        _at(bench_on, 9, 10),
        _at(bench_on, 16, 30) + timedelta(days=1),
        _at(promised_on, 11, 20),
    )
    steps = tuple(zip(_WAY[1:], moments, strict=True))[: _WAY.index(state)]
    return _clamped(_Story(taken_at, terms, rings, steps), now)


def _that_need_a_hand(chance: Random, today: date, now: datetime) -> Iterable[_Story]:
    """The orders that make the first page worth reading."""
    maker = RingMaker(chance)
    late = _open_day(today - timedelta(days=4))
    ring = (maker.one(),)
    passed = _story(chance, State.AT_THE_BENCH, late, ring, now)
    yield replace(passed, terms=replace(passed.terms, promised_at=_at(today - timedelta(days=1), 16)))
    waits = _story(chance, State.AGREED, _open_day(today - timedelta(days=8)), maker.pair(), now)
    yield replace(
        waits, terms=replace(waits.terms, promised_at=_at(_open_day(today + timedelta(days=6)), 11))
    )
    soon = _story(chance, State.AGREED, today, (maker.one(),), now)
    yield replace(soon, terms=replace(soon.terms, promised_at=_at(today + timedelta(days=2), 16)))
    unplanned = _story(chance, State.AGREED, today + timedelta(days=20), (maker.one(),), now)
    yield replace(unplanned, terms=replace(unplanned.terms, bench_on=None))
    unpaid = _story(chance, State.AGREED, today + timedelta(days=12), (maker.one(),), now)
    yield replace(unpaid, is_deposit_open=True)
    for days in (RATES.valid_days - 1, RATES.valid_days + 2):
        waits_since = now - timedelta(days=days)
        terms = OrderTerms(wanted_on=today + timedelta(days=45))
        taken_at = waits_since - timedelta(minutes=10)
        yield _Story(taken_at, terms, (maker.one(),), ((State.QUOTED, waits_since),))
    ready = _story(chance, State.READY, today - timedelta(days=14), (maker.one(),), now)
    yield replace(
        ready, terms=replace(ready.terms, promised_at=_at(_open_day(today - timedelta(days=5)), 11))
    )
    for rings, days in (((maker.told(),), 3), ((maker.between(),), 5)):
        yield _Story(now - timedelta(days=days), OrderTerms(wanted_on=today + timedelta(days=40)), rings, ())


def _clamped(story: _Story, now: datetime) -> _Story:
    """The story with nothing in the future: what would still come has just happened, minutes apart."""
    count = len(story.moves)
    moves = tuple(
        (state, min(at, now - timedelta(minutes=7 * (count - step))))
        for step, (state, at) in enumerate(story.moves)
    )
    return replace(story, taken_at=min(story.taken_at, now - timedelta(minutes=7 * (count + 1))), moves=moves)


def _open_day(day: date) -> date:
    """`day`, or the Monday after where it is a Sunday, when the studio is closed."""
    return day + timedelta(days=1) if day.weekday() == 6 else day


def _at(day: date, hour: int, minute: int = 0) -> datetime:
    """The moment of this hour in the studio's time zone, in UTC."""
    return datetime.combine(day, time(hour, minute), ZoneInfo(STUDIO.time_zone)).astimezone(UTC)
