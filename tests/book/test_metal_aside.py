"""Metal that lies aside for an order, at what was paid for it, beside what the quote reckoned."""

from dataclasses import replace
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.metal_aside import metal_aside
from studio.book.orders import Order
from studio.book.people import PROGRAM
from studio.book.pieces import PieceDraft, put_piece, take_out
from studio.book.quotes import quote_breakdown, quote_breakdowns
from studio.craft.orders import State
from tests.book.test_cuts import SHEET
from tests.builders import NOW, a_design, a_ring, an_order, one_step
from tests.quoting import a_quote, a_yes, put_figures
from tests.varying import offered

SILVER = a_ring(design=a_design(alloy="silver-925", thickness_mm=1.5))
GOLD = a_ring()
PIECE = replace(SHEET, mass_g=None)


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


def aside(session: Session, stands: Order, **changes: Any) -> int:
    """The number of a piece that lies aside for the order."""
    piece: PieceDraft = replace(PIECE, order=stands.number, **changes)
    return put_piece(session, piece=piece, actor=PROGRAM, now=NOW).id


def test_what_lies_aside_stands_beside_what_was_agreed(session: Session) -> None:
    made = a_quote(session, an_order(session, rings=(SILVER,)))
    stands = a_yes(session, made)
    aside(session, stands, paid_minor=70_00)
    aside(session, stands, paid_minor=30_00, measures=replace(PIECE.measures, length_mm=99))
    put_piece(session, piece=PIECE, actor=PROGRAM, now=NOW)  # for any order
    (one,) = metal_aside(session)
    (ring,) = quote_breakdown(session, made.number).rings
    assert (one.order, one.customer, one.alloy) == (stands.number, "Jorun Müller", "silver-925")
    assert one.marks == ("S-001", "S-002")
    assert (one.aside.paid_minor, one.aside.quoted_minor) == (100_00, ring.metal_minor)
    assert one.aside.issue_mg == ring.job.issue_mg
    assert one.aside.difference_minor is not None


def test_rings_of_one_metal_are_reckoned_together_and_another_metal_apart(session: Session) -> None:
    made = a_quote(session, an_order(session, rings=(SILVER, GOLD, SILVER)))
    stands = a_yes(session, made)
    aside(session, stands, paid_minor=70_00)
    (one,) = metal_aside(session, order=stands.number)
    first, _, third = quote_breakdown(session, made.number).rings
    assert one.aside.quoted_minor == first.metal_minor + third.metal_minor
    assert one.aside.issue_mg == first.job.issue_mg + third.job.issue_mg


def test_a_chosen_variant_is_what_was_quoted(session: Session) -> None:
    stands = offered(session, an_order(session, rings=(GOLD,)), {"alloy": "silver-925"})
    made = a_quote(session, stands)
    stands = a_yes(session, made, variant="b", deposit_minor=None)
    aside(session, stands, paid_minor=70_00)
    (one,) = metal_aside(session)
    assert one.aside.quoted_minor == quote_breakdowns(session, made.number)["b"].rings[0].metal_minor


def test_before_the_yes_the_quote_that_waits_is_what_was_reckoned(session: Session) -> None:
    stands = an_order(session, rings=(SILVER,))
    aside(session, stands, paid_minor=70_00)
    (one,) = metal_aside(session)
    assert (one.aside.quoted_minor, one.aside.difference_minor) == (None, None)
    made = a_quote(session, stands)
    (one,) = metal_aside(session)
    assert one.aside.quoted_minor == quote_breakdown(session, made.number).rings[0].metal_minor


def test_what_was_not_written_down_is_not_made_up(session: Session) -> None:
    stands = a_yes(session, a_quote(session, an_order(session, rings=(SILVER,))))
    aside(session, stands, paid_minor=70_00)
    aside(session, stands)
    (one,) = metal_aside(session)
    assert (one.aside.paid_minor, one.aside.difference_minor) == (None, None)


def test_the_customers_own_metal_stands_for_itself(session: Session) -> None:
    stands = a_yes(session, a_quote(session, an_order(session, rings=(SILVER,))))
    aside(session, stands, paid_minor=70_00)
    aside(session, stands, is_customers=True)
    assert [one.is_customers for one in metal_aside(session)] == [False, True]


def test_what_is_gone_and_what_is_over_lies_aside_no_more(session: Session) -> None:
    stands = a_yes(session, a_quote(session, an_order(session, rings=(SILVER,))))
    gone = put_piece(session, piece=replace(PIECE, order=stands.number), actor=PROGRAM, now=NOW)
    take_out(session, piece_id=gone.id, why="sold", version=gone.version, actor=PROGRAM, now=NOW)
    assert metal_aside(session) == ()
    aside(session, stands)
    one_step(session, stands, State.CALLED_OFF, now=NOW)
    assert metal_aside(session) == ()
