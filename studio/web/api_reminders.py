"""The API's reminders: whom to remind, and one that goes out."""

from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.order_numbers import read_number
from studio.book.outbox_values import About, Mail
from studio.book.reminder_reads import PAGE_LENGTH, ToRemind, to_remind
from studio.craft.roles import Right
from studio.web.api import Limit
from studio.web.api_answers import as_json, as_text
from studio.web.api_fields import In, Note, Truth, one_of, text_of
from studio.web.api_models import Moment
from studio.web.api_quote_answers import mail_out
from studio.web.api_quote_models import MailOut
from studio.web.bodies import ApiRoute
from studio.web.errors import FieldError, FieldErrors
from studio.web.mails import call_postman, must_have_server
from studio.web.once import do_once
from studio.web.reading import Reading, read_choice, sure
from studio.web.reminders import put_in_outbox, read_reminder
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)

Quoter = Annotated[Seat, requires(Right.QUOTE)]


class ReminderIn(In):
    """A reminder to send. Left out, the words are ours and the address is the customer's.

    `[link]` in the words of a quote's becomes a link to the customer's own page as it leaves. `again` says
    that a second one within a day is meant.
    """

    kind: Annotated[Any, one_of(*About)] = None
    words: Note = None
    to: Annotated[Any, text_of(254)] = None
    again: Truth = None


class ReminderOut(MailOut):
    """A reminder in the outbox."""

    about: About


class ToRemindOut(BaseModel):
    """One to remind. `amounts_minor` is one amount, or the least and the most where the customer chooses.

    `valid_until` is a quote's. `last` is the last reminder of it, null before the first.
    """

    about: About
    order: str
    quote: str
    customer: str
    email: str | None
    currency: str
    amounts_minor: list[int]
    valid_until: date | None
    since: Moment
    last: ReminderOut | None


class GoesOnOut(BaseModel):
    """A list that goes on: ask for its `kind`, `after` that order."""

    kind: About
    after: str


class RemindersOut(BaseModel):
    """Whom to remind, and which of the lists go on."""

    items: list[ToRemindOut]
    more: list[GoesOnOut]


@router.get("/api/reminders", response_model=RemindersOut)
def listed(seat: Quoter, kind: str = "", after: str = "", limit: Limit = None) -> Response:
    """Whom to remind: quotes about to end or just ended, open deposits, balances of what is ready.

    Each list has at most `limit`; one alone, by its `kind`, goes on `after` an order.
    """
    asked = Reading({"kind": kind, "after": after}, "")
    about = asked.choice("kind", About)
    if after and about is None and not asked.is_wrong("kind"):
        asked.add("after", "Say of which kind the list goes on.")
    elif after and read_number(after) is None:
        asked.add("after", "This is not the number of an order, such as 2026-118.")
    asked.stop()
    items, more = list[ToRemindOut](), list[GoesOnOut]()
    with session(seat.engine) as book:
        for one in About if about is None else (about,):
            found = to_remind(book, one, today=seat.today, after=after or None, limit=limit or PAGE_LENGTH)
            items += [_to_remind_out(line) for line in found.items]
            if found.next:
                more.append(GoesOnOut(kind=one, after=found.next))
    return as_json(RemindersOut(items=items, more=more))


@router.post("/api/orders/{number}/reminders", status_code=202, response_model=ReminderOut)
def reminded(request: Request, number: str, seat: Quoter, body: ReminderIn) -> Response:
    """Queue a reminder. 409 where nothing is due, no mail server is set, or one went within a day."""
    fields = {name: value for name, value in body.fields().items() if value is not None}
    asked = Reading(fields, "")
    about = asked.needed("kind", lambda value, field: read_choice(value, field, About), "kind of reminder")
    asked.stop()

    def work() -> Answer:
        must_have_server(request)
        ready = read_reminder(book, seat, number, sure(about), fields)
        if not ready.asked.to:
            raise FieldErrors(
                [FieldError("to", "The customer has no e-mail address. To which one does it go?")]
            )
        return Answer(202, as_text(_reminder_out(put_in_outbox(book, seat, ready))))

    with session(seat.engine) as book:
        answer = do_once(request, seat, book, work)
    call_postman(request)
    return answer


def _reminder_out(mail: Mail) -> ReminderOut:
    return ReminderOut(**mail_out(mail).model_dump(), about=sure(mail.about))


def _to_remind_out(line: ToRemind) -> ToRemindOut:
    return ToRemindOut(
        about=line.about,
        order=line.number,
        quote=line.quote,
        customer=line.customer_name,
        email=line.email or None,
        currency=line.currency,
        amounts_minor=list(line.amounts_minor),
        valid_until=line.until,
        since=line.since,
        last=_reminder_out(line.reminded[-1]) if line.reminded else None,
    )
