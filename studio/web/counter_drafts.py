"""Forms that nobody has finished: kept while they are typed, opened again, thrown away."""

from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio.book.customers import customer as known_customer
from studio.book.drafts import Draft, draft, drafts, finish_draft
from studio.book.engine import session
from studio.book.errors import CustomerUnknown, DraftUnknown, OrderUnknown
from studio.book.orders import order
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.counter_form import CounterForm, flat
from studio.web.counter_keeping import is_draft_key, keep_form
from studio.web.counter_standing import standing_of
from studio.web.render import fragment
from studio.web.security import Seat, requires
from studio.web.wording import since_words

router = APIRouter()

Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]


@dataclass(frozen=True, slots=True)
class Saved:
    """The word beside the buttons: 'Saved 14:05', or why it is not."""

    saved: str
    is_unsaved: bool = False


@dataclass(frozen=True, slots=True)
class UnfinishedForm:
    """One form in the list of those nobody has finished."""

    words: str
    note: str
    href: str
    end_href: str


@router.post("/counter/drafts")
def keep(request: Request, seat: Taker, fields: Typed) -> Response:
    """Keep the form as it stands, and say when. `?order=2026-118&ring=1` says whose ring it shows."""
    form = CounterForm(flat(fields))
    number, position = request.query_params.get("order"), request.query_params.get("ring", "new")
    standing = None
    if number:
        with session(seat.engine) as book:
            standing = standing_of(book, number, position)
    if not keep_form(seat, form, standing):
        return fragment(request, "counter/_saved.html", Saved("Not saved, too long", is_unsaved=True))
    return fragment(request, "counter/_saved.html", Saved(saved_words(seat, form.value("draft"))))


@router.post("/counter/drafts/{key}/end")
def throw_away(seat: Taker, key: str) -> Response:
    """Throw the form away."""
    with session(seat.engine) as book:
        finish_draft(book, key=key, number=None, now=seat.now)
    return RedirectResponse("/orders", status_code=303)


def saved_words(seat: Seat, key: str) -> str:
    """When the form under `key` was last kept: 'Saved 14:05', '' for one that is not."""
    if not is_draft_key(key):
        return ""
    with session(seat.engine) as book:
        try:
            found = draft(book, key)
        except DraftUnknown:
            return ""
    return _saved_words(seat, found)


def opened_again(seat: Seat, key: str) -> tuple[CounterForm, str] | str | None:
    """A form that was kept, with when it was; or the address of the order it became; or None.

    None too for a form that was thrown away, or is not kept any more.
    """
    if not is_draft_key(key):
        return None
    with session(seat.engine) as book:
        try:
            found = draft(book, key)
        except DraftUnknown:
            return None
    if found.is_done:
        return f"/orders/{found.number}" if found.number else None
    return CounterForm({**found.typed, "draft": key}), _saved_words(seat, found)


def key_not_kept_yet(seat: Seat, key: str) -> str:
    """`key`, where nothing was ever kept under it; '' for a form that was, or for what is no key.

    A page that was left before it was kept is opened again under its own key, so that what the browser still
    holds of it finds its way back.
    """
    if not is_draft_key(key):
        return ""
    with session(seat.engine) as book:
        try:
            draft(book, key)
        except DraftUnknown:
            return key
    return ""


def unfinished(book: Session, seat: Seat) -> tuple[UnfinishedForm, ...]:
    """The forms nobody has finished, for those who take orders; nobody else sees a name in them."""
    if not seat.may(Right.TAKE_ORDERS):
        return ()
    return tuple(_line(book, seat, found) for found in drafts(book))


def _saved_words(seat: Seat, found: Draft) -> str:
    if found.is_done and found.number:
        return f"Saved in {found.number}"
    return f"Saved {since_words(found.saved_at, seat.zone, seat.today)}"


def _line(book: Session, seat: Seat, found: Draft) -> UnfinishedForm:
    """'Oda Fenwright, a new order', and by whom and when it was typed."""
    asked = urlencode({"draft": found.key})
    when = since_words(found.saved_at, seat.zone, seat.today)
    what, href = "a new order", f"/orders/new?{asked}"
    name = _name(book, found)
    if found.number is not None:
        ring = found.ring or "new"
        what = f"{found.number}, ring {found.ring}" if found.ring else f"{found.number}, one more ring"
        href = f"/orders/{found.number}/rings/{ring}?{asked}"
    return UnfinishedForm(
        words=f"{name or 'No name yet'}, {what}",
        note=f"{found.person}, {when}",
        href=href,
        end_href=f"/counter/drafts/{found.key}/end",
    )


def _name(book: Session, found: Draft) -> str:
    if found.number is not None:
        try:
            return order(book, found.number).customer.name
        except OrderUnknown:
            return ""
    chosen = found.typed.get("customer.id", "")
    if chosen.isascii() and chosen.isdigit() and len(chosen) < 12:
        try:
            return known_customer(book, int(chosen)).name
        except CustomerUnknown:
            return ""
    return found.typed.get("customer.name", "").strip()[:120]
