"""One order's page and what is done there: moves, dates, and what is still said of its rings."""

from collections.abc import Callable
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import MoveRefused, VersionStale, WhyNot
from studio.book.idempotency import Answer
from studio.book.order_values import Order, OrderChanges
from studio.book.orders import change_order, move_order
from studio.book.orders import order as read_order
from studio.craft.avoiding import read_avoid
from studio.craft.errors import Refused
from studio.craft.orders import State, move_between
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.days import read_date
from studio.web.errors import Declined, FieldError, FieldErrors, Findings, in_words
from studio.web.forms import LONGEST_NOTE, short_text
from studio.web.metal_aside import aside_of_order
from studio.web.moves import right_for
from studio.web.once import do_once
from studio.web.order_calling_off import kept_table, metal_field, read_metal
from studio.web.order_history import history_of
from studio.web.order_mends import costs_of
from studio.web.order_next import is_waivable, reason_field
from studio.web.order_page import order_context
from studio.web.order_versions import two_versions
from studio.web.quotes_reading import at_its_field
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.sheets import Void, void_of
from studio.web.texts import read_text

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_ORDERS)]
LONGEST_REASON = 500


@router.get("/orders/{number}", response_class=HTMLResponse)
def order(request: Request, number: str, seat: Looks, sheet: str = "") -> HTMLResponse:
    """The order read back whole. `?sheet=q1` says by which quote the sheet was made whose code led here."""
    found = _read(seat, number)
    return _shown(request, seat, found, void=void_of(found, sheet))


@router.post("/orders/{number}/moves", response_class=HTMLResponse)
def move(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.SEE_ORDERS)]
) -> Response:
    """Move the order on or back, with the reason where the move asks for one."""
    to = _state(typed.get("to"))
    name = reason_field(to)
    standing = _read(seat, number)
    metal_fields = [name for name in map(metal_field, range(1, len(standing.rings) + 1)) if name in typed]
    fields = typed_texts(typed, name, *metal_fields) if name in typed else {}
    wanted = move_between(standing.state, to)
    if wanted is not None:
        seat.must(right_for(wanted.start, wanted.end))

    def work(book: Session) -> None:
        reason = read_text(typed.get(name), name, longest=LONGEST_REASON)
        move_order(
            book,
            number=number,
            to=to,
            version=version_of(typed),
            reason=reason or None,
            may_waive=seat.may(Right.AGREE),
            metal=read_metal(typed, standing),
            actor=seat.actor,
            now=seat.now,
        )

    return done(request, seat, number, typed, fields=fields, work=work)


@router.post("/orders/{number}/plan", response_class=HTMLResponse)
def plan(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.TAKE_ORDERS)]
) -> Response:
    """Change the bench date and the note, which stay free in every state."""
    fields = typed_texts(typed, "bench_on", "note", "avoid", "collects")

    def work(book: Session) -> None:
        found = Findings()
        bench_on = found.take(lambda: read_date(typed.get("bench_on"), "bench_on", today=seat.today))
        note = found.take(lambda: read_text(typed.get("note"), "note", longest=LONGEST_NOTE, has_lines=True))
        avoid = found.take(lambda: read_avoid(fields["avoid"]))
        collects = found.take(lambda: short_text(typed.get("collects"), "collects"))
        found.stop()
        changes = OrderChanges(bench_on=bench_on, note=note or "", avoid=avoid, collects=collects or "")
        try:
            change_order(
                book,
                number=number,
                version=version_of(typed),
                changes=changes,
                actor=seat.actor,
                now=seat.now,
            )
        except Refused as refused:  # a ring of the order holds what is to be avoided
            raise Refused(*(replace(one, field="avoid") for one in refused.refusals)) from None

    return done(request, seat, number, typed, fields=fields, work=work)


def done(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, object],
    *,
    fields: dict[str, str],
    work: Callable[[Session], None],
) -> Response:
    """Do `work` once and lead back to the order; what cannot be kept comes back with what was typed."""

    def answer(book: Session) -> Answer:
        work(book)
        return Answer(303, "", f"/orders/{number}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: answer(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        return _again(request, seat, number, to_put_right(found.errors, fields), 422)
    except Refused as refused:
        errors = tuple(at_its_field(error) for error in in_words(refused))
        return _again(request, seat, number, to_put_right(errors, fields), 422)
    except MoveRefused as refused:
        return _refused(request, seat, number, refused, fields)
    except VersionStale:
        standing = _read(seat, number)
        return _shown(request, seat, standing, _stale(standing, fields, seat), 409)


def _refused(
    request: Request, seat: Seat, number: str, refused: MoveRefused, fields: dict[str, str]
) -> Response:
    told = declined(refused)
    sentence = told.errors[0].message
    is_waiver = bool(fields) and is_waivable(refused.missing, seat)
    if is_waiver or refused.why is WhyNot.NEEDS_REASON:
        sentence = "Say why, or note the deposit that was paid." if is_waiver else sentence
        errors = (FieldError(reason_field(refused.end), sentence),)
        return _again(request, seat, number, to_put_right(errors, fields), 422)
    said = Said(heading="Nothing was changed", sentences=(sentence,), typed=fields)
    return _again(request, seat, number, said, 409)


def _stale(standing: Order, fields: dict[str, str], seat: Seat) -> Said:
    """Somebody else was here in between: say who did what, and show both versions."""
    last = history_of(standing.history, seat)[0]
    changes = f" ({'; '.join(last.changes)})" if last.changes else ""
    sentence = f"{last.when}: {last.sentence.removesuffix('.')}{changes}."
    return Said(
        heading="Somebody else changed this order meanwhile",
        sentences=(
            sentence,
            "Nothing of yours was saved yet. What you typed still stands below; send it again to keep it.",
        ),
        versions=two_versions(standing, fields),
        typed=fields,
    )


def _again(request: Request, seat: Seat, number: str, said: Said, status: int) -> Response:
    return _shown(request, seat, _read(seat, number), said, status)


def _shown(
    request: Request,
    seat: Seat,
    standing: Order,
    said: Said | None = None,
    status: int = 200,
    *,
    void: Void | None = None,
) -> HTMLResponse:
    context = order_context(
        standing,
        seat,
        said,
        costs_of(standing, seat),
        kept_table(standing, seat),
        aside=aside_of_order(seat, standing.number),
        void=void,
    )
    return page(request, "orders/order.html", context, place=Place.ORDERS, status=status)


def _read(seat: Seat, number: str) -> Order:
    with session(seat.engine) as book:
        return read_order(book, number)


def version_of(typed: dict[str, object]) -> int:
    """The version of the order that a form was filled in on. Raises `FieldErrors`."""
    return read_id(typed.get("version"), "version")


def _state(word: object) -> State:
    if word in set(State):
        return State(str(word))
    raise Declined(422, "We do not know this state. Go back to the order and choose again.")
