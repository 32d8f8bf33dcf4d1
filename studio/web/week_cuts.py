"""What is booked as cut from the week's page, undone there, and the search that is ended there."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from studio.book.cuts import PieceToCut, book_cut, undo_cut
from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.piece_errors import CutKept, NotToCut, PieceGone, PieceUnknown
from studio.book.practices import practice_on
from studio.craft.roles import Right
from studio.craft.units import to_micrometres
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined
from studio.web.once import do_once
from studio.web.plan_board import PlanBoard
from studio.web.security import Seat, requires
from studio.web.week import week_page
from studio.web.week_reading import kerf_of, read_window, week_at_hand

router = APIRouter()

Cutter = Annotated[Seat, requires(Right.KEEP_DRAWER)]
_REFUSED = (NotToCut, PieceGone, PieceUnknown, VersionStale, CutKept)


@router.post("/week/plan/stop", response_class=HTMLResponse)
async def stop(request: Request, seat: Cutter) -> Response:
    """End the search with what was found."""
    asked = read_window(request, seat)
    hand = await run_in_threadpool(week_at_hand, seat, asked)
    board: PlanBoard = request.app.state.plan_board
    for group in hand.groups:
        await board.cancel(group)
    return RedirectResponse(asked.href, status_code=303)


@router.post("/week/cuts", response_class=HTMLResponse)
async def book(request: Request, seat: Cutter, typed: Typed) -> Response:
    """Book the pieces that are sent as cut."""
    return await _done(request, seat, typed, read_cuts(typed))


@router.post("/week/cuts/{cut_id}/undo", response_class=HTMLResponse)
async def undo(request: Request, seat: Cutter, typed: Typed, cut_id: int) -> Response:
    """Take a booking back."""
    return await _done(request, seat, typed, cut_id)


async def _done(
    request: Request, seat: Seat, typed: Mapping[str, object], asked: Sequence[PieceToCut] | int
) -> Response:
    """Book or undo in a thread and go back to the week, or show it with what is the matter."""
    window = read_window(request, seat)

    def work() -> Response:
        with session(seat.engine) as opened:

            def at_once() -> Answer:
                if isinstance(asked, int):
                    undo_cut(opened, cut_id=asked, actor=seat.actor, now=seat.now)
                else:
                    kerf_um = to_micrometres(kerf_of(window, practice_on(opened, seat.today)))
                    book_cut(opened, cuts=asked, kerf_um=kerf_um, actor=seat.actor, now=seat.now)
                return Answer(303, "", f"{window.href}#booked")

            return do_once(request, seat, opened, at_once, form_key=typed.get("idempotency_key"))

    try:
        return await run_in_threadpool(work)
    except _REFUSED as refused:
        told = declined(refused).errors[0].message
        return await week_page(request, seat, replace(window, told=told, status=409))


def read_cuts(typed: Mapping[str, object]) -> tuple[PieceToCut, ...]:
    """The pieces of a form; 422 for what no page of ours sends."""
    try:
        sent = json.loads(str(typed.get("cuts", "")))
        return tuple(
            PieceToCut(
                _whole(one["piece"]),
                _whole(one["version"]),
                tuple(
                    (_whole(width), tuple((str(name), _whole(length)) for name, length in blanks))
                    for width, blanks in one["strips"]
                ),
            )
            for one in sent
        )
    except (ValueError, TypeError, KeyError, RecursionError):
        raise Declined(422, "We could not read what is to be booked. Look at the week again.") from None


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 10**9:
        raise ValueError
    return value
