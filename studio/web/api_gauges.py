"""The API's gauges: what a finger may be measured with, and how each is calibrated now."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter
from pydantic import BaseModel
from starlette.responses import Response

from studio.book.engine import session
from studio.book.gauges import gauges
from studio.craft.designs import GaugeKind, System
from studio.craft.roles import Right
from studio.web.api import Limit
from studio.web.api_answers import as_json
from studio.web.api_models import Figure
from studio.web.bodies import ApiRoute
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)


class GaugeOut(BaseModel):
    """A gauge in use. `correction_mm` is added to the circumference that a size means."""

    id: int
    name: str
    kind: GaugeKind
    system: System
    width_mm: Figure | None
    step_mm: Figure
    correction_mm: Figure
    calibrated_on: date | None
    usual: bool


class GaugesOut(BaseModel):
    """All gauges in use, in one page, the usual one first."""

    items: list[GaugeOut]
    next: None = None


@router.get("/api/gauges", response_model=GaugesOut)
def listed(seat: Annotated[Seat, requires(Right.RECKON)], after: str = "", limit: Limit = None) -> Response:  # noqa: ARG001  one page holds all
    """The gauges in use, whole in one page: by their id or name a finger says what measured it."""
    with session(seat.engine) as book:
        found = [one for one in gauges(book) if not one.is_put_away]
    return as_json(
        GaugesOut(
            items=[
                GaugeOut(
                    id=one.gauge.id,
                    name=one.gauge.name,
                    kind=one.gauge.kind,
                    system=one.gauge.system,
                    width_mm=one.gauge.width_mm,
                    step_mm=one.gauge.step_mm,
                    correction_mm=one.gauge.correction_mm,
                    calibrated_on=one.gauge.calibrated_on,
                    usual=one.is_usual,
                )
                for one in found
            ]
        )
    )
