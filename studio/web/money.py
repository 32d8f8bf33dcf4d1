"""Money of an order over HTTP: taken, given back, an entry taken back, and work begun without the deposit."""

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.errors import BookError, NoAgreement
from studio.book.order_reads import order as read_order
from studio.book.payment_errors import NothingPaid, PaymentUndone, PaymentUnknown
from studio.book.payments import give_back, take_payment, undo_payment
from studio.book.quotes import waive_deposit
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.money_reading import at_sum_fields, read_sum
from studio.web.order import LONGEST_REASON, done, version_of
from studio.web.order_money import BACK, TAKEN, sum_fields, undo_field
from studio.web.security import Seat, requires
from studio.web.sent_back import typed_texts
from studio.web.texts import read_text

router = APIRouter()

Cashier = Annotated[Seat, requires(Right.AGREE)]


@router.post("/orders/{number}/payments", response_class=HTMLResponse)
def take(request: Request, number: str, typed: Typed, seat: Cashier) -> Response:
    """Note money that came in."""
    return _moved(request, seat, number, typed, prefix=TAKEN, verb=take_payment)


@router.post("/orders/{number}/refunds", response_class=HTMLResponse)
def refund(request: Request, number: str, typed: Typed, seat: Cashier) -> Response:
    """Note money that goes back to the customer."""
    return _moved(request, seat, number, typed, prefix=BACK, verb=give_back)


@router.post("/orders/{number}/payments/{payment}/undoing", response_class=HTMLResponse)
def undo(request: Request, number: str, payment: str, typed: Typed, seat: Cashier) -> Response:
    """Take back what was entered by mistake."""
    name = undo_field(payment)

    def work(book: Session) -> None:
        if not any(one.number == payment for one in read_order(book, number).payments):
            raise PaymentUnknown(payment)
        why = read_text(typed.get(name), name, longest=LONGEST_REASON)
        try:
            undo_payment(book, payment=payment, why=why, actor=seat.actor, now=seat.now)
        except Refused as refused:
            raise FieldErrors(
                [
                    FieldError(name, "Say why it was a mistake." if not why else error.message)
                    for error in in_words(refused)
                ]
            ) from None
        except PaymentUndone as refused:
            raise FieldErrors([FieldError(name, declined(refused).errors[0].message)]) from None

    return done(request, seat, number, typed, fields=typed_texts(typed, name), work=work)


@router.post("/orders/{number}/deposit", response_class=HTMLResponse)
def without_deposit(request: Request, number: str, typed: Typed, seat: Cashier) -> Response:
    """Note why the work begins without all of the deposit; empty waits for it after all."""

    def work(book: Session) -> None:
        why = read_text(typed.get("without_deposit"), "without_deposit", longest=LONGEST_REASON)
        found = read_order(book, number)
        if not why and (found.agreement is None or found.agreement.without_deposit is None):
            raise FieldErrors([FieldError("without_deposit", "Say why the work begins without.")])
        waive_deposit(book, number=number, why=why, version=version_of(typed), actor=seat.actor, now=seat.now)

    return done(request, seat, number, typed, fields=typed_texts(typed, "without_deposit"), work=work)


def _moved(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, object],
    *,
    prefix: str,
    verb: Callable[..., object],
) -> Response:
    def work(book: Session) -> None:
        found = read_order(book, number)
        if not found.currency:
            raise NoAgreement(number)
        money = read_sum(typed, prefix, found.currency, today=seat.today)
        try:
            verb(book, number=number, money=money, version=version_of(typed), actor=seat.actor, now=seat.now)
        except Refused as refused:
            raise FieldErrors(list(at_sum_fields(in_words(refused), prefix))) from None
        except (NothingPaid, NoAgreement) as refused:
            raise FieldErrors([FieldError(prefix, _said(refused))]) from None

    return done(request, seat, number, typed, fields=typed_texts(typed, *sum_fields(prefix)), work=work)


def _said(refused: BookError) -> str:
    return declined(refused).errors[0].message
