"""The shapes of cutting plans in the API, both ways."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, WithJsonSchema

from studio.craft.cutting import Plan, WhyUnplaced
from studio.craft.units import from_micrometres
from studio.web.api_fields import In, Length, Truth
from studio.web.api_models import Figure

Id = Annotated[Any, WithJsonSchema({"type": "string", "minLength": 1, "maxLength": 60})]
Count = Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 1, "maximum": 2000})]


class StockIn(In):
    """`count` equal pieces, 1 where left out. The length runs along the rolling direction."""

    id: Id = None
    length: Length = None
    width: Length = None
    count: Count = None
    offcut: Truth = None


class BlankIn(In):
    """`count` equal blanks, 1 where left out; `turn` lets them lie across the rolling direction."""

    id: Id = None
    length: Length = None
    width: Length = None
    count: Count = None
    turn: Truth = None


class CuttingIn(In):
    """What is to be cut from what. The list of blanks is in the order in which they are due."""

    kerf: Length = None
    stock: list[StockIn] | None = None
    blanks: list[BlankIn] | None = None


class CutOut(BaseModel):
    """One blank in its strip; `length_mm` is its width where it is turned."""

    blank: str
    length_mm: Figure


class StripOut(BaseModel):
    """One strip ripped from a piece, and what is crosscut from it, in order."""

    width_mm: Figure
    cuts: list[CutOut]


class OffcutOut(BaseModel):
    """A rectangle left over."""

    length_mm: Figure
    width_mm: Figure


class OpenedOut(BaseModel):
    """One piece that is cut."""

    stock: str
    strips: list[StripOut]
    offcuts: list[OffcutOut]


class UnplacedOut(BaseModel):
    """One blank that is in no piece, and why."""

    blank: str
    why: Literal[tuple(WhyUnplaced)]  # type: ignore[valid-type]  # the words of the trade's own list


class PlanOut(BaseModel):
    """A cutting plan. No plan that places these blanks opens less than `bound_area_mm2`.

    `proved`: no plan places more blanks or earlier ones, and none that places these opens less area.
    """

    pieces: list[OpenedOut]
    unplaced: list[UnplacedOut]
    opened_area_mm2: Figure
    bound_area_mm2: Figure
    proved: bool
    seconds: Figure


def plan_out(plan: Plan) -> PlanOut:
    """A plan as the API tells it."""
    return PlanOut(
        pieces=[
            OpenedOut(
                stock=piece.stock,
                strips=[
                    StripOut(
                        width_mm=from_micrometres(strip.width_um),
                        cuts=[
                            CutOut(blank=cut.blank, length_mm=from_micrometres(cut.length_um))
                            for cut in strip.cuts
                        ],
                    )
                    for strip in piece.strips
                ],
                offcuts=[
                    OffcutOut(
                        length_mm=from_micrometres(rest.length_um), width_mm=from_micrometres(rest.width_um)
                    )
                    for rest in piece.offcuts
                ],
            )
            for piece in plan.pieces
        ],
        unplaced=[UnplacedOut(blank=one.blank, why=one.why) for one in plan.unplaced],
        opened_area_mm2=plan.opened_area_um2 / 1e6,
        bound_area_mm2=plan.bound_area_um2 / 1e6,
        proved=plan.is_proved,
        seconds=plan.seconds,
    )
