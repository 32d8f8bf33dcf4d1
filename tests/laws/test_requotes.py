"""A quote made anew: whatever its rings are, and however far metal jumps, the metal alone moves."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from sqlmodel import Session

from studio.book.metal_prices import add_metal_prices, metal_prices
from studio.book.order_values import RingDraft
from studio.book.people import PROGRAM
from studio.book.quotes import QuoteTerms, issue_quote, quotable, quote_breakdowns, requotable
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.craft.alloys import ALLOYS
from studio.craft.designs import Measured
from studio.craft.hallmark import HallmarkRule
from studio.craft.particulars import Inscription, Marks, MarkWish, Particulars, Stone, Surface, Whose
from studio.craft.pricing import PriceBreakdown, metal_minor, metals_priced, with_margin
from studio.craft.rates import MetalPrice, Rates, WeightUnit
from tests.builders import NOW, TODAY, an_order
from tests.quoting import PDF, PRICES, RATES, put_figures
from tests.strategies import designs, fingers
from tests.varying import offered

LATER = NOW + timedelta(days=2)
OTHERS = sorted(
    {metal for alloy in ALLOYS.values() for metal in metals_priced(alloy)} - {metal for metal, _ in PRICES}
)
USUAL = {metal: Decimal(price) for metal, price in PRICES} | dict.fromkeys(OTHERS, Decimal("0.0217"))
BOUGHT = replace(RATES, letter_minor=213, plating_minor=3100, setting_minor=1740)
JUMPS = st.sampled_from([Decimal("1.30"), Decimal("0.70")])
"""How far the price of each metal jumps, each for itself."""


@st.composite
def particulars(draw: st.DrawFn) -> Particulars:
    """Words to cut, stones, plating, a mark though exempt: all that is bought in, or none of it."""
    surfaces = st.sampled_from([Surface.POLISHED, Surface.PLATED])
    words = draw(st.sampled_from(["", "ever yours", "12. IX. 2026", "Ελένη"]))
    stones = draw(st.lists(st.integers(1, 6), max_size=2))
    return Particulars(
        draw(surfaces),
        draw(surfaces),
        Inscription(words, is_read_back=True),
        tuple(Stone(count=count, whose=Whose.STUDIO) for count in stones),
        Marks(draw(st.sampled_from([MarkWish.AS_RULE, MarkWish.THOUGH_EXEMPT]))),
    )


RINGS = st.builds(
    lambda finger, design, told: RingDraft(finger, design, particulars=told),
    fingers().map(lambda finger: replace(finger, measured=Measured.GAUGE, gauge_width_mm=6.0)),
    designs(),
    particulars(),
)


def put_prices(session: Session, jumps: dict[str, Decimal], *, after_days: int) -> None:
    on = TODAY + timedelta(days=after_days)
    prices = [
        MetalPrice(metal, round(price * jumps.get(metal, 1), 6), WeightUnit.G, on, "a law")
        for metal, price in USUAL.items()
    ]
    add_metal_prices(session, prices=prices, actor=PROGRAM, now=NOW)


def other_lines(price: PriceBreakdown) -> Iterator[tuple[str, int, int]]:
    """The customer's lines but the rings' own, to the minor unit."""
    own = {ring.job.text for ring in price.rings}
    return ((line.text, line.net_minor, line.tax_minor) for line in price.lines if line.text not in own)


def assert_only_metal_moved(
    then: PriceBreakdown, anew: PriceBreakdown, prices: dict[str, MetalPrice], rates: Rates
) -> None:
    assert list(other_lines(anew)) == list(other_lines(then))
    for was, now in zip(then.rings, anew.rings, strict=True):
        assert now.job == was.job
        for name in ("labour_minor", "overhead_minor", "consumables_minor", "extras"):
            assert getattr(now, name) == getattr(was, name)
        assert now.metal_minor == metal_minor(now.job.alloy, now.job.issue_mg, prices, rates)
        own = now.metal_minor + was.labour_minor + was.overhead_minor + was.consumables_minor
        assert (now.own_minor, now.line_minor) == (own, with_margin(own, rates.margin_percent))
    assert anew.net_minor == sum(line.net_minor for line in anew.lines)
    assert anew.net_minor % max(1, rates.step_minor) == 0
    assert 0 <= anew.rounding_minor < max(1, rates.step_minor)


def test_of_a_quote_made_anew_the_metal_alone_moves(session: Session) -> None:
    put_figures(session)
    facts = studio(session)

    @settings(max_examples=50)
    @given(
        st.lists(RINGS, min_size=1, max_size=2),
        st.booleans(),
        st.sampled_from([0, 1, 100, 500]),
        st.integers(1, 600),
        st.fixed_dictionaries(dict.fromkeys(USUAL, JUMPS)),
    )
    def law(
        rings: list[RingDraft], has_choice: bool, step_minor: int, minutes: int, jumps: dict[str, Decimal]  # noqa: FBT001  drawn
    ) -> None:  # fmt: skip
        rates = replace(BOUGHT, step_minor=step_minor)
        put_rates(session, rates=rates, actor=PROGRAM, now=NOW)
        uk = replace(facts, hallmark_rule=HallmarkRule.UK, version=studio(session).version)
        change_studio(session, facts=uk, actor=PROGRAM, now=NOW)
        put_prices(session, {}, after_days=0)
        stands = an_order(session, rings=rings)
        if has_choice:
            stands = offered(session, stands, {"alloy": "gold-585-rose"}, {"alloy": "silver-925"})
        terms = QuoteTerms(minutes={f"{stands.number}/1": minutes})
        draft = quotable(session, stands.number, terms=terms, now=NOW)
        made = issue_quote(session, draft=draft, pdf=PDF, actor=PROGRAM, now=NOW)
        # By then the studio asks for more, and has moved to where nothing is hallmarked.
        put_prices(session, jumps, after_days=2)
        dearer = replace(rates, labour_hour_minor=9900, assay_minor=2400, letter_minor=0, setting_minor=9)
        put_rates(session, rates=dearer, actor=PROGRAM, now=NOW)
        none = replace(uk, hallmark_rule=HallmarkRule.NONE, version=studio(session).version)
        change_studio(session, facts=none, actor=PROGRAM, now=NOW)
        again = issue_quote(
            session, draft=requotable(session, stands.number, now=LATER), pdf=PDF, actor=PROGRAM, now=LATER
        )
        before, after = quote_breakdowns(session, made.number), quote_breakdowns(session, again.number)
        assert list(after) == list(before) == (["a", "b", "c"] if has_choice else ["a"])
        prices = dict(metal_prices(session, LATER.date()))
        for key, then in before.items():
            assert_only_metal_moved(then, after[key], prices, rates)

    law()
