"""The reasons for warnings are free until the bench, whatever was quoted."""

from dataclasses import replace

import pytest
from sqlmodel import Session

from studio.book.errors import OrderFixed
from studio.book.orders import Order, OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from tests.builders import NOW, a_narrowly_measured_ring, an_order, one_step
from tests.quoting import a_quote, a_yes, put_figures

SAID = {"narrow-gauge": "Tried on a sizer 8 mm wide."}


def with_reasons(session: Session, stands: Order, width_mm: float = 8.0) -> Order:
    ring = stands.rings[0].draft
    changed = replace(ring, reasons=SAID, design=replace(ring.design, width_mm=width_mm))
    return change_order(
        session,
        number=stands.number,
        version=stands.version,
        changes=OrderChanges(rings=(changed,)),
        actor=PROGRAM,
        now=NOW,
    )


@pytest.mark.parametrize("state", [State.DRAFT, State.QUOTED, State.AGREED])
def test_a_reason_alone_leaves_the_state_the_quote_and_the_yes(session: Session, state: State) -> None:
    put_figures(session)
    before = an_order(session, rings=[a_narrowly_measured_ring()])
    if state is State.QUOTED:
        a_quote(session, before)
        before = order(session, before.number)
    if state is State.AGREED:
        before = a_yes(session, a_quote(session, before))
    done = with_reasons(session, before)
    assert (done.state, done.version, done.quotes) == (state, before.version + 1, before.quotes)
    assert done.agreement == before.agreement
    assert (done.rings[0].reasons, done.rings[0].taken_at) == (SAID, before.rings[0].taken_at)
    entry = done.history[-1]
    assert (entry.verb, entry.new["rings"][0]["reasons"]) == ("change an order", SAID)


def test_a_reason_with_a_changed_ring_is_a_changed_ring(session: Session) -> None:
    put_figures(session)
    agreed = a_yes(session, a_quote(session, an_order(session, rings=[a_narrowly_measured_ring()])))
    with pytest.raises(OrderFixed):
        with_reasons(session, agreed, width_mm=7.0)


def test_at_the_bench_the_reasons_stand(session: Session) -> None:
    put_figures(session)
    rings = [a_narrowly_measured_ring(reasons={"narrow-gauge": "As her last one."})]
    agreed = a_yes(session, a_quote(session, an_order(session, rings=rings)))
    with pytest.raises(OrderFixed):
        with_reasons(session, one_step(session, agreed, State.AT_THE_BENCH))
