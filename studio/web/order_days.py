"""The days of an order: its next one in words, and all of them counted back, as the API gives them."""

from zoneinfo import ZoneInfo

from studio.book.order_list_values import DayKind, NextDay
from studio.book.order_values import Order
from studio.craft.missing import BEFORE_THE_BENCH
from studio.craft.open_days import BackPlan, StudioDays, back_plan
from studio.craft.ring_work import work_of
from studio.web.api_order_models import DaysOut, DayStepOut
from studio.web.counter_days import plan_warning
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.wording import hour_words


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


def next_day_words(day: NextDay | None, seat: Seat) -> str:
    """An order's next day: 'Bench Tue 1 Dec', 'Promised Tue 1 Dec, 10:00'; what is over has just its day."""
    if day is None:
        return ""
    when = (
        day_words(day.on, today=seat.today) if day.at is None else hour_words(day.at, seat.zone, seat.today)
    )
    return when if day.kind is DayKind.SINCE else f"{str(day.kind).capitalize()} {when}"
