"""Quotes: reading back before one is made, making it, its page, its letter, and the yes to it."""

from collections.abc import Callable
from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from studio.book.answer_links import answers_to
from studio.book.engine import session
from studio.book.errors import (
    BookBusy,
    MoveRefused,
    NotQuotable,
    QuoteAnswered,
    QuoteSuperseded,
)
from studio.book.idempotency import Answer
from studio.book.orders import order as read_order
from studio.book.outbox import check_it_can_go
from studio.book.outbox_errors import QuoteRunOut
from studio.book.quotes import (
    Quote,
    QuoteDraft,
    QuoteTerms,
    agree,
    note_sent,
    paper_of_issued,
    quotable,
    quote,
    quote_breakdowns,
)
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.post import QuoteLetter
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.days import day_words
from studio.web.errors import Declined, FieldErrors, in_words
from studio.web.issuing import issued
from studio.web.letters import letter_of, written
from studio.web.once import do_once
from studio.web.papers import paper_as_issued
from studio.web.quotes_page import quote_page
from studio.web.quotes_read_back import read_back_page
from studio.web.quotes_reading import at_its_field, read_sent, read_terms, read_yes_to
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts

router = APIRouter()

Quoter = Annotated[Seat, requires(Right.QUOTE)]
Looks = Annotated[Seat, requires(Right.SEE_PRICE)]


@router.get("/orders/{number}/read-back", response_class=HTMLResponse)
def read_back(request: Request, number: str, seat: Quoter) -> Response:
    """Everything that will stand on the paper, with the terms as asked: `?valid_days=21&minutes-1=150`."""
    return _read_back(request, seat, number, dict(request.query_params))


@router.post("/orders/{number}/quotes", response_class=HTMLResponse)
async def make(request: Request, number: str, typed: Typed, seat: Quoter) -> Response:
    """Make the quote and lead to its page; what holds it up brings the read-back again."""
    try:
        terms = await run_in_threadpool(_terms, seat, number, typed)
        return await issued(request, seat, number, terms, _made, form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        errors = found.errors
    except Refused as refused:
        errors = in_words(refused)
    except (NotQuotable, BookBusy) as refused:
        why = declined(refused)
        said = Said(heading="No quote was made", sentences=(why.errors[0].message,))
        return await run_in_threadpool(
            _read_back, request, seat, number, _flat(typed), said=said, status=why.status_code
        )
    fields = _flat(typed)
    told = to_put_right(errors, fields)
    return await run_in_threadpool(_read_back, request, seat, number, fields, said=told, status=422)


@router.get("/quotes/{number}", response_class=HTMLResponse)
def quote_by_number(request: Request, number: str, seat: Looks) -> Response:
    """The quote's page."""
    return quote_shown(request, seat, number)


@router.get("/quotes/{number}/letter.eml", response_class=Response)
async def letter(request: Request, number: str, seat: Quoter) -> Response:
    """A letter with the quote attached, for a mail program to open and send. Nothing is sent from here.

    A quote that no longer stands, or has run out, goes to nobody: that is 409.
    """
    words = await run_in_threadpool(_letter, seat, number)
    pdf = await paper_as_issued(request, seat, number)
    mail = written(words, pdf, now=seat.now.astimezone(ZoneInfo(seat.zone)))
    headers = {"Content-Disposition": f'attachment; filename="quote-{number}.eml"'}
    return Response(mail, media_type="message/rfc822", headers=headers)


@router.post("/quotes/{number}/sendings", response_class=HTMLResponse)
def sent(request: Request, number: str, typed: Typed, seat: Quoter) -> Response:
    """Note how the quote left the studio; nothing is sent by this."""

    def work(book: Session) -> Answer:
        told = read_sent(typed)
        note_sent(book, number=number, how=told.how, to=told.to, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/quotes/{number}")

    return _done(request, seat, number, typed, fields=typed_texts(typed, "how", "to"), work=work)


@router.post("/quotes/{number}/agreement", response_class=HTMLResponse)
def agreement(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.AGREE)]
) -> Response:
    """Note the yes said at the counter, with the deposit, or why there is none; else it stays open."""

    def work(book: Session) -> Answer:
        found = quote(book, number)
        keys = tuple(one.key for one in found.variants)
        yes = read_yes_to(typed, found.currency, is_late=found.has_expired(seat.now), variants=keys)
        agreed = agree(
            book,
            quote=number,
            name=yes.name,
            variant=yes.variant,
            deposit=yes.deposit,
            without_deposit=yes.without_deposit,
            reason=yes.reason,
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(303, "", f"/orders/{agreed.number}")

    fields = typed_texts(typed, "name", "variant", "deposit", "deposit_how", "without_deposit", "reason")
    return _done(request, seat, number, typed, fields=fields, work=work)


def _made(found: Quote) -> Answer:
    return Answer(303, "", f"/quotes/{found.number}")


def _done(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, object],
    *,
    fields: dict[str, str],
    work: Callable[[Session], Answer],
) -> Response:
    """Do `work` once and lead on; what cannot be kept brings the page again with what was typed."""
    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        return quote_shown(request, seat, number, to_put_right(found.errors, fields), 422)
    except Refused as refused:
        errors = tuple(at_its_field(error) for error in in_words(refused))
        return quote_shown(request, seat, number, to_put_right(errors, fields), 422)
    except (QuoteSuperseded, QuoteAnswered, MoveRefused) as refused:
        said = Said(
            heading="Nothing was changed", sentences=(declined(refused).errors[0].message,), typed=fields
        )
        return quote_shown(request, seat, number, said, 409)


def quote_shown(
    request: Request,
    seat: Seat,
    number: str,
    said: Said | None = None,
    status: int = 200,
    *,
    fresh_link: str = "",
    fresh_words: str = "",
) -> HTMLResponse:
    """The quote's page, with what is said of what was typed, or a link that was just made.

    `fresh_words` are those of the letter with that link.
    """
    with session(seat.engine) as book:
        found = quote(book, number)
        answers = answers_to(book, number)
        standing = read_order(book, found.order_number)
        paper = paper_of_issued(book, number)
        breakdowns = quote_breakdowns(book, number) if seat.may(Right.SEE_COST) else None
    has_mail = request.app.state.settings.mail_server is not None
    context = quote_page(
        found,
        standing,
        paper,
        seat,
        breakdowns=breakdowns,
        answers=answers,
        fresh_link=fresh_link,
        fresh_words=fresh_words,
        said=said,
        has_mail=has_mail,
    )
    return page(request, "quotes/quote.html", context, place=Place.ORDERS, status=status)


def _read_back(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, str],
    *,
    said: Said | None = None,
    status: int = 200,
) -> Response:
    """The read-back with the terms as typed; terms that cannot stand are put beside those of the rates."""
    told = said or Said()
    draft: QuoteDraft | None = None
    missing: tuple[str, ...] = ()
    with session(seat.engine) as book:
        standing = read_order(book, number)
        try:
            terms = read_terms(typed, standing)
            draft = quotable(book, number, terms=terms, now=seat.now)
        except (FieldErrors, Refused) as found:
            errors = found.errors if isinstance(found, FieldErrors) else in_words(found)
            told = said or to_put_right(errors, typed)
            status = max(status, 422) if said is None else status
        except NotQuotable as waits:
            missing = waits.missing
        except MoveRefused:
            return RedirectResponse(f"/orders/{number}", status_code=303)
        if draft is None and not missing:
            draft, missing = _by_the_rates(book, seat, number)
    context = read_back_page(standing, seat, draft=draft, missing=missing, typed=typed, said=told)
    return page(request, "quotes/read_back.html", context, place=Place.ORDERS, status=status)


def _by_the_rates(book: Session, seat: Seat, number: str) -> tuple[QuoteDraft | None, tuple[str, ...]]:
    """The quote as the rates alone would have it, where the typed terms cannot stand."""
    try:
        return quotable(book, number, now=seat.now), ()
    except NotQuotable as waits:
        return None, waits.missing


def _terms(seat: Seat, number: str, typed: dict[str, object]) -> QuoteTerms:
    with session(seat.engine) as book:
        return read_terms(typed, read_order(book, number))


def _flat(typed: dict[str, object]) -> dict[str, str]:
    return {name: value for name, value in typed.items() if isinstance(value, str)}


def _letter(seat: Seat, number: str) -> QuoteLetter:
    """The words of the letter; refused where the quote goes to nobody any more."""
    with session(seat.engine) as book:
        try:
            check_it_can_go(book, number, now=seat.now)
        except QuoteRunOut as refused:
            until = day_words(refused.valid_until, today=seat.today)
            raise Declined(
                409, f"This quote was good until {until}. Make a new one, then write its letter."
            ) from refused
        return letter_of(book, number)
