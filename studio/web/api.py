"""The API's reckoning: sizes, alloys, the figures of a ring; and the description of the whole API."""

import math
from typing import Annotated

from fastapi import APIRouter, Query
from pydantic import BeforeValidator, Field
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.practices import practice_on
from studio.book.ring_practices import workshop
from studio.craft.alloys import density_g_cm3
from studio.craft.designs import System
from studio.craft.reckonings import reckon
from studio.craft.roles import Right
from studio.craft.sizes import all_sizes, read_size
from studio.web.api_answers import as_json, as_text
from studio.web.api_models import ReckoningIn, ReckoningOut
from studio.web.api_reckoning_answers import reckoning_out, size_labels
from studio.web.api_trade_models import AlloyOut, AlloysOut, SizesOut
from studio.web.bodies import ApiRoute
from studio.web.description import describe
from studio.web.forms import Calendar, read_ring
from studio.web.once import do_once
from studio.web.reading import Reading, read_choice, sure
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)

Reckoner = Annotated[Seat, requires(Right.RECKON)]
Limit = Annotated[
    Annotated[int, Field(ge=1, le=200)] | None,
    BeforeValidator(lambda typed: None if typed == "" else typed),
    Query(),
]
"""How many a page holds; left out or empty, as many as the list gives of itself."""


@router.get("/api/sizes", response_model=SizesOut)
def sizes(seat: Reckoner, system: str = "", size: str = "") -> Response:
    """What a size means, and the nearest label in every system, as the studio reads them."""
    with session(seat.engine) as book:
        beyond = practice_on(book, seat.today).reading.beyond_z
    asked = Reading({"system": system, "size": size}, "")
    chosen = asked.needed("system", lambda value, field: read_choice(value, field, System), "size system")
    read = asked.needed(
        "size",
        lambda value, field: None if chosen is None else read_size(chosen, str(value), field, beyond),
        "size",
    )
    asked.stop()
    circumference_mm = sure(read).circumference_mm
    return as_json(
        SizesOut(
            circumference_mm=circumference_mm,
            diameter_mm=circumference_mm / math.pi,
            sizes=size_labels(all_sizes(circumference_mm, beyond)),
        )
    )


@router.get("/api/alloys", response_model=AlloysOut)
def alloys(seat: Reckoner, after: str = "", limit: Limit = None) -> Response:  # noqa: ARG001  the seat guards, one page holds all
    """All alloys a ring can be made of, whole in one page."""
    with session(seat.engine) as book:
        known = practice_on(book, seat.today).alloys
    return as_json(
        AlloysOut(
            items=[
                AlloyOut(
                    key=alloy.key,
                    name=alloy.name,
                    metal=alloy.metal,
                    fineness=alloy.fineness,
                    density_g_cm3=density_g_cm3(alloy),
                    composition=dict(alloy.composition),
                    source=alloy.source,
                )
                for alloy in known.values()
            ]
        )
    )


@router.post("/api/reckonings", response_model=ReckoningOut)
def reckonings(request: Request, seat: Reckoner, body: ReckoningIn) -> Response:
    """All figures of a ring, with how each came about. Nothing is written down."""
    calendar = Calendar(seat.today, seat.zone, is_exact=True)
    with session(seat.engine) as book:
        here = workshop(book, seat.today)
        ring = read_ring(body.fields(), "", calendar, usual_system=None, workshop=here)
        return do_once(
            request,
            seat,
            book,
            lambda: Answer(
                200,
                as_text(reckoning_out(reckon(ring.finger, ring.design, here.practice), seat.rule)),
            ),
        )


@router.get("/api/openapi.json", response_class=JSONResponse)
def openapi(request: Request, seat: Reckoner) -> Response:  # noqa: ARG001  the seat guards
    """This description."""
    return JSONResponse(describe(request.app.router.routes))
