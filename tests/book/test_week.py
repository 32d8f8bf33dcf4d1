"""The week's metal: each line is exactly the sum of its rings, and nothing else is counted."""

from collections import defaultdict
from datetime import date, timedelta
from itertools import product

import pytest
from sqlmodel import Session

from studio.book.order_reads import order, orders_page
from studio.book.orders import CustomerDraft
from studio.book.transaction import transaction
from studio.book.week import week_need
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.reckonings import Reckoning
from tests.builders import NOW, TODAY, a_design, a_finger, a_ring, an_order

MONDAY = date(2026, 11, 30)
SUNDAY = date(2026, 12, 6)


def all_reckoned(session: Session) -> list[tuple[State, date | None, Reckoning]]:
    """Every ring in the book, reckoned anew from its order and not from the stored columns."""
    numbers = [line.number for line in orders_page(session, limit=200, now=NOW).items]
    whole = [order(session, number) for number in numbers]
    return [(one.state, one.terms.bench_on, ring.reckoning) for one in whole for ring in one.rings]


def fill(session: Session) -> None:
    """Orders in every state on days in and around the week, single rings and pairs."""
    kinds = [a_design(), a_design(width_mm=4.0), a_design(alloy="silver-925"), a_design(thickness_mm=1.4)]
    sizes = ["H", "K½", "O½", "S", "W"]
    days = [MONDAY + timedelta(days=ahead) for ahead in range(-2, 9)]
    with transaction(session):
        for (place, day), (step, state) in product(enumerate(days), enumerate(State)):
            design = kinds[(place + step) % len(kinds)]
            rings = [a_ring(a_finger(sizes[(place + step) % 5]), design)]
            if (place + step) % 3 == 0:
                rings.append(a_ring(a_finger("T"), design))
            an_order(session, state=state, rings=rings, bench_on=day)


def test_every_line_is_the_sum_of_its_rings_reckoned_independently(session: Session) -> None:
    fill(session)
    lengths_um: defaultdict[tuple[object, ...], int] = defaultdict(int)
    masses_mg: defaultdict[tuple[object, ...], int] = defaultdict(int)
    blanks: defaultdict[tuple[object, ...], int] = defaultdict(int)
    for state, bench_on, ring in all_reckoned(session):
        if state in COUNTED_FOR_THE_WEEK and bench_on is not None and MONDAY <= bench_on <= SUNDAY:
            made = ring.design
            kind = (made.alloy, made.profile, made.stock, made.thickness_mm, made.width_mm)
            lengths_um[kind] += round(ring.mark_mm * 1000)
            masses_mg[kind] += round(ring.issue_g * 1000)
            blanks[kind] += 1
    week = week_need(session, monday=MONDAY, today=TODAY)
    assert (week.from_, week.to) == (MONDAY, SUNDAY)
    found = {(n.alloy, n.profile, n.stock, n.thickness_mm, n.width_mm): n for n in week.need}
    assert len(found) == len(week.need) == 4
    assert {kind: round(line.length_mm * 1000) for kind, line in found.items()} == lengths_um
    assert {kind: round(line.mass_g * 1000) for kind, line in found.items()} == masses_mg
    assert {kind: line.blanks for kind, line in found.items()} == blanks


def test_every_line_opens_the_rings_that_add_up_to_it(session: Session) -> None:
    fill(session)
    for line in week_need(session, monday=MONDAY, today=TODAY).need:
        assert line.blanks == len(line.rings)
        assert sum(ring.mark_mm for ring in line.rings) == pytest.approx(line.length_mm, abs=1e-9)
        assert sum(ring.issue_g for ring in line.rings) == pytest.approx(line.mass_g, abs=1e-9)
        for ring in line.rings:
            behind = order(session, ring.number)
            assert behind.state in COUNTED_FOR_THE_WEEK
            figures = behind.rings[ring.position - 1].reckoning
            assert ring.mark_mm == pytest.approx(figures.mark_mm, abs=0.0005)


def test_a_week_runs_from_monday_to_sunday_whatever_day_is_asked(session: Session) -> None:
    for day in (MONDAY - timedelta(days=1), MONDAY, SUNDAY, SUNDAY + timedelta(days=1)):
        an_order(session, state=State.AGREED, bench_on=day)
    for ahead in range(7):
        week = week_need(session, monday=MONDAY + timedelta(days=ahead), today=TODAY)
        assert [ring.number for line in week.need for ring in line.rings] == ["2026-2", "2026-3"]


@pytest.mark.parametrize("state", sorted(set(State) - COUNTED_FOR_THE_WEEK))
def test_orders_that_need_no_metal_are_out(session: Session, state: State) -> None:
    an_order(session, state=state, bench_on=MONDAY)
    assert week_need(session, monday=MONDAY, today=TODAY).need == ()


def test_a_called_off_order_leaves_the_week(session: Session) -> None:
    an_order(session, state=State.AGREED, bench_on=MONDAY)
    off = an_order(session, state=State.CALLED_OFF, bench_on=MONDAY)
    (line,) = week_need(session, monday=MONDAY, today=TODAY).need
    assert off.number not in {ring.number for ring in line.rings}
    assert line.blanks == 1


def test_late_and_unplanned_orders_are_named_and_not_counted(session: Session) -> None:
    an_order(session, state=State.AGREED, bench_on=date(2026, 11, 20), customer=CustomerDraft("Late"))
    an_order(session, state=State.READY, bench_on=date(2026, 11, 20))
    an_order(session, state=State.AGREED, bench_on=None, customer=CustomerDraft("Unplanned"))
    an_order(session, state=State.DRAFT, bench_on=None)
    week = week_need(session, monday=MONDAY, today=MONDAY)
    assert [(one.number, one.customer_name) for one in week.late] == [("2026-1", "Late")]
    assert [(one.number, one.customer_name) for one in week.unplanned] == [("2026-3", "Unplanned")]
    assert week.need == ()


def test_a_bench_day_still_to_come_is_not_late_for_a_week_further_ahead(session: Session) -> None:
    an_order(session, state=State.AGREED, bench_on=TODAY + timedelta(days=1))
    an_order(session, state=State.AGREED, bench_on=TODAY - timedelta(days=1))
    week = week_need(session, monday=MONDAY + timedelta(weeks=3), today=TODAY)
    assert [one.number for one in week.late] == ["2026-2"]


def test_the_last_week_of_a_long_year_is_whole(session: Session) -> None:
    for day in (date(2026, 12, 28), date(2027, 1, 3)):
        an_order(session, state=State.AGREED, bench_on=day)
    (line,) = week_need(session, monday=date(2027, 1, 1), today=TODAY).need
    assert line.blanks == 2
