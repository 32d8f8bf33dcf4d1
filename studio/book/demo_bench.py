"""What the demo's bench measured on rings that are ready: before and after the pattern, and sizes."""

from datetime import datetime
from random import Random

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.bench_records import BenchDraft, put_bench_record
from studio.book.order_values import Order, OrderRing
from studio.craft.designs import Pattern, PatternWhen

_ADDED_PERCENT = {
    (Pattern.HAMMERED, PatternWhen.FLAT): 1.9,
    (Pattern.STAMPED, PatternWhen.FLAT): 1.2,
    (Pattern.HAMMERED, PatternWhen.CLOSED): 1.4,
    (Pattern.STAMPED, PatternWhen.CLOSED): 2.2,
}
"""What patterns really add in this studio, a little beside what is commonly said."""
_SPREAD_POINTS = 0.4
_TOOLS = {
    Pattern.HAMMERED: "planishing hammer",
    Pattern.STAMPED: "crescent punch",
    Pattern.ROLLED: "rolls",
}
_WRONG = "The rule lay on the burr."


def measured_in_demo(session: Session, order: Order, *, actor: Actor, now: datetime) -> None:
    """Put down what the bench measured on the rings of an order that is ready."""
    for ring in order.rings:
        record = _measured(ring, Random(f"{order.number}/{ring.position}"))  # noqa: S311  an invented measure
        put_bench_record(
            session, number=order.number, position=ring.position, record=record, actor=actor, now=now
        )


def _measured(ring: OrderRing, chance: Random) -> BenchDraft:
    design, figures = ring.design, ring.reckoning
    added = None if design.pattern_when is None else _ADDED_PERCENT.get((design.pattern, design.pattern_when))
    before = after = None
    wrong = ""
    if added is not None:
        long_mm = figures.mark_mm if design.pattern_when is PatternWhen.FLAT else figures.true_length_mm
        before = round(long_mm, 1)
        after = round(before * (1 + chance.gauss(added, _SPREAD_POINTS) / 100), 1)
        if chance.random() < 0.1:
            after, wrong = round(after + 3.1, 1), _WRONG
    closed_mm = figures.circumference_mm if figures.form is None else figures.form.closed_mm
    return BenchDraft(
        before_mm=before,
        after_mm=after,
        closed_mm=round(closed_mm + chance.gauss(0, 0.15), 1),
        formed_mm=None if figures.form is None else round(closed_mm - abs(chance.gauss(0.4, 0.2)), 1),
        tool=_TOOLS.get(design.pattern, ""),
        wrong=wrong,
    )
