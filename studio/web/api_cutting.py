"""The API's cutting plans: what to cut from which piece. Nothing is written down."""

from functools import partial
from typing import Annotated, Any

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.craft.cutting import Blank, Plan, Stock, is_at_once, plan
from studio.craft.designs import Limits
from studio.craft.roles import Right
from studio.craft.units import to_micrometres
from studio.web.api_answers import as_text
from studio.web.api_cutting_models import CuttingIn, PlanOut, plan_out
from studio.web.awaited import while_asked
from studio.web.bodies import ApiRoute
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.once import do_once, done_before
from studio.web.planner import Planner, PlanTask
from studio.web.reading import Reading, sure
from studio.web.security import Seat, requires
from studio.web.texts import read_text

router = APIRouter(route_class=ApiRoute)

KERF_MM, SIDE_MM = Limits(0, 5), Limits(0.1, 10_000)
MOST = 2_000
"""Blanks, and pieces, that a plan is made of at most."""


@router.post("/api/cutting-plans", response_model=PlanOut)
async def make(
    request: Request, seat: Annotated[Seat, requires(Right.SEE_WEEK)], body: CuttingIn
) -> Response:
    """The best plan found within ten seconds: most blanks, earlier ones first, then the least area opened."""
    task = read_task(body.fields())
    before = await run_in_threadpool(_before, request, seat)
    if before is not None:
        return before
    found = await run_in_threadpool(_at_once, task)
    if found is None:
        planner: Planner = request.app.state.planner
        found = await while_asked(request, planner.plan(task))
    return await run_in_threadpool(_answered, request, seat, found)


def _at_once(task: PlanTask) -> Plan | None:
    """The plan where it takes no search."""
    is_small = is_at_once(task.stock, task.blanks, task.kerf_um)
    return plan(task.stock, task.blanks, task.kerf_um) if is_small else None


def _before(request: Request, seat: Seat) -> Response | None:
    with session(seat.engine) as book:
        return done_before(request, seat, book)


def _answered(request: Request, seat: Seat, found: Plan) -> Response:
    with session(seat.engine) as book:
        return do_once(request, seat, book, lambda: Answer(200, as_text(plan_out(found))))


def read_task(raw: dict[str, object]) -> PlanTask:
    """What is to be cut from what; raises `FieldErrors` with all that is to be put right."""
    asked = Reading(raw, "")
    kerf = asked.length("kerf", KERF_MM, gauge=None)
    if kerf is None and not asked.is_wrong("kerf"):
        asked.add("kerf", "The kerf is not given yet. It may be 0.")
    stock = asked.found.take(lambda: _rows(asked.raw.get("stock"), "stock", is_blank=False)) or []
    blanks = asked.found.take(lambda: _rows(asked.raw.get("blanks"), "blanks", is_blank=True)) or []
    asked.stop()
    return PlanTask(
        tuple(Stock(name, length, width, count, flag) for name, length, width, count, flag in stock),
        tuple(Blank(name, length, width, count, flag) for name, length, width, count, flag in blanks),
        to_micrometres(sure(kerf)),
    )


def _rows(raw: object, path: str, *, is_blank: bool) -> list[tuple[str, int, int, int, bool]]:
    if not isinstance(raw, list):
        raise FieldErrors([FieldError(path, "This is not given yet. It may be an empty list.")])
    found = Findings()
    rows = [found.take(partial(_row, one, f"{path}.{at}", is_blank=is_blank)) for at, one in enumerate(raw)]
    found.stop()
    told = [sure(row) for row in rows]
    names = [name for name, *_ in told]
    for at, name in enumerate(names):
        if name in names[:at]:
            found.add(f"{path}.{at}.id", "Another of the list has this id. Give each its own, or a count.")
    if sum(count for *_, count, _ in told) > MOST:
        found.add(path, f"A plan has at most {MOST} {path if is_blank else 'pieces'}.")
    found.stop()
    return told


def _row(raw: object, path: str, *, is_blank: bool) -> tuple[str, int, int, int, bool]:
    row = Reading(raw, path)
    name = row.needed("id", lambda value, field: read_text(value, field, longest=60), "id")
    sides = []
    for side in ("length", "width"):
        mm = row.length(side, SIDE_MM, gauge=None)
        if mm is None and not row.is_wrong(side):
            row.add(side, f"The {side} is not given yet.")
        sides.append(mm)
    count = row.read("count", _read_count)
    flag = row.yes("turn" if is_blank else "offcut")
    row.stop()
    length, width = (to_micrometres(sure(mm)) for mm in sides)
    return sure(name), length, width, 1 if count is None else count, bool(flag)


def _read_count(value: Any, field: str) -> int | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST:
        raise FieldErrors([FieldError(field, f"This has to be a whole number from 1 to {MOST}.")])
    return value
