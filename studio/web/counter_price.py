"""The price at the counter: what the customer pays, live, and for whoever may see it what it is made of."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlmodel import Session

from studio.book.quotes import LivePrice, PlannedRing, price_of
from studio.book.rates import minutes_words
from studio.craft.money import minor_digits
from studio.craft.particulars import Particulars
from studio.craft.pricing import PriceBreakdown, RingPrice
from studio.craft.rates import Rates
from studio.craft.reckonings import Reckoning
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.papers.money import money_words
from studio.web.amounts import shown_percent
from studio.web.counter_page import KeyFigure, Step, StepInput, SumRow, Warned
from studio.web.counter_steps import step_of
from studio.web.days import day_words
from studio.web.security import Seat

_LABELS = {1: "Price, with tax", 2: "Both rings, with tax"}


@dataclass(frozen=True, slots=True)
class PriceShown:
    """The price as the page shows it.

    `deposit` is what is asked to begin, '' where nothing is, None while nobody knows. `missing` is what the
    studio has not said yet ('price of gold'), `stale` what it should say again.
    """

    figure: KeyFigure
    deposit: str | None = None
    missing: tuple[str, ...] = ()
    stale: tuple[Warned, ...] = ()


def price_shown(
    book: Session, seat: Seat, reckonings: Sequence[Reckoning], particulars: Sequence[Particulars]
) -> PriceShown:
    """The price of an order's rings by today's rates and prices, or what it waits for."""
    live = price_of(book, reckonings, day=seat.today, particulars=particulars)
    price, label = live.breakdown, price_label(len(reckonings))
    stale = tuple(
        Warned(f"The price of {old.metal} is of {day_words(old.on, today=seat.today)}.", is_open=False)
        for old in live.stale
    )
    if price is None or live.rates is None:
        return PriceShown(KeyFigure("price", label, waits=awaited(live.missing)), None, live.missing, stale)
    deposit = short_money(price.deposit_minor, price.currency) if price.deposit_minor else ""
    may_see = seat.may(Right.SEE_COST)
    figure = KeyFigure(
        "price",
        label,
        short_money(price.total_minor, price.currency),
        line=f"deposit {deposit}" if deposit else "no deposit asked",
        rows=breakdown_rows(price, live.rates) if may_see else (),
        steps=price_steps(live, price) if may_see else (),
    )
    return PriceShown(figure, deposit, (), stale)


def price_label(count: int) -> str:
    """What the figure is called for an order of `count` rings."""
    return _LABELS.get(count, "All rings, with tax")


def awaited(missing: Sequence[str]) -> str:
    """What a price waits for: 'for the rates', 'for a price of gold', 'for the planned minutes'."""
    first = missing[0] if missing else "rates"
    if first.startswith("price of "):
        return f"for a {first}"
    return "for the planned minutes" if first.startswith("minutes") else f"for the {first}"


def short_money(minor: int, currency: str) -> str:
    """An amount as the large figures show it, pence only where there are some: '£1,680', '£1,680.50'."""
    words = money_words(minor, currency)
    digits = minor_digits(currency)
    return words[: -digits - 1] if digits and minor % 10**digits == 0 else words


def breakdown_rows(price: PriceBreakdown, rates: Rates | None = None) -> tuple[SumRow, ...]:
    """What a price is made of, for the studio's eyes: own cost, margin, what is bought in, the sums.

    `rates` say the percentages beside their amounts, where they are known.
    """
    money = price.currency
    rows = [row for ring in price.rings for row in _ring_rows(ring, money, rates, len(price.rings))]
    if price.rounding_minor:
        rows.append(SumRow("Rounding up", money_words(price.rounding_minor, money)))
    tax = "" if rates is None else f"{shown_percent(rates.tax_percent)} %"
    return (
        *rows,
        SumRow("Net", money_words(price.net_minor, money), is_total=True),
        SumRow("Tax", money_words(price.tax_minor, money), tax),
        SumRow("Total, with tax", money_words(price.total_minor, money), is_total=True),
        SumRow("What it costs us", money_words(price.cost_minor, money), is_total=True),
        SumRow("What we earn", money_words(price.margin_minor, money), _share(price)),
    )


def price_steps(live: LivePrice, price: PriceBreakdown) -> tuple[Step, ...]:
    """How each part of the price came about, ring by ring, with the minutes planned for it."""
    steps: list[Step] = []
    for place, (ring, plan) in enumerate(zip(price.rings, live.planned, strict=True), 1):
        which = f", ring {place}" if len(price.rings) > 1 else ""
        steps.append(_minutes_step(plan, which))
        steps += [step_of(worked, which) for worked in ring.working]
    return tuple(steps)


def _ring_rows(ring: RingPrice, money: str, rates: Rates | None, count: int) -> list[SumRow]:
    def row(words: str, minor: int, note: str = "", *, is_total: bool = False) -> SumRow:
        return SumRow(words, money_words(minor, money), note, is_total)

    overhead = "" if rates is None else f"{shown_percent(rates.overhead_percent)} % of labour"
    margin = "" if rates is None else f"{shown_percent(rates.margin_percent)} %"
    name = ring.job.text.partition(",")[0]
    return [
        row(
            "Metal" if count == 1 else f"{name}: metal", ring.metal_minor, f"{ring.job.issue_mg / 1000:.2f} g"
        ),
        row("Labour", ring.labour_minor, f"{ring.job.minutes} min"),
        row("Overhead", ring.overhead_minor, overhead),
        row("Consumables", ring.consumables_minor),
        row("Own cost", ring.own_minor, is_total=True),
        row("Margin", ring.margin_minor, margin),
        *(
            row(bought.text, minor, f"costs {money_words(bought.cost_minor, money)}")
            for bought, minor in ring.extras
        ),
    ]


def _share(price: PriceBreakdown) -> str:
    """What part of the net sum is earned."""
    if not price.net_minor:
        return ""
    return f"{figure_words(100 * price.margin_minor / price.net_minor, 1)} % of net"


def _minutes_step(plan: PlannedRing, which: str) -> Step:
    inputs = tuple(
        StepInput(minutes_words(step.row), f"{step.minutes} min{_record_words(step.rings)}")
        for step in plan.steps
    )
    return Step(
        name=f"Minutes planned{which}",
        value=f"{plan.minutes} min",
        formula="the number typed for this quote" if plan.is_typed else "the sum over the steps of its route",
        inputs=inputs,
        source=minutes_source(plan),
    )


def minutes_source(plan: PlannedRing) -> str:
    """Where the minutes of a ring come from: the studio's table, the record of its rings, or both."""
    if plan.is_typed:
        return "the studio's own minutes"
    rings = [step.rings for step in plan.steps if step.rings]
    if not rings:
        return "the studio's own minutes, from its table"
    low, high = min(rings), max(rings)
    of = f"{low} rings" if low == high else f"{low} to {high} rings"
    if len(rings) == len(plan.steps):
        return f"the record of {of} the studio made"
    return f"the record of {of} the studio made, in {len(rings)} of {len(plan.steps)} steps; else its table"


def _record_words(rings: int) -> str:
    return f", the record of {rings} rings" if rings else ""
