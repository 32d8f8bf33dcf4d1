"""What an amendment costs beside what was agreed, and what its paper says of both."""

from dataclasses import replace
from decimal import Decimal

from sqlmodel import Session

from studio.book.amendments import amendable, amending_of
from studio.book.metal_prices import add_metal_prices
from studio.book.people import PROGRAM
from studio.book.quote_paper import paper_of_issued
from studio.book.quotes import agree
from studio.book.rates import put_rates
from studio.book.variants import add_variant
from studio.craft.rates import MetalPrice, WeightUnit
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.builders import NOW, TODAY, a_design, a_finger, a_ring, an_order
from tests.quoting import RATES, a_quote, put_figures


def test_what_does_not_change_costs_what_it_did_whatever_prices_are_now(session: Session) -> None:
    stands = agreed(session, rings=(a_ring(), a_ring(a_finger("L"))))
    assert stands.standing_quote is not None
    dear = MetalPrice("gold", Decimal("99.90"), WeightUnit.G, TODAY, "a test")
    add_metal_prices(session, prices=[dear], actor=PROGRAM, now=NOW)
    put_rates(session, rates=replace(RATES, labour_hour_minor=9900), actor=PROGRAM, now=NOW)
    with_words = replace(amending_of(stands), words="Collected by their sister.")
    draft = amendable(session, stands.number, amending=with_words, actor=PROGRAM, now=LATER)
    assert draft.breakdown.total_minor == stands.standing_quote.total_minor
    assert draft.breakdown.lines == stands.standing_quote.lines
    narrower = amendable(
        session, stands.number, amending=changing(stands, **NARROWER), actor=PROGRAM, now=LATER
    )
    assert narrower.breakdown.rings[1].line_minor == draft.breakdown.rings[1].line_minor
    assert narrower.breakdown.rings[0].line_minor < draft.breakdown.rings[0].line_minor


def test_a_metal_that_was_not_priced_then_takes_the_price_of_today(session: Session) -> None:
    stands = agreed(session)
    dear = MetalPrice("platinum", Decimal("77.10"), WeightUnit.G, TODAY, "a test")
    add_metal_prices(session, prices=[dear], actor=PROGRAM, now=NOW)
    draft = amendable(
        session, stands.number, amending=changing(stands, alloy="platinum-950-ru"), actor=PROGRAM, now=LATER
    )
    assert [(one["metal"], one["price"]) for one in draft.frozen["prices"]] == [("platinum", "77.10")]


def test_a_charge_is_a_line_of_its_own_with_its_tax(session: Session) -> None:
    stands = agreed(session)
    assert stands.standing_quote is not None
    charged = replace(amending_of(stands), charge_text="The blank that was cut", charge_minor=2600)
    asked = issued(session, stands, charged)
    assert (asked.lines[-1].text, asked.lines[-1].net_minor, asked.lines[-1].tax_minor) == (
        "The blank that was cut",
        2600,
        520,
    )
    assert asked.total_minor == stands.standing_quote.total_minor + 3120


def test_the_paper_says_what_changes_from_what_and_the_price_between(session: Session) -> None:
    stands = agreed(session)
    assert stands.standing_quote is not None
    wanted = replace(changing(stands, **NARROWER), words="Narrower, as asked for\nby telephone.")
    asked = issued(session, stands, wanted)
    paper = paper_of_issued(session, asked.number)
    assert paper.title == "Amendment 2026-1-a1, Jorun Müller"
    assert paper.amended is not None
    assert (paper.amended.of, paper.amended.words) == (
        "2026-1-q1",
        ("Narrower, as asked for", "by telephone."),
    )
    ring, weight = paper.amended.changes
    assert ("6 mm wide" in ring.was, "5 mm wide" in ring.becomes, weight.label) == (True, True, "Weight")
    assert [line.text for line in paper.amended.sums] == [
        "Agreed in 2026-1-q1",
        "Less by",
        "Paid so far",
        "Left to pay at collection",
    ]
    assert paper.deposit is None


def test_a_variant_that_was_chosen_is_what_an_amendment_starts_from(session: Session) -> None:
    put_figures(session)
    stands = an_order(session)
    silver = a_ring(design=a_design(alloy="silver-925"))
    stands = add_variant(
        session, number=stands.number, version=stands.version, rings=[silver], actor=PROGRAM, now=NOW
    )
    found = a_quote(session, stands)
    done = agree(session, quote=found.number, name="Jorun Müller", variant="b", actor=PROGRAM, now=NOW)
    wanted = replace(amending_of(done), words="No change but these words.")
    draft = amendable(session, done.number, amending=wanted, actor=PROGRAM, now=LATER)
    assert draft.breakdown.total_minor == found.variants[1].total_minor
    assert draft.frozen["amends"]["total_minor"] == found.variants[1].total_minor
