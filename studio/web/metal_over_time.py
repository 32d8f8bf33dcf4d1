"""Metal over time: what the drawer held week by week, and what all that is held is worth."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio import clock
from studio.book.engine import session
from studio.book.metal_over_time import HeldDay, held_on_days
from studio.book.metal_prices import metal_prices
from studio.book.practices import practice_on
from studio.book.studio import currency_of
from studio.craft.drawing import Columns, Compared, Svg, columns_over_time
from studio.craft.ledger import Account
from studio.craft.metal_over_time import (
    OTHERS,
    GoodsValue,
    Valued,
    goods_value,
    own_by_alloy,
    told_apart,
    value_of,
)
from studio.craft.metals import Alloy
from studio.craft.money import from_minor
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign
from studio.web.ledger_words import alloy_name, grams
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import counted, joined, opened, sentence_day_words

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
HREF = "/metal/over-time"
WEEKS = 12
_WIDE, _NARROW = 620.0, 288.0
_LOW, _HIGH = 90.0, 180.0
_TODAY = "today"


@dataclass(frozen=True, slots=True)
class AlloyDrawn:
    """One alloy over the weeks, on a scale of its own."""

    name: str
    drawn: Svg


@dataclass(frozen=True, slots=True)
class HeldWeek:
    """The end of one week: g by alloy in the order of the pictures, and together; '' before the ledger."""

    words: str
    cells: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ValueWeek:
    """What was held at the end of a week, in money; `note` says what has no value in it."""

    words: str
    own: str
    goods: str
    note: str


@dataclass(frozen=True, slots=True)
class OverTimePage:
    """The page; values only for who sees a cost."""

    alloys: tuple[AlloyDrawn, ...]
    heads: tuple[str, ...]
    weeks: tuple[HeldWeek, ...]
    since: str
    sees_cost: bool
    values: tuple[ValueWeek, ...]
    value_wide: Svg | None
    value_narrow: Svg | None
    links: tuple[tuple[str, str], ...] = (
        ("/metal", "The drawer"),
        ("/metal/ledger", "Where every gram went"),
    )
    title: str = "Metal over time"


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The ends of the last weeks, the one that runs as it is today."""
    monday = clock.monday_of(seat.today)
    days = [monday - timedelta(days=7 * back + 1) for back in range(WEEKS - 2, -1, -1)] + [seat.today]
    sees_cost = seat.may(Right.SEE_COST)
    with session(seat.engine) as book:
        held = held_on_days(book, days)
        alloys, currency = practice_on(book, seat.today).alloys, currency_of(book)
        prices = [metal_prices(book, day) for day in days] if sees_cost else []
    known = [one for one in held if one.metal is not None]
    drawer = [{} if one.metal is None else own_by_alloy(one.metal, [Account.DRAWER]) for one in held]
    series = told_apart(drawer) if known else {}
    names = {key: _name(alloys, key) for key in series}
    values = [
        (one, value_of(own_by_alloy(one.metal or {}), alloys, at, currency))
        for one, at in zip(held, prices, strict=True)
    ] if sees_cost else []  # fmt: skip
    goods = [goods_value(one.goods, currency, currency_sign(currency)) for one, _ in values]
    context = OverTimePage(
        alloys=tuple(
            AlloyDrawn(names[key], _alloy(names[key], masses, held)) for key, masses in series.items()
        ),
        heads=(*names.values(), "Together"),
        weeks=tuple(_week(place, held, series, names) for place in reversed(range(len(held)))),
        since="" if len(known) == len(held) or not known else _since(held),
        sees_cost=sees_cost,
        values=tuple(
            _value(one, _end_words(one, held), (value, stated), alloys, currency)
            for (one, value), stated in reversed(list(zip(values, goods, strict=True)))
        ),
        value_wide=_worth(values, goods, currency, _WIDE),
        value_narrow=_worth(values, goods, currency, _NARROW),
    )
    return page(request, "metal_over_time/page.html", context, place=Place.METAL)


def _name(alloys: Mapping[str, Alloy], key: str) -> str:
    return "Others" if key == OTHERS else opened(alloy_name(alloys, key))


def _since(held: Sequence[HeldDay]) -> str:
    first = next(one.day for one in held if one.metal is not None)
    return f"The ledger began in the week that ended on {sentence_day_words(first)}; nothing is told before."


def _number(day: date) -> str:
    return str(day.isocalendar().week)


def _end_words(one: HeldDay, held: Sequence[HeldDay]) -> str:
    end = f"{one.day.day} {one.day:%b}"
    return f"Today, {end}" if one is held[-1] else f"Week {_number(one.day)}, {end}"


def _alloy(name: str, masses: Sequence[int], held: Sequence[HeldDay]) -> Svg:
    rows = [
        Compared(_number(one.day), None, None if one.metal is None else max(0.0, mass / 1000))
        for one, mass in zip(held, masses, strict=True)
    ]
    told = Columns(rows, "g", now=len(rows) - 1, now_words=_TODAY)
    label = f"{name} in the drawer at the end of each week, {grams(masses[-1])} g today"
    return columns_over_time(told, width=_NARROW, height=_LOW, label=label)


def _week(
    place: int, held: Sequence[HeldDay], series: Mapping[str, Sequence[int]], names: Mapping[str, str]
) -> HeldWeek:
    one = held[place]
    masses = {key: found[place] for key, found in series.items()}
    cells = [(names[key], grams(mass)) for key, mass in masses.items()]
    cells.append(("Together", grams(sum(masses.values()))))
    if one.metal is None:
        cells = [(name, "") for name, _ in cells]
    return HeldWeek(_end_words(one, held), tuple(cells))


def _value(
    one: HeldDay, words: str, worth: tuple[Valued, GoodsValue], alloys: Mapping[str, Alloy], currency: str
) -> ValueWeek:
    value, stated = worth
    notes = []
    if value.unpriced and one.metal is not None:
        names = joined([alloy_name(alloys, key) for key in value.unpriced])
        notes.append(f"without {names}, of no known price that day")
    if stated.unstated:
        notes.append(f"without {counted(stated.unstated, 'line', 'lines')} of goods that state no amount")
    return ValueWeek(
        words=words,
        own="" if one.metal is None else money_words(value.minor, currency),
        goods=money_words(stated.minor, currency),
        note=opened("; ".join(notes)),
    )


def _worth(
    values: Sequence[tuple[HeldDay, Valued]], goods: Sequence[GoodsValue], currency: str, width: float
) -> Svg | None:
    if not any(value.minor for _, value in values) and not any(one.minor for one in goods):
        return None
    rows = [
        Compared(
            _number(one.day),
            float(from_minor(stated.minor, currency)),
            None if one.metal is None else max(0.0, float(from_minor(value.minor, currency))),
        )
        for (one, value), stated in zip(values, goods, strict=True)
    ]
    told = Columns(rows, currency, is_paired=True, now=len(rows) - 1, now_words=_TODAY)
    label = "Value of customers' goods and of our own metal by week; each figure stands in the table below"
    return columns_over_time(told, width=width, height=_HIGH, label=label)
