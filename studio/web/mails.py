"""Sending a quote by mail: into the outbox, to the customer or to the studio itself, and once more."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import QuoteSuperseded
from studio.book.idempotency import Answer
from studio.book.outbox import check_it_can_go, queue_again, queue_mail
from studio.book.outbox_errors import MailNotRefused, NothingToRemind, QuoteRunOut
from studio.book.outbox_values import Mail, MailKind
from studio.craft.roles import Right
from studio.settings import Settings
from studio.web.api_answers import as_text
from studio.web.api_quote_answers import mail_out
from studio.web.api_quote_models import MailIn, MailOut
from studio.web.bodies import ApiRoute, Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined, FieldError, FieldErrors
from studio.web.letters import letter_of, written
from studio.web.once import do_once
from studio.web.postman import Postman
from studio.web.quotes import quote_shown
from studio.web.reading import Reading
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_email

router = APIRouter()
api_router = APIRouter(route_class=ApiRoute)

Quoter = Annotated[Seat, requires(Right.QUOTE)]


@router.post("/quotes/{number}/mails", response_class=HTMLResponse)
def send(request: Request, number: str, typed: Typed, seat: Quoter) -> Response:
    """Queue the letter with the quote to the address that was typed."""
    fields = typed_texts(typed, "mail_to")

    def work(book: Session) -> Answer:
        asked = Reading(fields, "")
        to = asked.read("mail_to", read_email)
        asked.stop()
        if not to:
            raise FieldErrors([FieldError("mail_to", "To which address does it go?")])
        _queue(request, book, seat, number, to=to, kind=MailKind.QUOTE)
        return Answer(303, "", f"/quotes/{number}#mails")

    return _done(request, seat, number, typed, fields=fields, work=work)


@router.post("/quotes/{number}/mails/test", response_class=HTMLResponse)
def send_test(request: Request, number: str, typed: Typed, seat: Quoter) -> Response:
    """Queue the letter as a test, to the studio's own address."""

    def work(book: Session) -> Answer:
        _queue(request, book, seat, number, to=None, kind=MailKind.TEST)
        return Answer(303, "", f"/quotes/{number}#mails")

    return _done(request, seat, number, typed, fields={}, work=work)


@router.post("/quotes/{number}/mails/{mail_id}/again", response_class=HTMLResponse)
def send_again(request: Request, number: str, mail_id: int, typed: Typed, seat: Quoter) -> Response:
    """Queue a letter that was refused once more, as it was."""

    def work(book: Session) -> Answer:
        must_have_server(request)
        queue_again(book, number=number, mail_id=mail_id, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/quotes/{number}#mails")

    return _done(request, seat, number, typed, fields={}, work=work)


@api_router.post("/api/quotes/{number}/mails", status_code=202, response_model=MailOut)
def sent_by_api(request: Request, number: str, seat: Quoter, body: MailIn) -> Response:
    """Queue the letter with a quote, to the customer's address unless `to` is another.

    409 where no mail server is set, and for a quote that no longer stands or has run out.
    """
    asked = Reading(body.fields(), "")
    to = asked.read("to", read_email)
    asked.stop()

    def work() -> Answer:
        mail = _queue(request, book, seat, number, to=to or None, kind=MailKind.QUOTE)
        return Answer(202, as_text(mail_out(mail)))

    with session(seat.engine) as book:
        answer = do_once(request, seat, book, work)
    call_postman(request)
    return answer


def _queue(
    request: Request, book: Session, seat: Seat, number: str, *, to: str | None, kind: MailKind
) -> Mail:
    """Queue the letter; it is written once now, so that what it cannot be is told at once."""
    must_have_server(request)
    check_it_can_go(book, number, now=seat.now)
    letter = letter_of(book, number, to=to)
    address = letter.studio_email if kind is MailKind.TEST else letter.email
    if not address and kind is MailKind.QUOTE:
        raise FieldErrors([FieldError("to", "The customer has no e-mail address. To which one does it go?")])
    written(letter, b"", now=seat.now)
    return queue_mail(
        book,
        number=number,
        to=address,
        kind=kind,
        sender=letter.studio_email,
        actor=seat.actor,
        now=seat.now,
    )


def must_have_server(request: Request) -> None:
    """409 where no mail server is set."""
    settings: Settings = request.app.state.settings
    if settings.mail_server is None:
        raise Declined(409, "No mail server is set here. Take the letter as a file and send it yourself.")


def call_postman(request: Request) -> None:
    """Say to the app's own postman, where it has one, that a letter waits."""
    postman: Postman | None = request.app.state.postman
    if postman is not None:
        postman.call()


def _done(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, Any],
    *,
    fields: dict[str, str],
    work: Callable[[Session], Answer],
) -> Response:
    """Do `work` once and lead on; what cannot be sent brings the page again with what was typed."""
    try:
        with session(seat.engine) as book:
            answer = do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        return quote_shown(request, seat, number, to_put_right(found.errors, fields), 422)
    except (QuoteSuperseded, QuoteRunOut, MailNotRefused, NothingToRemind) as refused:
        why = declined(refused)
    except Declined as refused:
        why = refused
    else:
        call_postman(request)
        return answer
    said = Said(heading="Nothing was sent", sentences=(why.errors[0].message,), typed=fields)
    return quote_shown(request, seat, number, said, why.status_code)
