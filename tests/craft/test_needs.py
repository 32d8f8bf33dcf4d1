"""What is planned together, which piece may be used for whom, and what is told of a shortage."""

from dataclasses import replace
from itertools import count

import pytest

from studio.craft.cutting import CutsOverlap, Plan, Stock, WhyUnplaced, plan, sawn
from studio.craft.designs import Profile
from studio.craft.designs import Stock as From
from studio.craft.needs import CutGroup, GroupPlan, LyingPiece, NeededBlank, groups_of, rounds, shortages
from studio.craft.practice import MillTerms
from tests.stock import BLANK, SHEET

KERF = 310
NUMBERS = count(1)


def blank(order: int, **changes: object) -> NeededBlank:
    told = {"ring": f"2026-{order}/1", "order": f"2026-{order}", "customer_id": order} | changes
    return replace(BLANK, **told)  # type: ignore[arg-type]  # a test's own changes


def piece(**changes: object) -> LyingPiece:
    number = next(NUMBERS)
    told = {"id": number, "mark": f"S-{number:03d}"} | changes
    return replace(SHEET, **told)  # type: ignore[arg-type]  # a test's own changes


def solved(group: CutGroup) -> GroupPlan:
    steps = rounds(group)
    task = next(steps)
    while True:
        made: Plan = plan(*task, group.kerf_um, seconds=1)
        try:
            task = steps.send(made)
        except StopIteration as end:
            found: GroupPlan = end.value
            return found


def test_one_alloy_form_and_thickness_is_planned_together_and_wire_by_its_section() -> None:
    wire = {"stock": From.WIRE, "profile": Profile.HALF_ROUND, "width_um": 4000}
    blanks = [
        blank(1), blank(2, width_um=8000), blank(3, thickness_um=2000), blank(4, alloy="copper"),
        blank(5, **wire), blank(6, **wire | {"width_um": 3000}),
    ]  # fmt: skip
    groups = groups_of(blanks, [], KERF)
    assert [[one.order for one in group.blanks] for group in groups] == [
        ["2026-1", "2026-2"], ["2026-3"], ["2026-4"], ["2026-5"], ["2026-6"],
    ]  # fmt: skip


def test_stock_within_two_hundredths_passes_and_goes_to_the_nearest() -> None:
    blanks = [blank(1), blank(2, thickness_um=1530)]
    pieces = [piece(thickness_um=1490), piece(thickness_um=1519), piece(thickness_um=1450)]
    first, second = groups_of(blanks, pieces, KERF)
    assert [one.thickness_um for one in first.pieces] == [1490]
    assert [one.thickness_um for one in second.pieces] == [1519]


def test_a_customers_own_metal_is_never_offered_for_anothers_ring() -> None:
    theirs = piece(owner_id=2, order="2026-2")
    (group,) = groups_of([blank(1), blank(2)], [theirs], KERF)
    found = solved(group)
    cut = [one.blank for opened in found.opened for strip in opened.strips for one in strip.cuts]
    assert cut == ["2026-2/1"]
    assert [one.blank for one in found.unplaced] == ["2026-1/1"]


def test_what_is_set_aside_goes_first_to_its_order_and_the_rest_to_free_pieces() -> None:
    aside, free = piece(order="2026-1", length_um=70_000, width_um=7000), piece()
    (group,) = groups_of([blank(1), blank(2)], [free, aside], KERF)
    found = solved(group)
    where = {
        one.blank: opened.stock for opened in found.opened for strip in opened.strips for one in strip.cuts
    }
    assert where == {"2026-1/1": aside.mark, "2026-2/1": free.mark}
    assert (found.is_proved, found.unplaced) == (True, ())
    assert found.opened_area_um2 == 70_000 * 7000 + 198_000 * 24_000


def test_enough_grams_in_a_piece_that_is_too_short_is_said() -> None:
    short = piece(length_um=48_000, mass_mg=18_000)
    (group,) = groups_of([blank(1)], [short], KERF)
    (told,) = shortages(group, solved(group), group.pieces, MillTerms())
    assert (told.enough, told.why) == (short, WhyUnplaced.TOO_LONG)
    light = piece(length_um=48_000, mass_mg=3_000)
    (group,) = groups_of([blank(1)], [light], KERF)
    (told,) = shortages(group, solved(group), group.pieces, MillTerms())
    assert told.enough is None


def test_a_thicker_piece_is_offered_to_be_rolled_down() -> None:
    thick, thicker = piece(thickness_um=2000, length_um=50_000), piece(thickness_um=3000, length_um=90_000)
    (group,) = groups_of([blank(1)], [thick, thicker], KERF)
    (told,) = shortages(group, solved(group), [thick, thicker], MillTerms())
    assert told.rolled is not None
    assert told.rolled[0] == thick  # both become long enough; the lighter one is told
    assert told.rolled[1].length_mm == pytest.approx(50 * 2 / 1.5)
    kept = replace(thick, order="2026-9")
    (told,) = shortages(group, solved(group), [kept], MillTerms())
    assert told.rolled is None


def test_a_piece_sawn_by_hand_has_the_offcuts_of_the_plan() -> None:
    blanks = [blank(n, mark_um=50_000 + 1_300 * n, width_um=4000 + 1000 * (n % 3)) for n in range(1, 6)]
    (group,) = groups_of(blanks, [piece()], KERF)
    (opened,) = solved(group).opened
    strips = [(strip.width_um, [(cut.blank, cut.length_um) for cut in strip.cuts]) for strip in opened.strips]
    again = sawn(Stock(opened.stock, opened.length_um, opened.width_um), strips, KERF)
    assert (again.offcuts, again.lemel_um2) == (opened.offcuts, opened.lemel_um2)


@pytest.mark.parametrize(
    "strips",
    [
        [],
        [(6000, [])],
        [(0, [("a", 10)])],
        [(6000, [("a", 198_001)])],
        [(6000, [("a", 99_000), ("b", 98_800)])],  # 197.8 and one kerf are 198.11
        [(12_000, [("a", 10)]), (11_800, [("b", 10)])],  # 23.8 and one kerf are 24.11
    ],
)
def test_blanks_that_pass_an_edge_are_refused(strips: list[tuple[int, list[tuple[str, int]]]]) -> None:
    with pytest.raises(CutsOverlap):
        sawn(Stock("S", 198_000, 24_000), strips, KERF)


def test_sawing_uses_every_bit_of_the_piece_by_hand() -> None:
    # strips of 8, 6 and 5 mm of 198 x 24: 198 - 182.3 - 3 x 0.31, 198 - 194.8 - 0.93, 198 - 122 - 0.62
    strips = [
        (8000, [("a", 64_700), ("b", 59_200), ("c", 58_400)]),
        (6000, [("d", 67_100), ("e", 58_200), ("f", 69_500)]),
        (5000, [("g", 56_300), ("h", 65_700)]),
    ]
    found = sawn(Stock("S", 198_000, 24_000), strips, KERF)
    assert [(one.length_um, one.width_um) for one in found.offcuts] == [
        (14_770, 8000), (2270, 6000), (75_380, 5000), (198_000, 4070),
    ]  # fmt: skip
