"""What needs a hand, said as a colleague would: one sentence, one moment and one act for each rule."""

from dataclasses import dataclass

from studio.book.in_hand import HandLine
from studio.book.order_list_values import HandWhy
from studio.clock import day_of
from studio.craft.directions import apart
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.wording import counted, days_words, hour_words, opened, since_words

_HOW_FAR = {
    State.DRAFT: "it is still a draft",
    State.QUOTED: "nobody has said yes yet",
    State.AGREED: "the work is not begun",
    State.AT_THE_BENCH: "it is still at the bench",
}


_OVER_A_DAY = frozenset({HandWhy.PROMISE_PASSED, HandWhy.BENCH_DATE_PASSED, HandWhy.OUTWORK_OVERDUE})
_ASKS_THE_CUSTOMER = frozenset(
    {HandWhy.NOT_COLLECTED, HandWhy.PROMISE_PASSED, HandWhy.QUOTE_ENDS, HandWhy.QUOTE_ENDED}
)


@dataclass(frozen=True, slots=True)
class Act:
    """The one thing to do about it, a verb, and where it is done."""

    words: str
    href: str


def sentence_of(line: HandLine, seat: Seat) -> str:
    """Why the order needs a hand, such as 'Promised for tomorrow, 10:00, and it is still at the bench.'."""
    how_far = _HOW_FAR.get(line.state, "")
    bench_on = "" if line.bench_on is None else day_words(line.bench_on, today=seat.today)
    promised = _promised(line, seat)
    since = _since(line, seat)
    untouched = counted(_days_since(line, seat), "day", "days")
    not_collected = f"Ready since {since}, promised for {promised}, and not collected."
    return {
        HandWhy.PROMISE_PASSED: f"Promised for {promised}, and {how_far}.",
        HandWhy.BENCH_DATE_PASSED: f"Its bench date was {bench_on}, and {how_far}.",
        HandWhy.PROMISED_SOON: f"Promised for {promised}, and {how_far}.",
        HandWhy.OUTWORK_OVERDUE: _overdue(line, seat),
        HandWhy.SAID_NO: _said_no(line, seat),
        HandWhy.QUOTE_ENDS: f"The quote ends {_near_day(line, seat)}, and nobody has said yes yet.",
        HandWhy.QUOTE_ENDED: f"The quote ended {_near_day(line, seat)}, and nobody has said yes.",
        HandWhy.DEPOSIT_OPEN: "Agreed, but the deposit is open.",
        HandWhy.NO_BENCH_DATE: "Agreed, but no bench date is set.",
        HandWhy.DRAFT_UNTOUCHED: f"A draft that nobody has touched for {untouched}.",
        HandWhy.MAIL_REFUSED: _refused(line, seat),
        HandWhy.FIT_NOT_ASKED: f"Handed over {since}, and nobody has asked yet how it fits.",
        HandWhy.NOT_COLLECTED: not_collected if promised else "Ready, and no day to collect it is promised.",
    }[line.hand.why]


def when_of(line: HandLine, seat: Seat) -> str:
    """How long it has needed a hand, or the moment it hangs on: '2 days', 'Since 14:05'."""
    if line.hand.why is HandWhy.PROMISED_SOON and line.promised_at is not None:
        return hour_words(line.promised_at, seat.zone, seat.today)
    if line.hand.why in _OVER_A_DAY and line.hand.on is not None:
        late = (seat.today - line.hand.on).days
        return days_words(late) if late else "Today"
    if line.hand.why in {HandWhy.QUOTE_ENDS, HandWhy.QUOTE_ENDED}:
        return opened(_near_day(line, seat))
    return f"Since {_since(line, seat)}"


def act_of(line: HandLine, seat: Seat) -> Act:
    """What to do about it, within what this person may do; who may do nothing looks at the order."""
    if line.overdue is not None:
        return Act("Chase it", f"/outwork#slip-{line.overdue.slip}")
    return _act_of_the_order(line, seat)


def _act_of_the_order(line: HandLine, seat: Seat) -> Act:
    order = f"/orders/{line.number}"
    look = Act("See the order", order)
    if (of_the_quote := _act_of_the_quote(line)) is not None:
        return of_the_quote if seat.may(Right.SEE_PRICE) else look
    if line.hand.why is HandWhy.NO_BENCH_DATE:
        return Act("Set the bench date", f"{order}#plan") if seat.may(Right.TAKE_ORDERS) else look
    if line.hand.why is HandWhy.DEPOSIT_OPEN:
        return Act("Note the deposit", f"{order}#quotes") if seat.may(Right.AGREE) else look
    if line.hand.why in {HandWhy.FIT_NOT_ASKED, HandWhy.DRAFT_UNTOUCHED}:
        is_fit = line.hand.why is HandWhy.FIT_NOT_ASKED
        act = (
            Act("Ask how it fits", f"{order}/fit") if is_fit else Act("Finish the draft", f"{order}/rings/1")
        )
        return act if seat.may(Right.TAKE_ORDERS) else look
    if line.hand.why in _ASKS_THE_CUSTOMER:
        return Act("Call the customer", f"{order}#customer") if seat.may(Right.SEE_CONTACT) else look
    return {
        State.DRAFT: Act("Note the yes", f"{order}#next") if seat.may(Right.AGREE) else look,
        State.QUOTED: Act("Note the yes", f"{order}#next") if seat.may(Right.AGREE) else look,
        State.AGREED: Act("Give it to the bench", f"{order}#next"),
        State.AT_THE_BENCH: Act("Mark it ready", f"{order}#next"),
    }.get(line.state, look)


def _act_of_the_quote(line: HandLine) -> Act | None:
    """To see a letter that was refused, or to read a no; both stand on the quote's page."""
    if line.mail is not None:
        return Act("See the mail", f"/quotes/{line.mail.quote}#mails")
    return None if line.no is None else Act("Read the answer", f"/quotes/{line.no.quote}#link-heading")


def _promised(line: HandLine, seat: Seat) -> str:
    """The promised moment, said from today: 'today, 10:00', 'tomorrow, 10:00', 'Fri 27 Nov, 10:00'."""
    if line.promised_at is None:
        return ""
    words = hour_words(line.promised_at, seat.zone, seat.today)
    ahead = (day_of(line.promised_at, seat.zone) - seat.today).days
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}.get(ahead)
    return words if near is None else f"{near}, {words.rpartition(', ')[2]}"


def _near_day(line: HandLine, seat: Seat) -> str:
    """The day it hangs on, said from today: 'today', 'tomorrow', 'Fri 27 Nov'."""
    if line.hand.on is None:
        return ""
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}.get((line.hand.on - seat.today).days)
    return near or day_words(line.hand.on, today=seat.today)


def _refused(line: HandLine, seat: Seat) -> str:
    """What became of a letter; address and answer are for those who see the contact."""
    if line.mail is None:
        return ""
    what = f"mail with {line.mail.quote}" if line.mail.about is None else f"reminder of the {line.mail.about}"
    if not seat.may(Right.SEE_CONTACT):
        return f"The {what} was refused."
    return f"The {what} to {apart(line.mail.to)} was refused: {apart(line.mail.answer)}"


def _overdue(line: HandLine, seat: Seat) -> str:
    """Which slip is over its day, and with whom it is."""
    if line.overdue is None:
        return ""
    return (
        f"Slip {line.overdue.slip} is out with {apart(line.overdue.worker)}; "
        f"it was due {_near_day(line, seat)}."
    )


def _said_no(line: HandLine, seat: Seat) -> str:
    """What was said no to; the words, which may speak of the price, for those who see prices."""
    if line.no is None:
        return ""
    head = f"The customer said no to the {line.no.kind}"
    if not line.no.words or not seat.may(Right.SEE_PRICE):
        return f"{head}."
    return f"{head}: {apart(line.no.words)}"


def _since(line: HandLine, seat: Seat) -> str:
    return since_words(line.hand.since, seat.zone, seat.today)


def _days_since(line: HandLine, seat: Seat) -> int:
    return (seat.today - day_of(line.hand.since, seat.zone)).days
