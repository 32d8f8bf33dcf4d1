"""What is learned of forming: by how much waists fall, from the bench's own rings, and what it changes."""

from dataclasses import replace

import pytest

from studio.craft.designs import Profile, design
from studio.craft.form import Form, FormKind
from studio.craft.forming_learning import (
    BELIEVED_WITHIN_MM,
    FormingRecord,
    counting,
    forming_for,
    forming_learned,
)
from studio.craft.learned import ThicknessBand
from studio.craft.metals import Metal
from studio.craft.practice import COMMON_PRACTICE
from studio.craft.reckonings import reckon
from tests.builders import a_finger

FLARED = design(Profile.FLAT, 8.0, 0.8, "silver-925", form=Form(FormKind.ANTICLASTIC, radius_mm=12.4))


def fell(*by_mm: float, metal: Metal = Metal.SILVER, wrong: str = "") -> list[FormingRecord]:
    return [
        FormingRecord(f"2026-{place}/1", metal, 0.8, 57.0 + mm, 57.0, wrong)
        for place, mm in enumerate(by_mm, 1)
    ]


def test_one_ring_counts_as_much_as_what_was_believed_and_says_who_it_was() -> None:
    own, of_all = forming_learned(fell(1.0), 0.0)
    assert (own.metal, own.band) == (Metal.SILVER, ThicknessBand.THIN)
    assert own.mean_mm == pytest.approx(0.5)
    assert (own.records, own.others, own.rings) == (1, 0, ("2026-1/1",))
    assert (of_all.metal, of_all.records, of_all.others) == (None, 0, 1)


def test_many_that_agree_bring_the_forecast_to_them_and_the_interval_nearer() -> None:
    own, _ = forming_learned(fell(*[0.4, 0.45, 0.35] * 10), 0.0)
    assert own.mean_mm == pytest.approx(0.4 * 30 / 31)
    assert own.half_width_mm < BELIEVED_WITHIN_MM / 2


def test_one_far_from_the_rest_and_one_said_to_be_wrong_move_nothing() -> None:
    agreeing = fell(0.4, 0.45, 0.35, 0.4, 0.42)
    assert counting([*agreeing, *fell(3.0), *fell(0.1, wrong="slipped")]) == agreeing
    assert forming_learned(fell(0.4, wrong="slipped"), 0.0) == ()


def test_another_metal_starts_from_what_the_others_say() -> None:
    found = forming_learned([*fell(0.6, 0.6, 0.6), *fell(0.2, metal=Metal.GOLD)], 0.0)
    gold = next(one for one in found if one.metal is Metal.GOLD)
    assert gold.mean_mm == pytest.approx((0.45 + 0.2) / 2), "0.45 is three rings of 0.6 and one believed of 0"
    assert (gold.records, gold.others) == (1, 3)


def test_the_next_band_is_cut_and_closed_longer_by_what_was_learned_and_says_so() -> None:
    learned = forming_learned(fell(0.8, 0.8), COMMON_PRACTICE.anticlastic.correction_mm)
    practice = replace(COMMON_PRACTICE, learned_forming=learned)
    finger = a_finger()
    before, after = reckon(finger, FLARED, COMMON_PRACTICE), reckon(finger, FLARED, practice)
    more = 0.8 * 2 / 3
    assert before.form is not None
    assert after.form is not None
    assert after.form.closed_mm - before.form.closed_mm == pytest.approx(more)
    assert after.mark_mm - before.mark_mm == pytest.approx(more)
    assert after.form.correction_source == "2 of our own (2026-1/1, 2026-2/1)"
    (closed,) = [one for one in after.working if one.figure == "ring.closed_circumference_mm"]
    assert closed.source == after.form.correction_source
    band = design(Profile.FLAT, 8.0, 0.8, "silver-925")
    assert forming_for(band, Metal.SILVER, learned) is None
    assert reckon(finger, band, practice).mark_mm == reckon(finger, band, COMMON_PRACTICE).mark_mm
