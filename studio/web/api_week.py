"""The API's week: what metal its rings need, what to cut from which piece, and what is short."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.clock import monday_of
from studio.craft.needs import shortages
from studio.craft.roles import Right
from studio.web.api_answers import as_json
from studio.web.api_week_models import Sold, WeekOut, week_out
from studio.web.awaited import while_asked
from studio.web.bodies import ApiRoute
from studio.web.buying_reading import buying, sold_at
from studio.web.days import read_date
from studio.web.plan_board import PlanBoard
from studio.web.security import Seat, requires
from studio.web.week_reading import WeekAtHand, Window, week_at_hand

router = APIRouter(route_class=ApiRoute)

PATIENCE_S = 8.0
"""How long a program waits for better plans than first-fit."""


@router.get("/api/week", response_model=WeekOut)
async def week(
    request: Request,
    seat: Annotated[Seat, requires(Right.SEE_WEEK)],
    from_: Annotated[str, Query(alias="from")] = "",
) -> Response:
    """What the week needs that `from` lies in (left out, this week), the cutting plan, and the shortfall."""
    day = read_date(from_, "from", today=seat.today) or seat.today
    hand = await run_in_threadpool(_at_hand, seat, monday_of(day))
    board: PlanBoard = request.app.state.plan_board
    found = await while_asked(request, board.settled(hand.groups, PATIENCE_S))
    plans = tuple(one.best for one in found)
    short = tuple(
        one
        for group, plan in zip(hand.groups, plans, strict=True)
        for one in shortages(group, plan, hand.lying, hand.mill)
    )
    sold = await run_in_threadpool(sold_at, seat, hand)
    yielded = (await buying(request, seat)).yielded if short else frozenset()
    return as_json(week_out(hand.week, hand.groups, plans, short, Sold(sold, yielded)))


def _at_hand(seat: Seat, monday: date) -> WeekAtHand:
    return week_at_hand(seat, Window(monday))
