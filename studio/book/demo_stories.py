"""What happens to the orders of the demo: what each says, and the moments at which it moves on."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from studio.book.demo_people import NOTES, STUDIO
from studio.book.demo_rates import RATES
from studio.book.demo_rings import RingMaker
from studio.book.orders import OrderTerms, RingDraft
from studio.clock import day_of, monday_of
from studio.craft.orders import State

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
class Story:
    """One order: when it is taken, what it says, and the moments at which it moves on."""

    taken_at: datetime
    terms: OrderTerms
    rings: tuple[RingDraft, ...]
    moves: tuple[tuple[State, datetime], ...]
    is_deposit_open: bool = False


def stories_by_week(chance: Random, today: date, now: datetime) -> Iterable[Story]:
    """The orders of nine weeks around this one, as far as `_WEEKS` says."""
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
) -> Story:
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
        else moment_at(promised_on, chance.choice((10, 11, 16))),
        bench_on=None if has_quote or state is State.DRAFT else bench_on,
        note=chance.choice(NOTES) if chance.random() < 0.2 else "",
    )
    taken = min(
        bench_on - timedelta(days=chance.randint(12, 22)), today - timedelta(days=chance.randint(0, 9))
    )
    taken_at = moment_at(_open_day(taken), chance.randint(10, 16), chance.randrange(0, 60, 5))
    quoted_at = taken_at + timedelta(minutes=10)
    if state is State.DRAFT:
        return _clamped(Story(now - timedelta(hours=chance.randint(1, 6)), terms, rings, ()), now)
    if state is State.QUOTED:
        return _clamped(Story(taken_at, terms, rings, ((state, quoted_at),)), now)
    agreed_at = taken_at + timedelta(days=chance.randint(0, 2), minutes=chance.randrange(20, 90))
    if state is State.CALLED_OFF:
        moves = (
            (State.QUOTED, quoted_at),
            (State.AGREED, agreed_at),
            (state, agreed_at + timedelta(days=3)),
        )
        return _clamped(Story(taken_at, terms, rings, moves), now)
    moments = (
        quoted_at,
        agreed_at,
        moment_at(bench_on, 9, 10),
        moment_at(bench_on, 16, 30) + timedelta(days=1),
        moment_at(promised_on, 11, 20),
    )
    steps = tuple(zip(_WAY[1:], moments, strict=True))[: _WAY.index(state)]
    return _clamped(Story(taken_at, terms, rings, steps), now)


def stories_that_need_a_hand(chance: Random, today: date, now: datetime) -> Iterable[Story]:
    """The orders that make the first page worth reading."""
    maker = RingMaker(chance)
    late = _open_day(today - timedelta(days=4))
    ring = (maker.one(),)
    passed = _story(chance, State.AT_THE_BENCH, late, ring, now)
    yield replace(passed, terms=replace(passed.terms, promised_at=moment_at(today - timedelta(days=1), 16)))
    waits = _story(chance, State.AGREED, _open_day(today - timedelta(days=8)), maker.pair(), now)
    yield replace(
        waits, terms=replace(waits.terms, promised_at=moment_at(_open_day(today + timedelta(days=6)), 11))
    )
    soon = _story(chance, State.AGREED, today, (maker.one(),), now)
    yield replace(soon, terms=replace(soon.terms, promised_at=moment_at(today + timedelta(days=2), 16)))
    unplanned = _story(chance, State.AGREED, today + timedelta(days=20), (maker.one(),), now)
    yield replace(unplanned, terms=replace(unplanned.terms, bench_on=None))
    unpaid = _story(chance, State.AGREED, today + timedelta(days=12), (maker.one(),), now)
    yield replace(unpaid, is_deposit_open=True)
    for days in (RATES.valid_days - 1, RATES.valid_days + 2):
        waits_since = now - timedelta(days=days)
        terms = OrderTerms(wanted_on=today + timedelta(days=45))
        taken_at = waits_since - timedelta(minutes=10)
        yield Story(taken_at, terms, (maker.one(),), ((State.QUOTED, waits_since),))
    ready = _story(chance, State.READY, today - timedelta(days=14), (maker.one(),), now)
    yield replace(
        ready, terms=replace(ready.terms, promised_at=moment_at(_open_day(today - timedelta(days=5)), 11))
    )
    for rings, days in (((maker.told(),), 3), ((maker.between(),), 5)):
        yield Story(now - timedelta(days=days), OrderTerms(wanted_on=today + timedelta(days=40)), rings, ())


def _clamped(story: Story, now: datetime) -> Story:
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


def moment_at(day: date, hour: int, minute: int = 0) -> datetime:
    """The moment of this hour in the studio's time zone, in UTC."""
    return datetime.combine(day, time(hour, minute), ZoneInfo(STUDIO.time_zone)).astimezone(UTC)
