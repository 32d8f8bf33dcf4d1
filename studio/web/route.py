"""The way of one ring over the bench: looked at, and changed as far as the rules of order let it."""

import secrets
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.routes import change_route, routes_of
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.craft.route_order import OperationUnknown, RouteRefused
from studio.web.bodies import Typed
from studio.web.counter_standing import standing_of
from studio.web.errors import Declined, FieldErrors, in_words
from studio.web.once import do_once
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.route_page import route_page
from studio.web.route_reading import FIELDS, read_edit, step_asked
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts

router = APIRouter()

Bench = Annotated[Seat, requires(Right.MOVE_ORDERS)]
_NOTHING = Said()
ADD = "add"


@router.get("/orders/{number}/rings/{position}/route", response_class=HTMLResponse)
def shown(request: Request, seat: Bench, number: str, position: str, step: str = "") -> HTMLResponse:
    """Every step of the ring with its reason; `?step=` opens the form of one, 'add' that of a new one."""
    return _page(request, seat, number, position, step=step)


@router.post("/orders/{number}/rings/{position}/route", response_class=HTMLResponse)
def change(request: Request, seat: Bench, number: str, position: str, typed: Typed) -> Response:
    """Change one thing; what would break a rule of order comes back with the reason."""
    texts = typed_texts(typed, *FIELDS)
    step = step_asked(typed.get("do")) or ADD * (typed.get("do") == ADD)

    def work(book: Session) -> Answer:
        standing = standing_of(book, number, position)
        if standing.ring is None:
            raise Declined(404, f"Order {standing.order.number} has no such ring.")
        change_route(
            book,
            number=standing.order.number,
            position=standing.ring.position,
            edit=read_edit(typed, routes_of(book, standing.order)[standing.ring.position]),
            version=read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )
        anchor = f"#step-{step}" if step and step != ADD else ""
        return Answer(303, "", f"/orders/{number}/rings/{position}/route{anchor}")

    def again(said: Said, status: int) -> HTMLResponse:
        return _page(request, seat, number, position, step=step, said=said, status=status)

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        return again(to_put_right(found.errors, texts), 422)
    except Refused as refused:
        return again(to_put_right(in_words(refused), texts), 422)
    except RouteRefused as refused:
        sentences = tuple(refused.reasons)
        return again(Said("The route stays as it is", sentences, typed=texts), 422)
    except OperationUnknown:
        sentence = "That step is not in the route any more. It stands below as it is now."
        return again(Said("Nothing was changed", (sentence,)), 409)
    except VersionStale:
        sentences = ("Somebody else changed this order meanwhile.", "Nothing of yours was saved yet.")
        return again(Said("Changed meanwhile", sentences, typed=texts), 409)


def _page(
    request: Request,
    seat: Seat,
    number: str,
    position: str,
    *,
    step: str = "",
    said: Said = _NOTHING,
    status: int = 200,
) -> HTMLResponse:
    with session(seat.engine) as book:
        standing = standing_of(book, number, position)
        if standing.ring is None:
            raise Declined(404, f"Order {standing.order.number} has no such ring.")
        route = routes_of(book, standing.order)[standing.ring.position]
    context = route_page(
        standing.order, standing.ring, route, said, step=step, form_key=secrets.token_urlsafe(18)
    )
    return page(request, "routes/page.html", context, place=Place.ORDERS, status=status)
