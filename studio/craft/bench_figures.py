"""The figures taken at a step: what each measures, what it should come to, and what it cannot be."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import pi

from studio.craft.bench_work import BenchWork
from studio.craft.designs import Design, Limits, PatternWhen
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.operations import Does, Operation
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words

LENGTH_MM, ACROSS_MM = Limits(5.0, 400.0), Limits(8.0, 35.0)
THICKNESS_MM, WEIGHT_G = Limits(0.2, 8.0), Limits(0.01, 2000.0)
LONGEST_MINUTES = 24 * 60
SLACK_MM = 0.5
"""What two readings of a strip may differ by before one of them must be wrong: common practice, no source."""
SLACK_SHARE = 1.05
"""A ring may weigh a twentieth more than its strip, for the solder and the scales; stones are not in yet."""


class Measures(StrEnum):
    """What a figure is of."""

    LENGTH = "length"
    ACROSS = "inside across"
    THICKNESS = "thickness"
    WEIGHT = "weight"


LIMITS: Mapping[Measures, Limits] = {
    Measures.LENGTH: LENGTH_MM,
    Measures.ACROSS: ACROSS_MM,
    Measures.THICKNESS: THICKNESS_MM,
    Measures.WEIGHT: WEIGHT_G,
}
_LABELS = {
    "trial": "Waist of the trial, across",
    "weigh": "Weight out",
    "roll": "Thickness after rolling",
    "saw": "Length as sawn",
    "square": "Length after squaring",
    "round": "Inside across once closed",
    "size": "Inside across",
    "finish": "Weight finished",
}
_BARE = {
    Measures.LENGTH: "Length",
    Measures.ACROSS: "Inside across",
    Measures.THICKNESS: "Thickness",
    Measures.WEIGHT: "Weight",
}
_ACROSS = frozenset({Does.ROUNDS, Does.FORMS, Does.CHECKS_SIZE, Does.PATTERNS_RING, Does.TRIES, Does.RESIZES})


@dataclass(frozen=True, slots=True)
class RecordFigures:
    """What the steps of a ring say for its bench record: lengths and sizes round, in mm, None for unsaid."""

    before_mm: float | None = None
    after_mm: float | None = None
    closed_mm: float | None = None
    formed_mm: float | None = None


def measures(operation: Operation) -> Measures | None:
    """What the figure of the step is of; None where nothing is measured."""
    if operation.measure is None:
        return None
    if operation.measure.unit == "g":
        return Measures.WEIGHT
    if operation.does & _ACROSS:
        return Measures.ACROSS
    return Measures.THICKNESS if Does.ROLLS in operation.does else Measures.LENGTH


def figure_label(operation: Operation) -> str:
    """What stands above the field: 'Length after squaring', 'Waist across' after a course of forming."""
    found = measures(operation)
    if found is None or operation.measure is None:
        return ""
    told = _LABELS.get(operation.key, _BARE[found])
    if Does.FORMS in operation.does:
        told = "Waist across"
    elif Does.PATTERNS_RING in operation.does:
        told = "Inside across after the pattern"
    elif Does.STRETCHES_STRIP in operation.does and found is Measures.LENGTH:
        told = "Length after the pattern"
    elif operation.key == "saw" and operation.measure.label == "before":
        told = "Length before the pattern"
    return told


def target(operation: Operation, reckoning: Reckoning) -> float | None:
    """What the figure should come to, in its own unit and rounded as the step says it, where it does.

    60.65 at 'Square the ends to 60.65', 61.3 at 'Scribe 61.3 and saw'.
    """
    wanted = {
        "weigh": reckoning.issue_g,
        "roll": reckoning.design.thickness_mm,
        "saw": reckoning.mark_mm,
        "square": reckoning.true_length_mm,
        "size": reckoning.diameter_mm,
    }.get(operation.key)
    if operation.key == "round":  # smaller than the ring's own inside, where something opens it after
        inside = next((one.value for one in operation.figures if one.name == "inside"), None)
        wanted = inside if isinstance(inside, int | float) else None
    if wanted is None:
        return None
    return float(f"{wanted:.{1 if operation.key == 'saw' else 2}f}")


def apart_words(figure: float, wanted: float) -> str:
    """How far a figure is from what it should come to: '0.05 under', '0.2 over', 'to the mark'."""
    apart = round(figure - wanted, 2)
    if abs(apart) < 0.005:
        return "to the mark"
    return f"{figure_words(abs(apart))} {'under' if apart < 0 else 'over'}"


def refuse_figure(
    figure: float, operation: Operation, operations: Sequence[Operation], work: BenchWork
) -> None:
    """Raise `Refused` for a figure that cannot be: out of all measure, or against what was measured before.

    A strip does not grow from its last measured length to the squared one, a pattern does not shorten it by
    more than two readings differ, and a ring without stones weighs no more than its strip.
    """
    found = measures(operation)
    typed = figure_words(figure)
    if found is None:
        raise Refused(Refusal("figure", Why.NOTHING_MEASURED_HERE))
    limits = LIMITS[found]
    unit = "g" if found is Measures.WEIGHT else "mm"
    if not limits.low <= figure <= limits.high:
        why = Why.TOO_LARGE if figure > limits.high else Why.TOO_SMALL
        raise Refused(Refusal("figure", why, typed, limits.low, limits.high, unit))
    before = _measured_before(operation, operations, work, found)
    if before is None:
        return
    if found is Measures.WEIGHT and figure > before * SLACK_SHARE and not _has_more_on_it(operations, work):
        raise Refused(Refusal("figure", Why.HEAVIER_THAN_ISSUED, typed, high=before))
    if found is Measures.LENGTH and Does.SQUARES in operation.does and figure > before + SLACK_MM:
        raise Refused(Refusal("figure", Why.LONGER_THAN_BEFORE, typed, high=before))
    if Does.HARDENS in operation.does and _is_pattern(operation) and figure < before - SLACK_MM:
        raise Refused(Refusal("figure", Why.SHORTER_THAN_BEFORE, typed, low=before))


def record_figures(operations: Sequence[Operation], work: BenchWork, design: Design) -> RecordFigures:
    """What the figures so far say for the ring's bench record.

    A pattern on the strip is measured by lengths before and after, one on the ring by its inside, which is
    kept round. Without both of them neither is said. The last course of forming says the size once formed,
    and the size checked after it goes before.
    """
    told = {one.key: work.step(one.key).figure for one in operations}
    before = after = None
    closed = told.get("round")
    if design.pattern_when is PatternWhen.FLAT:
        before, after = told.get("saw"), told.get("pattern")
    elif design.pattern_when is PatternWhen.CLOSED:
        before, after = _round(told.get("round")), _round(told.get("pattern"))
    if before is None or after is None:
        before = after = None
    courses = [told[one.key] for one in operations if Does.FORMS in one.does]
    formed = next((mm for mm in reversed(courses) if mm is not None), None)
    if courses and told.get("size") is not None:
        formed = told["size"]
    return RecordFigures(before, after, _round(closed), _round(formed))


def _round(across_mm: float | None) -> float | None:
    return None if across_mm is None else pi * across_mm


def _measured_before(
    operation: Operation, operations: Sequence[Operation], work: BenchWork, found: Measures
) -> float | None:
    """The last figure of its kind from a step before this one; for a weight, the first."""
    before: list[float] = []
    for one in operations:
        if one.key == operation.key:
            break
        figure = work.step(one.key).figure
        if figure is not None and measures(one) is found and Does.TRIES not in one.does:
            before.append(figure)
    if not before:
        return None
    return before[0] if found is Measures.WEIGHT else before[-1]


def _is_pattern(operation: Operation) -> bool:
    return bool(operation.does & {Does.PATTERNS_STRIP, Does.PATTERNS_RING})


def _has_more_on_it(operations: Sequence[Operation], work: BenchWork) -> bool:
    """Whether stones or settings were put on that weigh with the ring."""
    added = {Does.SETS, Does.JOINS_SETTING}
    return any(one.does & added and work.is_done(one.key) for one in operations)
