"""Outside work, ready to show: the slips that are out, those that came back, and the form of a new one."""

import secrets
from dataclasses import dataclass

from sqlmodel import Session

from studio.book.outwork_reads import Slip, outworkers, slips_back, slips_out
from studio.book.studio import currency_of
from studio.book.whereabouts import MADE_OR_MAKING, things_of_order
from studio.craft.directions import apart
from studio.craft.goods import weight_words
from studio.craft.outwork import weight_lost_mg
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.days import day_words
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.whereabouts import place_choices
from studio.web.whereabouts_page import ThingEntry, order_entry
from studio.web.wording import counted, days_words, opened, since_words

HREF = "/outwork"
NEW = "new"
NOTHING = Said()
WORDS = {
    "order": "Order",
    "things": "Things",
    "worker": "To whom",
    "what": "What is to be done",
    "value": "Value",
    "due_on": "Due back",
    "weight_g": "Weight out",
    "expected": "Cost expected",
    "held_by": "Who takes it along",
}
BACK_WORDS = {"weight_g": "Weight in", "cost": "Cost", "condition": "Condition", "place": "Put down in"}


@dataclass(frozen=True, slots=True)
class SlipEntry(OneOfMany):
    """One slip: what it says, and the form by which its things come back. `over` is '' while not overdue."""

    number: str
    order_number: str
    order_href: str
    customer: str
    worker: str
    things: tuple[str, ...]
    what: str
    due: str
    over: str
    facts: str
    back: str
    paper_href: str
    action: str
    texts: dict[str, str]
    said: Said

    @property
    def is_open(self) -> bool:
        """Whether the form stands open, since something of it is to be put right."""
        return bool(self.said.heading)


@dataclass(frozen=True, slots=True)
class SendForm(OneOfMany):
    """The form of a new slip for one order; without things there is nothing to send."""

    number: str
    order_number: str
    order_words: str
    things: tuple[ThingEntry, ...]
    chosen: tuple[str, ...]
    workers: tuple[Choice, ...]
    texts: dict[str, str]
    said: Said


@dataclass(frozen=True, slots=True)
class OutworkPage:
    """The page."""

    heading_note: str
    out: tuple[SlipEntry, ...]
    back: tuple[SlipEntry, ...]
    send: SendForm | None
    order: str
    unknown: str
    places: tuple[Choice, ...]
    no_place: Choice
    no_worker: Choice
    sees_cost: bool
    currency: str
    said: Said
    error_lines: tuple[ErrorLine, ...]
    words: dict[str, str]
    back_words: dict[str, str]
    form_key: str
    title: str = "Outside work"
    href: str = HREF
    whereabouts_href: str = "/whereabouts"
    lists_href: str = "/whereabouts/lists"


def read_outwork_page(
    book: Session,
    seat: Seat,
    order: str,
    *,
    said: Said = NOTHING,
    key: str = "",
    chosen: tuple[str, ...] = (),
) -> OutworkPage:
    """The page as it stands in the book, with the form of a new slip for `order`.

    `said` is of the form `key`: NEW, or the number of the slip that comes back; `chosen` are ticked.
    """
    number = order.strip()[:40]
    found = things_of_order(book, number, now=seat.now) if number else None
    out, currency = slips_out(book), currency_of(book)
    send = None
    if found is not None:
        entry = order_entry(found, seat)
        can_go = [
            thing
            for thing, shown in zip(found.things, entry.things, strict=True)
            if not shown.is_out and (thing.ring is None or found.order.state in MADE_OR_MAKING)
        ]
        keys = {thing.key for thing in can_go}
        send = SendForm(
            number=NEW,
            order_number=entry.number,
            order_words=f"{entry.number}, {entry.customer}",
            things=tuple(thing for thing in entry.things if thing.key in keys),
            chosen=chosen or tuple(keys if len(keys) == 1 else ()),
            workers=tuple(Choice(str(one.id), f"{one.name}, {one.trade}") for one in outworkers(book)),
            texts=said.typed if key == NEW else {},
            said=said if key == NEW else NOTHING,
        )
    over = sum(1 for one in out if one.days_over(seat.today))
    note = f"{opened(counted(len(out), 'slip', 'slips'))} out of the house"
    note += f", {counted(over, 'overdue', 'overdue')}" if over else ""
    return OutworkPage(
        heading_note=note if out else "Nothing is out of the house",
        out=tuple(_entry(one, seat, said if key == one.number else NOTHING) for one in out),
        back=tuple(_entry(one, seat) for one in slips_back(book)),
        send=send,
        order=number,
        unknown=f"There is no order {number}." if number and found is None else "",
        places=place_choices(book),
        no_place=Choice("", "Not said"),
        no_worker=Choice("", "Choose to whom"),
        sees_cost=seat.may(Right.SEE_COST),
        currency=currency_sign(currency),
        said=said,
        error_lines=lines_of(said, WORDS if key == NEW else BACK_WORDS, key),
        words=WORDS,
        back_words=BACK_WORDS,
        form_key=secrets.token_urlsafe(18),
    )


def _entry(one: Slip, seat: Seat, said: Said = NOTHING) -> SlipEntry:
    over = one.days_over(seat.today)
    due = f"due {day_words(one.due_on, today=seat.today)}"
    return SlipEntry(
        number=one.number,
        order_number=one.order_number,
        order_href=f"/orders/{one.order_number}",
        customer=apart(one.customer_name),
        worker=apart(one.worker),
        things=tuple(apart(thing.words) for thing in one.things),
        what=apart(one.what),
        due=opened(due),
        over=f"{days_words(over)}, {due}" if over else "",
        facts=", ".join(_facts_words(one, seat)),
        back=_back_words(one, seat),
        paper_href=f"{HREF}/{one.number}.pdf",
        action=f"{HREF}/{one.number}/back",
        texts=said.typed,
        said=said,
    )


def _facts_words(one: Slip, seat: Seat) -> list[str]:
    told = [f"out since {since_words(one.out_at, seat.zone, seat.today)}, given by {apart(one.out_by)}"]
    if one.held_by:
        told.append(f"taken along by {apart(one.held_by)}")
    told.append(f"value {money_words(one.value_minor, one.currency)}")
    if one.weight_out_mg is not None:
        told.append(f"weight out {weight_words(one.weight_out_mg)}")
    if one.expected_minor is not None and seat.may(Right.SEE_COST):
        told.append(f"cost expected {money_words(one.expected_minor, one.currency)}")
    return told


def _back_words(one: Slip, seat: Seat) -> str:
    """When it came back, and what was noted then; '' while it is out."""
    if one.back_at is None:
        return ""
    told = [f"Back since {since_words(one.back_at, seat.zone, seat.today)}, {apart(one.back_by)}"]
    if one.weight_in_mg is not None:
        told.append(f"weight in {weight_words(one.weight_in_mg)}")
    lost = weight_lost_mg(one.weight_out_mg, one.weight_in_mg)
    if lost:
        told.append(f"{weight_words(abs(lost))} {'lighter' if lost > 0 else 'heavier'}")
    if one.cost_minor is not None and seat.may(Right.SEE_COST):
        told.append(f"cost {money_words(one.cost_minor, one.currency)}")
    return ", ".join([*told, apart(one.condition)] if one.condition else told)
