"""The days of an order counted back, as the API gives them."""

from zoneinfo import ZoneInfo

from studio.book.order_values import Order
from studio.craft.missing import BEFORE_THE_BENCH
from studio.craft.open_days import BackPlan, StudioDays, back_plan
from studio.craft.ring_work import work_of
from studio.web.api_order_models import DaysOut, DayStepOut
from studio.web.counter_days import plan_warning
from studio.web.security import Seat


def order_plan(order: Order, days: StudioDays, seat: Seat) -> BackPlan | None:
    """The promised day of an order, or else the wanted one, counted back; None from the bench on."""
    promised = order.terms.promised_at
    last = order.terms.wanted_on if promised is None else promised.astimezone(ZoneInfo(seat.zone)).date()
    if last is None or order.state not in BEFORE_THE_BENCH:
        return None
    work = work_of(((ring.reckoning, ring.particulars) for ring in order.rings), seat.rule)
    return back_plan(last, seat.today, days, work)


def days_out(order: Order, days: StudioDays, seat: Seat) -> DaysOut | None:
    """The same with its steps and its warning, for the API."""
    plan = order_plan(order, days, seat)
    if plan is None:
        return None
    return DaysOut(
        bench_on_latest=plan.begin_by,
        open_days=plan.days,
        steps=[DayStepOut(what=one.part, from_=one.first, to=one.last) for one in plan.steps],
        short_by_days=plan.short,
        warning=plan_warning(plan, order.terms.bench_on, seat.today),
    )
