"""The customer's page: one quote behind a link that nobody can guess, and room to say yes or no."""

import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from fastapi import APIRouter
from sqlalchemy import Engine
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio import clock
from studio.book.agreed_errors import AnswerLinkSpent, VariantNotSaid, VariantUnknown
from studio.book.answer_link_tables import Reply
from studio.book.answer_links import AnswerLink, answer_link, say_no, say_yes
from studio.book.answer_tries import count_no, count_wrong_key, refuse_many_keys, refuse_many_noes
from studio.book.engine import session
from studio.book.errors import (
    MoveRefused,
    QuoteAnswered,
    QuoteExpired,
    QuotePdfNotYet,
    QuoteSuperseded,
    SignInWaits,
)
from studio.book.quote_paper import paper_of_issued
from studio.book.quotes import QuoteState, put_pdf, quote_pdf
from studio.book.studio import time_zone
from studio.craft.errors import Refused
from studio.papers.quote import quote_to_print
from studio.papers.quote_parts import QuotePaper
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.days import full_day_words
from studio.web.errors import Declined, in_words
from studio.web.printing import printer_of
from studio.web.render import page
from studio.web.wording import counted, opened

router = APIRouter()

_KEY = re.compile(r"[A-Za-z0-9_-]{20,80}")


@dataclass(frozen=True, slots=True)
class AnswerPage:
    """The page. `asks` while it waits for an answer; else `said` tells how it stands.

    Neither name nor tick is ever filled in before: whatever follows links and sends forms as they were served
    changes nothing.
    """

    title: str
    heading: str
    paper: QuotePaper
    of: str
    until: str
    asks: bool
    said: str
    pdf_href: str
    variants: tuple[Choice, ...]
    name: str = ""
    variant: str = ""
    words: str = ""
    errors: dict[str, str] = field(default_factory=dict)

    @property
    def error_heading(self) -> str:
        """'Two things to put right'."""
        lines = self.error_lines
        return opened(counted(len(lines), "thing to put right", "things to put right")) if lines else ""

    @property
    def error_lines(self) -> tuple[ErrorLine, ...]:
        """Each thing to put right, with its field."""
        return tuple(ErrorLine(f"#f-{name}", words) for name, words in self.errors.items())


@router.get("/answer/{key}", response_class=HTMLResponse)
def shown(request: Request, key: str) -> Response:
    """The ring, its size and how it was measured, the price, the day, the terms; and the two answers."""
    with session(_engine(request)) as book:
        found = _opened(request, book, key)
        return _page(request, book, key, found)


@router.post("/answer/{key}", response_class=HTMLResponse)
async def answered(request: Request, key: str, typed: Typed) -> Response:
    """Take the answer: a yes only with a name and a tick, a no only with a word.

    So neither form, sent as it was served, answers anything. A yes keeps the hash of the paper, which is
    there before the yes.
    """
    texts = {name: _text(typed, name) for name in ("name", "variant", "words", "read", "act")}
    if texts["act"] == "yes":
        await _paper_there(request, key)
    return await run_in_threadpool(_taken, request, key, texts)


@router.get("/answer/{key}/quote.pdf", response_class=Response)
async def paper(request: Request, key: str) -> Response:
    """The paper of the quote, byte for byte as it was issued."""
    number, kept = await _paper_there(request, key)
    headers = {"Content-Disposition": f'inline; filename="quote-{number}.pdf"'}
    return Response(kept, media_type="application/pdf", headers=headers)


def _taken(request: Request, key: str, texts: dict[str, str]) -> Response:
    """The page after an answer, or with what it still wants."""
    now = clock.now()
    with session(_engine(request)) as book:
        found = _opened(request, book, key)
        if not found.is_open(now):
            return _page(request, book, key, found, texts, status=409)
        if errors := _errors(texts, found):
            return _page(request, book, key, found, texts, errors=errors, status=422)
        try:
            if texts["act"] == "no":
                _count_no(book, key, now)
                found = say_no(book, key=key, words=texts["words"], address=_address(request), now=now)
            else:
                found = say_yes(
                    book,
                    key=key,
                    name=texts["name"],
                    variant=texts["variant"] or None,
                    address=_address(request),
                    now=now,
                )
        except Refused as refused:
            told = {error.field or "name": error.message for error in in_words(refused)}
            return _page(request, book, key, found, texts, errors=told, status=422)
        except (VariantNotSaid, VariantUnknown):
            told = {"variant": "Which one do you choose?"}
            return _page(request, book, key, found, texts, errors=told, status=422)
        except (QuoteAnswered, QuoteSuperseded, QuoteExpired, MoveRefused):
            return _page(request, book, key, answer_link(book, key), status=409)
        return _page(request, book, key, found)


def _opened(request: Request, book: Session, key: str) -> AnswerLink:
    """What the key opens. 404 where it opens nothing, 429 after many such from one address.

    A key that opens something is never kept waiting: many customers may come from one address.
    """
    now, address = clock.now(), _address(request)
    try:
        return answer_link(book, key if _KEY.fullmatch(key) else "")
    except AnswerLinkSpent:
        try:
            refuse_many_keys(book, address=address, now=now)
        except SignInWaits as waits:
            raise _wait(waits, now, "Too many wrong links came from here. Wait a little.") from None
        count_wrong_key(book, address=address, now=now)
        raise Declined(404, "This page is not there any more. Ask us for a new link.") from None


def _count_no(book: Session, key: str, now: datetime) -> None:
    """Write down that a no is sent; one link may send twenty, then each costs time."""
    try:
        refuse_many_noes(book, key=key, now=now)
    except SignInWaits as waits:
        raise _wait(waits, now, "Many answers came by this link. Wait a little, or call us.") from None
    count_no(book, key=key, now=now)


def _wait(waits: SignInWaits, now: datetime, words: str) -> Declined:
    seconds = max(1, round((waits.until - now) / timedelta(seconds=1)) + 1)
    return Declined(429, words, headers={"Retry-After": str(seconds)})


def _errors(texts: dict[str, str], found: AnswerLink) -> dict[str, str]:
    """What a yes still wants: a name, the tick, and which variant where there is a choice; a no its word."""
    if texts["act"] == "no":
        return {} if texts["words"].strip() else {"words": "Say in a word what should be otherwise."}
    errors: dict[str, str] = {}
    keys = [one.key for one in found.quote.variants]
    if keys and texts["variant"] not in keys:
        errors["variant"] = "Which one do you choose?"
    if not texts["name"].strip():
        errors["name"] = "Your name, as you would sign it."
    if not texts["read"]:
        errors["read"] = "Tick that you have read size, price and terms."
    return errors


def _page(
    request: Request,
    book: Session,
    key: str,
    found: AnswerLink,
    texts: dict[str, str] | None = None,
    *,
    errors: dict[str, str] | None = None,
    status: int = 200,
) -> HTMLResponse:
    now = clock.now()
    typed = texts or {}
    paper = paper_of_issued(book, found.quote.number)
    heading = f"Your {'rings' if paper.has_several else 'ring'}, {paper.customer}"
    context = AnswerPage(
        title=heading,
        heading=heading,
        paper=paper,
        of=f"{paper.kind} {paper.number}, of {paper.issued}",
        until=full_day_words(found.quote.valid_until),
        asks=found.is_open(now),
        said=_said(found, time_zone(book), now),
        pdf_href=f"/answer/{key}/quote.pdf",
        variants=()
        if paper.variants is None
        else tuple(Choice(one.key, f"{one.title}, {one.total}") for one in paper.variants.columns),
        name=typed.get("name", ""),
        variant=typed.get("variant", ""),
        words=typed.get("words", ""),
        errors=errors or {},
    )
    return page(request, "answer/page.html", context, status=status)


def _said(found: AnswerLink, zone: str, now: datetime) -> str:
    """How it stands, for the customer."""
    answer = found.answer
    if answer is not None and answer.reply is Reply.YES:
        day = full_day_words(clock.day_of(answer.at, zone))
        return f"You said yes on {day}, as {answer.name}. Thank you: we will be in touch about the deposit."
    if found.quote.state is QuoteState.AGREED:
        return "This quote has been agreed."
    if found.quote.state is QuoteState.SUPERSEDED:
        return "This quote no longer stands. Ask us for the one that does."
    if found.quote.has_expired(now):
        return "This quote has ended. Ask us for a new one."
    if answer is not None:
        return "You told us that it is not right yet. We will be in touch; you can still say yes."
    return ""


async def _paper_there(request: Request, key: str) -> tuple[str, bytes]:
    """The number of the quote and its paper, which is made now where nobody asked for it before."""
    number, kept = await run_in_threadpool(_kept_paper, request, key)
    if kept is None:
        told = await run_in_threadpool(_paper_to_print, request, number)
        fresh = await printer_of(request).pdf(quote_to_print(told))
        kept = await run_in_threadpool(_keep_paper, request, number, fresh)
    return number, kept


def _kept_paper(request: Request, key: str) -> tuple[str, bytes | None]:
    with session(_engine(request)) as book:
        number = _opened(request, book, key).quote.number
        try:
            return number, quote_pdf(book, number)
        except QuotePdfNotYet:
            return number, None


def _paper_to_print(request: Request, number: str) -> QuotePaper:
    with session(_engine(request)) as book:
        return paper_of_issued(book, number)


def _keep_paper(request: Request, number: str, fresh: bytes) -> bytes:
    with session(_engine(request)) as book:
        put_pdf(book, number=number, pdf=fresh, now=clock.now())
        return quote_pdf(book, number)


def _text(typed: dict[str, object], name: str) -> str:
    value = typed.get(name)
    return value[:2000] if isinstance(value, str) else ""


def _address(request: Request) -> str:
    return request.client.host if request.client else "unknown"


def _engine(request: Request) -> Engine:
    engine: Engine = request.app.state.engine
    return engine
