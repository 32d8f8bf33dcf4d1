"""Up to three ways to make an order on one quote: offered, priced, chosen, and the choice taken back."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.agreed_errors import TooManyVariants, VariantUnknown
from studio.book.orders import OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.book.practices import changed, practice_on, put_practice
from studio.book.quote_paper import paper_of_issued
from studio.book.quotes import QuoteState, QuoteTerms, agree, quotable
from studio.book.variants import add_variant, drop_variant, put_variant
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.pricing import price
from tests.builders import NOW, TODAY, a_design, a_finger, a_ring, an_order
from tests.quoting import RATES, a_quote, put_figures
from tests.varying import IN_SILVER, offered

LATER = NOW + timedelta(hours=2)


def test_a_variant_begins_as_the_orders_own_rings(session: Session) -> None:
    stands = an_order(session)
    done = add_variant(session, number=stands.number, version=stands.version, actor=PROGRAM, now=NOW)
    (variant,) = done.variants
    assert (variant.key, [ring.draft for ring in variant.rings]) == ("b", [ring.draft for ring in done.rings])
    assert done.history[-1].verb == "add a variant"
    assert done.version == stands.version + 1


def test_there_are_at_most_three_ways_with_the_orders_own(session: Session) -> None:
    stands = offered(session, an_order(session), IN_SILVER, {"width_mm": 5.0})
    assert [one.key for one in stands.variants] == ["b", "c"]
    with pytest.raises(TooManyVariants):
        offered(session, stands, {"width_mm": 4.0})


def test_a_dropped_key_is_the_next_one_given(session: Session) -> None:
    stands = offered(session, an_order(session), IN_SILVER, {"width_mm": 5.0})
    stands = drop_variant(
        session, number=stands.number, key="b", version=stands.version, actor=PROGRAM, now=NOW
    )
    assert [one.key for one in stands.variants] == ["c"]
    assert [one.key for one in offered(session, stands, {"width_mm": 4.0}).variants] == ["b", "c"]


def test_a_variant_is_made_for_the_orders_fingers_whatever_is_asked(session: Session) -> None:
    stands = an_order(session)
    other = a_ring(a_finger("J"), a_design(**IN_SILVER))
    done = add_variant(
        session, number=stands.number, version=stands.version, rings=[other], actor=PROGRAM, now=NOW
    )
    (ring,) = done.variants[0].rings
    assert ring.finger == done.rings[0].finger
    moved = change_order(
        session,
        number=done.number,
        version=done.version,
        changes=OrderChanges(rings=(a_ring(a_finger("Q")),)),
        actor=PROGRAM,
        now=NOW,
    )
    assert moved.variants[0].rings[0].finger.label == "Q"


def test_a_variant_has_the_orders_rings_in_number(session: Session) -> None:
    stands = an_order(session)
    with pytest.raises(Refused) as refused:
        add_variant(
            session,
            number=stands.number,
            version=stands.version,
            rings=[a_ring(), a_ring()],
            actor=PROGRAM,
            now=NOW,
        )
    assert refused.value.refusals[0].field == "rings"
    stands = offered(session, stands, IN_SILVER)
    rings = (stands.rings[0].draft, a_ring(a_finger("L")))
    changes = OrderChanges(rings=rings)
    done = change_order(
        session, number=stands.number, version=stands.version, changes=changes, actor=PROGRAM, now=NOW
    )
    assert done.variants == ()


def test_a_metal_to_avoid_is_avoided_in_every_variant(session: Session) -> None:
    stands = an_order(session)
    stands = change_order(
        session,
        number=stands.number,
        version=stands.version,
        changes=OrderChanges(avoid="nickel"),
        actor=PROGRAM,
        now=NOW,
    )
    with pytest.raises(Refused) as refused:
        offered(session, stands, {"alloy": "gold-750-white-ni"})
    assert refused.value.refusals[0].field == "rings.0.alloy"


def test_a_metal_to_avoid_that_a_variant_holds_is_not_taken_down(session: Session) -> None:
    stands = offered(session, an_order(session), {"alloy": "gold-750-white-ni"})
    with pytest.raises(Refused) as refused:
        change_order(
            session,
            number=stands.number,
            version=stands.version,
            changes=OrderChanges(avoid="nickel"),
            actor=PROGRAM,
            now=NOW,
        )
    assert refused.value.refusals[0].field == "rings.0.alloy"


@pytest.mark.parametrize("verb", ["add", "change", "drop"])
def test_another_variant_makes_a_quoted_order_a_draft_and_its_quote_superseded(
    session: Session, verb: str
) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    quoted = a_quote(session, stands)
    facts: dict[str, Any] = {"number": stands.number, "actor": PROGRAM, "now": LATER}
    version = stands.version + 1
    if verb == "add":
        done = add_variant(session, version=version, **facts)
    elif verb == "change":
        done = put_variant(session, key="b", version=version, rings=[a_ring()], **facts)
    else:
        done = drop_variant(session, key="b", version=version, **facts)
    assert done.state is State.DRAFT
    assert [(one.number, one.state) for one in done.quotes] == [(quoted.number, QuoteState.SUPERSEDED)]


def test_saying_a_variant_again_changes_nothing(session: Session) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    a_quote(session, stands)
    rings = [ring.draft for ring in stands.variants[0].rings]
    done = put_variant(
        session,
        number=stands.number,
        key="b",
        version=stands.version + 1,
        rings=rings,
        actor=PROGRAM,
        now=LATER,
    )
    assert (done.state, done.version) == (State.QUOTED, stands.version + 1)


def test_a_variant_nobody_knows_is_unknown(session: Session) -> None:
    stands = an_order(session)
    facts: dict[str, Any] = {"number": stands.number, "version": stands.version, "actor": PROGRAM}
    for key in ("a", "b", "d", ""):
        with pytest.raises(VariantUnknown):
            drop_variant(session, key=key, now=NOW, **facts)


def test_the_quotes_own_figures_are_the_first_variants(session: Session) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER, {"width_mm": 4.0})
    found = a_quote(session, stands)
    assert [one.key for one in found.variants] == ["a", "b", "c"]
    first = found.variants[0]
    assert (first.lines, first.net_minor, first.tax_minor, first.total_minor, first.deposit_minor) == (
        found.lines,
        found.net_minor,
        found.tax_minor,
        found.total_minor,
        found.deposit_minor,
    )
    for one in found.variants:
        assert one.net_minor + one.tax_minor == one.total_minor
        assert sum(line.net_minor for line in one.lines) == one.net_minor
        assert sum(line.tax_minor for line in one.lines) == one.tax_minor
    assert found.variants[1].total_minor < found.variants[2].total_minor < first.total_minor


def test_each_variant_costs_what_its_rings_alone_would_cost(session: Session) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    draft = quotable(session, stands.number, now=NOW)
    alone = an_order(session, rings=(a_ring(design=a_design(**IN_SILVER)),))
    assert draft.others["b"] == quotable(session, alone.number, now=NOW).breakdown
    jobs = [ring.job for ring in draft.others["b"].rings]
    assert price(jobs, draft.prices, RATES) == draft.others["b"]


def test_minutes_are_typed_for_a_variant_by_its_key(session: Session) -> None:
    put_figures(session)
    stands = offered(session, an_order(session), IN_SILVER)
    terms = QuoteTerms(minutes={f"{stands.number}/1b": 240, f"{stands.number}/1": 200})
    draft = quotable(session, stands.number, terms=terms, now=NOW)
    assert draft.breakdown.rings[0].job.minutes == 200
    assert draft.others["b"].rings[0].job.minutes == 240


def test_a_quote_without_variants_has_none(session: Session) -> None:
    put_figures(session)
    found = a_quote(session)
    assert found.variants == ()
    with pytest.raises(VariantUnknown):
        agree(session, quote=found.number, name="Jorun Müller", variant="a", actor=PROGRAM, now=NOW)


def test_the_paper_shows_every_variant_with_its_total(session: Session) -> None:
    put_figures(session)
    found = a_quote(session, offered(session, an_order(session), IN_SILVER, {"width_mm": 4.0}))
    paper = paper_of_issued(session, found.number)
    assert paper.variants is not None
    assert [one.title for one in paper.variants.columns] == ["Variant A", "Variant B", "Variant C"]
    assert paper.variants.columns[0].total == paper.total
    (ring,) = paper.variants.rings
    sentence, size, *_ = ring.rows
    assert not sentence.is_same
    assert (size.label, len(ring.lying), "silver" in sentence.cells[1]) == ("Size", 3, True)
    assert paper.yes == "Yes, make variant A, B or C (ring one) as written here"


def test_a_variant_is_read_back_by_the_practice_it_was_reckoned_with(session: Session) -> None:
    coarser = changed(practice_on(session, TODAY), {"trim_each_end_mm": 0.9})
    put_practice(session, practice=coarser, from_day=TODAY, source="a test", actor=PROGRAM, now=NOW)
    stands = offered(session, an_order(session), IN_SILVER)
    assert stands.variants[0].rings[0].reckoning.practice.trim_each_end_mm == 0.9
    assert order(session, stands.number).variants == stands.variants
