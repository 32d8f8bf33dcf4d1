"""What comes next for an order, on its page: the quote and the yes, the moves, what they wait for."""

from dataclasses import dataclass, replace

from studio.book.order_values import Order
from studio.craft.directions import apart
from studio.craft.missing import DEPOSIT, Missing
from studio.craft.orders import BEFORE_AGREEMENT, Move, State, moves_from
from studio.craft.roles import Right
from studio.web.moves import right_for
from studio.web.order_calling_off import CallOffForm, KeptTable, call_off_form
from studio.web.order_quotes import QuoteAct, quote_acts
from studio.web.order_words import paper_words
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import joined, opened, since_words

_BY_OTHER_WAYS = frozenset({State.CALLED_OFF, State.AGREED, State.QUOTED})
"""Ends of a move that no button on the way on leads to: calling off, the yes to a quote, making one."""
OPEN_STATES = frozenset({State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH})


@dataclass(frozen=True, slots=True)
class MoveEntry:
    """One move this person may make: the button's words, and whether it asks for a reason.

    Calling an agreed order off says first what that comes to (`call_off`).
    """

    to: str
    verb: str
    needs_reason: bool
    reason_name: str
    reason: str
    error: str
    call_off: CallOffForm | None = None

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
    `label_href` is the label of the envelope, for an order that has a sheet; `hand_over_href` the page that
    hands a ready order over with its sheet, in the place of `forward`.
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
    printers_href: str = "/printers"
    label_href: str = ""
    hand_over_href: str = ""

    @property
    def has_acts(self) -> bool:
        """Whether there is a button or a paper to offer."""
        has_paper = bool(self.paper_href) and not self.is_paper_early
        return self.forward is not None or has_paper or bool(self.quote_acts or self.hand_over_href)


def reason_field(to: State) -> str:
    """The name of the field for the reason of the move to `to`: 'reason-called-off'."""
    return f"reason-{str(to).replace(' ', '-')}"


def next_part(order: Order, seat: Seat, said: Said, kept: KeptTable) -> NextPart:
    """What comes next for `order`, for who sits there; `kept` is what calling off would cost."""
    is_amended = order.agreement is not None and order.agreement.is_amended
    moves = [
        move
        for move in moves_from(order.state)
        if seat.may(right_for(move.start, move.end)) and not (is_amended and move.end is State.QUOTED)
    ]
    forward = next((m for m in moves if not m.is_step_back and m.end not in _BY_OTHER_WAYS), None)
    is_handed = forward is not None and forward.end is State.HANDED_OVER
    waits = order.missing.bench if order.state is State.AGREED else ()
    is_printable = order.state not in BEFORE_AGREEMENT and order.state is not State.CALLED_OFF
    return NextPart(
        said=_state_words(order, seat),
        quote_acts=quote_acts(order, seat),
        forward=None if waits or forward is None or is_handed else _entry(forward, said),
        undo=tuple(_entry(move, said) for move in moves if move.is_step_back and not move.needs_reason),
        others=(
            *((_waiver(forward, said),) if forward and is_waivable(waits, seat) else ()),
            *(_with_what_it_costs(move, order, seat, said, kept) for move in moves if move.needs_reason),
        ),
        waits=_waits_words(waits, seat),
        not_yet_asked=_not_yet_asked(order.state, order.missing),
        paper_href=f"/orders/{order.number}/bench-sheet.pdf" if is_printable else "",
        paper_words=paper_words(order.state, len(order.rings)),
        is_paper_early=bool(waits),
        label_href=f"/orders/{order.number}/label.pdf" if is_printable else "",
        hand_over_href=f"/orders/{order.number}/hand-over" if is_handed else "",
    )


def _with_what_it_costs(move: Move, order: Order, seat: Seat, said: Said, kept: KeptTable) -> MoveEntry:
    """The entry of a move; calling off an agreed order says what that comes to."""
    entry = _entry(move, said)
    if move.end is not State.CALLED_OFF:
        return entry
    return replace(entry, call_off=call_off_form(order, seat, said, kept))


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
