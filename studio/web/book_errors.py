"""The status and the sentence for each thing the book refuses."""

from collections.abc import Callable
from typing import Any

from studio import clock
from studio.book.agreed_errors import (
    AnswerLinkSpent,
    NothingAmended,
    NothingToSettle,
    NothingToSettleUp,
    TooManyVariants,
    VariantNotSaid,
    VariantUnknown,
)
from studio.book.document_errors import (
    GoodsStand,
    NothingHeld,
    NothingTakenIn,
    NothingToConfirm,
    RiskUnanswered,
)
from studio.book.errors import (
    BookBusy,
    BookError,
    BookFull,
    BookGone,
    CustomerUnknown,
    DraftUnknown,
    KeyReused,
    LinkSpent,
    MoveRefused,
    NameRefused,
    NameTaken,
    NoAgreement,
    NoRings,
    NothingToMeasure,
    NotQuotable,
    OrderFixed,
    OrderUnknown,
    PassphraseRefused,
    QuoteAnswered,
    QuoteExpired,
    QuotePdfNotYet,
    QuoteSuperseded,
    QuoteUnknown,
    SignInRefused,
    SignInWaits,
    UserUnknown,
    VersionStale,
    WhyNot,
    WhyWeak,
)
from studio.book.mending_errors import CannotMend, WhyNotMended
from studio.book.order_values import Order
from studio.book.passphrases import SHORTEST
from studio.book.payment_errors import NothingPaid, PaymentUndone
from studio.book.picture_errors import PicturesFull, PicturesStand
from studio.craft.missing import DEPOSIT
from studio.craft.orders import AMENDABLE, BEFORE_AGREEMENT, State
from studio.web.bench_answers import BENCH_ANSWERS
from studio.web.buying_answers import BUYING_ANSWERS
from studio.web.days import full_day_words
from studio.web.document_answers import DOCUMENT_ANSWERS
from studio.web.echo import echo
from studio.web.errors import Declined
from studio.web.invoice_answers import INVOICE_ANSWERS
from studio.web.ledger_answers import LEDGER_ANSWERS
from studio.web.making_answers import MAKING_ANSWERS
from studio.web.old_gold_answers import OLD_GOLD_ANSWERS
from studio.web.outbox_answers import OUTBOX_ANSWERS
from studio.web.payment_answers import PAYMENT_ANSWERS
from studio.web.picture_answers import PICTURE_ANSWERS
from studio.web.piece_answers import PIECE_ANSWERS
from studio.web.tool_answers import TOOL_ANSWERS
from studio.web.whereabouts_answers import WHEREABOUTS_ANSWERS

_FIELD_WORDS = {
    "rings": "the rings",
    "wanted_on": "the wanted day",
    "wanted_hard": "the wanted day",
    "promised_at": "the promised day",
}
_NOT_MENDED = {
    WhyNotMended.NO_RING: "There is no ring {ring}. Write it like 2026-118/1.",
    WhyNotMended.NOT_MADE: "Ring {ring} is not agreed yet, so nothing is made that could be mended.",
    WhyNotMended.ITSELF: "Ring {ring} mends this order or is part of it. An order cannot mend itself.",
}
_WEAK = {
    WhyWeak.TOO_SHORT: f"Use at least {SHORTEST} signs. Four or five words together are easy to remember.",
    WhyWeak.TOO_LONG: "This is longer than we can read. Use fewer words.",
    WhyWeak.COMMON: "Many people use this one, so it would be tried first. Choose another.",
    WhyWeak.OWN_NAME: "This is little more than a name that everybody knows here. Choose another.",
}


def declined(error: BookError) -> Declined:
    """The answer to what the book refused; a kind without words of its own is a plain conflict."""
    for kind, answer in _ANSWERS.items():
        if isinstance(error, kind):
            return answer(error)
    return Declined(409, "The book does not allow this.")


def number_of(error: BookError) -> str | None:
    """The number of the order that the error speaks of, if it does."""
    if isinstance(
        error,
        VersionStale
        | MoveRefused
        | OrderFixed
        | NotQuotable
        | NoAgreement
        | NothingToMeasure
        | TooManyVariants
        | NothingAmended
        | NothingToSettle
        | NothingToSettleUp
        | PicturesFull
        | PicturesStand
        | NothingToConfirm
        | GoodsStand
        | RiskUnanswered
        | NothingTakenIn
        | NothingHeld
        | NothingPaid,
    ):
        return error.number
    if isinstance(error, QuoteSuperseded | QuoteExpired | QuoteAnswered | PaymentUndone):
        return error.number.rpartition("-")[0]
    return None


def more_of(error: BookError, stands: Order) -> dict[str, object]:
    """What `current` says beyond the order itself: what a quote waits for, or which quote stands."""
    if isinstance(error, NotQuotable):
        return {"missing": list(error.missing)}
    if not isinstance(error, QuoteSuperseded | QuoteExpired | QuoteAnswered):
        return {}
    quote = stands.standing_quote
    return {
        "quote": None
        if quote is None
        else {"number": quote.number, "state": quote.state, "valid_until": quote.valid_until.isoformat()}
    }


def waiting_words(seconds: int) -> str:
    """How long to wait, as it is said: 'a few seconds', '40 seconds', '3 minutes'."""
    if seconds <= 5:
        return "a few seconds"
    return f"{seconds} seconds" if seconds < 100 else f"{round(seconds / 60)} minutes"


def weak_words(error: PassphraseRefused) -> str:
    """Why the passphrase is not taken."""
    return _WEAK[error.why]


def _move(error: MoveRefused) -> Declined:
    if error.why is WhyNot.NEEDS_REASON:
        return Declined(422, "Say why, in a few words.", field="reason")
    if error.why is WhyNot.NEEDS_NAME:
        return Declined(422, "Who said yes? Give the name.", field="name")
    if error.why is WhyNot.AMENDED:
        return Declined(409, "This order has been amended. Amend it again, or call it off.")
    if error.why is WhyNot.MISSING:
        instead = ", or a reason to begin without" if error.missing == (DEPOSIT,) else ""
        return Declined(409, f"The order waits for: {', '.join(error.missing)}{instead}.")
    return Declined(409, _no_such_move(error.start, error.end))


def _no_such_move(start: State, end: State) -> str:
    if end is State.AGREED and start in BEFORE_AGREEMENT:
        return "An order becomes agreed by the yes to its quote."
    if end is State.QUOTED and start is State.AGREED:
        return "This order is agreed. Take the yes back first, then quote anew."
    return f"An order that is {start} does not become {end} in one step."


def _fixed(error: OrderFixed) -> Declined:
    words = dict.fromkeys(_FIELD_WORDS.get(field, field.replace("_", " ")) for field in error.fields)
    return Declined(409, f"The order is {error.state}, so {' and '.join(words)} can no longer change.")


def _nothing_amended(error: NothingAmended) -> Declined:
    if error.state in AMENDABLE:
        return Declined(409, "Nothing is changed yet: change a ring or a day, or say in words what changes.")
    return Declined(409, f"The order is {error.state}; only what is agreed and not yet over is amended.")


def _waits(error: SignInWaits) -> Declined:
    seconds = max(1, round((error.until - clock.now()).total_seconds()) + 1)
    words = f"That was tried too often. Wait {waiting_words(seconds)}, then try again."
    return Declined(429, words, headers={"Retry-After": str(seconds)})


def _unknown_order(error: OrderUnknown) -> Declined:
    said = echo(error.number)
    return Declined(404, f"There is no order {said}." if said else "There is no order with this number.")


def _unknown_quote(error: QuoteUnknown) -> Declined:
    said = echo(error.number)
    return Declined(404, f"There is no quote {said}." if said else "There is no quote with this number.")


def _superseded(error: QuoteSuperseded) -> Declined:
    instead = f"{error.by} stands in its place." if error.by else "The order changed under it."
    return Declined(409, f"This quote no longer stands. {instead}")


def _gone(error: BookGone) -> Declined:
    advice = (
        "Look whether it was saved before you send it again."
        if error.is_saved is None
        else "Nothing of this was saved. Try again in a moment."
    )
    words = f"The server that keeps the book does not answer. {advice}"
    return Declined(503, words, headers={"Retry-After": "2"}, title="The book cannot be reached")


_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    OrderUnknown: _unknown_order,
    **DOCUMENT_ANSWERS,
    **INVOICE_ANSWERS,
    **BUYING_ANSWERS,
    **PAYMENT_ANSWERS,
    **BENCH_ANSWERS,
    **PICTURE_ANSWERS,
    **LEDGER_ANSWERS,
    **OLD_GOLD_ANSWERS,
    **PIECE_ANSWERS,
    **TOOL_ANSWERS,
    **WHEREABOUTS_ANSWERS,
    CannotMend: lambda error: Declined(
        422, _NOT_MENDED[error.why].format(ring=f"{error.number}/{error.ring}"), field="mends.order"
    ),
    CustomerUnknown: lambda _: Declined(404, "There is no such customer."),
    DraftUnknown: lambda _: Declined(404, "This form is not kept any more."),
    QuoteUnknown: _unknown_quote,
    NotQuotable: lambda error: Declined(409, f"The quote waits for: {', '.join(error.missing)}."),
    QuoteSuperseded: _superseded,
    QuoteExpired: lambda error: Declined(
        409, f"The quote was good until {full_day_words(error.valid_until)}. Say why it still holds."
    ),
    QuoteAnswered: lambda _: Declined(409, "The customer has said yes to this quote already."),
    QuotePdfNotYet: lambda _: Declined(
        503,
        "This paper is still being made. Try again in a moment.",
        headers={"Retry-After": "2"},
        title="The paper is not made",
    ),
    NoAgreement: lambda error: Declined(409, f"Nobody has said yes to a quote of {error.number}."),
    TooManyVariants: lambda error: Declined(
        409, f"A quote offers up to {error.most} variants. Drop one before you add another."
    ),
    NothingAmended: _nothing_amended,
    AnswerLinkSpent: lambda _: Declined(404, "This page is not there any more. Ask us for a new link."),
    NothingToSettleUp: lambda error: Declined(409, f"{error.number} was not called off after a yes."),
    VariantUnknown: lambda _: Declined(404, "There is no such variant.", field="variant"),
    VariantNotSaid: lambda error: Declined(
        422,
        f"Which one did they choose: {', '.join(key.upper() for key in error.keys)}?",
        field="variant",
    ),
    NothingToSettle: lambda error: Declined(
        409, f"No size of ring {error.position} of {error.number} waits to be settled."
    ),
    UserUnknown: lambda _: Declined(404, "Nobody of this name works here."),
    VersionStale: lambda _: Declined(
        409,
        "Somebody else changed this since you opened it. Look at it as it stands now, then change it again.",
    ),
    MoveRefused: _move,
    OrderFixed: _fixed,
    NoRings: lambda _: Declined(422, "An order has at least one ring.", field="rings"),
    KeyReused: lambda _: Declined(
        409, "This idempotency key was used before for another request. Take a new one."
    ),
    BookBusy: lambda _: Declined(
        503, "Somebody else is writing in the book. Try again in a moment.", headers={"Retry-After": "2"}
    ),
    BookGone: _gone,
    BookFull: lambda _: Declined(
        507, "The disk that keeps the book is full, so nothing was saved. Reading goes on."
    ),
    NameTaken: lambda _: Declined(409, "Somebody of this name works here already.", field="name"),
    NameRefused: lambda _: Declined(422, "A name has 1 to 120 signs that can be seen.", field="name"),
    PassphraseRefused: lambda error: Declined(422, weak_words(error), field="passphrase"),
    SignInRefused: lambda _: Declined(
        401, "Name and passphrase do not belong together. Look at both and try again."
    ),
    SignInWaits: _waits,
    LinkSpent: lambda _: Declined(
        404, "This link was used before or has run out. The owner prints a new one."
    ),
    **MAKING_ANSWERS,
    **OUTBOX_ANSWERS,
}
