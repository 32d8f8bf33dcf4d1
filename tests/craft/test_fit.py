import pytest

from studio.craft.designs import Design, Finger, Measured, Profile, System, design
from studio.craft.fit import Fit, allowance_mm, fit
from studio.craft.practice import COMMON_PRACTICE, FIT_RULE, FitRow, Practice


def a_finger(measured: Measured | None = None, gauge_width_mm: float | None = None) -> Finger:
    return Finger(System.ISO, "57", 57.0, measured, gauge_width_mm)


def a_ring(width_mm: float, fit_mm: float | None = None) -> Design:
    return design(Profile.FLAT, width_mm, 1.4, "silver-925", fit_mm=fit_mm)


def fitted(finger: Finger, ring: Design) -> Fit:
    return fit(finger, ring, COMMON_PRACTICE)


@pytest.mark.parametrize(
    ("width_mm", "adds_mm"),
    [
        (0.8, 0),
        (4, 0),
        (4.1, 0.5),
        (6, 0.5),
        (6.1, 1),
        (8, 1),
        (8.1, 1.25),
        (10, 1.25),
        (10.1, 1.75),
        (40, 1.75),
    ],
)
def test_rows_of_the_rule_read_up_to_and_including(width_mm: float, adds_mm: float) -> None:
    assert allowance_mm(FIT_RULE, width_mm) == adds_mm


@pytest.mark.parametrize("gauge_width_mm", [5, 6, 7])
def test_a_gauge_within_a_millimetre_of_the_ring_needs_no_allowance(gauge_width_mm: float) -> None:
    found = fitted(a_finger(Measured.GAUGE, gauge_width_mm), a_ring(6))
    assert (found.fit_mm, found.reason, found.caveats) == (0, "the gauge is as wide as the ring", ())


@pytest.mark.parametrize(
    ("gauge_width_mm", "fit_mm"), [(3, 1.0), (4.5, 0.5), (6.9, 0.0), (8.5, 0.0), (12, 0.0)]
)
def test_another_gauge_adds_the_difference_and_never_less_than_nothing(
    gauge_width_mm: float, fit_mm: float
) -> None:
    assert fitted(a_finger(Measured.GAUGE, gauge_width_mm), a_ring(8)).fit_mm == fit_mm


@pytest.mark.parametrize(("ring_read_mm", "fit_mm"), [(3, 0.5), (5, 0), (6, 0), (8, -0.5), (12, -1.25)])
def test_a_ring_that_was_read_may_also_take_away(ring_read_mm: float, fit_mm: float) -> None:
    assert fitted(a_finger(Measured.RING, ring_read_mm), a_ring(6)).fit_mm == fit_mm


def test_a_gauge_width_alone_means_a_gauge() -> None:
    assert fitted(a_finger(None, 3), a_ring(8)) == fitted(a_finger(Measured.GAUGE, 3), a_ring(8))


@pytest.mark.parametrize("gauge_width_mm", [None, 6, 2])
def test_a_size_that_was_told_takes_the_whole_rule_and_warns(gauge_width_mm: float | None) -> None:
    found = fitted(a_finger(Measured.TOLD, gauge_width_mm), a_ring(6))
    assert (found.fit_mm, [(c.code, c.needs_reason) for c in found.caveats]) == (0.5, [("told", False)])


@pytest.mark.parametrize("measured", [None, Measured.GAUGE, Measured.RING])
def test_an_unknown_width_takes_the_whole_rule_and_warns(measured: Measured | None) -> None:
    found = fitted(a_finger(measured), a_ring(6))
    assert (found.fit_mm, [(c.code, c.needs_reason) for c in found.caveats]) == (
        0.5,
        [("gauge-unknown", False)],
    )


def test_a_wide_ring_from_a_narrow_gauge_asks_for_a_reason() -> None:
    (caveat,) = fitted(a_finger(Measured.GAUGE, 3), a_ring(6)).caveats
    assert (caveat.code, caveat.field, caveat.needs_reason) == ("narrow-gauge", "finger.gauge_width_mm", True)
    assert caveat.message == (
        "The gauge is 3 mm narrower than the ring. Measure again with a wide one, or say why not."
    )


@pytest.mark.parametrize(
    ("measured", "gauge_width_mm", "width_mm"),
    [
        (Measured.GAUGE, 4, 6), (Measured.GAUGE, 4.1, 6.1), (Measured.GAUGE, 1.5, 4), (Measured.GAUGE, 9, 6),
        (Measured.RING, 3, 6),
    ],
)  # fmt: skip
def test_other_rings_ask_for_none(measured: Measured, gauge_width_mm: float, width_mm: float) -> None:
    assert fitted(a_finger(measured, gauge_width_mm), a_ring(width_mm)).caveats == ()


def test_a_fit_that_was_typed_is_taken_as_it_is_and_the_gauge_still_asks() -> None:
    found = fitted(a_finger(Measured.GAUGE, 3), a_ring(8, fit_mm=-0.25))
    assert (found.fit_mm, found.reason) == (-0.25, "typed by us")
    assert [c.code for c in found.caveats] == ["narrow-gauge"]


def test_a_caveat_names_an_allowance_only_where_it_is_added() -> None:
    (told,) = fitted(a_finger(Measured.TOLD), a_ring(6)).caveats
    assert "0.5 mm is added" in told.message
    (typed,) = fitted(a_finger(Measured.TOLD), a_ring(6, fit_mm=0)).caveats
    assert "added" not in typed.message


def test_the_studio_may_have_a_rule_of_its_own() -> None:
    own = Practice(fit_rule=(FitRow(5, 0.2), FitRow(None, 0.9)))
    assert fit(a_finger(Measured.TOLD), a_ring(5), own).fit_mm == 0.2
    assert fit(a_finger(Measured.TOLD), a_ring(6), own).fit_mm == 0.9
