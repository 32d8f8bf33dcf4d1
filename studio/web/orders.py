"""The list of orders: found by name, number or telephone, by state, with what comes next."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.finding import MOST_FOUND
from studio.book.order_list_values import Hand, HandWhy, OrderLine, RingLine
from studio.book.order_numbers import read_number
from studio.book.order_reads import orders_page_and_counts
from studio.book.whereabouts import things_of_people
from studio.craft.drawing import Svg, section_small, state_mark
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.counter_drafts import UnfinishedForm, unfinished
from studio.web.days import day_words
from studio.web.order import router as order_router
from studio.web.order_days import next_day_words
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.whereabouts_page import PersonEntry, person_entries
from studio.web.wording import (
    counted,
    days_words,
    opened,
    order_short,
    rings_words,
    since_words,
)

router = APIRouter()
router.routes.extend(order_router.routes)

PAGE_LENGTH = 40
"""Lines of a page: with their drawings they stay below a hundred kilobytes."""
LARGEST_SECTION_PX = (72, 25)
SECTION_PX_PER_MM = 6.0
LONGEST_QUERY = 200


@dataclass(frozen=True, slots=True)
class SectionMark:
    """A ring of the list by its section, drawn to the list's scale, and in words."""

    drawing: Svg
    words: str


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """One line of the list."""

    number: str
    short: str
    href: str
    customer: str
    rings: tuple[SectionMark, ...]
    mark: Svg
    state: str
    since: str
    next_day: str
    hand_word: str
    hand_reason: str
    is_called_off: bool


@dataclass(frozen=True, slots=True)
class YearGroup:
    """The lines of one year; the year stands once, above them."""

    year: str
    entries: tuple[OrderEntry, ...]


@dataclass(frozen=True, slots=True)
class StateTab:
    """One way to look at the list: all orders, or those in one state."""

    href: str
    name: str
    count: str
    is_current: bool
    mark: Svg | None


@dataclass(frozen=True, slots=True)
class OrdersPage:
    """The list as shown."""

    title: str
    query: str
    chosen_state: str
    tabs: tuple[StateTab, ...]
    years: tuple[YearGroup, ...]
    older_href: str
    newest_href: str
    found: str
    empty: str
    is_search: bool
    may_take: bool
    finds_by_phone: bool
    unfinished: tuple[UnfinishedForm, ...] = ()
    people: tuple[PersonEntry, ...] = ()
    whereabouts_href: str = "/whereabouts"
    told: str = ""
    reminders_href: str = ""
    list_href: str = "/orders"
    new_href: str = "/orders/new"


@router.get("/orders", response_class=HTMLResponse)
def orders(request: Request, seat: Annotated[Seat, requires(Right.SEE_ORDERS)]) -> HTMLResponse:
    """The list. `?q=` finds by name, number or telephone, `?state=` keeps one state, `?after=` goes on.

    A state there is none of shows all of them, says so, and is 404; with an `after` that is no number the
    list begins anew in the same way.
    """
    asked = request.query_params
    query = asked.get("q", "").strip()[:LONGEST_QUERY]
    word = asked.get("state", "")
    state = State(word) if word in set(State) else None
    told = "There is no such state, so all of them are shown." if word and state is None else ""
    by_phone = seat.may(Right.SEE_CONTACT)
    after = asked.get("after") or None
    if after is not None and read_number(after) is None:
        told, after = "The list does not go on from there. This is its beginning.", None
    with session(seat.engine) as book:
        lines, counts = orders_page_and_counts(
            book,
            state=state,
            query=query or None,
            by_phone=by_phone,
            after=after,
            limit=PAGE_LENGTH,
            now=seat.now,
        )
        forms = () if query or after else unfinished(book, seat)
        people = things_of_people(book, query, now=seat.now) if by_phone and not after else ()
    context = orders_context(
        seat, lines.items, counts, query=query, state=state, after=after, older_after=lines.next
    )
    shown = replace(context, unfinished=forms, people=person_entries(people, seat), told=told)
    return page(request, "orders/page.html", shown, place=Place.ORDERS, status=404 if told else 200)


def orders_context(
    seat: Seat,
    lines: Sequence[OrderLine],
    counts: dict[State, int],
    *,
    query: str = "",
    state: State | None = None,
    after: str | None = None,
    older_after: str | None = None,
) -> OrdersPage:
    """What the list shows of `lines`: of those that `query` finds, the ones in `state`."""
    return OrdersPage(
        title="Orders" if not query else f"Orders, {query}",
        query=query,
        chosen_state=state or "",
        tabs=_tabs(counts, query, state),
        years=years_of(lines, seat),
        older_href=_address(query, state, older_after) if older_after else "",
        newest_href=_address(query, state) if after else "",
        found=_found_words(_total(counts) if state is None else counts.get(state)) if query else "",
        empty="There are no older orders."
        if after
        else _empty_words(query, state, by_phone=seat.may(Right.SEE_CONTACT)),
        is_search=bool(query),
        may_take=seat.may(Right.TAKE_ORDERS),
        finds_by_phone=seat.may(Right.SEE_CONTACT),
        reminders_href="/reminders" if seat.may(Right.QUOTE) else "",
    )


def years_of(lines: Sequence[OrderLine], seat: Seat) -> tuple[YearGroup, ...]:
    """The lines ready to show, their sections to one scale: the largest at which all of them have room."""
    rings = [ring for line in lines for ring in line.rings]
    wide, thick = LARGEST_SECTION_PX
    room = [min(wide / ring.width_mm, thick / ring.thickness_mm) for ring in rings]
    scale = min([SECTION_PX_PER_MM, *room])
    entries = [_entry(line, seat, scale) for line in lines]
    by_year = groupby(entries, key=lambda entry: entry.number.partition("-")[0])
    return tuple(YearGroup(f"{year}-", tuple(group)) for year, group in by_year)


def hand_reason(hand: Hand, seat: Seat) -> str:
    """Why an order needs a hand, as short as the list has it: 'bench Mon 23 Nov', 'bench date'."""
    day = "" if hand.on is None else day_words(hand.on, today=seat.today)
    waited = days_words((seat.now - hand.since).days)
    return {
        HandWhy.PROMISE_PASSED: f"promised {day}",
        HandWhy.BENCH_DATE_PASSED: f"bench {day}",
        HandWhy.PROMISED_SOON: f"promised {day}",
        HandWhy.OUTWORK_OVERDUE: f"outside, due {day}",
        HandWhy.SAID_NO: "said no",
        HandWhy.QUOTE_ENDS: f"quote {day}",
        HandWhy.QUOTE_ENDED: f"quote ended {day}",
        HandWhy.DEPOSIT_OPEN: "deposit",
        HandWhy.NO_BENCH_DATE: "bench date",
        HandWhy.DRAFT_UNTOUCHED: f"untouched {waited}",
        HandWhy.NOT_COLLECTED: f"ready since {since_words(hand.since, seat.zone, seat.today)}",
    }[hand.why]


def _entry(line: OrderLine, seat: Seat, scale: float) -> OrderEntry:
    return OrderEntry(
        number=line.number,
        short=order_short(line.number),
        href=f"/orders/{line.number}",
        customer=line.customer_name,
        rings=_marks(line.rings, scale),
        mark=state_mark(line.state),
        state=str(line.state).capitalize(),
        since=f"since {since_words(line.state_since, seat.zone, seat.today)}",
        next_day=next_day_words(line.next_day, seat),
        hand_word="" if line.hand is None else str(line.hand.word).capitalize(),
        hand_reason="" if line.hand is None else hand_reason(line.hand, seat),
        is_called_off=line.state is State.CALLED_OFF,
    )


def _marks(rings: Sequence[RingLine], scale: float) -> tuple[SectionMark, ...]:
    """One section for each design of the order: a pair alike but for the size is drawn once."""
    designs: dict[tuple[object, ...], list[RingLine]] = {}
    for ring in rings:
        alike = (ring.profile, ring.width_mm, ring.thickness_mm, ring.pattern, ring.alloy)
        designs.setdefault(alike, []).append(ring)
    return tuple(
        SectionMark(
            section_small(group[0].profile, group[0].width_mm, group[0].thickness_mm, scale),
            rings_words(group)[0],
        )
        for group in designs.values()
    )


def _address(query: str = "", state: State | None = None, after: str | None = None) -> str:
    asked = {"q": query, "state": state or "", "after": after or ""}
    kept = {name: value for name, value in asked.items() if value}
    return f"/orders?{urlencode(kept)}" if kept else "/orders"


def _tabs(counts: dict[State, int], query: str, chosen: State | None) -> tuple[StateTab, ...]:
    everything = StateTab(
        _address(query), "All", _count_words(_total(counts)), is_current=chosen is None, mark=None
    )
    return (
        everything,
        *(
            StateTab(
                href=_address(query, state),
                name=str(state).capitalize(),
                count=_count_words(counts.get(state)),
                is_current=state is chosen,
                mark=state_mark(state),
            )
            for state in State
        ),
    )


def _total(counts: dict[State, int]) -> int | None:
    """All that is counted; None where a search finds too much to be counted."""
    return sum(counts.values()) if counts else None


def _count_words(count: int | None) -> str:
    """A tab's count, '1000+' where nobody counts further; nothing where nothing was counted."""
    if count is None:
        return ""
    return str(count) if count <= MOST_FOUND else f"{MOST_FOUND}+"


def _found_words(count: int | None) -> str:
    if count is None:
        return "Very many orders found. A first name beside the family name makes them fewer."
    if count > MOST_FOUND:
        return f"More than {MOST_FOUND} orders found"
    return f"{opened(counted(count, 'order', 'orders'))} found"


def _empty_words(query: str, state: State | None, *, by_phone: bool) -> str:
    which = "order" if state is None else f"order that is {state}"
    if query and by_phone:
        return f"No {which} is found by this name, number or telephone. Four last digits are enough."
    if query:
        return f"No {which} is found by this name or number."
    return "There is no order yet." if state is None else f"There is no {which}."
