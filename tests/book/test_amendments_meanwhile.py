"""What became of an order while an amendment to it waits: kept where the amendment does not speak of it."""

from dataclasses import replace
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.amendments import amendable, amending_of, put_amending
from studio.book.errors import NotQuotable
from studio.book.orders import Order, OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.book.quotes import Quote, agree, waive_deposit
from studio.book.settling import settle_size
from studio.craft.designs import Measured
from studio.craft.errors import Refused
from studio.craft.missing import Deposit
from studio.craft.orders import State
from studio.craft.particulars import Inscription, Marks, Particulars
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.builders import NOW, a_finger, a_ring, one_step
from tests.quoting import paid, unpaid

RANGED = a_finger("J", to_label="M", to_circumference_mm=a_finger("M").circumference_mm)
TO_READ = Particulars(inscription=Inscription("Ada & Jon"))
READ = Particulars(inscription=Inscription("Ada & Jon", is_read_back=True))


def said_yes(session: Session, asked: Quote) -> Order:
    return agree(session, quote=asked.number, name="Jorun Müller", actor=PROGRAM, now=LATER)


def settled(session: Session, number: str) -> Order:
    return settle_size(
        session,
        number=number,
        position=1,
        version=order(session, number).version,
        size="K",
        actor=PROGRAM,
        now=LATER,
    )


def read_back(session: Session, number: str) -> Order:
    stands = order(session, number)
    rings = tuple(replace(ring.draft, particulars=READ) for ring in stands.rings)
    return change_order(
        session,
        number=number,
        version=stands.version,
        changes=OrderChanges(rings=rings),
        actor=PROGRAM,
        now=LATER,
    )


def avoiding(session: Session, stands: Order, metal: str) -> Order:
    return change_order(
        session,
        number=stands.number,
        version=stands.version,
        changes=OrderChanges(avoid=metal),
        actor=PROGRAM,
        now=NOW,
    )


def test_a_size_settled_while_an_amendment_waits_stays_settled(session: Session) -> None:
    stands = agreed(session, rings=[a_ring(RANGED)])
    asked = issued(session, stands, changing(stands, **NARROWER))
    settled(session, stands.number)
    done = said_yes(session, asked)
    (ring,) = done.rings
    assert (ring.finger.label, ring.finger.to_label, ring.design.width_mm) == ("K", None, 5.0)


def test_words_read_back_while_an_amendment_waits_are_not_asked_for_again(session: Session) -> None:
    stands = agreed(session, rings=[a_ring(particulars=TO_READ)])
    asked = issued(session, stands, changing(stands, **NARROWER))
    read_back(session, stands.number)
    done = said_yes(session, asked)
    assert (done.rings[0].particulars, done.rings[0].design.width_mm) == (READ, 5.0)
    assert "inscription read back of ring 1" not in done.missing.bench


def test_what_the_amendment_speaks_of_is_as_it_says(session: Session) -> None:
    stands = agreed(session, rings=[a_ring(particulars=TO_READ)])
    wanted = amending_of(stands)
    other = Particulars(inscription=Inscription("Ada, Jon & Per"))
    wanted = replace(wanted, rings=(replace(wanted.rings[0], particulars=other),))
    asked = issued(session, stands, wanted)
    read_back(session, stands.number)
    done = said_yes(session, asked)
    assert done.rings[0].particulars == other
    assert "inscription read back of ring 1" in done.missing.bench


def test_an_amendment_half_put_together_follows_the_order(session: Session) -> None:
    stands = agreed(session, rings=[a_ring(RANGED)])
    put_amending(
        session,
        number=stands.number,
        version=stands.version,
        amending=changing(stands, **NARROWER),
        actor=PROGRAM,
        now=NOW,
    )
    now = settled(session, stands.number)
    assert now.amending is not None
    assert (now.amending.rings[0].finger.label, now.amending.rings[0].design.width_mm) == ("K", 5.0)
    done = said_yes(session, issued(session, now, now.amending))
    assert (done.rings[0].finger.label, done.rings[0].finger.to_label) == ("K", None)


def test_a_metal_to_avoid_named_meanwhile_is_in_no_ring_after_the_yes(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, alloy="gold-750-white-ni"))
    avoiding(session, order(session, stands.number), "nickel")
    with pytest.raises(Refused) as refused:
        said_yes(session, asked)
    assert refused.value.refusals[0].field == "rings.0.alloy"
    assert order(session, stands.number).rings[0].design.alloy == "gold-750-yellow"


def test_a_charge_for_an_earlier_amendment_stays_in_the_next(session: Session) -> None:
    stands = agreed(session)
    charged = replace(amending_of(stands), charge_text="The blank that was cut", charge_minor=2600)
    first = issued(session, stands, charged)
    done = said_yes(session, first)
    second = issued(session, done, replace(amending_of(done), words="Collected by their sister."))
    assert (second.total_minor, second.lines[-1]) == (first.total_minor, first.lines[-1])
    done = said_yes(session, second)
    third = issued(session, done, replace(amending_of(done), charge_text="Another blank", charge_minor=1000))
    assert [line.text for line in third.lines[-2:]] == ["The blank that was cut", "Another blank"]
    assert third.total_minor == first.total_minor + 1200


CHEAP: dict[str, Any] = {"alloy": "silver-925", "width_mm": 3.0}


def test_no_more_deposit_is_asked_than_the_whole_and_what_was_paid_is_told(session: Session) -> None:
    stands = agreed(session)
    whole = stands.account
    everything = paid(session, stands.number, whole.left_minor)
    asked = issued(session, everything, changing(everything, **CHEAP))
    done = said_yes(session, asked)
    assert done.agreement is not None
    assert done.agreement.total_minor < done.agreement.paid_minor == whole.due_minor
    assert done.agreement.deposit_asked_minor <= done.agreement.total_minor
    assert done.account.back_minor == (whole.due_minor or 0) - done.agreement.total_minor
    waived = waive_deposit(session, number=done.number, why="An old customer.", actor=PROGRAM, now=LATER)
    assert waived.account == done.account


def test_a_deposit_of_more_than_the_new_price_can_be_settled(session: Session) -> None:
    stands = agreed(session)
    nothing = unpaid(session, stands)
    assert nothing.agreement is not None
    assert nothing.agreement.deposit is Deposit.OPEN
    asked = issued(session, nothing, changing(nothing, **CHEAP))
    assert asked.deposit_minor <= asked.total_minor
    done = said_yes(session, asked)
    assert done.agreement is not None
    assert done.agreement.deposit_asked_minor == asked.deposit_minor
    settled = paid(session, done.number, asked.deposit_minor)
    assert settled.agreement is not None
    assert settled.agreement.deposit is Deposit.SETTLED


@pytest.mark.parametrize(
    ("way", "changes", "waits"),
    [
        (None, {"finger": a_finger("L", measured=Measured.TOLD)}, ("measured finger of ring 1",)),
        (None, {"finger": RANGED, "particulars": TO_READ}, ()),
        (State.AT_THE_BENCH, {"finger": RANGED}, ("size of ring 1",)),
        (State.AT_THE_BENCH, {"particulars": TO_READ}, ("inscription read back of ring 1",)),
        (State.AT_THE_BENCH, {"particulars": READ}, ()),
        (State.READY, {"particulars": Particulars(marks=Marks())}, ()),
    ],
)
def test_what_the_bench_would_wait_for_is_known_before_the_paper_once_it_has_begun(
    session: Session, way: State | None, changes: dict[str, Any], waits: tuple[str, ...]
) -> None:
    stands = agreed(session)
    for step in () if way is None else (State.AT_THE_BENCH, way):
        stands = stands if stands.state is step else one_step(session, stands, step)
    wanted = amending_of(stands)
    wanted = replace(wanted, rings=(replace(wanted.rings[0], **changes),))
    if not waits:
        assert issued(session, stands, wanted).number == "2026-1-a1"
        return
    with pytest.raises(NotQuotable) as refused:
        amendable(session, stands.number, amending=wanted, actor=PROGRAM, now=LATER)
    assert refused.value.missing == waits
