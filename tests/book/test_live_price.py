"""The price of the day: every figure of the studio's moves it, and what is missing is named."""

from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.metal_prices import add_metal_price, metal_prices
from studio.book.people import PROGRAM
from studio.book.quotes import price_of
from studio.book.rates import put_rates
from studio.book.studio import change_studio, studio
from studio.craft.designs import Pattern, PatternWhen, Profile, Stock
from studio.craft.form import Form, FormKind
from studio.craft.hallmark import HallmarkRule
from studio.craft.minutes import minute_rows, planned_minutes
from studio.craft.particulars import Inscription, Particulars, Stone, Surface
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.route import route
from tests.builders import NOW, TODAY, a_design, a_finger
from tests.quoting import PRICES, RATES, put_figures


def rings_of_every_kind() -> Iterator[Reckoning]:
    """Rings whose routes together need every row of the minutes."""
    for profile in Profile:
        side = 2.0 if profile in {Profile.ROUND, Profile.SQUARE} else 1.8
        width = side if profile in {Profile.ROUND, Profile.SQUARE} else 4.0
        design = a_design(
            profile=profile, width_mm=width, thickness_mm=side, stock=Stock.STRIP, pattern=Pattern.PLAIN,
            pattern_when=None, alloy="silver-925",
        )  # fmt: skip
        yield reckon(a_finger(), design)
    for pattern in Pattern:
        for when in PatternWhen:
            if pattern is not Pattern.PLAIN and (pattern, when) != (Pattern.ROLLED, PatternWhen.CLOSED):
                yield reckon(a_finger(), a_design(pattern=pattern, pattern_when=when))
    flaring = Form(FormKind.ANTICLASTIC, radius_mm=12.4)
    yield reckon(a_finger(), a_design(width_mm=8.0, thickness_mm=0.8, form=flaring))


RINGS = list(rings_of_every_kind())
ROWS = {
    row: next(
        ring
        for ring in RINGS
        if row in {step.row for step in planned_minutes(route(ring), ring.design, RATES.minutes)}
    )
    for row in minute_rows()
}
"""For each row of the minutes a ring that needs it."""

ASKED = Particulars(Surface.POLISHED, Surface.PLATED, Inscription("Ada"), (Stone(2, stated="ruby"),))


def total(session: Session, *rings: Reckoning) -> int:
    live = price_of(session, rings, day=TODAY, particulars=[ASKED] * len(rings))
    assert live.breakdown is not None, live.missing
    return live.breakdown.total_minor


@pytest.mark.parametrize("row", minute_rows())
def test_changing_any_minute_changes_the_next_total(session: Session, row: str) -> None:
    put_figures(session)
    before = total(session, ROWS[row])
    put_rates(session, rates=with_minutes(row, RATES.minutes[row] + 30), actor=PROGRAM, now=NOW)
    assert total(session, ROWS[row]) > before


def with_minutes(row: str, minutes: int) -> Rates:
    return replace(RATES, minutes=dict(RATES.minutes) | {row: minutes})


CHANGES: dict[str, Any] = {
    "labour_hour_minor": 5300,
    "overhead_percent": Decimal(31),
    "consumables_minor": 1400,
    "premium_percent": Decimal(15),
    "waste_percent": Decimal(9),
    "margin_percent": Decimal(34),
    "extra_margin_percent": {Extra.ASSAY: Decimal(60)},
    "assay_minor": 2900,
    "letter_minor": 130,
    "plating_minor": 1700,
    "setting_minor": 900,
    "tax_percent": Decimal(21),
    "step_minor": 7700,
}
ELSEWHERE = {
    "currency": "which amounts they are",
    "deposit_percent": "changes the deposit",
    "valid_days": "changes the last day",
    "stale_after_days": "flags old prices",
    "minutes": "each row is walked above",
}


def test_no_rate_is_left_out_of_the_walk() -> None:
    assert {part.name for part in fields(Rates)} == set(CHANGES) | set(ELSEWHERE)


@pytest.mark.parametrize("name", CHANGES)
def test_changing_any_rate_changes_the_next_total(session: Session, name: str) -> None:
    put_figures(session)
    ring = reckon(a_finger(), a_design())
    before = total(session, ring)
    put_rates(session, rates=replace(RATES, **{name: CHANGES[name]}), actor=PROGRAM, now=NOW)
    assert total(session, ring) != before


def test_the_deposit_follows_its_rate(session: Session) -> None:
    put_figures(session)
    ring = reckon(a_finger(), a_design())
    first = price_of(session, [ring], day=TODAY).breakdown
    put_rates(session, rates=replace(RATES, deposit_percent=Decimal(50)), actor=PROGRAM, now=NOW)
    second = price_of(session, [ring], day=TODAY).breakdown
    assert first is not None
    assert second is not None
    assert (first.total_minor, second.deposit_minor) == (second.total_minor, (first.total_minor + 1) // 2)


@pytest.mark.parametrize("metal", [metal for metal, _ in PRICES])
def test_changing_any_metal_price_changes_the_next_total(session: Session, metal: str) -> None:
    alloys = {
        "gold": "gold-750-yellow", "silver": "silver-925", "platinum": "platinum-950-ru",
        "palladium": "palladium-950-ru", "copper": "copper",
    }  # fmt: skip
    put_figures(session)
    put_rates(session, rates=replace(RATES, step_minor=0), actor=PROGRAM, now=NOW)
    ring = reckon(a_finger(), a_design(alloy=alloys[metal]))
    before = total(session, ring)
    price = metal_prices(session, TODAY)[metal]
    add_metal_price(session, price=replace(price, price=price.price * 3), actor=PROGRAM, now=NOW)
    assert total(session, ring) > before


def test_without_rates_the_price_waits_for_them(session: Session) -> None:
    live = price_of(session, [RINGS[0]], day=TODAY)
    assert (live.breakdown, live.missing) == (None, ("rates", "price of silver"))


def test_what_a_price_waits_for_is_named_once_and_whole(session: Session) -> None:
    minutes = {row: spent for row, spent in RATES.minutes.items() if row not in {"solder", "finish:hammered"}}
    put_rates(session, rates=replace(RATES, minutes=minutes), actor=PROGRAM, now=NOW)
    rings = [reckon(a_finger(), a_design(alloy=key)) for key in ("gold-750-white-pd", "copper", "copper")]
    live = price_of(session, rings, day=TODAY)
    assert live.missing == (
        "minutes for 'Solder the seam'",
        "minutes for 'Finish, hammered'",
        "price of gold",
        "price of silver",
        "price of palladium",
        "price of copper",
    )


def test_an_old_price_is_flagged_where_the_ring_stands_on_it(session: Session) -> None:
    put_figures(session, on=TODAY - timedelta(days=8))
    silver = MetalPrice("silver", Decimal(1), WeightUnit.G, TODAY, "today")
    add_metal_price(session, price=silver, actor=PROGRAM, now=NOW)
    gold = price_of(session, [reckon(a_finger(), a_design())], day=TODAY)
    assert [price.metal for price in gold.stale] == ["gold"]
    assert price_of(session, [RINGS[0]], day=TODAY).stale == ()
    longer = replace(RATES, stale_after_days=8)
    put_rates(session, rates=longer, actor=PROGRAM, now=NOW)
    assert price_of(session, [reckon(a_finger(), a_design())], day=TODAY).stale == ()


def test_minutes_that_are_typed_take_the_place_of_the_route(session: Session) -> None:
    put_figures(session)
    rings = [reckon(a_finger(), a_design())] * 2
    live = price_of(session, rings, day=TODAY, minutes={2: 500})
    assert [plan.is_typed for plan in live.planned] == [False, True]
    assert live.breakdown is not None
    assert live.breakdown.rings[1].labour_minor == 40_000
    assert live.planned[0].minutes == sum(step.minutes for step in live.planned[0].steps)


def test_a_ring_that_must_be_hallmarked_has_a_line_for_it(session: Session) -> None:
    put_figures(session)
    heavy = reckon(a_finger(), a_design())
    light = reckon(a_finger(), a_design(width_mm=2.0, thickness_mm=1.2, alloy="silver-925"))
    assert heavy.finished_g > 1 < light.finished_g < 7.78
    live = price_of(session, [heavy, light], day=TODAY)
    assert live.breakdown is not None
    assert [line.text for line in live.breakdown.lines] == [
        "Ring 1, made by hand",
        "The hallmark of ring 1",
        "Ring 2, made by hand",
    ]
    no_rule = replace(studio(session), hallmark_rule=HallmarkRule.NONE)
    change_studio(session, facts=no_rule, actor=PROGRAM, now=NOW)
    only = price_of(session, [heavy], day=TODAY).breakdown
    assert only is not None
    assert [line.text for line in only.lines] == ["The ring, made by hand"]


def test_no_ring_has_no_price(session: Session) -> None:
    put_figures(session)
    assert price_of(session, [], day=TODAY).breakdown is None
