"""What to order: never under the need, never a whole step too much, and by which day."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.buying import NeededThing, to_buy, wholes
from studio.craft.cutting import Blank, Stock, plan
from studio.craft.designs import Profile
from studio.craft.designs import Stock as From
from studio.craft.drawer import PieceKind
from studio.craft.errors import Refused
from studio.craft.needs import kind_of
from studio.craft.open_days import OpenDays
from studio.craft.supplies import Supply, check_supply
from tests.stock import BLANK

SILVER_G_CM3 = 10.36
STRIP = Supply(
    supplier="Rill & Daughter",
    alloy="silver-925",
    kind=PieceKind.STRIP,
    thickness_um=1500,
    least_width_um=3000,
    width_step_um=1000,
    length_step_um=10_000,
    least_length_um=50_000,
    most_length_um=500_000,
    lead_days=3,
    spare_days=1,
)
SHEET = replace(STRIP, kind=PieceKind.SHEET, least_width_um=10_000, width_step_um=5000)
KERF = 300
WEEKENDS = frozenset({5, 6})


def test_a_strip_is_as_long_as_its_blanks_and_cuts_rounded_up_to_the_step() -> None:
    (one,) = wholes([BLANK, replace(BLANK, ring="2026-1/2")], STRIP, KERF, SILVER_G_CM3) or ()
    assert (one.length_um, one.width_um) == (130_000, 6000)  # 62.4 + 0.3 + 62.4 = 125.1
    assert one.mass_mg == 12_121  # 130 x 6 x 1.5 x 10.36 / 1000 = 12.1212


def test_the_least_weight_is_reached_by_whole_steps() -> None:
    heavy = replace(STRIP, least_mass_mg=20_000)
    (one,) = wholes([BLANK], heavy, KERF, SILVER_G_CM3) or ()
    assert (one.length_um, one.mass_mg) == (220_000, 20_513)  # a step of 10 mm is 932 mg: 210 is 19.58 g


def test_what_no_length_holds_is_given_by_no_supplier() -> None:
    assert wholes([replace(BLANK, mark_um=600_000)], STRIP, KERF, SILVER_G_CM3) is None
    assert wholes([BLANK], replace(STRIP, width_step_um=0), KERF, SILVER_G_CM3) is None


def test_wire_is_bought_by_its_own_section() -> None:
    wire = replace(BLANK, stock=From.WIRE, profile=Profile.HALF_ROUND, width_um=4000, thickness_um=1700)
    sold = replace(
        STRIP, kind=PieceKind.WIRE, profile=Profile.HALF_ROUND, least_width_um=4000, thickness_um=1700
    )
    assert sold.is_for(kind_of(wire))
    assert not replace(sold, profile=Profile.COURT).is_for(kind_of(wire))
    assert not replace(sold, least_width_um=4100).is_for(kind_of(wire))
    assert not STRIP.is_for(kind_of(wire))
    (one,) = wholes([wire], sold, KERF, SILVER_G_CM3) or ()
    assert (one.length_um, one.width_um) == (70_000, 4000)


@pytest.mark.parametrize(
    ("needed_on", "lead", "spare", "closed", "order_by"),
    [
        (date(2026, 12, 3), 3, 1, (), date(2026, 11, 27)),
        (date(2026, 12, 7), 1, 0, (), date(2026, 12, 4)),
        (date(2027, 1, 4), 2, 1, ((2026, 12, 31), (2027, 1, 1)), date(2026, 12, 28)),
        (date(2027, 1, 4), 5, 2, ((2026, 12, 24), (2026, 12, 25), (2026, 12, 31), (2027, 1, 1)),
         date(2026, 12, 18)),
        (date(2028, 3, 1), 1, 1, (), date(2028, 2, 28)),
        (date(2026, 12, 3), 0, 0, (), date(2026, 12, 3)),
    ],
)  # fmt: skip
def test_the_order_by_date_is_counted_back_over_open_days(
    needed_on: date, lead: int, spare: int, closed: tuple[tuple[int, int, int], ...], order_by: date
) -> None:
    days = OpenDays(WEEKENDS, frozenset(date(*one) for one in closed))
    supply = replace(STRIP, lead_days=lead, spare_days=spare)
    assert supply.order_by(needed_on, days) == order_by


def test_what_comes_in_time_goes_before_what_is_lighter() -> None:
    days, today = OpenDays(WEEKENDS), date(2026, 12, 1)
    slow = replace(STRIP, lead_days=30)
    quick = replace(STRIP, lead_days=1, least_length_um=100_000)
    needed = [NeededThing(BLANK, date(2026, 12, 10))]

    def bought(*supplies: Supply) -> tuple[int | None, bool]:
        found = to_buy(
            kind_of(BLANK), needed, enumerate(supplies, 1), kerf_um=KERF, density_g_cm3=SILVER_G_CM3,
            days=days, today=today,
        )  # fmt: skip
        return found.supply_id, found.is_late

    assert bought(slow, quick) == (2, False)
    assert bought(slow) == (1, True)
    assert bought() == (None, False)
    assert quick.expected_on(date(2026, 12, 4), days) == date(2026, 12, 7)


@given(
    st.lists(
        st.tuples(st.integers(40_000, 90_000), st.sampled_from([3000, 4500, 6000])), min_size=1, max_size=5
    ),
    st.sampled_from([STRIP, SHEET]),
    st.integers(1000, 20_000),
    st.integers(100, 3000),
)
def test_what_is_ordered_yields_every_blank_and_never_a_whole_step_too_much(
    wanted: list[tuple[int, int]], sold: Supply, length_step: int, width_step: int
) -> None:
    """The cutting planner is asked: all fits; and by a step shorter or narrower not every way of it does."""
    supply = replace(sold, length_step_um=length_step, width_step_um=width_step)
    blanks = [
        replace(BLANK, ring=str(at), mark_um=mark, width_um=width) for at, (mark, width) in enumerate(wanted)
    ]
    things = wholes(blanks, supply, KERF, SILVER_G_CM3)
    assert things is not None
    stock = [Stock(str(at), one.length_um, one.width_um) for at, one in enumerate(things)]
    cut = plan(stock, [Blank(one.ring, one.mark_um, one.width_um) for one in blanks], KERF)
    assert cut.unplaced == ()
    for one in things:
        assert (one.length_um - supply.least_length_um) % length_step == 0
        assert (one.width_um - supply.least_width_um) % width_step == 0
    if supply.kind is PieceKind.STRIP:
        needed = sum(mark + KERF for mark, _ in wanted)
        over = sum(one.length_um - length_step for one in things if one.length_um > supply.least_length_um)
        assert over < needed
        assert all(
            one.width_um - width_step < max(width for _, width in wanted)
            for one in things
            if one.width_um > supply.least_width_um
        )


def test_a_supply_without_sense_is_refused_figure_by_figure() -> None:
    check_supply(STRIP)
    wrong = replace(
        STRIP, supplier="", length_step_um=0, most_length_um=10_000, lead_days=121, profile=Profile.FLAT
    )
    with pytest.raises(Refused) as refused:
        check_supply(wrong)
    assert {one.field for one in refused.value.refusals} == {
        "supplier", "length_step", "most_length", "lead_days", "profile",
    }  # fmt: skip
