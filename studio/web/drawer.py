"""The drawer: every piece of stock with its weight and place; put in, put right, set aside, taken out."""

from collections.abc import Callable, Mapping
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import OrderUnknown
from studio.book.piece_errors import PieceTaken
from studio.book.piece_reads import pieces
from studio.book.pieces import put_piece, set_aside, take_out
from studio.book.practices import practice_on
from studio.book.studio import studio
from studio.craft.ledger import Account
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.drawer_page import HREF, NEW, drawer_page, piece_texts
from studio.web.errors import FieldError, FieldErrors
from studio.web.keeping import keep
from studio.web.many_forms import meanwhile
from studio.web.piece_reading import WORDS, read_piece
from studio.web.reading import Reading, read_id
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts

router = APIRouter()

_OF_OTHER_FORMS = frozenset({"aside", "why", "to", "ring"})
"""Fields of a piece that stand in forms beside its own."""
Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]


@router.get("/metal", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return drawer_page(request, seat)


@router.post("/metal", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in a piece."""
    return _put(request, seat, typed, NEW)


@router.post("/metal/{piece_id}", response_class=HTMLResponse)
def change(request: Request, seat: Keeper, typed: Typed, piece_id: int) -> Response:
    """Put right what is known of a piece."""
    return _put(request, seat, typed, str(piece_id))


@router.post("/metal/{piece_id}/aside", response_class=HTMLResponse)
def aside(request: Request, seat: Keeper, typed: Typed, piece_id: int) -> Response:
    """Set a piece aside for the order that is typed, or free it where none is."""
    texts = _texts_of(typed, str(piece_id), "aside")

    def work(book: Session) -> None:
        set_aside(
            book,
            piece_id=piece_id,
            order=texts["aside"].strip() or None,
            version=read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )

    return _done(request, seat, typed, str(piece_id), texts=texts, work=work, order_field="aside")


@router.post("/metal/{piece_id}/out", response_class=HTMLResponse)
def out(request: Request, seat: Keeper, typed: Typed, piece_id: int) -> Response:
    """Take a piece out of the drawer for good."""
    texts = _texts_of(typed, str(piece_id), "why", "to", "ring")

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        to = asked.choice("to", Account)
        asked.stop()
        take_out(
            book,
            piece_id=piece_id,
            why=texts["why"],
            to=to or Account.LOSS,
            ring=texts["ring"],
            version=read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )

    return _done(request, seat, typed, str(piece_id), texts=texts, work=work)


def _put(request: Request, seat: Seat, typed: Mapping[str, object], key: str) -> Response:
    texts = _texts_of(typed, key, *(name for name in WORDS if name not in _OF_OTHER_FORMS))

    def work(book: Session) -> None:
        known = next((one for one in pieces(book) if str(one.id) == key), None)
        practice = practice_on(book, seat.today)
        draft = read_piece(texts, practice, studio(book).currency, known, sees_paid=seat.may(Right.SEE_COST))
        put_piece(
            book,
            piece=draft,
            piece_id=None if key == NEW else int(key),
            version=None if key == NEW else read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )

    return _done(request, seat, typed, key, texts=texts, work=work)


def _texts_of(typed: Mapping[str, object], key: str, *names: str) -> dict[str, str]:
    return typed_texts({name: typed.get(f"{name}-{key}") for name in names}, *names)


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    key: str,
    *,
    texts: dict[str, str],
    work: Callable[[Session], None],
    order_field: str = "order",
) -> Response:
    """Do the work once and go back to the page, or show it with what is to be put right."""

    def known_orders(book: Session) -> None:
        try:
            work(book)
        except OrderUnknown as unknown:
            raise FieldErrors([FieldError(order_field, declined(unknown).errors[0].message)]) from None

    def again(said: Said, status: int) -> Response:
        return drawer_page(request, seat, said, status, key)

    try:
        return keep(
            request,
            seat,
            typed,
            texts=texts,
            words=WORDS,
            href=HREF,
            work=known_orders,
            again=again,
            stands=lambda book: _stands(book, seat, key),
            heading="Somebody else had this piece in hand meanwhile",
        )
    except PieceTaken as taken:
        with session(seat.engine) as book:
            now = _stands(book, seat, key)
        return again(meanwhile(declined(taken).errors[0].message, WORDS, texts, now), 409)


def _stands(book: Session, seat: Seat, key: str) -> dict[str, str]:
    """The fields of a piece as it is by now; none of one that is not in the drawer."""
    currency = studio(book).currency
    stands = next((piece_texts(one, currency) for one in pieces(book) if str(one.id) == key), {})
    hidden = set() if seat.may(Right.SEE_COST) else {"paid"}
    return {name: text for name, text in stands.items() if name not in hidden}
