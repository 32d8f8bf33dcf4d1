"""The figures taken at a step: what they are of, what they come to, and what is refused as impossible."""

from math import pi

import pytest

from studio.craft.bench_figures import (
    LIMITS,
    Measures,
    RecordFigures,
    apart_words,
    figure_label,
    measures,
    record_figures,
    refuse_figure,
    target,
)
from studio.craft.bench_work import BenchWork, StepWork
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.errors import Refused, Why
from studio.craft.form import Form, FormKind
from studio.craft.operations import Operation
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from tests.craft.drawn import a_reckoning

HAMMERED = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
ON_THE_RING = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED)
PLAIN = a_reckoning(pattern=Pattern.PLAIN)


def at(operations: tuple[Operation, ...], key: str) -> Operation:
    return next(one for one in operations if one.key == key)


def measured(**figures: float) -> BenchWork:
    return BenchWork({key.replace("_", "-"): StepWork(figure=figure) for key, figure in figures.items()})


def test_every_measure_of_a_route_says_what_it_is_of() -> None:
    told = {one.key: (measures(one), figure_label(one)) for one in route(HAMMERED) if one.measure is not None}
    assert told == {
        "weigh": (Measures.WEIGHT, "Weight out"),
        "saw": (Measures.LENGTH, "Length before the pattern"),
        "pattern": (Measures.LENGTH, "Length after the pattern"),
        "square": (Measures.LENGTH, "Length after squaring"),
        "round": (Measures.ACROSS, "Inside across once closed"),
        "size": (Measures.ACROSS, "Inside across"),
        "finish": (Measures.WEIGHT, "Weight finished"),
    }
    on_the_ring = at(route(ON_THE_RING), "pattern")
    assert (measures(on_the_ring), figure_label(on_the_ring)) == (
        Measures.ACROSS,
        "Inside across after the pattern",
    )
    assert figure_label(at(route(PLAIN), "saw")) == "Length as sawn"
    assert measures(at(route(PLAIN), "bend")) is None


@pytest.mark.parametrize("reckoning", [HAMMERED, ON_THE_RING, PLAIN, a_reckoning(circumference_mm=53.7)])
def test_a_figure_is_to_come_to_what_the_step_says(reckoning: Reckoning) -> None:
    operations = route(reckoning)
    for key in ("weigh", "saw", "square", "round", "size"):
        step, wanted = at(operations, key), target(at(operations, key), reckoning)
        assert wanted is not None
        shown = f"{wanted:.1f}" if key == "saw" else f"{wanted:.2f}"
        assert shown in f"{step.name} {step.text}"
    assert target(at(operations, "finish"), reckoning) is None


@pytest.mark.parametrize(
    ("figure", "words"), [(60.6, "0.05 under"), (60.85, "0.2 over"), (60.652, "to the mark")]
)
def test_how_far_a_figure_is_off_is_said_in_words(figure: float, words: str) -> None:
    assert apart_words(figure, 60.65) == words


@pytest.mark.parametrize(
    ("key", "figure", "before", "why"),
    [
        ("saw", 610.0, {}, Why.TOO_LARGE),
        ("size", 3.1, {}, Why.TOO_SMALL),
        ("bend", 20.0, {}, Why.NOTHING_MEASURED_HERE),
        ("pattern", 60.0, {"saw": 61.0}, Why.SHORTER_THAN_BEFORE),
        ("square", 63.0, {"saw": 61.0, "pattern": 62.0}, Why.LONGER_THAN_BEFORE),
        ("finish", 9.9, {"weigh": 9.17}, Why.HEAVIER_THAN_ISSUED),
    ],
)
def test_a_figure_that_cannot_be_is_refused(
    key: str, figure: float, before: dict[str, float], why: Why
) -> None:
    operations = route(HAMMERED)
    with pytest.raises(Refused) as refused:
        refuse_figure(figure, at(operations, key), operations, measured(**before))
    assert [one.why for one in refused.value.refusals] == [why]


@pytest.mark.parametrize(
    ("key", "figure", "before"),
    [
        ("pattern", 60.6, {"saw": 61.0}),
        ("square", 61.9, {"saw": 61.0, "pattern": 62.0}),
        ("finish", 9.3, {"weigh": 9.17}),
        ("square", 60.0, {}),
    ],
)
def test_what_two_readings_may_differ_by_is_taken(key: str, figure: float, before: dict[str, float]) -> None:
    operations = route(HAMMERED)
    refuse_figure(figure, at(operations, key), operations, measured(**before))


def test_the_limits_hold_every_ring_there_is() -> None:
    assert LIMITS[Measures.ACROSS].high * pi <= 110


@pytest.mark.parametrize(
    ("reckoning", "figures", "said"),
    [
        (HAMMERED, {"saw": 61.0}, RecordFigures()),
        (HAMMERED, {"saw": 61.0, "pattern": 62.0}, RecordFigures(61.0, 62.0)),
        (HAMMERED, {"round": 17.7, "size": 17.8}, RecordFigures(closed_mm=pi * 17.7)),
        (
            ON_THE_RING,
            {"saw": 61.0, "round": 17.4, "pattern": 17.7},
            RecordFigures(pi * 17.4, pi * 17.7, pi * 17.4),
        ),
        (PLAIN, {"saw": 61.0, "round": 17.7}, RecordFigures(closed_mm=pi * 17.7)),
    ],
)
def test_the_steps_say_what_the_bench_record_keeps(
    reckoning: Reckoning, figures: dict[str, float], said: RecordFigures
) -> None:
    assert record_figures(route(reckoning), measured(**figures), reckoning.design) == said


def test_the_size_once_formed_is_that_of_the_last_course_or_of_the_check() -> None:
    formed = a_reckoning(form=Form(FormKind.ANTICLASTIC, radius_mm=6.0), width_mm=8.0, pattern=Pattern.PLAIN)
    operations = route(formed)
    after_courses = measured(round=18.0, form=17.9, form_2=17.8)
    assert record_figures(operations, after_courses, formed.design).formed_mm == pytest.approx(pi * 17.8)
    checked = measured(round=18.0, form=17.9, form_2=17.8, size=17.75)
    assert record_figures(operations, checked, formed.design).formed_mm == pytest.approx(pi * 17.75)
