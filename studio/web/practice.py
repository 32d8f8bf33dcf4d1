"""The studio's practice: its figures of the trade, from which day they hold, and how they came to be."""

import secrets
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.practices import (
    PracticeEntry,
    newest_version,
    practice_history,
    practice_on,
    put_practice,
)
from studio.craft.errors import Refused
from studio.craft.practice import COMMON_PRACTICE
from studio.craft.roles import Right
from studio.papers.days import full_day_words
from studio.web.bodies import Typed
from studio.web.counter_page import ErrorLine
from studio.web.days import read_date
from studio.web.errors import FieldErrors, Findings, in_words
from studio.web.many_forms import lines_of
from studio.web.once import do_once
from studio.web.practice_form import (
    PracticeForm,
    field_words,
    practice_form,
    practice_texts,
    read_practice,
)
from studio.web.practice_words import changes_words
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, both_versions, to_put_right, typed_texts
from studio.web.texts import read_text
from studio.web.wording import hour_words

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_RATES)]
LISTED = 20
"""Changes a page of the history shows."""
_NOTHING = Said()


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One change of the practice: from which day, what it changed, where it comes from, by whom and when."""

    from_day: str
    changes: tuple[str, ...]
    source: str
    put_in: str


@dataclass(frozen=True, slots=True)
class PracticePage:
    """The page. `version` is the newest change by then, `shown_on` the day whose figures the form shows."""

    title: str
    heading: str
    heading_note: str
    form: PracticeForm
    version: int
    shown_on: str
    holds: str
    to_come: tuple[ChangeLine, ...]
    history: tuple[ChangeLine, ...]
    older_href: str
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str
    href: str = "/studio/practice"
    studio_href: str = "/studio"
    fits_href: str = "/studio/practice/fit"


@router.get("/studio/practice", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page. `?before=12` turns the history."""
    return _page(request, seat, before=_place(request.query_params.get("before", "")))


@router.post("/studio/practice", response_class=HTMLResponse)
def put(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Let what was typed otherwise than it stood hold from the day that is given."""
    texts = typed_texts(typed, *field_words())

    def work(book: Session) -> Answer:
        found = Findings()
        day = found.take(lambda: read_date(texts["from_day"], "from_day", today=seat.today)) or seat.today
        source = found.take(lambda: read_text(texts["source"], "source", longest=300)) or ""
        base = practice_on(book, day)
        shown_on = practice_on(book, _day(typed.get("shown_on"), seat.today))
        practice = found.take(lambda: read_practice(texts, shown_on, base)) or base
        version = found.take(lambda: read_id(typed.get("version"), "version"))
        found.stop()
        put_practice(
            book,
            practice=practice,
            from_day=day,
            source=source,
            version=version,
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(303, "", "/studio/practice#changes")

    try:
        with session(seat.engine) as book:
            key = typed.get("idempotency_key")
            return do_once(request, seat, book, lambda: work(book), form_key=key)
    except FieldErrors as found:
        return _page(request, seat, to_put_right(found.errors, texts), 422)
    except Refused as refused:
        return _page(request, seat, to_put_right(in_words(refused), texts), 422)
    except VersionStale:
        return _page(request, seat, _meanwhile(seat, texts), 409)


def _page(
    request: Request, seat: Seat, said: Said = _NOTHING, status: int = 200, *, before: int | None = None
) -> HTMLResponse:
    with session(seat.engine) as book:
        practice = practice_on(book, seat.today)
        version = newest_version(book)
        entries = practice_history(book, before=before, limit=LISTED + 1)
        ahead = practice_history(book, after_day=seat.today)
    listed = entries[:LISTED]
    words = field_words()
    context = PracticePage(
        title=f"{said.heading}: Practice" if said.heading else "Practice",
        heading="Practice",
        heading_note="The studio's own figures of the trade, by which every ring is reckoned",
        form=practice_form(practice, said, full_day_words(seat.today)),
        version=version,
        shown_on=seat.today.isoformat(),
        holds=_holds(bool(practice.said), practice.stated_on),
        to_come=tuple(_line(entry, seat) for entry in reversed(ahead)),
        history=tuple(_line(entry, seat) for entry in listed),
        older_href=f"/studio/practice?before={listed[-1].id}#changes" if len(entries) > LISTED else "",
        said=said,
        error_lines=lines_of(said, words),
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "practice/page.html", context, place=Place.STUDIO, status=status)


def _holds(is_changed: bool, stated_on: date) -> str:  # noqa: FBT001  one fact of two, named at its one call
    common = full_day_words(COMMON_PRACTICE.stated_on)
    if not is_changed:
        return f"All of it is common practice, no source, as written down on {common}."
    return (
        f"As it holds since {full_day_words(stated_on)}. "
        f"A figure without a word below it is common practice, no source, written down on {common}."
    )


def _line(entry: PracticeEntry, seat: Seat) -> ChangeLine:
    return ChangeLine(
        full_day_words(entry.since),
        changes_words(entry.changed),
        entry.source,
        f"{hour_words(entry.entered_at, seat.zone, seat.today)}, {entry.entered_by}",
    )


def _meanwhile(seat: Seat, texts: dict[str, str]) -> Said:
    """Somebody else changed the practice since the form was made: both versions, nothing lost."""
    with session(seat.engine) as book:
        stands = practice_texts(practice_on(book, seat.today))
    names = field_words()
    return Said(
        heading="Somebody else changed the practice meanwhile",
        sentences=(
            "Nothing of yours was saved yet. What you typed still stands below; save it again to keep it.",
        ),
        versions=both_versions(
            names, texts, {name: stands.get(name, "") for name in texts if name in stands}
        ),
        typed=texts,
    )


def _day(typed: object, today: date) -> date:
    """The day whose figures the form was made from; what names none is today."""
    try:
        return date.fromisoformat(typed) if isinstance(typed, str) else today
    except ValueError:
        return today


def _place(asked: str) -> int | None:
    return int(asked) if asked.isascii() and asked.isdigit() and len(asked) <= 12 else None
