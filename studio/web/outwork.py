"""Work done outside: what is out and when it is due, a slip to send more, and what came back."""

from collections.abc import Mapping
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.outwork import Back, Sending, send_out, slip_kept, take_back
from studio.book.studio import currency_of
from studio.book.whereabouts_errors import (
    BackAlready,
    NothingToSend,
    OutworkerUnknown,
    PlaceUnknown,
    ThingOut,
    ThingUnknown,
)
from studio.craft.designs import Limits
from studio.craft.outwork import LONGEST_CONDITION, LONGEST_WHAT, LONGEST_WORKER
from studio.craft.roles import Right
from studio.papers.outwork_slip import SlipFacts, slip_to_print
from studio.papers.quote_facts import Letterhead
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.days import read_date
from studio.web.errors import FieldError, FieldErrors
from studio.web.keeping import keep
from studio.web.outwork_page import BACK_WORDS, HREF, NEW, NOTHING, WORDS, read_outwork_page
from studio.web.printing import printed_while_asked
from studio.web.reading import Reading, read_id, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

MOST_G = Limits(0.001, 10_000)
Sees = Annotated[Seat, requires(Right.MOVE_ORDERS)]


@router.get("/outwork", response_class=HTMLResponse)
def shown(request: Request, seat: Sees) -> HTMLResponse:
    """What is out, and the form for more of the order `?order=`."""
    return _page(request, seat, request.query_params.get("order", ""))


@router.post("/outwork", response_class=HTMLResponse)
def sent(request: Request, typed: Typed, seat: Sees) -> Response:
    """Things leave the house with a slip."""
    texts = typed_texts({name: typed.get(f"{name}-{NEW}") for name in WORDS}, *WORDS)
    number = texts["order"].strip()[:40]
    things = tuple(str(value) for name, value in sorted(typed.items()) if name.startswith("thing-") and value)

    def work(book: Session) -> None:
        sending = _read(texts, things, currency_of(book), seat)
        try:
            send_out(book, number=number, sending=sending, actor=seat.actor, now=seat.now)
        except (ThingOut, ThingUnknown, NothingToSend, OutworkerUnknown) as refused:
            field = "worker" if isinstance(refused, OutworkerUnknown) else "things"
            raise FieldErrors([FieldError(field, declined(refused).errors[0].message)]) from refused

    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(
            request, seat, number, said=said, status=status, key=NEW, chosen=things
        ),
    )


@router.post("/outwork/{number}/back", response_class=HTMLResponse)
def came_back(request: Request, typed: Typed, seat: Sees, number: str) -> Response:
    """What went out by this slip is in the house again."""
    texts = typed_texts({name: typed.get(f"{name}-{number}") for name in BACK_WORDS}, *BACK_WORDS)

    def work(book: Session) -> None:
        back = _read_back(texts, currency_of(book), seat)
        try:
            take_back(book, number=number, back=back, actor=seat.actor, now=seat.now)
        except (BackAlready, PlaceUnknown) as refused:
            raise FieldErrors([FieldError("place", declined(refused).errors[0].message)]) from refused

    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=BACK_WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(request, seat, "", said=said, status=status, key=number),
    )


@router.get("/outwork/{number}.pdf", response_class=Response)
async def slip_paper(request: Request, seat: Sees, number: str) -> Response:
    """The slip as it was kept when the things went out."""
    facts = await run_in_threadpool(_facts, seat, number)
    paper = await printed_while_asked(request, slip_to_print(facts))
    return Response(
        paper,
        media_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="slip-{facts.number}.pdf"'},
    )


def _facts(seat: Seat, number: str) -> SlipFacts:
    with session(seat.engine) as book:
        kept = slip_kept(book, number)
    return SlipFacts(
        studio=Letterhead(**kept["studio"]),
        number=kept["number"],
        order_number=kept["order"],
        issued_on=date.fromisoformat(kept["issued_on"]),
        worker=kept["worker"],
        things=tuple(kept["things"]),
        what=kept["what"],
        held_by=kept["held_by"],
        by=kept["by"],
        value_minor=kept["value_minor"],
        currency=kept["currency"],
        weight_mg=kept["weight_mg"],
        due_on=date.fromisoformat(kept["due_on"]),
    )


def _read(texts: Mapping[str, str], things: tuple[str, ...], currency: str, seat: Seat) -> Sending:
    asked = Reading(texts, "")
    worker = asked.needed("worker", read_id, "outside worker")
    what = asked.read(
        "what", lambda value, field: read_text(value, field, longest=LONGEST_WHAT, has_lines=True)
    )
    value = asked.needed("value", read_amount(currency), "value")
    due_on = asked.needed(
        "due_on", lambda value, field: read_date(value, field, today=seat.today), "day it is due"
    )
    weight = asked.mass("weight_g", MOST_G)
    has_cost = seat.may(Right.SEE_COST) and asked.has("expected")
    expected = asked.read("expected", read_amount(currency)) if has_cost else None
    held_by = asked.read("held_by", lambda value, field: read_text(value, field, longest=LONGEST_WORKER))
    if not things:
        asked.add("things", "Choose what goes out.")
    asked.stop()
    return Sending(
        things=things,
        outworker_id=sure(worker),
        what=what or "",
        value_minor=sure(value),
        due_on=sure(due_on),
        weight_mg=None if weight is None else round(weight * 1000),
        expected_minor=expected,
        held_by=held_by or "",
    )


def _read_back(texts: Mapping[str, str], currency: str, seat: Seat) -> Back:
    asked = Reading(texts, "")
    weight = asked.mass("weight_g", MOST_G)
    has_cost = seat.may(Right.SEE_COST) and asked.has("cost")
    cost = asked.read("cost", read_amount(currency)) if has_cost else None
    condition = asked.read(
        "condition", lambda value, field: read_text(value, field, longest=LONGEST_CONDITION, has_lines=True)
    )
    place = asked.read("place", lambda value, field: None if value is None else read_id(value, field))
    asked.stop()
    return Back(None if weight is None else round(weight * 1000), cost, condition or "", place)


def _page(
    request: Request,
    seat: Seat,
    order: str,
    *,
    said: Said = NOTHING,
    status: int = 200,
    key: str = "",
    chosen: tuple[str, ...] = (),
) -> HTMLResponse:
    with session(seat.engine) as book:
        context = read_outwork_page(book, seat, order, said=said, key=key, chosen=chosen)
    return page(request, "outwork/page.html", context, place=Place.ORDERS, status=status)
