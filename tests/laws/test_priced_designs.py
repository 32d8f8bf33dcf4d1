"""Every design that is accepted has a price, once the studio has said what it asks and the metal costs."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from sqlmodel import Session

from studio.book.metal_prices import add_metal_prices
from studio.book.people import PROGRAM
from studio.book.quotes import price_of
from studio.craft.alloys import ALLOYS
from studio.craft.designs import Design, Finger
from studio.craft.pricing import metals_priced
from studio.craft.rates import MetalPrice, WeightUnit
from studio.craft.reckonings import reckon
from tests.builders import NOW, TODAY
from tests.quoting import PRICES, RATES, put_figures
from tests.strategies import designs, whole_fingers


def test_every_design_has_a_price(session: Session) -> None:
    put_figures(session)
    known = {metal for metal, _ in PRICES}
    others = sorted({metal for alloy in ALLOYS.values() for metal in metals_priced(alloy)} - known)
    prices = [MetalPrice(metal, Decimal("0.02"), WeightUnit.G, TODAY, "a law") for metal in others]
    add_metal_prices(session, prices=prices, actor=PROGRAM, now=NOW)

    @settings(max_examples=50)
    @given(st.lists(st.tuples(whole_fingers(), designs()), min_size=1, max_size=3))
    def law(rings: list[tuple[Finger, Design]]) -> None:
        live = price_of(session, [reckon(*ring) for ring in rings], day=TODAY)
        assert (live.missing, live.stale) == ((), ())
        price = live.breakdown
        assert price is not None
        assert sum(line.net_minor + line.tax_minor for line in price.lines) == price.total_minor
        assert price.total_minor > price.deposit_minor > 0
        assert price.net_minor % RATES.step_minor == 0
        assert all(ring.metal_minor >= 0 < ring.line_minor and ring.job.minutes > 0 for ring in price.rings)

    law()
