"""What stones do to a later change of size."""

import math

import pytest

from studio.craft.designs import Finger, Measured, Profile, System, design
from studio.craft.particulars import Particulars, Setting, Stone
from studio.craft.practice import ResizingTerms
from studio.craft.reckonings import reckon
from studio.craft.resizing import resizing
from studio.craft.resizing_stones import length_mm, size_mm, stone_limits
from studio.craft.resizing_working import resizing_workings
from studio.papers.quote_words import resize_sentences
from studio.papers.resizing_words import resizing_line
from tests.craft.test_working import worked_again

FINGER = Finger(System.US, "8", 57.0, Measured.GAUGE, 6.0)
RING = reckon(FINGER, design(Profile.FLAT, 6.0, 1.6, "silver-925"))
CLAWS = Stone(3, size="3 mm", stated="sapphire", setting=Setting.CLAW)
OPAL = Stone(1, size="4 x 6 mm", stated="Black Opal", setting=Setting.BEZEL)


def told(*stones: Stone) -> Particulars:
    return Particulars(stones=stones)


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("3 mm", 3),
        ("2,5 x 3 mm", 3),
        ("Ø 1.3", 1.3),
        ("0.1 ct", None),
        ("5 points", None),
        ("", None),
        ("99", None),
    ],
)
def test_a_stone_s_size_is_its_larger_side_in_mm(said: str, mm: float | None) -> None:
    assert size_mm(Stone(size=said)) == mm


def test_five_of_three_mm_on_the_worked_ring() -> None:
    ring = design(Profile.FLAT, 6.0, 1.4, "silver-925")
    limits = stone_limits(told(Stone(5, size="3 mm")), ring, 57.0, ResizingTerms())
    assert limits.run_percent == pytest.approx(100 * 15 / (57 + 2 * math.pi * 1.4))
    assert round(limits.run_percent or 0, 1) == 22.8
    assert limits.reasons == ()


@pytest.mark.parametrize(
    ("stones", "reason"),
    [
        ((Stone(40, setting=Setting.PAVE),), "its pavé stones may run all round; say their size to tell"),
        ((Stone(9, setting=Setting.CHANNEL, size="0.1 ct"),), "its channel-set stones may run all round"),
        ((Stone(20, size="3 mm", setting=Setting.CLAW),), "its stones take 89 % of the way round"),
        ((Stone(6, setting=Setting.FLUSH),), "it has 6 stones, more than stand at its top"),
    ],
)
def test_stones_all_round_leave_no_place_to_cut(stones: tuple[Stone, ...], reason: str) -> None:
    found = resizing(RING, told(*stones))
    assert not found.is_possible
    assert found.reasons[0].startswith(reason)
    assert resize_sentences([RING], [told(*stones)])[0].startswith(
        f"The ring cannot be resized later: {reason}"
    )


def test_a_short_row_in_a_channel_is_resized_with_care() -> None:
    assert resizing(RING, told(Stone(5, size="1.5 mm", setting=Setting.CHANNEL))).is_possible


def test_a_few_stones_at_the_top_bear_a_small_change_and_no_hammer() -> None:
    bare, set_with = resizing(RING), resizing(RING, told(CLAWS))
    assert (bare.by_hammer, set_with.by_hammer) == (True, False)
    assert set_with.most_mm == 2.6
    assert [one.change_mm for one in bare.steps if one not in set_with.steps] == [pytest.approx(math.pi)]
    assert resizing_line(set_with, System.US) == (
        "One size, US, lets in or takes out 2.55 mm of strip, 0.25 g; with care, by 2.6 mm at most, cut in at"
        " the back; shield the stones."
    )


@pytest.mark.parametrize("system", System)
def test_every_system_has_a_step_left_with_stones(system: System) -> None:
    assert resizing_line(resizing(RING, told(CLAWS)), system)


def test_what_bears_no_heat_is_taken_out_first() -> None:
    found = resizing(RING, told(OPAL, Stone(2, size="2", tested="pearls")))
    assert found.out_first == ("opal", "pearl")
    assert resizing_line(found, System.US).endswith("take out the opal and the pearl first.")
    said = "The ring can later be made a little larger or smaller, with care for its stones"
    assert resize_sentences([RING], [told(OPAL)]) == (f"{said}; the opal must be taken out for it.",)
    assert resize_sentences([RING], [told(CLAWS)]) == (f"{said}.",)


def test_what_was_found_counts_before_what_it_is_said_to_be() -> None:
    assert resizing(RING, told(Stone(1, size="3", stated="opal", tested="glass"))).out_first == ()
    assert resizing(RING, told(Stone(1, size="3", stated="jetsam"))).out_first == ()


def test_without_stones_nothing_changes() -> None:
    assert resizing(RING, told()) == resizing(RING)
    assert resize_sentences([RING], [told()]) == resize_sentences([RING])


def test_the_run_of_the_stones_comes_with_its_working() -> None:
    stones = told(CLAWS, Stone(2, size="1.5 mm"))
    notes = {one.figure: one for one in resizing_workings(RING, stones)}
    length, run = notes["resizing.stones.length_mm"], notes["resizing.stones.run_percent"]
    assert length.value == length_mm(stones.stones or ()) == 12
    assert worked_again(length) == pytest.approx(length.value)
    assert worked_again(run) == pytest.approx(run.value)
    assert "33 %" in run.source
    assert not [name for name in notes if name.startswith("resizing.de.2")], "only the small step is left"
    assert "resizing.stones.run_percent" in {
        one.figure for one in resizing_workings(RING, told(Stone(20, size="3 mm")))
    }
