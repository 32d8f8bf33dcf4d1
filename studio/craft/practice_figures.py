"""The figures of the studio's practice, written down once: what each is called, its unit, what it may be.

Whoever gives `Practice` a figure gives it a line here. The form of the studio's page, what is refused, the
readable history and the words of its sources are all made from this table.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from studio.craft.designs import Pattern, PatternWhen, System
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.own_alloys import check_own_alloys
from studio.craft.practice import COMMON_PRACTICE, FitRow, Practice
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import shown_length


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of the practice: where it stands, its name and unit, and the least and most it may be."""

    path: str
    label: str
    unit: str
    low: float
    high: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of the practice, out of a few: `words` are the choices by their key, as a list shows them."""

    path: str
    label: str
    words: Mapping[str, str]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Subject:
    """What belongs together on the page, under one heading."""

    key: str
    name: str
    note: str
    figures: tuple[Figure | Choice, ...]


_PATTERN_WORDS = {
    (Pattern.HAMMERED, PatternWhen.FLAT): "Hammered on the flat strip",
    (Pattern.STAMPED, PatternWhen.FLAT): "Stamped on the flat strip",
    (Pattern.HAMMERED, PatternWhen.CLOSED): "Hammered after closing",
    (Pattern.STAMPED, PatternWhen.CLOSED): "Stamped after closing",
    (Pattern.ROLLED, PatternWhen.FLAT): "Rolled before marking",
}


def _of_pattern(key: tuple[Pattern, PatternWhen]) -> tuple[Figure, ...]:
    words, path = _PATTERN_WORDS[key], f"priors.{'/'.join(key)}"
    return (
        Figure(f"{path}.mean_percent", f"{words}, expected", "%", 0, 10),
        Figure(f"{path}.half_width_percent", f"{words}, ±", "%", 0, 10),
    )


SUBJECTS: tuple[Subject, ...] = (
    Subject(
        "bench",
        "Blank and finishing",
        "",
        (
            Figure("trim_each_end_mm", "Trim at each end", "mm", 0, 5, "left to be squared off"),
            Figure("kerf_mm", "One saw cut", "mm", 0, 2, "blade 1/0 takes about 0.31"),
            Figure("finishing_loss_percent", "Finishing loss", "%", 0, 50, "of the closed ring's weight"),
            Figure(
                "finishing_allowance_mm", "Finishing allowance", "mm", 0, 1, "off each face that is filed up"
            ),
            Choice(
                "length_rule",
                "True length by",
                {
                    "centroid": "the centroid of the section",
                    "mid-line": "the middle of the thickness",
                    "din": "DIN 6935 in tight bends",
                },
                "the line that keeps its length in the bend",
            ),
        ),
    ),
    Subject(
        "knuckle",
        "Knuckle",
        "A ring for a knuckle much larger than the base is sized between them.",
        (
            Figure("knuckle.much_mm", "Much larger, from", "mm", 0, 20, "round, than the base with its fit"),
            Figure("knuckle.share_percent", "Of the difference", "%", 0, 100),
        ),
    ),
    Subject(
        "stretch",
        "Stretch of a pattern",
        "Before the studio's own rings are counted. The ± holds the next ring nine times in ten.",
        tuple(figure for key in COMMON_PRACTICE.priors for figure in _of_pattern(key)),
    ),
    Subject(
        "doubt",
        "Doubt of a size",
        "On the circumference: standard deviations, but for a gauge the step from one to the next.",
        (
            *(
                Figure(f"doubt.steps_mm.{system}", f"Step of gauges, {SYSTEM_NAMES[system]}", "mm", 0, 5)
                for system in System
            ),
            Figure("doubt.calibration_mm", "Calibration of a gauge", "mm", 0, 2),
            Figure("doubt.day_mm", "What a finger changes over a day", "mm", 0, 2),
            Figure("doubt.two_days_mm", "What is left of it, measured on two days", "mm", 0, 2),
            Figure("doubt.told_times", "A size that was told, steps of a gauge", "", 1, 10),
            Figure("doubt.thickness_mm", "Thickness of the strip", "mm", 0, 0.5, "of the thickness itself"),
            Figure("doubt.cut_mm", "Saw cut and joint", "mm", 0, 2),
        ),
    ),
    Subject(
        "reading",
        "Sizes and gauges as we read them",
        "",
        (
            Choice(
                "reading.beyond_z",
                "A number behind Z",
                {
                    "whole": "a whole size, Z+1 is 70 mm",
                    "half": "half a size, Z+1 is 69.38 mm",
                    "two-mm": "2 mm, Z+1 is 70 and Z+2 72 mm",
                },
                "gauges and charts disagree",
            ),
            Choice(
                "reading.gauge",
                "18 ga, without its scale",
                {
                    "bs": "Brown & Sharpe, 1.02 mm",
                    "swg": "SWG, 1.22 mm",
                    "bwg": "BWG, 1.24 mm",
                    "ask": "ask which",
                },
                "a number with its scale, 18 swg, is read by it in any case",
            ),
            Choice(
                "reading.printed_gauge",
                "Gauge number beside the stock on papers",
                {"none": "none", "bs": "Brown & Sharpe", "swg": "SWG", "bwg": "BWG"},
                "the nearest, with its mm",
            ),
        ),
    ),
    Subject(
        "hallmark",
        "Hallmark foreseen",
        "Standard deviations of what makes the finished weight doubtful. The country's rule is the studio's.",
        (
            Figure("hallmark.thickness_mm", "Thickness of the finished ring", "mm", 0, 0.5),
            Figure("hallmark.width_mm", "Width of the finished ring", "mm", 0, 1),
            Figure("hallmark.density_percent", "Density", "%", 0, 10, "a spread, where only that is printed"),
            Figure("hallmark.loss_part", "Finishing loss, divided by", "", 1, 100, "3 is a third of it"),
            Choice(
                "hallmark.assay_when",
                "The assay is in a price",
                {"required": "where a mark is required", "unsure": "also where weighing has to tell"},
            ),
        ),
    ),
    Subject(
        "resizing",
        "Resizing later",
        "",
        (
            Figure("resizing.thin_mm", "No second seam below", "mm", 0, 3, "of thickness"),
            Figure("resizing.hammer_from_mm", "Hammered up from", "mm", 0, 6, "of thickness"),
            Figure("resizing.hammer_most_mm", "Hammered up by at most", "mm", 0, 5, "round"),
            Figure("resizing.stones_percent", "Not with stones over", "%", 0, 100, "of the way round"),
            Figure("resizing.stones_most", "Nor with more stones than", "", 0, 50, "of a size nobody said"),
            Figure("resizing.stones_step_mm", "With stones changed by at most", "mm", 1.1, 10, "round"),
        ),
    ),
    Subject(
        "anticlastic",
        "Anticlastic bands",
        "",
        (
            Figure("anticlastic.correction_mm", "Waist comes out smaller by", "mm", -2, 5, "round"),
            Figure("anticlastic.strain_percent", "Edges longer than the waist by at most", "%", 0, 50),
            Figure("anticlastic.edge_mm", "Edges wider than the waist by at most", "mm", 0, 20, "across"),
        ),
    ),
    Subject(
        "mill",
        "Rolling mill",
        "A thicker piece is offered to be rolled down where these allow it.",
        (
            Figure("mill.width_mm", "Widest piece it takes", "mm", 0, 500),
            Figure("mill.pass_percent", "One pass takes", "%", 1, 50, "of the thickness"),
            Figure("mill.most_passes", "Passes at most", "", 0, 100),
        ),
    ),
)
"""Every subject of the page in its order. A new figure is a line here."""

WIDEST_MM, MOST_ADDED_MM, MOST_ROWS = 40.0, 5.0, 12


def figures() -> tuple[Figure | Choice, ...]:
    """Every line of the table."""
    return tuple(figure for subject in SUBJECTS for figure in subject.figures)


def value_at(practice: Practice, path: str) -> Any:
    """What stands at a path: 'kerf_mm', 'doubt.steps_mm.uk'. Raises `KeyError` or `AttributeError`."""
    value: Any = practice
    for name in path.split("."):
        value = _by_text(value)[name] if isinstance(value, Mapping) else getattr(value, name)
    return value


def _by_text(mapping: Mapping[Any, Any]) -> dict[str, Any]:
    return {"/".join(key) if isinstance(key, tuple) else str(key): value for key, value in mapping.items()}


def check_practice(practice: Practice) -> None:
    """Raises `Refused` with every figure that cannot stand, each by its path."""
    found: list[Refusal] = []
    for figure in figures():
        value = value_at(practice, figure.path)
        if isinstance(figure, Choice):
            if str(value) not in figure.words:
                found.append(Refusal(figure.path, Why.UNKNOWN_CHOICE, str(value)))
        elif not figure.low <= value <= figure.high:  # NaN is within no limits
            why = Why.TOO_LARGE if value > figure.high else Why.TOO_SMALL
            found.append(Refusal(figure.path, why, shown_length(value), figure.low, figure.high, figure.unit))
    found += _of_rule("fit_rule", practice.fit_rule)
    for profile, rows in practice.fit_by_profile.items():
        if rows:
            found += _of_rule(f"fit_by_profile.{profile}", rows)
    found += check_own_alloys(practice.own_alloys)
    if found:
        raise Refused(*found)


def _of_rule(path: str, rows: tuple[FitRow, ...]) -> list[Refusal]:
    """What is wrong with a fit rule: rows rise, and the last alone stands for every wider ring."""
    if not rows or rows[-1].up_to_mm is not None:
        return [Refusal(path, Why.EMPTY)]
    if len(rows) > MOST_ROWS:
        return [Refusal(path, Why.TOO_LONG, high=MOST_ROWS, unit="rows")]
    found, before = [], 0.0
    for place, row in enumerate(rows):
        if not -MOST_ADDED_MM <= row.add_mm <= MOST_ADDED_MM:
            why = Why.TOO_LARGE if row.add_mm > 0 else Why.TOO_SMALL
            typed = shown_length(row.add_mm)
            found.append(Refusal(f"{path}.{place}.add_mm", why, typed, -MOST_ADDED_MM, MOST_ADDED_MM, "mm"))
        if place == len(rows) - 1:
            break
        if row.up_to_mm is None or not before < row.up_to_mm <= WIDEST_MM:
            typed = "" if row.up_to_mm is None else shown_length(row.up_to_mm)
            found.append(Refusal(f"{path}.{place}.up_to_mm", Why.NOT_RISING, typed, before, WIDEST_MM, "mm"))
        else:
            before = row.up_to_mm
    return found
