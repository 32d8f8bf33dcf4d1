"""What the demo's bench measured on rings that are ready: before and after the pattern, and sizes."""

from datetime import datetime, timedelta
from random import Random

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.bench_days import at_the_bench
from studio.book.bench_records import BenchDraft, put_bench_record
from studio.book.bench_work import Deed, do_at_bench
from studio.book.order_values import Order, OrderRing
from studio.book.pins import set_pin
from studio.book.routes import ring_route
from studio.book.transaction import transaction
from studio.craft.bench_work import What
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


_TAKES = {"weigh": 1.0, "pattern": 1.35, "solder": 1.1, "finish": 0.9}
"""What the steps that are noted really take, as a share of what was planned."""
_AFTERWARDS = "Noted in the evening."


def made_in_demo(session: Session, order: Order, *, actor: Actor, now: datetime) -> None:
    """Note the minutes and weights of the longest steps of an order's rings, before it is ready."""
    with transaction(session):
        for ring in order.rings:
            chance = Random(f"{order.number}/{ring.position}/minutes")  # noqa: S311  an invented measure
            weights = {"weigh": ring.reckoning.issue_g + 0.05, "finish": ring.reckoning.finished_g}
            for step in ring_route(session, order, ring):
                if step.key in _TAKES and step.minutes:
                    minutes = max(1, round(step.minutes * _TAKES[step.key] * chance.uniform(0.85, 1.2)))
                    grams = weights.get(step.key)
                    figure = None if grams is None else round(grams, 2)
                    deed = Deed(What.DONE, step.key, figure, minutes, _AFTERWARDS)
                    do_at_bench(
                        session, number=order.number, position=ring.position, deed=deed, actor=actor, now=now
                    )


MAKERS_PIN = "4711"
"""With it the maker of the demo works on a tablet."""


def half_way_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Do the first steps of the first hammered ring at the bench, whose ends wait; its maker has a PIN."""
    order = next(one for one in at_the_bench(session) if one.rings[0].design.pattern_when is PatternWhen.FLAT)
    figures = order.rings[0].reckoning
    issued, sawn = round(figures.issue_g + 0.05, 2), round(figures.mark_mm, 1)
    deeds = (
        (0, Deed(What.STARTED, "weigh")),
        (4, Deed(What.DONE, "weigh", issued)),
        (15, Deed(What.DONE, "saw", sawn)),
        (52, Deed(What.DONE, "pattern", round(sawn * 1.018, 1))),
        (55, Deed(What.STOPPED, "square")),
    )
    for after_min, deed in deeds:
        then = min(order.state_since + timedelta(minutes=after_min, seconds=40 * (after_min > 0)), now)
        do_at_bench(session, number=order.number, position=1, deed=deed, actor=actor, now=then)
    set_pin(session, user_id=actor.id or 0, pin=MAKERS_PIN, actor=actor, now=now)


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
