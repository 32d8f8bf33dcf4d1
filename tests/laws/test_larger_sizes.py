"""A larger size on paper is a larger circumference, a longer blank and a heavier ring, in every system."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from studio.craft.designs import Design, Finger, System
from studio.craft.reckonings import reckon
from studio.craft.sizes import nearest, read_size
from tests.strategies import CIRCUMFERENCES, SYSTEMS, designs, fingers


def labels(system: System) -> list[str]:
    """Every label of a system in the order of its circumferences, from 41 to 68.5 mm."""
    walked = [nearest(system, um / 1000) for um in range(41_000, 68_501, 50)]
    return list(dict.fromkeys(near.label for near in walked if near is not None))


LABELS = {system: labels(system) for system in System}


def sized(finger: Finger, system: System, label: str) -> Finger:
    """The finger as it would be with this size, read as it is typed."""
    read = read_size(system, label)
    return replace(finger, system=system, label=read.label, circumference_mm=read.circumference_mm)


@given(fingers(), designs(), SYSTEMS, st.data())
def test_a_larger_label_makes_all_of_the_ring_larger(
    finger: Finger, chosen: Design, system: System, data: st.DataObject
) -> None:
    lower = data.draw(st.integers(0, len(LABELS[system]) - 2))
    upper = data.draw(st.integers(lower + 1, len(LABELS[system]) - 1))
    small, large = (reckon(sized(finger, system, LABELS[system][place]), chosen) for place in (lower, upper))
    assert large.circumference_mm > small.circumference_mm
    assert large.diameter_mm > small.diameter_mm
    assert large.neutral_length_mm > small.neutral_length_mm
    assert large.true_length_mm > small.true_length_mm
    assert large.mark_mm > small.mark_mm
    for grams in ("blank_g", "issue_g", "ring_g", "finished_g"):
        assert getattr(large, grams) > getattr(small, grams)


@given(fingers(), designs(), SYSTEMS, SYSTEMS, CIRCUMFERENCES)
def test_a_ring_hangs_on_the_circumference_and_not_on_the_system_that_names_it(
    finger: Finger, chosen: Design, one: System, other: System, circumference_mm: float
) -> None:
    named = [replace(finger, system=system, circumference_mm=circumference_mm) for system in (one, other)]
    first, second = (reckon(each, chosen) for each in named)
    assert (first.mark_mm, first.issue_g, first.ring_g) == (second.mark_mm, second.issue_g, second.ring_g)
