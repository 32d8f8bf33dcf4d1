"""A size agreed as a range is settled within it; the price stands."""

from dataclasses import replace
from typing import Any

import pytest
from sqlmodel import Session, col, select

from studio.book.agreed_errors import NothingToSettle
from studio.book.errors import VersionStale
from studio.book.order_tables import OrderRow, RingRow
from studio.book.orders import Order, order
from studio.book.people import Actor
from studio.book.settling import settle_size
from studio.craft.designs import Finger, Measured
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.reckonings import reckon
from studio.craft.roles import Role
from studio.craft.sizes import read_size
from studio.craft.units import to_micrometres, to_milligrams
from tests.builders import NOW, a_finger, a_ring, an_order, one_step
from tests.quoting import a_quote, a_yes, put_figures

IVO = Actor(None, "Ivo", Role.COUNTER)


def a_range(low: str = "L", high: str = "N", **facts: Any) -> Finger:
    largest = read_size(a_finger().system, high)
    return a_finger(low, to_label=largest.label, to_circumference_mm=largest.circumference_mm, **facts)


def agreed(session: Session, finger: Finger | None = None) -> Order:
    put_figures(session)
    return a_yes(session, a_quote(session, an_order(session, rings=[a_ring(), a_ring(finger or a_range())])))


def settled(session: Session, stands: Order, size: str, **other: int) -> Order:
    facts = {"position": 2, "version": stands.version} | other
    return settle_size(session, number=stands.number, size=size, actor=IVO, now=NOW, **facts)


@pytest.mark.parametrize(("typed", "label"), [("L", "L"), ("m 1/2", "M½"), ("N", "N")])
def test_a_size_within_the_range_settles_it_and_the_price_stands(
    session: Session, typed: str, label: str
) -> None:
    before = agreed(session)
    assert before.missing.bench == ("size of ring 2",)
    done = settled(session, before, typed)
    assert (done.state, done.version, done.missing.bench) == (State.AGREED, before.version + 1, ())
    ring = done.rings[1]
    assert (ring.finger.label, ring.finger.to_label, ring.finger.to_circumference_mm) == (label, None, None)
    assert (ring.taken_by, ring.taken_at) == ("Ivo", NOW)
    assert done.rings[0] == before.rings[0]
    assert (done.quotes, done.agreement) == (before.quotes, before.agreement)
    entry = done.history[-1]
    assert (entry.verb, entry.actor) == ("settle a size", "Ivo")
    assert (entry.old["rings"][1]["to_size"], entry.new["rings"][1]["size"]) == ("N", label)
    assert "to_size" not in entry.new["rings"][1]


def test_the_figures_that_lists_and_sums_use_are_those_of_the_settled_size(session: Session) -> None:
    done = settled(session, agreed(session), "M")
    row = session.exec(
        select(RingRow)
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .where(col(OrderRow.number) == done.number, col(RingRow.position) == 2)
    ).one()
    fresh = reckon(a_finger("M"), done.rings[1].design)
    assert row.mark_um == to_micrometres(fresh.mark_mm)
    assert row.issue_mg == to_milligrams(fresh.issue_g)


@pytest.mark.parametrize(
    ("typed", "why"),
    [("K½", Why.OUTSIDE_RANGE), ("N½", Why.OUTSIDE_RANGE), ("", Why.EMPTY), ("QQ", Why.UNKNOWN_LABEL)],
)
def test_a_size_outside_the_range_or_no_size_is_refused(session: Session, typed: str, why: Why) -> None:
    before = agreed(session)
    with pytest.raises(Refused) as told:
        settled(session, before, typed)
    (refusal,) = told.value.refusals
    assert (refusal.field, refusal.why) == ("size", why)
    assert order(session, before.number) == before


def test_only_a_range_of_an_agreed_order_is_settled_and_once(session: Session) -> None:
    before = agreed(session)
    for position in (1, 3):
        with pytest.raises(NothingToSettle):
            settled(session, before, "M", position=position)
    done = settled(session, before, "M")
    with pytest.raises(VersionStale):
        settled(session, done, "M", version=before.version)
    with pytest.raises(NothingToSettle):
        settled(session, done, "M")
    with pytest.raises(NothingToSettle):
        settled(session, one_step(session, done, State.AT_THE_BENCH), "M")
    draft = an_order(session, rings=[a_ring(a_range())])
    with pytest.raises(NothingToSettle):
        settled(session, draft, "M", position=1)


def test_a_range_that_was_measured_is_quoted_and_one_that_was_told_is_not(session: Session) -> None:
    measured = an_order(session, rings=[a_ring(a_range())])
    assert measured.missing.quote == ()
    told = replace(a_range(), measured=Measured.TOLD, gauge_width_mm=None)
    assert an_order(session, rings=[a_ring(told)]).missing.quote == ("measured finger of ring 1",)
