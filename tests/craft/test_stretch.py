import pytest

from studio.craft.designs import Design, Pattern, PatternWhen, Profile, design
from studio.craft.practice import COMMON_PRACTICE, PRIORS, Practice, Prior
from studio.craft.stretch import Stretch, stretch


def a_ring(pattern: Pattern, when: PatternWhen | None = None, stretch_percent: float | None = None) -> Design:
    return design(
        Profile.FLAT,
        6,
        1.4,
        "silver-925",
        pattern=pattern,
        pattern_when=when,
        stretch_percent=stretch_percent,
    )


def figures(found: Stretch) -> tuple[float, float, float, float, int]:
    return (found.mean_percent, found.low_percent, found.high_percent, found.used_percent, found.records)


@pytest.mark.parametrize(
    ("pattern", "when", "expected"),
    [
        (Pattern.HAMMERED, PatternWhen.FLAT, (1.5, 0.5, 2.5, 0.5, 0)),
        (Pattern.STAMPED, PatternWhen.FLAT, (1.5, 0.5, 2.5, 0.5, 0)),
        (Pattern.HAMMERED, PatternWhen.CLOSED, (1.1, 0.3, 1.9, 1.1, 0)),
        (Pattern.STAMPED, PatternWhen.CLOSED, (2.1, 1.1, 3.1, 2.1, 0)),
        (Pattern.ROLLED, PatternWhen.FLAT, (0, 0, 0, 0, 0)),
        (Pattern.PLAIN, None, (0, 0, 0, 0, 0)),
    ],
)
def test_the_flat_strip_is_marked_for_the_low_end_a_closed_ring_for_the_mean(
    pattern: Pattern, when: PatternWhen | None, expected: tuple[float, ...]
) -> None:
    assert figures(stretch(a_ring(pattern, when), COMMON_PRACTICE)) == pytest.approx(expected)


@pytest.mark.parametrize("when", PatternWhen)
def test_a_stretch_that_was_typed_is_taken_as_it_is(when: PatternWhen) -> None:
    found = stretch(a_ring(Pattern.HAMMERED, when, 1.6), COMMON_PRACTICE)
    assert (found.used_percent, found.source) == (1.6, "typed by us")
    assert found.mean_percent == PRIORS[Pattern.HAMMERED, when].mean_percent


def test_a_plain_ring_stretches_by_nothing_whatever_is_typed() -> None:
    assert figures(stretch(a_ring(Pattern.PLAIN, stretch_percent=3), COMMON_PRACTICE)) == (0, 0, 0, 0, 0)


def test_the_low_end_is_never_below_nothing() -> None:
    own = Practice(priors={**PRIORS, (Pattern.HAMMERED, PatternWhen.FLAT): Prior(0.4, 1.0)})
    found = stretch(a_ring(Pattern.HAMMERED), own)
    assert (found.low_percent, found.used_percent, found.high_percent) == (0, 0, 1.4)
