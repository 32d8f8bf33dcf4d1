"""The cutting plan over HTTP as a paper."""

from collections.abc import Sequence
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.craft.designs import Stock
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.papers.cutting_plan import CuttingToPrint, KindToSaw, PieceToSaw, cutting_plan
from studio.papers.days import day_words, full_day_words
from studio.web.cut_words import kind_words, names_of, piece_cut_words, proof_words, steps_of
from studio.web.plan_board import PlanBoard, Search
from studio.web.printing import printed_while_asked
from studio.web.security import Seat, requires
from studio.web.week_plan import short_parts
from studio.web.week_reading import WeekAtHand, read_window, week_at_hand

router = APIRouter()

PATIENCE_S = 3.0
"""How long the paper waits for better plans than first-fit."""


@router.get("/week/cutting.pdf", response_class=Response)
async def paper(request: Request, seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)]) -> Response:
    """The cutting plan on paper, as far as it is found by now."""
    asked = read_window(request, seat)
    hand = await run_in_threadpool(week_at_hand, seat, asked)
    board: PlanBoard = request.app.state.plan_board
    searches = await board.settled(hand.groups, PATIENCE_S)
    days = f"{day_words(hand.week.from_)} to {full_day_words(hand.week.to)}"
    told = plan_to_print(hand, searches, days, seat.today)
    pdf = await printed_while_asked(request, cutting_plan(told))
    name = f"cutting-plan-{hand.week.from_.isoformat()}.pdf"
    headers = {"Content-Disposition": f'inline; filename="{name}"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def plan_to_print(
    hand: WeekAtHand, searches: Sequence[Search], days: str, printed_on: date
) -> CuttingToPrint:
    """The plan as it goes on paper."""
    words, marks = names_of(hand), {piece.mark: piece for piece in hand.lying}
    return CuttingToPrint(
        days=days,
        kerf=figure_words(hand.kerf_mm),
        kinds=tuple(
            KindToSaw(
                kind_words(group),
                proof_words(one.best, is_over=one.is_over),
                group.kind.stock is Stock.WIRE,
                tuple(
                    PieceToSaw(
                        piece.stock,
                        piece_cut_words(piece, marks[piece.stock]),
                        piece,
                        {cut.blank: words[cut.blank] for strip in piece.strips for cut in strip.cuts},
                        steps_of(piece, words),
                    )
                    for piece in one.best.opened
                ),
            )
            for group, one in zip(hand.groups, searches, strict=True)
            if one.best.opened
        ),
        short=tuple(f"{one.what}. {' '.join(one.sentences)}" for one in short_parts(hand, searches)),
        printed_on=printed_on,
    )
