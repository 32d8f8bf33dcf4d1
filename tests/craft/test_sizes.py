import math

import pytest

from studio.craft.designs import System
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.sizes import SYSTEM_NAMES, NearestSize, all_sizes, named, nearest, read_size

UK, US, ISO, JP, CH, DE, HK, IN = System
NO_LABEL = Why.UNKNOWN_LABEL


def refusal(system: System, typed: str) -> Refusal:
    with pytest.raises(Refused) as caught:
        read_size(system, typed)
    (only,) = caught.value.refusals
    assert only.field == "finger.size"
    return only


def test_the_worked_sizes() -> None:
    assert read_size(UK, "N½").circumference_mm == 54.375
    assert read_size(US, "7").circumference_mm / math.pi == pytest.approx(17.32, abs=0.005)
    assert read_size(US, "7").circumference_mm == pytest.approx(54.42, abs=0.005)
    assert read_size(JP, "10").circumference_mm / math.pi == pytest.approx(16)
    assert read_size(CH, "14½").circumference_mm == 54.5
    assert read_size(DE, "17½").circumference_mm == pytest.approx(17.5 * math.pi)
    assert read_size(ISO, "54").circumference_mm == 54


@pytest.mark.parametrize(
    ("system", "typed", "label"),
    [
        (UK, "N½", "N½"), (UK, "N1/2", "N½"), (UK, "N.5", "N½"), (UK, "n 1/2", "N½"),
        (UK, "N 0.5", "N½"), (UK, "N,5", "N½"), (UK, "Ｎ½", "N½"), (UK, "n", "N"),
        (UK, "UK N½", "N½"), (UK, "N¼", "N¼"), (UK, "N.75", "N¾"), (UK, "Z+2", "Z+2"),
        (UK, "z + 2", "Z+2"), (UK, "Z½", "Z½"), (UK, "Z+1½", "Z+1½"), (UK, "A", "A"),
        (US, "7¼", "7¼"), (US, "7.25", "7¼"), (US, "7,25", "7¼"), (US, "7 1/4", "7¼"),
        (US, "us 7", "7"), (US, "½", "½"), (US, "7.3", "7.3"), (US, "7 1/3", "7 1/3"),
        (ISO, "54.41504", "54.41504"), (ISO, "54.05", "54.05"),
        (US, "0", "0"), (ISO, "54.4", "54.4"), (ISO, "54,5", "54½"), (ISO, "５４", "54"),
        (JP, "10", "10"), (CH, "15½", "15½"), (DE, "17.75", "17¾"),
    ],
)  # fmt: skip
def test_a_label_is_read_however_it_is_written(system: System, typed: str, label: str) -> None:
    assert read_size(system, typed).label == label


def test_a_half_beyond_z_is_half_a_step() -> None:
    assert read_size(UK, "Z½").circumference_mm == 68.75 + 0.625
    assert read_size(UK, "Z+1").circumference_mm == 70.0
    assert read_size(UK, "Z+6").circumference_mm == 76.25


@pytest.mark.parametrize(
    ("system", "typed", "why"),
    [
        (UK, "", Why.EMPTY), (UK, "N" * 10_000, Why.TOO_LONG), (UK, "54", NO_LABEL),
        (UK, "NN", NO_LABEL), (UK, "N+1", NO_LABEL), (UK, "Ñ", NO_LABEL),
        (UK, "N⅓", NO_LABEL), (UK, "N.3", NO_LABEL), (UK, "Z+0", NO_LABEL),
        (UK, "N-1/2", NO_LABEL), (UK, "N1", NO_LABEL), (UK, "Z+18", Why.TOO_LARGE),
        (UK, "<script>", NO_LABEL), (UK, "💍", NO_LABEL), (UK, "UK", NO_LABEL),
        (US, "N½", NO_LABEL), (US, "{{7*7}}", NO_LABEL), (US, "NaN", NO_LABEL),
        (US, "1e309", NO_LABEL), (US, "-1", Why.BELOW_US_ZERO), (US, "−½", Why.BELOW_US_ZERO),
        (US, "00", Why.BELOW_US_ZERO), (US, "54", Why.TOO_LARGE), (US, "7/0", NO_LABEL),
        (ISO, "29.9", Why.TOO_SMALL), (ISO, "90.1", Why.TOO_LARGE), (ISO, "54,375", Why.AMBIGUOUS_COMMA),
        (ISO, "9" * 40, Why.TOO_LARGE), (ISO, "N", NO_LABEL), (JP, "-3", NO_LABEL),
        (CH, "-3", NO_LABEL), (DE, "54", Why.TOO_LARGE), (DE, "9", Why.TOO_SMALL),
    ],
)  # fmt: skip
def test_what_is_no_size_of_the_system_is_refused(system: System, typed: str, why: Why) -> None:
    assert refusal(system, typed).why is why


@pytest.mark.parametrize(
    ("system", "typed", "meant"),
    [
        (US, "N½", "UK N½"), (ISO, "n", "UK N"), (US, "54", "ISO 54"), (UK, "54", "ISO 54"),
        (ISO, "17.5", "DE 17½"), (UK, "17.5", "DE 17½"), (DE, "54", "ISO 54"), (US, "x1", ""),
    ],
)  # fmt: skip
def test_a_label_of_another_system_names_that_system(system: System, typed: str, meant: str) -> None:
    assert refusal(system, typed).suggestion == meant


@pytest.mark.parametrize(
    ("system", "smallest", "below", "largest", "above"),
    [
        (ISO, "30", "29.9", "90", "90.1"), (UK, "A", None, "Z+17", "Z+18"), (US, "0", None, "20.9", "21"),
        (JP, "0", None, "47", "48"), (CH, "0", None, "50", "50.1"), (DE, "9.6", "9.5", "28.6", "28.7"),
    ],
)  # fmt: skip
def test_every_system_reads_from_30_to_90_mm_round(
    system: System, smallest: str, below: str | None, largest: str, above: str
) -> None:
    assert read_size(system, smallest).circumference_mm >= 30
    assert read_size(system, largest).circumference_mm <= 90
    assert below is None or refusal(system, below).why is Why.TOO_SMALL
    too_large = refusal(system, above)
    assert (too_large.why, too_large.low, too_large.high) == (Why.TOO_LARGE, 30, 90)


def test_a_ring_of_o_and_a_half_is_named_in_every_system() -> None:
    found = {
        system.value: near and (near.label, round(near.error_mm, 3))
        for system, near in all_sizes(55.625).items()
    }
    assert found == {
        "uk": ("O½", 0.0), "us": ("7½", 0.073), "iso": ("56", 0.375), "jp": ("15", -0.124),
        "hk": ("17", 0.075), "in": ("15", -0.525),
        "ch": ("15½", -0.125),
        "de": ("17¾", 0.138),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("system", "circumference", "label"),
    [
        (ISO, 56.5, "57"), (UK, 37.5 + 0.3125, "A½"), (CH, 50.25, "10½"), (ISO, 56.499, "56"),
        (UK, 68.75 + 0.625, "Z+1"), (DE, 17.625 * math.pi, "17¾"),
        (US, math.pi * (11.6332 + 0.8128 * 7.125), "7¼"), (JP, math.pi * (16 + 1 / 6), "11"),
    ],
)  # fmt: skip
def test_a_tie_goes_to_the_larger_label(system: System, circumference: float, label: str) -> None:
    near = nearest(system, circumference)
    assert near is not None
    assert near.label == label


@pytest.mark.parametrize(
    ("system", "label", "mm", "half_a_step"),
    [
        (ISO, "41", 41, -0.5), (ISO, "76", 76, 0.5),
        (US, "0", 11.6332 * math.pi, -0.1016 * math.pi), (US, "16", 24.638 * math.pi, 0.1016 * math.pi),
        (UK, "A", 37.5, -0.3125), (UK, "Z+22", 96.25, 0.625),
        (JP, "1", 13 * math.pi, -math.pi / 6), (JP, "35", (13 + 34 / 3) * math.pi, math.pi / 6),
        (CH, "1", 41, -0.25), (CH, "36", 76, 0.25),
        (DE, "12½", 12.5 * math.pi, -math.pi / 8), (DE, "24½", 24.5 * math.pi, math.pi / 8),
    ],
)  # fmt: skip
def test_beyond_half_a_step_past_its_list_a_system_has_no_label(
    system: System, label: str, mm: float, half_a_step: float
) -> None:
    near = nearest(system, mm + half_a_step)
    assert near is not None
    assert near.label == label
    assert nearest(system, mm + half_a_step * 1.001) is None


def test_the_largest_ring_that_can_be_made_still_has_a_letter() -> None:
    # a finger of 90 mm, the largest that is read, with the largest fit that can be typed
    near = nearest(UK, 95.0)
    assert near is not None
    assert (near.label, near.error_mm) == ("Z+21", 0)
    beyond = nearest(UK, 90.75)
    assert beyond == NearestSize("Z+18", 91.25, 0.5)


def test_halves_are_printed_up_to_z_and_whole_steps_beyond() -> None:
    found = [nearest(UK, circumference) for circumference in (68.1, 68.8, 69.4, 71.2)]
    assert [near and near.label for near in found] == ["Y½", "Z", "Z+1", "Z+2"]


def test_a_size_is_named_with_its_system() -> None:
    assert named(UK, "O½") == "UK O½"
    assert set(SYSTEM_NAMES) == set(System)


@pytest.mark.parametrize(
    ("system", "typed", "why", "label", "meant"),
    [
        (US, "21", Why.TOO_LARGE, "US 21", ""),  # 21 mm across is a size, but nobody means it by a US number
        (US, "54", Why.TOO_LARGE, "US 54", "ISO 54"),
        (DE, "54", Why.TOO_LARGE, "DE 54", "ISO 54"),
        (ISO, "17.3", Why.TOO_SMALL, "ISO 17.3", "DE 17.3"),
        (ISO, "7", Why.TOO_SMALL, "ISO 7", ""),
        (UK, "Z+30", Why.TOO_LARGE, "UK Z+30", ""),
    ],
)
def test_a_size_out_of_range_is_named_with_its_system_and_what_may_be_meant(
    system: System, typed: str, why: Why, label: str, meant: str
) -> None:
    found = refusal(system, typed)
    assert (found.why, found.typed, found.suggestion) == (why, label, meant)
    assert (found.low, found.high, found.unit) == (30, 90, "mm round")
