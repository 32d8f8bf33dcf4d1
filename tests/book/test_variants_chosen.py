"""One of several ways to make an order is chosen, and the choice taken back."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from studio.book.agreed_errors import VariantNotSaid, VariantUnknown
from studio.book.errors import OrderFixed
from studio.book.orders import move_order
from studio.book.payment_values import Sum
from studio.book.people import PROGRAM
from studio.book.practices import changed, practice_on, put_practice
from studio.book.quotes import agree, quote_breakdown
from studio.book.settling import settle_size
from studio.book.variants import add_variant
from studio.craft.errors import Refused
from studio.craft.orders import State
from tests.builders import NOW, TODAY, a_finger, a_ring, an_order
from tests.quoting import a_quote, paid, put_figures
from tests.varying import IN_SILVER, offered

LATER = NOW + timedelta(hours=2)


def test_a_yes_to_a_choice_says_which(session: Session) -> None:
    put_figures(session)
    found = a_quote(session, offered(session, an_order(session), IN_SILVER))
    with pytest.raises(VariantNotSaid) as refused:
        agree(session, quote=found.number, name="Jorun Müller", actor=PROGRAM, now=NOW)
    assert refused.value.keys == ("a", "b")
    with pytest.raises(VariantUnknown):
        agree(session, quote=found.number, name="Jorun Müller", variant="c", actor=PROGRAM, now=NOW)


def test_the_chosen_variants_rings_become_the_orders_with_the_figures_they_were_shown_with(
    session: Session,
) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    found = a_quote(session, stands)
    shown = stands.variants[0].rings
    coarser = changed(practice_on(session, TODAY), {"trim_each_end_mm": 0.9})
    put_practice(session, practice=coarser, from_day=TODAY, source="a test", actor=PROGRAM, now=NOW)
    deposit = found.variants[1].deposit_minor
    done = agree(
        session,
        quote=found.number,
        name="Jorun Müller",
        variant="b",
        deposit=Sum(deposit),
        actor=PROGRAM,
        now=LATER,
    )
    assert [(ring.design, ring.reckoning) for ring in done.rings] == [
        (ring.design, ring.reckoning) for ring in shown
    ]
    assert done.agreement is not None
    assert (done.agreement.variant, done.agreement.deposit_asked_minor) == ("b", deposit)
    assert done.variants == ()
    assert quote_breakdown(session, found.number).total_minor == found.total_minor


def test_no_more_is_paid_than_the_chosen_variant_costs(session: Session) -> None:
    put_figures(session)
    found = a_quote(session, offered(session, an_order(session), IN_SILVER))
    less = found.variants[1].total_minor
    done = agree(session, quote=found.number, name="Jorun Müller", variant="b", actor=PROGRAM, now=NOW)
    with pytest.raises(Refused):
        paid(session, done.number, less + 1)
    done = paid(session, done.number, less)
    assert done.agreement is not None
    assert done.agreement.paid_minor == less


@pytest.mark.parametrize("chosen", ["a", "b"])
def test_a_yes_taken_back_offers_the_choice_again(session: Session, chosen: str) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    found = a_quote(session, stands)
    agreed = agree(session, quote=found.number, name="Jorun Müller", variant=chosen, actor=PROGRAM, now=NOW)
    done = move_order(
        session,
        number=agreed.number,
        to=State.QUOTED,
        version=agreed.version,
        reason="they want to sleep on it",
        actor=PROGRAM,
        now=LATER,
    )
    assert [ring.reckoning for ring in done.rings] == [ring.reckoning for ring in stands.rings]
    assert [one.rings for one in done.variants] == [one.rings for one in stands.variants]
    again = agree(session, quote=found.number, name="Jorun Müller", variant="b", actor=PROGRAM, now=LATER)
    assert again.rings[0].design.alloy == "silver-925"


def test_a_size_settled_after_the_choice_stays_when_the_yes_is_taken_back(session: Session) -> None:
    put_figures(session)
    ranged = a_ring(a_finger("J", to_label="M", to_circumference_mm=a_finger("M").circumference_mm))
    found = a_quote(session, offered(session, an_order(session, rings=[ranged]), IN_SILVER))
    agreed = agree(session, quote=found.number, name="Jorun Müller", variant="b", actor=PROGRAM, now=NOW)
    settled = settle_size(
        session,
        number=agreed.number,
        position=1,
        version=agreed.version,
        size="K",
        actor=PROGRAM,
        now=LATER,
    )
    done = move_order(
        session,
        number=settled.number,
        to=State.QUOTED,
        version=settled.version,
        reason="they want to sleep on it",
        actor=PROGRAM,
        now=LATER,
    )
    (own,), (other,) = done.rings, done.variants[0].rings
    assert own.design.alloy == "gold-750-yellow"
    assert [(one.finger.label, one.finger.to_label) for one in (own, other)] == [("K", None)] * 2


def test_what_is_agreed_offers_no_more_choice(session: Session) -> None:
    put_figures(session)
    found = a_quote(session, offered(session, an_order(session), IN_SILVER))
    done = agree(session, quote=found.number, name="Jorun Müller", variant="a", actor=PROGRAM, now=NOW)
    with pytest.raises(OrderFixed):
        add_variant(session, number=done.number, version=done.version, actor=PROGRAM, now=NOW)
