from dataclasses import replace
from datetime import date, datetime
from itertools import product
from typing import Any

import pytest

from studio.craft.designs import (
    WIRE_PROFILES,
    FingerName,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    System,
)
from studio.craft.hallmark import HallmarkRule
from studio.papers.quote_words import (
    doubt_sentence,
    holds_sentence,
    long_day,
    ready_sentence,
    resize_sentences,
    ring_sentence,
    size_sentence,
    tolerance_sentence,
    weight_sentence,
)
from tests.builders import a_finger
from tests.papers.sheets import a_reckoning

ON = date(2026, 11, 26)
HAMMERED = a_reckoning(pattern=Pattern.HAMMERED)
ROLLED = a_reckoning(pattern=Pattern.ROLLED)


def test_how_near_a_size_comes_is_told_plainly() -> None:
    assert doubt_sentence([HAMMERED]) == (
        "Nine rings in ten come within 0.9 mm of the size round the inside, 74 in 100 within half a size."
    )
    us = a_reckoning(finger=a_finger("7", System.US))
    assert doubt_sentence([us]).endswith(" in 100 within a quarter of a size.")
    iso = a_reckoning(finger=a_finger("56", System.ISO))
    assert doubt_sentence([iso]).endswith(" in 100 within 0.6 mm.")
    # of several the least sure, of a size that is not settled nothing
    assert doubt_sentence([a_reckoning(), HAMMERED]) == doubt_sentence([HAMMERED])
    assert doubt_sentence([a_reckoning(finger=a_finger("J", to_label="M", to_circumference_mm=52.5))]) == ""


def test_a_ring_is_told_in_one_sentence() -> None:
    assert ring_sentence(HAMMERED) == (
        "A flat band, 6 mm wide and 1.6 mm thick, hammered all round by hand, in 18 carat yellow gold (750)."
    )


@pytest.mark.parametrize(
    ("profile", "words"),
    [
        (Profile.FLAT, "A plain flat band, 4 mm wide and 1.75 mm thick, in sterling silver (925)."),
        (
            Profile.HALF_ROUND,
            "A plain half-round band, flat inside, 4 mm wide and 1.75 mm thick, in sterling silver (925).",
        ),
        (
            Profile.FLAT_COURT,
            "A plain flat band, rounded inside, 4 mm wide and 1.75 mm thick, in sterling silver (925).",
        ),
        (Profile.ROUND, "A plain ring of round wire, 1.75 mm thick, in sterling silver (925)."),
        (Profile.SQUARE, "A plain ring of square wire, 1.75 mm thick, in sterling silver (925)."),
    ],
)
def test_a_plain_ring_is_called_plain(profile: Profile, words: str) -> None:
    width_mm = None if profile in WIRE_PROFILES else 4.0
    assert ring_sentence(a_reckoning(profile, width_mm, 1.75, "silver-925")) == words


@pytest.mark.parametrize(("profile", "pattern"), list(product(Profile, Pattern)))
def test_every_section_and_pattern_has_its_sentence(profile: Profile, pattern: Pattern) -> None:
    width_mm = None if profile in WIRE_PROFILES else 4.0
    words = ring_sentence(a_reckoning(profile, width_mm, 2.5, pattern=pattern))
    assert words.startswith("A ")
    assert " 2.5 mm thick, " in words
    assert words.endswith(", in 18 carat yellow gold (750).")
    assert [worked for worked in Pattern if worked in words] == [pattern]


def test_every_section_and_pattern_reads_differently() -> None:
    sentences = {
        ring_sentence(a_reckoning(profile, None if profile in WIRE_PROFILES else 4.0, 2.5, pattern=pattern))
        for profile, pattern in product(Profile, Pattern)
    }
    assert len(sentences) == len(Profile) * len(Pattern)


def test_a_size_is_told_with_how_it_was_measured() -> None:
    assert size_sentence(HAMMERED, ON, ON) == (
        "O½, inside 55.6 mm round, left ring finger."
        " Measured on 26 November with a gauge 6 mm wide, hands warm."
    )


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"gauge_width_mm": None}, "Measured on 26 November with a gauge, hands warm."),
        ({"is_warm": False}, "Measured on 26 November with a gauge 6 mm wide, hands cold."),
        ({"measured": Measured.RING}, "Read on 26 November from a ring 6 mm wide that fits."),
        (
            {"measured": Measured.RING, "gauge_width_mm": None},
            "Read on 26 November from a ring that fits.",
        ),
        (
            {"measured": Measured.TOLD, "gauge_width_mm": None},
            "As you told us on 26 November, not measured by us.",
        ),
        (
            {"measured": None, "gauge_width_mm": None},
            "Noted on 26 November, without a word on how it was measured.",
        ),
        ({"measured": None}, "Measured on 26 November with a gauge 6 mm wide, hands warm."),
    ],
)
def test_each_way_of_measuring_is_called_what_it_is(changes: dict[str, Any], words: str) -> None:
    assert size_sentence(a_reckoning(finger=a_finger(**changes)), ON, ON).endswith(f". {words}")


def test_a_measurement_of_another_year_says_the_year() -> None:
    said = size_sentence(HAMMERED, date(2025, 12, 31), date(2026, 1, 2))
    assert "Measured on 31 December 2025 with" in said
    assert "Measured with a gauge" in size_sentence(HAMMERED, None, ON)


@pytest.mark.parametrize(
    ("hand", "name", "words"),
    [
        (Hand.RIGHT, FingerName.THUMB, "round, right thumb. "),
        (Hand.LEFT, FingerName.LITTLE, "round, left little finger. "),
        (None, FingerName.INDEX, "round, index finger. "),
        (Hand.LEFT, None, "round, left hand. "),
        (None, None, "mm round. "),
    ],
)
def test_the_finger_is_named_as_far_as_it_is_known(
    hand: Hand | None, name: FingerName | None, words: str
) -> None:
    assert words in size_sentence(a_reckoning(finger=a_finger(hand=hand, name=name)), ON, ON)


def test_what_a_wide_ring_is_made_larger_is_told_with_the_size_it_becomes() -> None:
    wide = a_reckoning(width_mm=8.0, finger=a_finger("57", System.ISO, gauge_width_mm=4.0))
    assert size_sentence(wide, ON, ON).startswith(
        "ISO 57, left ring finger. Made larger by 1 mm for its width, inside 58.0 mm round, about ISO 58. "
    )
    typed = a_reckoning(fit_mm=-0.25)
    assert "Made smaller by 0.25 mm, inside 55.4 mm round, about O½." in size_sentence(typed, ON, ON)


def test_a_size_not_settled_yet_says_which_end_is_drawn_and_priced() -> None:
    finger = a_finger("J", to_label="M", to_circumference_mm=52.5, knuckle_label="N")
    assert size_sentence(a_reckoning(finger=finger), ON, ON) == (
        "Not settled yet, somewhere between J and M, left ring finger. Drawn and priced for M, the larger"
        " end, inside 52.5 mm round. Over the knuckle N. Measured on 26 November with a gauge 6 mm wide,"
        " hands warm. We measure again before we begin."
    )
    told = replace(finger, measured=Measured.TOLD, gauge_width_mm=None, knuckle_label=None)
    assert (
        "for M, the larger end, made larger by 0.5 mm for its width, inside 53.0 mm round."
        in size_sentence(a_reckoning(finger=told), ON, ON)
    )


@pytest.mark.parametrize(
    ("alloy", "rule", "words"),
    [
        ("gold-750-yellow", HallmarkRule.UK, "about 8.8 g, finished; hallmarked"),
        ("gold-750-yellow", HallmarkRule.NONE, "about 8.8 g, finished"),
        (
            "silver-925",
            HallmarkRule.UK,
            "about 5.9 g, finished; no hallmark, which silver needs from 7.78 g",
        ),
        ("silver-925", HallmarkRule.CONVENTION, "about 5.9 g, finished; hallmarked"),
        ("copper", HallmarkRule.UK, "about 5.1 g, finished"),
    ],
)
def test_a_weight_is_told_with_what_the_law_asks(alloy: str, rule: HallmarkRule, words: str) -> None:
    assert weight_sentence(a_reckoning(alloy=alloy, pattern=Pattern.HAMMERED), rule) == words


def test_a_day_that_is_not_promised_is_not_written_as_if_it_were() -> None:
    # The zone is the book's business: a moment comes here as the studio's clock shows it.
    assert ready_sentence(datetime(2026, 12, 11, 10), None) == "Friday, 11 December 2026, from 10:00"  # noqa: DTZ001  as above
    assert ready_sentence(None, date(2026, 12, 12)) == (
        "No day is promised yet; wanted by Saturday, 12 December 2026"
    )
    assert ready_sentence(None, None) == "No day is promised yet"


def test_a_price_says_which_metal_ends_it() -> None:
    until = date(2027, 1, 1)
    silver, copper = a_reckoning(alloy="silver-925"), a_reckoning(alloy="copper")
    assert holds_sentence([HAMMERED, HAMMERED], until) == (
        "This price holds until Friday, 1 January 2027, since the price of gold moves."
    )
    assert holds_sentence([HAMMERED, silver, copper], until).endswith(
        "since the prices of gold, silver and copper move."
    )


def test_what_a_new_size_does_to_the_pattern_is_told() -> None:
    ring = "ring can later be made one size larger or smaller"
    again = "the pattern at the seam is then worked again"
    assert resize_sentences([HAMMERED]) == (f"The {ring}; {again}.",)
    breaks = "cannot be resized later: its rolled pattern runs all round and breaks at the seam"
    assert resize_sentences([ROLLED, ROLLED]) == (f"Each ring {breaks}.",)
    assert resize_sentences([a_reckoning(), ROLLED]) == (f"The plain {ring}.", f"The rolled ring {breaks}.")
    thin = a_reckoning(thickness_mm=0.6)
    assert resize_sentences([thin]) == (
        "The ring cannot be resized later: it is thinner than 0.8 mm, too thin for a second seam.",
    )
    assert resize_sentences([a_reckoning(), HAMMERED, HAMMERED]) == (
        f"The plain {ring}.",
        f"Each hammered {ring}; {again}.",
    )


def test_a_tolerance_is_never_less_than_what_finishing_takes_off() -> None:
    words = "Made by hand, width and thickness may differ by {} mm."
    plain = a_reckoning()
    assert plain.design.thickness_mm - plain.finished_thickness_mm == pytest.approx(0.1)
    assert tolerance_sentence([plain, HAMMERED]) == words.format("0.1")
    deeper = replace(plain, finished_thickness_mm=plain.design.thickness_mm - 0.14)
    assert tolerance_sentence([deeper]) == words.format("0.2")
    wire = a_reckoning(Profile.ROUND, 2.0, None)
    assert tolerance_sentence([wire]) == "Made by hand, the thickness may differ by 0.1 mm."
    assert tolerance_sentence([wire, plain]) == words.format("0.1")


def test_a_day_is_written_out_with_its_weekday() -> None:
    assert long_day(date(2028, 2, 29)) == "Tuesday, 29 February 2028"


def test_a_pattern_after_closing_reads_like_one_put_on_flat() -> None:
    closed = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED)
    assert ring_sentence(closed) == ring_sentence(HAMMERED)
