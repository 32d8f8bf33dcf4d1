"""Sizes that go by a table, and numbers that charts read in several ways."""

from dataclasses import replace

import pytest

from studio.craft.designs import Finger, Measured, Profile, System, design
from studio.craft.errors import Refused, Why
from studio.craft.practice import COMMON_PRACTICE, ReadingTerms
from studio.craft.reckonings import reckon
from studio.craft.size_tables import OTHER_INDIA, TABLES, by_table
from studio.craft.sizes import BeyondZ, nearest, read_size
from studio.craft.working import Caveat

BAND = design(Profile.FLAT, 6, 1.4, "silver-925")


def told(system: System, label: str) -> dict[str, Caveat]:
    """What is said of a ring for a finger of this size, by its code."""
    read = read_size(system, label)
    finger = Finger(system, read.label, read.circumference_mm, Measured.GAUGE, 6.0)
    return {one.code: one for one in reckon(finger, BAND).caveats}


@pytest.mark.parametrize(
    ("system", "typed", "mm"),
    [
        (System.IN, "14", 54.4), (System.IN, "13", 53.15), (System.IN, "IN 31", 71.0),
        (System.HK, "17", 55.7), (System.HK, "7½", 45.5), (System.HK, "HK 15", 53.8),
    ],
)  # fmt: skip
def test_a_number_is_read_by_the_table_and_on_the_line_between_its_rows(
    system: System, typed: str, mm: float
) -> None:
    # the printed rows are those of sellers' charts: India by two that agree, Hong Kong by one
    assert read_size(system, typed).circumference_mm == pytest.approx(mm)


@pytest.mark.parametrize(
    ("system", "typed"), [(System.IN, "0"), (System.IN, "32"), (System.HK, "5"), (System.HK, "31")]
)
def test_a_number_beyond_its_table_is_no_size(system: System, typed: str) -> None:
    with pytest.raises(Refused) as caught:
        read_size(system, typed)
    assert [refusal.why for refusal in caught.value.refusals] == [Why.UNKNOWN_LABEL]


def test_the_charts_of_india_disagree_by_about_two_numbers() -> None:
    apart = [number - low for number, mm in OTHER_INDIA if (low := _number_at(mm)) is not None]
    assert len(apart) == len(OTHER_INDIA)
    assert 1.0 < sum(apart) / len(apart) < 2.5


def _number_at(mm: float) -> float | None:
    tenths = [number / 10 for number in range(10, 311)]
    return min(tenths, key=lambda number: abs((by_table(TABLES[System.IN], number) or 0) - mm))


def test_who_reads_a_size_by_table_is_told_of_the_disagreement() -> None:
    assert told(System.IN, "14")["size-by-table"].message == (
        "India has no rule, and its charts disagree: 14 is 54.4 mm round by two of them, 53.1 by a third. "
        "Measure it once more in mm."
    )
    assert "not listed by a third" in told(System.IN, "30")["size-by-table"].message
    assert "one chart, which steps by 0.87 to 1.30 mm" in told(System.HK, "17")["size-by-table"].message
    assert "size-by-table" not in told(System.CH, "14")


@pytest.mark.parametrize(
    ("beyond", "one", "two"),
    [(BeyondZ.WHOLE, 70.0, 71.25), (BeyondZ.HALF, 69.375, 70.0), (BeyondZ.TWO_MM, 70.0, 72.0)],
)
def test_a_number_behind_z_is_read_as_the_studio_reads_it(beyond: BeyondZ, one: float, two: float) -> None:
    # whole: the metric rule goes on; half: a gauge with half sizes beyond Z; 2 mm: a seller's chart with
    # Z+1 beside ISO 70 and Z+2 beside 72
    assert read_size(System.UK, "Z+1", beyond=beyond).circumference_mm == one
    assert read_size(System.UK, "Z+2", beyond=beyond).circumference_mm == two
    for circumference in (one, two):
        near = nearest(System.UK, circumference, beyond)
        assert near is not None
        assert near.error_mm == 0


@pytest.mark.parametrize("beyond", BeyondZ)
def test_letters_up_to_z_mean_the_same_however_numbers_behind_it_are_read(beyond: BeyondZ) -> None:
    for label, mm in {"A": 37.5, "N½": 54.375, "Z": 68.75}.items():
        assert read_size(System.UK, label, beyond=beyond).circumference_mm == mm


@pytest.mark.parametrize("beyond", BeyondZ)
def test_every_label_behind_z_reads_back_to_itself(beyond: BeyondZ) -> None:
    met = {}
    for um in range(66_000, 90_000, 50):
        near = nearest(System.UK, um / 1000, beyond)
        assert near is not None
        met[near.label] = near.circumference_mm
    for label, mm in met.items():
        if mm <= 90:
            assert read_size(System.UK, label, beyond=beyond).circumference_mm == mm
    assert list(met.values()) == sorted(met.values())


def test_a_number_behind_z_is_told_with_its_other_readings() -> None:
    assert told(System.UK, "Z+2")["beyond-z"].message == (
        "Z+2 is read as 71.25 mm round. Gauges and charts read it as 70, 71.25 or 72. "
        "Measure it once more in mm."
    )
    assert "beyond-z" not in told(System.UK, "Z")


def test_the_ring_is_named_behind_z_as_the_studio_reads_it() -> None:
    practice = replace(COMMON_PRACTICE, reading=ReadingTerms(beyond_z=BeyondZ.TWO_MM))
    finger = Finger(System.ISO, "72", 72.0, Measured.GAUGE, 6.0)
    by_whole, by_two = (reckon(finger, BAND, way).sizes[System.UK] for way in (COMMON_PRACTICE, practice))
    assert by_whole is not None
    assert by_two is not None
    assert (by_whole.label, by_two.label) == ("Z+3", "Z+2")
