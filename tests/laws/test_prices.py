"""What holds for every price, whatever the studio's figures are."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from studio.craft.alloys import ALLOYS
from studio.craft.money import minor_digits, share
from studio.craft.pricing import Bought, Job, metals_priced, price
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit

AMOUNTS = st.integers(0, 500_000)
PERCENT = st.integers(0, 20_000).map(lambda hundredths: Decimal(hundredths) / 100)
SHARES = st.integers(0, 10_000).map(lambda hundredths: Decimal(hundredths) / 100)
MARGINS = st.integers(0, 9_499).map(lambda hundredths: Decimal(hundredths) / 100)
METALS = sorted({metal for alloy in ALLOYS.values() for metal in metals_priced(alloy)})

RATES = st.builds(
    Rates,
    currency=st.sampled_from(("GBP", "EUR", "JPY", "KWD")),
    labour_hour_minor=AMOUNTS,
    overhead_percent=PERCENT,
    consumables_minor=AMOUNTS,
    premium_percent=PERCENT,
    waste_percent=PERCENT,
    margin_percent=MARGINS,
    extra_margin_percent=st.dictionaries(st.sampled_from(Extra), MARGINS),
    assay_minor=AMOUNTS,
    tax_percent=SHARES,
    step_minor=st.sampled_from((0, 1, 5, 100, 500, 777)),
    deposit_percent=SHARES,
    valid_days=st.just(14),
    stale_after_days=st.just(7),
    minutes=st.just({}),
)
PRICES = st.fixed_dictionaries(
    {
        metal: st.builds(
            MetalPrice,
            metal=st.just(metal),
            price=st.decimals("0.000001", 100_000, places=6),
            unit=st.sampled_from(WeightUnit),
            on=st.just(date(2026, 11, 25)),
            source=st.just("a law"),
        )
        for metal in METALS
    }
)
JOBS = st.builds(
    Job,
    text=st.just("The ring"),
    alloy=st.sampled_from(list(ALLOYS.values())),
    issue_mg=st.integers(1, 200_000),
    minutes=st.integers(0, 5_000),
    bought=st.lists(
        st.builds(Bought, kind=st.sampled_from(Extra), text=st.just("bought in"), cost_minor=AMOUNTS),
        max_size=3,
    ).map(tuple),
)


@given(st.lists(JOBS, min_size=1, max_size=4), PRICES, RATES)
def test_the_lines_sum_to_the_total_to_the_minor_unit(
    jobs: list[Job], prices: dict[str, MetalPrice], rates: Rates
) -> None:
    whole = price(jobs, prices, rates)
    assert sum(line.net_minor for line in whole.lines) == whole.net_minor
    assert sum(line.tax_minor for line in whole.lines) == whole.tax_minor
    assert whole.net_minor + whole.tax_minor == whole.total_minor
    assert [line.tax_minor for line in whole.lines] == [
        share(line.net_minor, rates.tax_percent) for line in whole.lines
    ]
    asked = sum(ring.line_minor + sum(minor for _, minor in ring.extras) for ring in whole.rings)
    assert asked + whole.rounding_minor == whole.net_minor
    assert 0 <= whole.rounding_minor < max(1, rates.step_minor)
    assert whole.cost_minor + whole.margin_minor == whole.net_minor
    assert 0 <= whole.deposit_minor <= whole.total_minor
    assert len(whole.lines) == len(jobs) + sum(len(job.bought) for job in jobs)


@given(st.lists(JOBS, min_size=1, max_size=3), PRICES, RATES, st.integers(1, 50_000))
def test_more_metal_never_costs_less(
    jobs: list[Job], prices: dict[str, MetalPrice], rates: Rates, more_mg: int
) -> None:
    heavier = [replace(jobs[0], issue_mg=jobs[0].issue_mg + more_mg), *jobs[1:]]
    before, after = price(jobs, prices, rates), price(heavier, prices, rates)
    assert after.rings[0].metal_minor >= before.rings[0].metal_minor
    assert (after.net_minor, after.total_minor) >= (before.net_minor, before.total_minor)


@given(st.lists(JOBS, min_size=1, max_size=3), PRICES, RATES, st.integers(1, 2_000))
def test_more_minutes_never_cost_less(
    jobs: list[Job], prices: dict[str, MetalPrice], rates: Rates, more: int
) -> None:
    longer = [replace(jobs[0], minutes=jobs[0].minutes + more), *jobs[1:]]
    assert price(longer, prices, rates).total_minor >= price(jobs, prices, rates).total_minor


@given(JOBS, PRICES, RATES, st.integers(2, 5))
def test_rings_alike_cost_alike_but_for_the_rounding(
    job: Job, prices: dict[str, MetalPrice], rates: Rates, count: int
) -> None:
    whole = price([job] * count, prices, rates)
    assert len({ring.line_minor for ring in whole.rings}) == 1
    alone = price([job], prices, replace(rates, step_minor=0))
    assert whole.net_minor - whole.rounding_minor == count * alone.net_minor


@given(JOBS, PRICES, RATES)
def test_a_price_covers_its_cost(job: Job, prices: dict[str, MetalPrice], rates: Rates) -> None:
    whole = price([job], prices, rates)
    assert whole.margin_minor >= 0
    earned = whole.rings[0].margin_minor
    line = whole.rings[0].line_minor
    # the margin is a share of the price, to the half minor unit that rounding the line may add or take
    assert abs(Decimal(line) * rates.margin_percent / 100 - earned) <= 1
    assert minor_digits(rates.currency) in {0, 2, 3}
