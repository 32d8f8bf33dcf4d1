"""The API's money of an order: what was paid and given back, and an entry taken back."""

from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import WithJsonSchema
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.payment_values import Sum
from studio.book.payments import give_back, take_payment, undo_payment
from studio.craft.payments import LONGEST_REFERENCE, LONGEST_WHY, Method
from studio.craft.roles import Right
from studio.web.amounts import read_minor
from studio.web.api_answers import as_text, money_out
from studio.web.api_fields import Day, In, one_of, text_of
from studio.web.api_money_models import MoneyOut
from studio.web.bodies import ApiRoute
from studio.web.days import read_date
from studio.web.forms import long_text
from studio.web.once import do_once
from studio.web.reading import Reading, read_id, sure
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)

Cashier = Annotated[Seat, requires(Right.AGREE)]


class PaymentIn(In):
    """Money that came in, or goes back (`refund`). `on` left out is today; no card's number is taken."""

    amount_minor: Annotated[Any, WithJsonSchema({"type": "integer", "minimum": 1})] = None
    refund: Annotated[Any, WithJsonSchema({"type": ["boolean", "null"]})] = None
    method: Annotated[Any, one_of(*Method)] = None
    reference: Annotated[Any, text_of(LONGEST_REFERENCE)] = None
    on: Day = None
    version: Annotated[Any, WithJsonSchema({"type": ["integer", "null"]})] = None


class UndoingIn(In):
    """Why a payment was entered by mistake."""

    why: Annotated[Any, text_of(LONGEST_WHY)] = None


@router.post("/api/orders/{number}/payments", status_code=201, response_model=MoneyOut)
def paid(request: Request, number: str, seat: Cashier, body: PaymentIn) -> Response:
    """Note money that came in for an agreed order, or that goes back. 422 beyond what is left or was paid."""
    asked = Reading(body.fields(), "")
    amount = asked.needed("amount_minor", read_minor, "amount")
    is_refund = asked.yes("refund")
    method = asked.choice("method", Method)
    reference = asked.read("reference", long_text(LONGEST_REFERENCE))
    on = asked.read("on", lambda value, field: read_date(value, field, today=seat.today))
    version = asked.read("version", read_id) if asked.has("version") else None
    asked.stop()
    money = Sum(sure(amount), method or Method.NOT_SAID, reference or "", on)
    verb = give_back if is_refund else take_payment

    def work() -> Answer:
        done = verb(book, number=number, money=money, version=version, actor=seat.actor, now=seat.now)
        return Answer(201, as_text(money_out(done)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


@router.post("/api/payments/{number}/undoing", response_model=MoneyOut)
def undone(request: Request, number: str, seat: Cashier, body: UndoingIn) -> Response:
    """Take back a payment that was entered by mistake, by an entry of the same amount the other way."""
    asked = Reading(body.fields(), "")
    why = asked.read("why", long_text(LONGEST_WHY))
    asked.stop()

    def work() -> Answer:
        done = undo_payment(book, payment=number, why=why or "", actor=seat.actor, now=seat.now)
        return Answer(200, as_text(money_out(done)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)
