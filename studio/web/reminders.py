"""Reminders: whom to remind, and one reminder read, changed, and sent or taken along."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.answer_links import link_for_letter
from studio.book.engine import session
from studio.book.errors import QuoteAnswered, QuoteExpired, QuoteSuperseded
from studio.book.idempotency import Answer
from studio.book.order_numbers import read_number
from studio.book.outbox_errors import NothingToRemind, RemindedLately
from studio.book.outbox_values import LINK_HERE, About, Mail
from studio.book.reminder_reads import to_remind
from studio.book.reminders import Reminding, queue_reminder, take_reminder_along
from studio.craft.roles import Right
from studio.post import ReminderLetter
from studio.settings import Settings
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined, FieldError, FieldErrors
from studio.web.forms import long_text
from studio.web.letters import answer_address, linked, written
from studio.web.mails import call_postman, must_have_server
from studio.web.once import do_once
from studio.web.papers import paper_as_issued
from studio.web.reading import Reading
from studio.web.reminder_letters import ReminderDraft, Wording, drafted, reminder_letter
from studio.web.reminders_page import reminder_page, reminders_list_page
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_email

router = APIRouter()

Quoter = Annotated[Seat, requires(Right.QUOTE)]
LONGEST_WORDS = 4000
_CHANGED = (QuoteAnswered, QuoteSuperseded, QuoteExpired)


@dataclass(frozen=True, slots=True)
class Here:
    """Who asks for which reminder."""

    request: Request
    seat: Seat
    number: str
    about: About


@dataclass(frozen=True, slots=True)
class Ready:
    """A reminder as it was read: its `draft`, what goes out, and whether a second within a day is meant."""

    draft: ReminderDraft
    asked: Reminding
    letter: ReminderLetter
    is_again: bool


@router.get("/reminders", response_class=HTMLResponse)
def reminders(request: Request, seat: Quoter) -> HTMLResponse:
    """Whom to remind, three lists. `?kind=deposit&after=2026-118` goes on with one of them."""
    asked = request.query_params
    kind, after = asked.get("kind", ""), asked.get("after", "")
    kinds = tuple(about for about in About if about == kind) or tuple(About)
    is_part = len(kinds) == 1
    start = after if is_part and read_number(after) is not None else None
    with session(seat.engine) as book:
        found = [(about, to_remind(book, about, today=seat.today, after=start)) for about in kinds]
    context = reminders_list_page(found, seat, is_part=is_part)
    return page(request, "reminders/page.html", context, place=Place.IN_HAND)


@router.get("/orders/{number}/reminders/{kind}", response_class=HTMLResponse)
def reminder(request: Request, number: str, kind: str, seat: Quoter) -> Response:
    """One reminder, its text ready to read and to change."""
    return _shown(Here(request, seat, number, about_of(kind)))


@router.post("/orders/{number}/reminders/{kind}", response_class=HTMLResponse)
def send(request: Request, number: str, kind: str, typed: Typed, seat: Quoter) -> Response:
    """Queue the reminder as it was typed."""
    about = about_of(kind)
    here = Here(request, seat, number, about)

    def work() -> Response:
        with session(seat.engine) as book:
            answer = do_once(request, seat, book, lambda: queued(book), form_key=typed.get("idempotency_key"))
        call_postman(request)
        return answer

    def queued(book: Session) -> Answer:
        must_have_server(request)
        put_in_outbox(book, seat, read_reminder(book, seat, number, about, typed, needs_address=True))
        return Answer(303, "", f"/orders/{number}/reminders/{about}")

    return _or_told(here, typed, work)


@router.post("/orders/{number}/reminders/{kind}/text", response_class=HTMLResponse)
def text_to_copy(request: Request, number: str, kind: str, typed: Typed, seat: Quoter) -> Response:
    """Show the text as it was typed, its link made, this once, to be copied; and note that it was."""
    about = about_of(kind)
    here = Here(request, seat, number, about)

    def work() -> Response:
        with session(seat.engine) as book:
            ready = read_reminder(book, seat, number, about, typed)
            letter = _taken_along(request, book, seat, ready)
        said = Said(typed=_typed(typed))
        return _shown(here, said, fresh=letter.words)

    return _or_told(here, typed, work)


@router.post("/orders/{number}/reminders/{kind}/letter.eml", response_class=Response)
async def letter_file(request: Request, number: str, kind: str, typed: Typed, seat: Quoter) -> Response:
    """Give the reminder as a file for a mail program, its link made; and note that it was taken along."""
    about = about_of(kind)
    here = Here(request, seat, number, about)
    pdf: bytes | None = None
    if about is About.QUOTE:
        quote_number = await run_in_threadpool(_quote_of, seat, number)
        pdf = None if quote_number is None else await paper_as_issued(request, seat, quote_number)

    def work() -> Response:
        with session(seat.engine) as book:
            letter = _taken_along(request, book, seat, read_reminder(book, seat, number, about, typed))
        mail = written(letter, pdf, now=seat.now.astimezone(ZoneInfo(seat.zone)))
        headers = {"Content-Disposition": f'attachment; filename="reminder-{number}.eml"'}
        return Response(mail, media_type="message/rfc822", headers=headers)

    return await run_in_threadpool(_or_told, here, typed, work)


def about_of(kind: str) -> About:
    """What the reminder asks for, by its word in the address; 404 for none."""
    if kind not in set(About):
        raise Declined(404, "There is a reminder of a quote, a deposit or a balance, and no other.")
    return About(kind)


def read_reminder(
    book: Session,
    seat: Seat,
    number: str,
    about: About,
    typed: dict[str, Any],
    *,
    needs_address: bool = False,
) -> Ready:
    """The reminder with what was typed; left out, the customer's address and our words.

    Written once now, so that what cannot be sent is told at once. Raises `FieldErrors`, `Declined`, and what
    `drafted` raises.
    """
    draft = drafted(book, number, about, now=seat.now)
    asked = Reading(typed, "")
    to = asked.read("to", read_email) if "to" in typed else draft.order.customer.email
    words = asked.read("words", long_text(LONGEST_WORDS)) if "words" in typed else draft.words
    is_again = asked.yes("again")
    if needs_address and not to and not asked.is_wrong("to"):
        asked.add("to", "To which address does it go?")
    if not words and not asked.is_wrong("words"):
        asked.add("words", "The letter says nothing yet.")
    if wrong := draft.wrong_link(words or ""):
        asked.add("words", wrong.message)
    asked.stop()
    wording = Wording(draft.said.quote, to or "", draft.subject, words or "")
    letter = reminder_letter(book, wording)
    written(letter, None, now=seat.now)
    reminding = Reminding(number, about, to or "", draft.subject, words or "")
    return Ready(draft, reminding, letter, bool(is_again))


def put_in_outbox(book: Session, seat: Seat, ready: Ready) -> Mail:
    """Queue a reminder that was read. Raises `RemindedLately`, `NothingToRemind`."""
    return queue_reminder(
        book,
        asked=ready.asked,
        sender=ready.letter.studio_email,
        is_again=ready.is_again,
        actor=seat.actor,
        now=seat.now,
    )


def _taken_along(request: Request, book: Session, seat: Seat, ready: Ready) -> ReminderLetter:
    """Note that it is taken along, and give the letter with a link of its own where its words want one."""
    take_reminder_along(
        book,
        asked=ready.asked,
        sender=ready.letter.studio_email,
        is_again=ready.is_again,
        actor=seat.actor,
        now=seat.now,
    )
    if LINK_HERE not in ready.asked.words:
        return ready.letter
    key = link_for_letter(book, number=ready.draft.said.quote, actor=seat.actor, now=seat.now)
    settings: Settings = request.app.state.settings
    letter = linked(ready.letter, answer_address(settings.base_url, key))
    if not isinstance(letter, ReminderLetter):
        raise TypeError("a reminder became another letter")
    return letter


def _or_told(here: Here, typed: dict[str, Any], work: Callable[[], Response]) -> Response:
    """What `work` gives; what cannot be brings the page again with what was typed."""
    fields = _typed(typed)
    try:
        return work()
    except FieldErrors as found:
        return _shown(here, to_put_right(found.errors, fields), 422)
    except RemindedLately:
        error = FieldError("again", "They were reminded of this within the last day. Tick if it is meant.")
        return _shown(here, to_put_right([error], fields), 409)
    except _CHANGED as refused:
        why = declined(refused)
    except Declined as refused:
        why = refused
    said = Said(heading="Nothing was sent", sentences=(why.errors[0].message,), typed=fields)
    return _shown(here, said, why.status_code)


def _shown(here: Here, said: Said | None = None, status: int = 200, *, fresh: str = "") -> HTMLResponse:
    request, seat = here.request, here.seat
    with session(seat.engine) as book:
        draft = drafted(book, here.number, here.about, now=seat.now)
    has_mail = request.app.state.settings.mail_server is not None
    context = reminder_page(draft, seat, has_mail=has_mail, said=said, fresh=fresh)
    return page(request, "reminders/reminder.html", context, place=Place.IN_HAND, status=status)


def _quote_of(seat: Seat, number: str) -> str | None:
    """The quote a reminder of it goes with, None where nothing is due: that is told with the rest."""
    with session(seat.engine) as book:
        try:
            return drafted(book, number, About.QUOTE, now=seat.now).said.quote
        except NothingToRemind:
            return None


def _typed(typed: dict[str, Any]) -> dict[str, str]:
    return typed_texts(typed, "to", "words", "again")
