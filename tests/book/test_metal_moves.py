"""When metal moves: an open quote is priced anew by its metal alone, and what is promised is counted."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from sqlmodel import Session

from studio.book.errors import MoveRefused
from studio.book.metal_moves import moved_quotes, price_over_time, promised_metal
from studio.book.metal_prices import add_metal_prices
from studio.book.people import PROGRAM
from studio.book.pieces import put_piece, set_aside
from studio.book.quotes import (
    QuoteState,
    issue_quote,
    quote,
    quote_breakdown,
    quote_breakdowns,
    requotable,
)
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.book.variants import add_variant
from studio.craft.alloys import ALLOYS
from studio.craft.hallmark import HallmarkRule
from studio.craft.orders import State
from studio.craft.rates import Extra, MetalPrice, WeightUnit
from tests.book.test_cuts import SHEET
from tests.builders import NOW, TODAY, a_design, a_ring, an_order, one_step
from tests.quoting import PDF, RATES, a_quote, a_yes, put_figures
from tests.varying import offered

LATER = NOW + timedelta(days=2)
SILVER = a_design(alloy="silver-925", thickness_mm=1.5)


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


def gold_at(session: Session, price: str) -> None:
    """Gold costs this much a gram from the day after tomorrow on; nothing else moves."""
    found = MetalPrice("gold", Decimal(price), WeightUnit.G, TODAY + timedelta(days=2), "a test")
    add_metal_prices(session, prices=[found], actor=PROGRAM, now=NOW)


def test_a_quote_at_the_price_it_was_made_with_is_the_same(session: Session) -> None:
    made = a_quote(session)
    (moved,) = moved_quotes(session, now=NOW)
    (way,) = moved.ways
    assert (moved.number, way.total_minor, way.difference_minor) == (made.number, made.total_minor, 0)
    assert not moved.has_moved


def test_only_the_metal_moves_whatever_rates_are_by_then(session: Session) -> None:
    stands = an_order(session)
    silver = a_ring(design=a_design(alloy="silver-925"))
    stands = add_variant(
        session, number=stands.number, version=stands.version, rings=[silver], actor=PROGRAM, now=NOW
    )
    made = a_quote(session, stands, minutes={f"{stands.number}/1": 222})
    gold_at(session, "97.30")
    put_rates(session, rates=replace(RATES, labour_hour_minor=9900), actor=PROGRAM, now=NOW)
    draft = requotable(session, stands.number, now=LATER)
    before, after = quote_breakdowns(session, made.number), {"a": draft.breakdown, **draft.others}
    assert draft.number == f"{stands.number}-q2"
    for key, then in before.items():
        for old, new in zip(then.rings, after[key].rings, strict=True):
            assert (new.labour_minor, new.overhead_minor, new.consumables_minor, new.extras) == (
                old.labour_minor,
                old.overhead_minor,
                old.consumables_minor,
                old.extras,
            )
    assert after["a"].rings[0].metal_minor > before["a"].rings[0].metal_minor
    assert after["b"].rings[0].metal_minor == before["b"].rings[0].metal_minor


def test_a_quote_made_anew_takes_the_place_of_the_old_one(session: Session) -> None:
    made = a_quote(session)
    gold_at(session, "97.30")
    draft = requotable(session, made.order_number, now=LATER)
    second = issue_quote(session, draft=draft, pdf=PDF, actor=PROGRAM, now=LATER)
    assert quote(session, made.number).state is QuoteState.SUPERSEDED
    assert second.total_minor > made.total_minor
    (moved,) = moved_quotes(session, now=LATER)
    assert (moved.number, moved.has_moved) == (second.number, False)


def test_a_quote_that_ended_still_says_what_it_would_be(session: Session) -> None:
    a_quote(session, valid_days=1)
    gold_at(session, "97.30")
    (moved,) = moved_quotes(session, now=LATER)
    assert moved.has_ended
    assert moved.ways[0].difference_minor is not None
    assert moved.ways[0].difference_minor > 0


def test_a_quote_has_moved_where_any_of_its_ways_has(session: Session) -> None:
    """Its own ring is of silver, which stays; the other way to make it is of gold."""
    silver = an_order(session, rings=(a_ring(design=SILVER),))
    stands = offered(session, silver, {"alloy": "gold-750-yellow"})
    a_quote(session, stands)
    gold_at(session, "97.30")
    (moved,) = moved_quotes(session, now=LATER)
    first, second = moved.ways
    assert (first.key, first.difference_minor, second.key) == ("a", 0, "b")
    assert second.difference_minor is not None
    assert second.difference_minor > 0
    assert moved.has_moved


def test_the_assay_stays_as_it_was_quoted_whatever_the_rule_is_by_then(session: Session) -> None:
    made = a_quote(session)
    (before,) = quote_breakdown(session, made.number).rings
    assert [bought.kind for bought, _ in before.extras] == [Extra.ASSAY]
    facts = replace(studio(session), hallmark_rule=HallmarkRule.NONE)
    change_studio(session, facts=facts, actor=PROGRAM, now=NOW)
    (after,) = requotable(session, made.order_number, now=NOW).breakdown.rings
    assert after.extras == before.extras


@pytest.mark.parametrize("state", [State.DRAFT, State.AGREED])
def test_what_does_not_wait_for_an_answer_is_not_quoted_anew(session: Session, state: State) -> None:
    stands = an_order(session, state=state)
    with pytest.raises(MoveRefused):
        requotable(session, stands.number, now=NOW)
    assert moved_quotes(session, now=NOW) == ()


def test_agreed_rings_are_promised_until_their_blanks_are_cut_or_metal_lies_aside(session: Session) -> None:
    stands = a_yes(session, a_quote(session, an_order(session, rings=(a_ring(design=SILVER),))))
    a_quote(session, an_order(session))  # not agreed: promised to nobody
    (found,) = promised_metal(session, alloys=ALLOYS, now=NOW)
    issue = round(stands.rings[0].reckoning.issue_g * 1000)
    one = found.promised
    assert (one.alloy, one.rings, one.issue_mg, one.aside_mg, one.to_buy_mg) == (
        "silver-925",
        1,
        issue,
        0,
        issue,
    )
    assert one.quoted_minor == found.now_minor, "no price has moved"
    piece = put_piece(session, piece=replace(SHEET, mass_g=None), actor=PROGRAM, now=NOW)
    set_aside(session, piece_id=piece.id, order=stands.number, version=piece.version, actor=PROGRAM, now=NOW)
    (found,) = promised_metal(session, alloys=ALLOYS, now=NOW)
    assert (found.promised.aside_mg, found.promised.to_buy_mg, found.now_minor) == (issue, 0, 0)


def test_what_is_ready_or_called_off_is_promised_no_more(session: Session) -> None:
    stands = a_yes(session, a_quote(session))
    one_step(session, stands, State.CALLED_OFF, now=NOW)
    assert promised_metal(session, alloys=ALLOYS, now=NOW) == ()


def test_the_price_over_time_has_the_last_price_of_each_day(session: Session) -> None:
    gold_at(session, "97.30")
    gold_at(session, "98.10")
    assert price_over_time(session, "gold") == (
        (TODAY, Decimal("65.20")),
        (TODAY + timedelta(days=2), Decimal("98.10")),
    )
    assert price_over_time(session, "brass") == ()
