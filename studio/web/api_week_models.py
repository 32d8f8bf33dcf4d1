"""What the API gives of a week."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Literal

from pydantic import BaseModel, Field

from studio.book.week import NeedLine, Week
from studio.craft.cutting import Plan, WhyUnplaced
from studio.craft.designs import Profile, Stock
from studio.craft.needs import CutGroup, GroupPlan, NeededBlank, Shortage
from studio.craft.units import from_micrometres, from_milligrams
from studio.web.api_cutting_models import PlanOut, plan_out
from studio.web.api_models import Figure


@dataclass(frozen=True, slots=True)
class Sold:
    """What is known of buying: the last day to order blanks of one kind, and the rings served already.

    `yielded` are the rings that the drawer and what is on its way yield together.
    """

    order_by: Callable[[Sequence[NeededBlank]], date | None]
    yielded: frozenset[str]


class NeedRingOut(BaseModel):
    """One ring behind a line of the need."""

    number: str
    ring: int
    length_mm: Figure


class NeedOut(BaseModel):
    """One kind of stock the week needs. `length_mm` sums the marks, `mass_g` the issues."""

    alloy: str
    profile: Profile
    from_: Stock = Field(serialization_alias="from")
    thickness_mm: Figure
    width_mm: Figure
    blanks: int
    length_mm: Figure
    mass_g: Figure
    orders: list[NeedRingOut]


class GroupPlanOut(PlanOut):
    """The plan of one alloy, form of stock and thickness; pieces by their marks, blanks like 2026-118/1."""

    alloy: str
    from_: Stock = Field(serialization_alias="from")
    thickness_mm: Figure


class BuyOut(BaseModel):
    """Blanks of one kind that no piece yields. `why` is that of the first of them.

    `order_by` is the last day to order them, null where no supplier is given that sells such stock. For
    `on_its_way` of the blanks metal is ordered already.
    """

    alloy: str
    profile: Profile
    from_: Stock = Field(serialization_alias="from")
    thickness_mm: Figure
    width_mm: Figure
    blanks: int
    longest_mm: Figure
    length_mm: Figure
    mass_g: Figure
    why: Literal[tuple(WhyUnplaced)]  # type: ignore[valid-type]  # the words of the trade's own list
    order_by: date | None
    on_its_way: int


class WeekOut(BaseModel):
    """The need of a week from its Monday to its Sunday, what to cut from which piece, and the shortfall."""

    from_: date = Field(serialization_alias="from")
    to: date
    need: list[NeedOut]
    plan: list[GroupPlanOut]
    buy: list[BuyOut]


def week_out(
    week: Week,
    groups: Sequence[CutGroup],
    plans: Sequence[GroupPlan],
    short: Sequence[Shortage],
    sold: Sold,
) -> WeekOut:
    """A week as the API tells it."""
    return WeekOut(
        from_=week.from_,
        to=week.to,
        need=[_need(line) for line in week.need],
        plan=[_plan(group, plan) for group, plan in zip(groups, plans, strict=True)],
        buy=_buy(short, sold),
    )


def _plan(group: CutGroup, plan: GroupPlan) -> GroupPlanOut:
    told = plan_out(
        Plan(
            plan.opened,
            plan.unplaced,
            plan.opened_area_um2,
            plan.bound_area_um2,
            plan.is_proved,
            plan.seconds,
        )
    )
    return GroupPlanOut(
        alloy=group.kind.alloy,
        from_=group.kind.stock,
        thickness_mm=from_micrometres(group.kind.thickness_um),
        **dict(told),
    )


def _buy(short: Sequence[Shortage], sold: Sold) -> list[BuyOut]:
    def kind(one: Shortage) -> tuple[str, str, str, int, int]:
        blank = one.blank
        return blank.alloy, blank.profile, blank.stock, blank.thickness_um, blank.width_um

    return [_bought(list(same), sold) for _, same in groupby(sorted(short, key=kind), key=kind)]


def _bought(same: Sequence[Shortage], sold: Sold) -> BuyOut:
    first = same[0]
    return BuyOut(
        alloy=first.blank.alloy,
        profile=first.blank.profile,
        from_=first.blank.stock,
        thickness_mm=from_micrometres(first.blank.thickness_um),
        width_mm=from_micrometres(first.blank.width_um),
        blanks=len(same),
        longest_mm=from_micrometres(max(one.blank.mark_um for one in same)),
        length_mm=from_micrometres(sum(one.blank.mark_um for one in same)),
        mass_g=from_milligrams(sum(one.blank.issue_mg for one in same)),
        why=first.why,
        order_by=sold.order_by([one.blank for one in same]),
        on_its_way=sum(one.blank.ring in sold.yielded for one in same),
    )


def _need(line: NeedLine) -> NeedOut:
    return NeedOut(
        alloy=line.alloy,
        profile=line.profile,
        from_=line.stock,
        thickness_mm=line.thickness_mm,
        width_mm=line.width_mm,
        blanks=line.blanks,
        length_mm=line.length_mm,
        mass_g=line.mass_g,
        orders=[
            NeedRingOut(number=ring.number, ring=ring.position, length_mm=ring.mark_mm) for ring in line.rings
        ],
    )
