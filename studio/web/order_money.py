"""The money of an order on its page: how it stands with the deposit, what was paid, and the forms for it."""

from dataclasses import dataclass

from studio.book.order_values import Order
from studio.book.payment_values import Payment
from studio.craft.directions import apart
from studio.craft.missing import Deposit
from studio.craft.orders import State
from studio.craft.payments import Account, Method
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign
from studio.web.counter_choices import Choice
from studio.web.days import full_day_words
from studio.web.quotes_page import deposit_words
from studio.web.security import Seat
from studio.web.sent_back import Said

METHODS = tuple(Choice(method, method.capitalize()) for method in Method)
_HOW = {
    Method.NOT_SAID: "",
    Method.CASH: " in cash",
    Method.CARD: " by card",
    Method.TRANSFER: " by bank transfer",
    Method.CHEQUE: " by cheque",
    Method.OTHER: "",
}
TAKEN, BACK = "paid", "back"
"""What the fields of the two forms begin with."""


@dataclass(frozen=True, slots=True)
class PaymentLine:
    """One payment: its number and receipt, how much came or went, and how.

    `undo` is the name of the field for why it was a mistake, '' where it cannot be taken back.
    """

    number: str
    href: str
    amount: str
    words: str
    note: str
    is_over: bool
    undo: str
    undo_href: str
    why: str
    error: str


@dataclass(frozen=True, slots=True)
class SumForm:
    """The form for money that comes or goes back, its fields by `prefix`."""

    prefix: str
    amount: str
    how: str
    reference: str
    on: str
    note: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class WaiverForm:
    """Why the work begins without all of the deposit, as it stands or was typed."""

    why: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class MoneyPart:
    """What the page says of money, for those who may see a price."""

    sign: str
    methods: tuple[Choice, ...]
    deposit: str
    is_deposit_open: bool
    lines: tuple[PaymentLine, ...]
    balance: str
    is_balance_open: bool
    taking: SumForm | None
    giving: SumForm | None
    waiver: WaiverForm | None


def money_part(order: Order, seat: Seat, said: Said) -> MoneyPart | None:
    """The money of the order for who sits there; None where nothing was agreed or paid, or none for them."""
    agreement, account = order.agreement, order.account
    if not seat.may(Right.SEE_PRICE) or not (agreement or order.payments):
        return None
    may_note = seat.may(Right.AGREE)
    is_off = order.state is State.CALLED_OFF
    is_open = agreement is not None and agreement.deposit is Deposit.OPEN and not is_off
    left = account.left_minor if agreement is not None else 0
    return MoneyPart(
        sign=currency_sign(order.currency),
        methods=METHODS,
        deposit="" if agreement is None or is_off else _deposit_words(order, seat),
        is_deposit_open=is_open,
        lines=tuple(_line(one, order, seat, said) for one in order.payments),
        balance=_balance_words(order, account),
        is_balance_open=bool(account.back_minor) or (order.state is State.READY and bool(left)),
        taking=_form(TAKEN, said, _left_words(order), is_open=is_open or order.state is State.READY)
        if may_note and (left or (is_off and account.due_minor is None and agreement is not None))
        else None,
        giving=_form(BACK, said, _back_words(order), is_open=bool(account.back_minor))
        if may_note and account.paid_minor > 0
        else None,
        waiver=WaiverForm(
            said.typed.get("without_deposit", agreement.without_deposit or ""),
            bool(said.error("without_deposit")),
        )
        if agreement is not None
        and may_note
        and not is_off
        and (is_open or agreement.without_deposit is not None)
        else None,
    )


def sum_fields(prefix: str) -> tuple[str, str, str, str]:
    """The fields of one of the forms: the amount, how, the reference, the day."""
    return prefix, f"{prefix}_how", f"{prefix}_reference", f"{prefix}_on"


def undo_field(number: str) -> str:
    """The name of the field for why a payment was a mistake: 'undo-p1'."""
    return f"undo-{number.rpartition('-')[2]}"


def _form(prefix: str, said: Said, note: str, *, is_open: bool) -> SumForm:
    names = sum_fields(prefix)
    amount, how, reference, on = (said.typed.get(name, "") for name in names)
    is_typed = any(name in said.typed for name in names)
    return SumForm(prefix, amount, how, reference, on, note, is_open or is_typed)


def _line(one: Payment, order: Order, seat: Seat, said: Said) -> PaymentLine:
    came = one.amount_minor > 0
    how = _HOW[one.method]
    reference = f", {apart(one.reference)}" if one.reference else ""
    words = f"{'paid' if came else 'given back'}{how} on {full_day_words(one.on)}{reference}"
    note = f"noted by {apart(one.actor)}"
    if one.undoes is not None:
        words = f"takes {one.undoes} back: {apart(one.why)}"
    elif one.undone_by is not None:
        note = f"entered by mistake, taken back by {one.undone_by}"
    undo = undo_field(one.number) if one.counts and seat.may(Right.AGREE) else ""
    has_receipt = any(paper.number == one.number for paper in order.documents)
    return PaymentLine(
        number=one.number,
        href=f"/documents/{one.number}.pdf" if has_receipt and seat.may(Right.QUOTE) else "",
        amount=money_words(one.amount_minor, one.currency),
        words=words,
        note=note,
        is_over=not one.counts,
        undo=undo,
        undo_href=f"/orders/{order.number}/payments/{one.number}/undoing" if undo else "",
        why=said.typed.get(undo, ""),
        error=said.error(undo) if undo else "",
    )


def _deposit_words(order: Order, seat: Seat) -> str:
    """How it stands with the deposit; after a part payment also the reason to begin without the rest."""
    agreement = order.agreement
    if agreement is None:
        return ""
    if not agreement.is_part_paid:
        return deposit_words(agreement, seat)
    why = agreement.without_deposit
    rest = f"Begins without the rest: {apart(why.removesuffix('.'))}." if why else "The rest is open."
    return f"Part paid. {deposit_words(agreement, seat)} {rest}"


def _balance_words(order: Order, account: Account) -> str:
    """'Balance at collection £144.00', while something is still to be paid; 'To give back £20.00'."""
    if account.back_minor:
        return f"To give back {money_words(account.back_minor, order.currency)}."
    if not account.left_minor:
        return "Paid in full." if account.due_minor and order.state is not State.CALLED_OFF else ""
    left = money_words(account.left_minor, order.currency)
    if order.state in {State.HANDED_OVER, State.CALLED_OFF}:
        return f"Still to be paid {left}."
    return f"Balance at collection {left}."


def _left_words(order: Order) -> str:
    agreement, left = order.agreement, order.account.left_minor
    if agreement is None or not left:
        return ""
    asked = agreement.deposit_asked_minor - agreement.paid_minor
    whole = f"{money_words(left, order.currency)} is left in all"
    if agreement.deposit is Deposit.OPEN and 0 < asked < left:
        return f"{money_words(asked, order.currency)} of the deposit is open, {whole}."
    return f"{whole}."


def _back_words(order: Order) -> str:
    back = order.account.back_minor
    return f"{money_words(back, order.currency)} is to go back." if back else ""
