"""The price of rings as they stand on the counter: the breakdown, or what it waits for."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sqlmodel import Session

from studio.book.bench_minutes import minutes_learned
from studio.book.rates import metal_prices, minutes_words, rates_on, stale
from studio.book.studio import zone_and_rule
from studio.craft.hallmark import HallmarkRule, is_marked
from studio.craft.inscriptions import letters_of
from studio.craft.minutes import MinutesMissing, MinutesRecord, PlannedStep, planned_minutes
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.pricing import Bought, Job, PriceBreakdown, metals_priced, price
from studio.craft.rates import Extra, MetalPrice, Rates
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from studio.craft.units import to_milligrams


@dataclass(frozen=True, slots=True)
class PlannedRing:
    """The planned time of one ring: the steps with their minutes, or one number somebody typed."""

    minutes: int
    steps: tuple[PlannedStep, ...]
    is_typed: bool = False


@dataclass(frozen=True, slots=True)
class LivePrice:
    """A price of the day. `breakdown` is None while something is `missing`, in words: 'price of gold'.

    `stale` are those of the prices it stands on that are older than the studio's limit.
    """

    breakdown: PriceBreakdown | None
    missing: tuple[str, ...]
    rates: Rates | None
    prices: Mapping[str, MetalPrice]
    stale: tuple[MetalPrice, ...]
    planned: tuple[PlannedRing, ...]


def price_of(
    session: Session,
    reckonings: Sequence[Reckoning],
    *,
    day: date,
    particulars: Sequence[Particulars] = (),
    minutes: Mapping[int, int] | None = None,
    rates: Rates | None = None,
    prices: Mapping[str, MetalPrice] | None = None,
    rule: HallmarkRule | None = None,
) -> LivePrice:
    """The price of these rings by the rates and prices of `day`.

    `particulars` are theirs in turn, left out where nothing of them is priced. `minutes` are typed minutes by
    the ring's place, counted from 1; the others come from its route, by the record of the studio's own rings
    where enough of them say so, else by its table. `rates`, `prices` and the hallmark's
    `rule` take the place of those in the book. Nothing is written.
    """
    typed = minutes or {}
    ground = _ground(session, day, rates, prices, rule, asks_record=len(typed) < len(reckonings))
    return _live(reckonings, ground, typed, particulars)


def prices_of_each(session: Session, reckonings: Sequence[Reckoning], *, day: date) -> tuple[LivePrice, ...]:
    """The price of each of these rings alone: what the same ring would cost in other metals.

    By the rates and prices of `day`; the book is read once for all of them.
    """
    ground = _ground(session, day)
    return tuple(_live((one,), ground, {}) for one in reckonings)


@dataclass(frozen=True, slots=True)
class _Ground:
    """What a price of the day stands on."""

    day: date
    rates: Rates | None
    prices: Mapping[str, MetalPrice]
    rule: HallmarkRule
    learned: Mapping[str, MinutesRecord]


def _ground(
    session: Session,
    day: date,
    rates: Rates | None = None,
    prices: Mapping[str, MetalPrice] | None = None,
    rule: HallmarkRule | None = None,
    *,
    asks_record: bool = True,
) -> _Ground:
    """What the book says on `day`, with what is given in the place of its own."""
    counts = rates_on(session, day) if rates is None else rates
    known = metal_prices(session, day) if prices is None else prices
    rule = zone_and_rule(session)[1] if rule is None else rule
    return _Ground(day, counts, known, rule, minutes_learned(session) if asks_record else {})


def _live(
    reckonings: Sequence[Reckoning],
    ground: _Ground,
    minutes: Mapping[int, int],
    particulars: Sequence[Particulars] = (),
) -> LivePrice:
    counts, prices = ground.rates, ground.prices
    needed = dict.fromkeys(metal for found in reckonings for metal in metals_priced(found.alloy))
    missing = [f"price of {metal.replace('-', ' ')}" for metal in needed if metal not in prices]
    if counts is None:
        return LivePrice(None, ("rates", *missing), None, prices, (), ())
    used = {metal: prices[metal] for metal in needed if metal in prices}
    old = stale(used, ground.day, counts)
    planned, rows = _planned(reckonings, counts.minutes, minutes, ground.learned)
    missing = [f"minutes for '{minutes_words(row)}'" for row in rows] + missing
    if missing or not reckonings:
        return LivePrice(None, tuple(missing), counts, prices, old, planned)
    places = range(1, len(reckonings) + 1) if len(reckonings) > 1 else (None,)
    jobs = [
        _job(found, told, plan.minutes, place=place, rule=ground.rule, rates=counts)
        for place, found, told, plan in zip(
            places, reckonings, particulars or [NOT_ASKED] * len(reckonings), planned, strict=True
        )
    ]
    return LivePrice(price(jobs, prices, counts), (), counts, prices, old, planned)


def minutes_wanted(reckonings: Sequence[Reckoning], typed: Mapping[int, int]) -> tuple[str, ...]:
    """What a table of minutes has to say before these rings can be priced, where there is no table yet.

    "minutes for 'Work the pattern, hammered'" for each row; a ring with `typed` minutes wants none.
    """
    return tuple(f"minutes for '{minutes_words(row)}'" for row in _planned(reckonings, {}, typed)[1])


def _planned(
    reckonings: Sequence[Reckoning],
    table: Mapping[str, int],
    typed: Mapping[int, int],
    learned: Mapping[str, MinutesRecord] | None = None,
) -> tuple[tuple[PlannedRing, ...], list[str]]:
    """Each ring's time, and the rows of the table that are empty and would be needed."""
    planned: list[PlannedRing] = []
    empty: dict[str, None] = {}
    for place, found in enumerate(reckonings, 1):
        if place in typed:
            planned.append(PlannedRing(typed[place], (), is_typed=True))
            continue
        try:
            steps = planned_minutes(route(found), found.design, table, learned)
        except MinutesMissing as missing:
            empty.update(dict.fromkeys(missing.rows))
        else:
            planned.append(PlannedRing(sum(step.minutes for step in steps), steps))
    return tuple(planned), list(empty)


def _job(
    found: Reckoning,
    told: Particulars,
    minutes: int,
    *,
    place: int | None,
    rule: HallmarkRule,
    rates: Rates,
) -> Job:
    """A ring to be priced; `place` is None for the only one."""
    name = "The ring" if place is None else f"Ring {place}"
    return Job(
        text=f"{name}, made by hand",
        alloy=found.alloy,
        issue_mg=to_milligrams(found.issue_g),
        minutes=minutes,
        bought=tuple(_bought(found, told, place=place, rule=rule, rates=rates)),
    )


def _bought(
    found: Reckoning, told: Particulars, *, place: int | None, rule: HallmarkRule, rates: Rates
) -> Iterator[Bought]:
    """What is bought in for a ring: hallmark, cutting the letters of its inscription, plating, setting.

    What the studio charges nothing for has no line.
    """
    of = "" if place is None else f" of ring {place}"
    if is_marked(found, rule, told.marks) and rates.assay_minor > 0:
        yield Bought(Extra.ASSAY, f"The hallmark{of}" if of else "Its hallmark", rates.assay_minor)
    words = told.words_to_cut
    letters = 0 if words is None else sum(not sign.isspace() for sign in letters_of(words.text))
    if letters * rates.letter_minor > 0:
        many = f"{letters} letter{'' if letters == 1 else 's'}"
        cost = letters * rates.letter_minor
        yield Bought(
            Extra.OUTSIDE_WORK, f"The inscription{of}, {many}" if of else f"Its inscription, {many}", cost
        )
    if told.is_plated and rates.plating_minor > 0:
        yield Bought(Extra.OUTSIDE_WORK, f"The plating{of}" if of else "Its plating", rates.plating_minor)
    if told.stone_count * rates.setting_minor > 0:
        count = told.stone_count
        many = f"{count} stone{'' if count == 1 else 's'}"
        yield Bought(Extra.OUTSIDE_WORK, f"Setting {many}{of}", count * rates.setting_minor)
