"""In hand: what needs a hand today as sentences with one act each, the bench, who said yes, the next days."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.bench_days import BenchDay, SaidYes, at_the_bench, bench_days, said_yes
from studio.book.engine import session
from studio.book.in_hand import HandLine, in_hand
from studio.book.order_reads import state_counts
from studio.book.order_values import Order, OrderRing
from studio.craft.directions import apart
from studio.craft.drawing import Svg, first_day_ring, ring_thumb
from studio.craft.roles import Right
from studio.web.counter_drafts import UnfinishedForm, unfinished
from studio.web.days import day_words
from studio.web.hand_words import act_of, sentence_of, when_of
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import (
    bench_day_words,
    count_words,
    counted,
    design_words,
    family_name,
    hour_words,
    opened,
    ordinal,
    rings_words,
    since_words,
    size_words,
    title_day_words,
)

router = APIRouter()

MOST_YESES = 6


@dataclass(frozen=True, slots=True)
class HandEntry:
    """One thing that needs a hand: the word, the sentence, whose it is, since when, and one act."""

    word: str
    sentence: str
    whose: str
    when: str
    act: str
    act_href: str


@dataclass(frozen=True, slots=True)
class BenchEntry:
    """One ring on the bench."""

    thumb: Svg
    href: str
    customer: str
    number: str
    words: str
    promised: str
    bench: str


@dataclass(frozen=True, slots=True)
class YesEntry:
    """One order that was agreed since yesterday."""

    href: str
    customer: str
    words: str
    when: str


@dataclass(frozen=True, slots=True)
class DayOrder:
    """An order on one day of the bench: 'Rook × 2'."""

    href: str
    words: str


@dataclass(frozen=True, slots=True)
class DayEntry:
    """One of the next days at the bench."""

    day: str
    is_today: bool
    orders: tuple[DayOrder, ...]


@dataclass(frozen=True, slots=True)
class InHandPage:
    """What needs a hand, and how the studio stands around it."""

    title: str
    heading: str
    summary: str
    hands: tuple[HandEntry, ...]
    bench: tuple[BenchEntry, ...]
    yeses: tuple[YesEntry, ...]
    more_yeses: str
    days: tuple[DayEntry, ...]
    unfinished: tuple[UnfinishedForm, ...]
    may_take: bool
    finds_by_phone: bool = False
    reminders_href: str = ""
    whereabouts_href: str = "/whereabouts"
    outwork_href: str = "/outwork"
    new_href: str = "/orders/new"
    agreed_href: str = "/orders?state=agreed"


@dataclass(frozen=True, slots=True)
class FirstDayPage:
    """The first day: an empty book, the steps that open it, and the ring not made yet."""

    title: str
    heading: str
    summary: str
    ring: Svg
    may_keep_rates: bool
    may_take: bool
    may_let_in: bool
    rates_href: str = "/studio#rates"
    new_href: str = "/orders/new"


@router.get("/", response_class=HTMLResponse)
def in_hand_today(request: Request, seat: Annotated[Seat, requires(Right.SEE_ORDERS)]) -> HTMLResponse:
    """The page of the day; an empty book gets its first day."""
    with session(seat.engine) as book:
        forms = unfinished(book, seat)
        is_new = not any(state_counts(book).values()) and not forms
        context = in_hand_context(
            seat,
            in_hand(book, today=seat.today, now=seat.now),
            at_the_bench(book),
            said_yes(book, since=_yesterday(seat)),
            bench_days(book, today=seat.today),
            forms=forms,
        )
    if is_new:
        return page(request, "in_hand/first_day.html", first_day(seat), place=Place.IN_HAND)
    return page(request, "in_hand/page.html", context, place=Place.IN_HAND)


def first_day(seat: Seat) -> FirstDayPage:
    """What the page of an empty book shows."""
    return FirstDayPage(
        title="In hand",
        heading=title_day_words(seat.today),
        summary="Nothing needs a hand. The book is new.",
        ring=first_day_ring(),
        may_keep_rates=seat.may(Right.KEEP_RATES),
        may_take=seat.may(Right.TAKE_ORDERS),
        may_let_in=seat.may(Right.KEEP_PEOPLE),
    )


def in_hand_context(
    seat: Seat,
    hands: Sequence[HandLine],
    bench: Sequence[Order],
    yeses: Sequence[SaidYes],
    days: Sequence[BenchDay],
    *,
    forms: tuple[UnfinishedForm, ...] = (),
) -> InHandPage:
    """What the page shows of the day."""
    more = len(yeses) - MOST_YESES
    return InHandPage(
        title="In hand",
        heading=title_day_words(seat.today),
        summary=_summary(len(hands)),
        hands=tuple(_hand_entry(line, seat) for line in hands),
        bench=tuple(_bench_entry(order, ring, seat) for order in bench for ring in order.rings),
        yeses=tuple(_yes_entry(yes, seat) for yes in yeses[:MOST_YESES]),
        more_yeses=f"and {count_words(more)} more" if more > 0 else "",
        days=tuple(_day_entry(day, seat) for day in days),
        unfinished=forms,
        may_take=seat.may(Right.TAKE_ORDERS),
        finds_by_phone=seat.may(Right.SEE_CONTACT),
        reminders_href="/reminders" if seat.may(Right.QUOTE) else "",
    )


def _yesterday(seat: Seat) -> datetime:
    """The start of yesterday in the studio's time."""
    return datetime.combine(seat.today - timedelta(days=1), time(), ZoneInfo(seat.zone))


def _summary(count: int) -> str:
    if count == 0:
        return "Nothing needs a hand"
    return opened(counted(count, "thing needs a hand", "things need a hand"))


def _hand_entry(line: HandLine, seat: Seat) -> HandEntry:
    act = act_of(line, seat)
    return HandEntry(
        word=str(line.hand.word).capitalize(),
        sentence=sentence_of(line, seat),
        whose=f"{apart(line.customer_name)}, {line.number}",
        when=when_of(line, seat),
        act=act.words,
        act_href=act.href,
    )


def _bench_entry(order: Order, ring: OrderRing, seat: Seat) -> BenchEntry:
    design = ring.design
    size = size_words(ring.finger.system, ring.finger.to_label or ring.finger.label)
    made = design_words(design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy)
    which = f", {ordinal(ring.position)}" if ring.position > 1 else ""
    terms = order.terms
    promised = "" if terms.promised_at is None else hour_words(terms.promised_at, seat.zone, seat.today)
    return BenchEntry(
        thumb=ring_thumb(ring.reckoning),
        href=f"/orders/{order.number}#ring-{ring.position}",
        customer=order.customer.name,
        number=f"{order.number}{which}",
        words=f"{size}, {made}",
        promised=f"Promised {promised}" if promised else "No day promised",
        bench="" if terms.bench_on is None else f"bench date {day_words(terms.bench_on, today=seat.today)}",
    )


def _yes_entry(yes: SaidYes, seat: Seat) -> YesEntry:
    pair = {1: "", 2: "a pair, "}.get(len(yes.rings), f"{counted(len(yes.rings), 'ring', 'rings')}, ")
    return YesEntry(
        href=f"/orders/{yes.number}",
        customer=yes.customer_name,
        words=f"{yes.number}, {pair}{'; '.join(rings_words(yes.rings))}",
        when=since_words(yes.agreed_at, seat.zone, seat.today),
    )


def _day_entry(day: BenchDay, seat: Seat) -> DayEntry:
    return DayEntry(
        day=bench_day_words(day.on),
        is_today=day.on == seat.today,
        orders=tuple(
            DayOrder(
                f"/orders/{order.number}",
                family_name(order.customer_name) + (f" × {order.rings}" if order.rings > 1 else ""),
            )
            for order in day.orders
        ),
    )
