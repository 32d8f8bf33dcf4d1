"""A small world for tests: one customer, one ring, one order in any state."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from sqlmodel import Session

from studio.book.order_writing import locked_order, put_state
from studio.book.orders import (
    CustomerDraft,
    Order,
    OrderTerms,
    RingDraft,
    move_order,
    order,
    take_order,
)
from studio.book.people import PROGRAM, Actor
from studio.book.transaction import transaction
from studio.craft.designs import (
    Design,
    Finger,
    FingerName,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
)
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.sizes import read_size

NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
"""A Wednesday morning."""
TODAY = NOW.date()
PASSPHRASE = "seven wrens on a wall"

_WAYS: dict[State, tuple[State, ...]] = {
    State.DRAFT: (),
    State.QUOTED: (State.QUOTED,),
    State.AGREED: (State.AGREED,),
    State.AT_THE_BENCH: (State.AGREED, State.AT_THE_BENCH),
    State.READY: (State.AGREED, State.AT_THE_BENCH, State.READY),
    State.HANDED_OVER: (State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER),
    State.CALLED_OFF: (State.CALLED_OFF,),
}


def a_finger(size: str = "O½", system: System = System.UK, **changes: Any) -> Finger:
    """A left ring finger, measured warm with a gauge 6 mm wide."""
    read = read_size(system, size)
    finger = Finger(
        system,
        read.label,
        read.circumference_mm,
        measured=Measured.GAUGE,
        gauge_width_mm=6.0,
        hand=Hand.LEFT,
        name=FingerName.RING,
        is_warm=True,
    )
    return replace(finger, **changes)


def a_design(**changes: Any) -> Design:
    """A hammered flat band of 750 yellow gold, 6 x 1.6 mm, patterned on the flat strip."""
    design = Design(
        Profile.FLAT, 6.0, 1.6, "gold-750-yellow", Stock.STRIP, Pattern.HAMMERED, PatternWhen.FLAT
    )
    return replace(design, **changes)


def a_ring(finger: Finger | None = None, design: Design | None = None, **changes: Any) -> RingDraft:
    """A ring as it comes from the counter."""
    return RingDraft(finger or a_finger(), design or a_design(), **changes)


def a_narrowly_measured_ring(**changes: Any) -> RingDraft:
    """A ring 8 mm wide from a gauge of 3: its warning wants a reason before the bench."""
    finger = a_finger(gauge_width_mm=3.0)
    return RingDraft(finger, a_design(width_mm=8.0), **changes)


def an_order(
    session: Session,
    *,
    state: State = State.DRAFT,
    customer: CustomerDraft | int | None = None,
    rings: Sequence[RingDraft] | None = None,
    wanted_on: date | None = date(2026, 12, 19),
    promised_at: datetime | None = None,
    bench_on: date | None = date(2026, 12, 1),
    note: str = "",
    avoid: str | None = None,
    actor: Actor = PROGRAM,
    now: datetime = NOW,
) -> Order:
    """An order brought to `state` by the verbs; with all that a quote and the bench ask for."""
    with transaction(session):  # one commit instead of one a step: the disk is what tests wait for
        taken = take_order(
            session,
            customer=customer if customer is not None else CustomerDraft("Jorun Müller", "01632 960 715"),
            terms=OrderTerms(wanted_on, promised_at=promised_at, bench_on=bench_on, note=note, avoid=avoid),
            rings=[a_ring()] if rings is None else rings,
            actor=actor,
            now=now,
        )
        for step in _WAYS[state]:
            taken = one_step(session, taken, step, actor=actor, now=now)
    return taken


def one_step(
    session: Session, stands: Order, to: State, *, actor: Actor = PROGRAM, now: datetime = NOW
) -> Order:
    """The order after the move to `to`, with a reason given.

    Quoted and agreed are written as in a book that is older than the quotes: without a paper, and without
    having asked for a deposit. `tests.quoting` has orders with a quote.
    """
    is_older = stands.state is State.DRAFT and to is State.QUOTED
    is_older |= stands.state in BEFORE_AGREEMENT and to is State.AGREED
    if not is_older:
        return move_order(
            session,
            number=stands.number,
            version=stands.version,
            to=to,
            reason="asked for",
            actor=actor,
            now=now,
        )
    with transaction(session):
        row = locked_order(session, stands.number, stands.version)
        if to is State.AGREED:
            row.agreed_name, row.agreed_at = "Jorun Müller", now
        put_state(session, row, to, verb="note", actor=actor, now=now)
    return order(session, stands.number)
