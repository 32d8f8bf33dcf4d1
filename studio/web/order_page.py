"""What an order's page shows: the order read back whole, what comes next, and what was done to it."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, replace

from studio.book.mending_values import OwnCost
from studio.book.order_values import Order
from studio.craft.directions import apart
from studio.craft.drawing import Svg, state_mark
from studio.craft.missing import DEPOSIT, Missing
from studio.craft.orders import BEFORE_AGREEMENT, Move, State, moves_from
from studio.craft.roles import Right
from studio.web.days import full_day_words
from studio.web.moves import right_for
from studio.web.order_documents import PapersPart, papers_part
from studio.web.order_history import HistoryEntry, history_of
from studio.web.order_mends import MendsPart, mended_facts, mends_part
from studio.web.order_pictures import PicturesPart, pictures_part
from studio.web.order_quotes import QuoteAct, QuotesPart, quote_acts, quotes_part
from studio.web.order_ring import RingPart, ring_part
from studio.web.order_variants import VariantsPart, variants_part
from studio.web.order_words import Fact, days_of, paper_words
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, joined, opened, since_words

_BY_OTHER_WAYS = frozenset({State.CALLED_OFF, State.AGREED, State.QUOTED})
"""Ends of a move that no button on the way on leads to: calling off, the yes to a quote, making one."""
OPEN_STATES = frozenset({State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH})


@dataclass(frozen=True, slots=True)
class MoveEntry:
    """One move this person may make: the button's words, and whether it asks for a reason."""

    to: str
    verb: str
    needs_reason: bool
    reason_name: str
    reason: str
    error: str

    @property
    def is_open(self) -> bool:
        """Whether its reason is being asked for, so that the field stands open."""
        return bool(self.reason or self.error)


@dataclass(frozen=True, slots=True)
class NextPart:
    """What comes next for the order.

    `quote_acts` lead to the quote and the yes; after it `forward` is the way on, None where it is not open to
    this person or waits for something (`waits`). `undo` takes an everyday move back at once; `others` ask for
    a reason. `paper_href` is the bench sheet, '' while `paper_words` says what it waits for; it
    `is_paper_early` while the bench waits for something: then a quiet link, since the sheet says so itself.
    """

    said: str
    quote_acts: tuple[QuoteAct, ...]
    forward: MoveEntry | None
    undo: tuple[MoveEntry, ...]
    others: tuple[MoveEntry, ...]
    waits: str
    not_yet_asked: str
    paper_href: str
    paper_words: str
    is_paper_early: bool

    @property
    def has_acts(self) -> bool:
        """Whether there is a button or a paper to offer."""
        has_paper = bool(self.paper_href) and not self.is_paper_early
        return self.forward is not None or has_paper or bool(self.quote_acts)


@dataclass(frozen=True, slots=True)
class CustomerPart:
    """Whose order it is; the contact only for those who may see it."""

    name: str
    href: str
    phone: str
    phone_href: str
    email: str
    note: str
    may_see: bool


@dataclass(frozen=True, slots=True)
class PlanPart:
    """The fields that stay free: the bench date and the note, as they stand or as they were typed."""

    bench_on: str
    note: str
    avoid: str
    collects: str
    may_change: bool
    bench_error: str = ""
    note_error: str = ""
    avoid_error: str = ""
    collects_error: str = ""


@dataclass(frozen=True, slots=True)
class OrderPage:
    """The page of one order."""

    title: str
    number: str
    version: int
    heading: str
    heading_note: str
    mark: Svg
    state: str
    since: str
    next: NextPart
    customer: CustomerPart
    days: tuple[Fact, ...]
    plan: PlanPart
    mends: MendsPart | None
    rings: tuple[RingPart, ...]
    add_ring_href: str
    pictures: PicturesPart
    quotes: QuotesPart | None
    papers: PapersPart
    variants: VariantsPart | None
    history: tuple[HistoryEntry, ...]
    said: Said
    form_key: str

    @property
    def href(self) -> str:
        """Where the page stands."""
        return f"/orders/{self.number}"


def order_context(
    order: Order, seat: Seat, said: Said | None = None, costs: Mapping[str, OwnCost] | None = None
) -> OrderPage:
    """The order as the page shows it to who sits there; `said` brings back what was typed and why.

    `costs` are those of the orders that mend a ring of it, by number.
    """
    told = said or Said()
    count = len(order.rings)
    taken = since_words(order.created_at, seat.zone, seat.today)
    may_edit = order.state in BEFORE_AGREEMENT and seat.may(Right.TAKE_ORDERS)
    heading = f"{apart(order.customer.name)}, {order.number}"
    return OrderPage(
        title=f"{told.heading}: {heading}" if told.heading else heading,
        number=order.number,
        version=order.version,
        heading=order.customer.name,
        heading_note=f"Order {order.number}, {counted(count, 'ring', 'rings')}, taken {taken}",
        mark=state_mark(order.state),
        state=str(order.state).capitalize(),
        since=f"since {since_words(order.state_since, seat.zone, seat.today)}",
        next=_next(order, seat, told),
        customer=_customer(order, seat),
        days=days_of(order, seat),
        plan=_plan(order, seat, told),
        mends=mends_part(order, seat, told),
        rings=tuple(
            ring_part(
                order,
                ring,
                seat,
                told,
                may_edit=may_edit,
                later=mended_facts(order, ring.position, seat, costs or {}),
            )
            for ring in order.rings
        ),
        add_ring_href=f"/orders/{order.number}/rings/new" if may_edit else "",
        pictures=pictures_part(order, seat, told),
        quotes=quotes_part(order, seat, told),
        papers=papers_part(order, seat, told),
        variants=variants_part(order, seat),
        history=history_of(order.history, seat),
        said=told,
        form_key=secrets.token_urlsafe(18),
    )


def reason_field(to: State) -> str:
    """The name of the field for the reason of the move to `to`: 'reason-called-off'."""
    return f"reason-{str(to).replace(' ', '-')}"


def _next(order: Order, seat: Seat, said: Said) -> NextPart:
    is_amended = order.agreement is not None and order.agreement.is_amended
    moves = [
        move
        for move in moves_from(order.state)
        if seat.may(right_for(move.start, move.end)) and not (is_amended and move.end is State.QUOTED)
    ]
    forward = next((m for m in moves if not m.is_step_back and m.end not in _BY_OTHER_WAYS), None)
    waits = order.missing.bench if order.state is State.AGREED else ()
    is_printable = order.state not in BEFORE_AGREEMENT and order.state is not State.CALLED_OFF
    return NextPart(
        said=_state_words(order, seat),
        quote_acts=quote_acts(order, seat),
        forward=None if waits or forward is None else _entry(forward, said),
        undo=tuple(_entry(move, said) for move in moves if move.is_step_back and not move.needs_reason),
        others=(
            *((_waiver(forward, said),) if forward and is_waivable(waits, seat) else ()),
            *(_entry(move, said) for move in moves if move.needs_reason),
        ),
        waits=_waits_words(waits, seat),
        not_yet_asked=_not_yet_asked(order.state, order.missing),
        paper_href=f"/orders/{order.number}/bench-sheet.pdf" if is_printable else "",
        paper_words=paper_words(order.state, len(order.rings)),
        is_paper_early=bool(waits),
    )


def is_waivable(waits: tuple[str, ...], seat: Seat) -> bool:
    """Whether the bench waits for the deposit alone, and this person may let the work begin without."""
    return waits == (DEPOSIT,) and seat.may(Right.AGREE)


def _waits_words(waits: tuple[str, ...], seat: Seat) -> str:
    if not waits:
        return ""
    instead = ", or a reason to begin without" if is_waivable(waits, seat) else ""
    return f"for the bench: {joined(waits)}{instead}"


def _waiver(move: Move, said: Said) -> MoveEntry:
    return replace(_entry(move, said), verb=f"{move.verb} without the deposit", needs_reason=True)


def _entry(move: Move, said: Said) -> MoveEntry:
    name = reason_field(move.end)
    return MoveEntry(move.end, move.verb, move.needs_reason, name, said.typed.get(name, ""), said.error(name))


def _state_words(order: Order, seat: Seat) -> str:
    """How the order stands, in one sentence."""
    when = since_words(order.state_since, seat.zone, seat.today)
    if order.state is State.AGREED and order.agreed_name and order.agreed_at:
        said_on = since_words(order.agreed_at, seat.zone, seat.today)
        return f"{apart(order.agreed_name)} said yes, {said_on}."
    return {
        State.DRAFT: f"A draft since {when}. It waits for its quote.",
        State.QUOTED: f"Quoted since {when}. It waits for the yes to the quote.",
        State.AGREED: f"Agreed since {when}.",
        State.AT_THE_BENCH: f"At the bench since {when}.",
        State.READY: f"Ready since {when}, not collected yet.",
        State.HANDED_OVER: f"Handed over {when}.",
        State.CALLED_OFF: f"Called off {when}.",
    }[order.state]


def _not_yet_asked(state: State, missing: Missing) -> str:
    """What nobody has asked so far, as one line; the bench's own needs are told apart."""
    words = [*missing.quote, *missing.nice] if state in OPEN_STATES else []
    return opened(joined(words))


def _customer(order: Order, seat: Seat) -> CustomerPart:
    may_see = seat.may(Right.SEE_CONTACT)
    phone = (order.customer.phone or "") if may_see else ""
    return CustomerPart(
        name=order.customer.name,
        href=f"/customers/{order.customer.id}" if may_see else "",
        phone=phone,
        phone_href=f"tel:{''.join(sign for sign in phone if sign.isdigit() or sign == '+')}" if phone else "",
        email=(order.customer.email or "") if may_see else "",
        note=order.customer.note if may_see else "",
        may_see=may_see,
    )


def _plan(order: Order, seat: Seat, said: Said) -> PlanPart:
    bench_on = order.terms.bench_on
    return PlanPart(
        bench_on=said.typed.get("bench_on", full_day_words(bench_on) if bench_on else ""),
        note=said.typed.get("note", order.terms.note),
        avoid=said.typed.get("avoid", order.terms.avoid or ""),
        collects=said.typed.get("collects", order.terms.collects) if seat.may(Right.SEE_CONTACT) else "",
        may_change=seat.may(Right.TAKE_ORDERS),
        bench_error=said.error("bench_on"),
        note_error=said.error("note"),
        avoid_error=said.error("avoid"),
        collects_error=said.error("collects"),
    )
