"""The table of the studio's figures holds all of them, and what is common practice stays what it was."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from studio.craft.designs import Pattern, PatternWhen, Profile, System
from studio.craft.errors import Refused, Why
from studio.craft.practice import COMMON_PRACTICE, FitRow, Practice, Prior
from studio.craft.practice_figures import SUBJECTS, Choice, Figure, check_practice, figures, value_at

ON_FORMS_OF_THEIR_OWN = {
    "fit_rule",
    "fit_by_profile",
    "said",
    "stated_on",
    "source",
    "learned",
    "learned_forming",
    "own_alloys",
}
"""What no single field of the form holds."""


def paths(value: Any, start: str = "") -> Iterator[str]:
    """The path of every figure below a value."""
    if is_dataclass(value):
        parts = {part.name: getattr(value, part.name) for part in fields(value)}
    elif isinstance(value, Mapping):
        parts = {"/".join(k) if isinstance(k, tuple) else str(k): part for k, part in value.items()}
    else:
        yield start
        return
    for name, part in parts.items():
        if start or name not in ON_FORMS_OF_THEIR_OWN:
            yield from paths(part, f"{start}.{name}" if start else name)


def test_every_figure_of_the_practice_has_its_line_and_no_line_is_of_another() -> None:
    assert sorted(figure.path for figure in figures()) == sorted(paths(COMMON_PRACTICE))
    assert len({subject.key for subject in SUBJECTS}) == len(SUBJECTS)


@pytest.mark.parametrize("figure", figures(), ids=lambda figure: figure.path)
def test_common_practice_lies_within_what_a_figure_may_be(figure: Figure | Choice) -> None:
    value = value_at(COMMON_PRACTICE, figure.path)
    if isinstance(figure, Choice):
        assert {True: "yes", False: "no"}.get(value, str(value)) in figure.words
    else:
        assert figure.low <= value <= figure.high


def test_common_practice_can_stand() -> None:
    check_practice(COMMON_PRACTICE)
    check_practice(replace(COMMON_PRACTICE, fit_by_profile={Profile.COURT: ()}))


def test_every_figure_that_cannot_stand_is_told_at_once() -> None:
    rows = (FitRow(4.0, 0.0), FitRow(None, 0.5), FitRow(3.0, -9.0), FitRow(None, 1.0))
    practice = replace(COMMON_PRACTICE, kerf_mm=-1.0, finishing_loss_percent=80.0, fit_rule=rows)
    with pytest.raises(Refused) as refused:
        check_practice(practice)
    assert [(one.field, one.why) for one in refused.value.refusals] == [
        ("kerf_mm", Why.TOO_SMALL),
        ("finishing_loss_percent", Why.TOO_LARGE),
        ("fit_rule.1.up_to_mm", Why.NOT_RISING),
        ("fit_rule.2.add_mm", Why.TOO_SMALL),
        ("fit_rule.2.up_to_mm", Why.NOT_RISING),
    ]


def test_the_common_practice_that_old_rings_went_by_stays_what_it_was() -> None:
    """Rings without a practice of their own are reckoned by it: these figures never change in code."""
    practice = COMMON_PRACTICE
    assert [(row.up_to_mm, row.add_mm) for row in practice.fit_rule] == [
        (4.0, 0.0), (6.0, 0.5), (8.0, 1.0), (10.0, 1.25), (None, 1.75),
    ]  # fmt: skip
    assert dict(practice.fit_by_profile) == {}
    assert (practice.trim_each_end_mm, practice.kerf_mm) == (0.5, 0.31)
    assert (practice.finishing_loss_percent, practice.finishing_allowance_mm) == (3.0, 0.05)
    assert dict(practice.priors) == {
        (Pattern.HAMMERED, PatternWhen.FLAT): Prior(1.5, 1.0),
        (Pattern.STAMPED, PatternWhen.FLAT): Prior(1.5, 1.0),
        (Pattern.HAMMERED, PatternWhen.CLOSED): Prior(1.1, 0.8),
        (Pattern.STAMPED, PatternWhen.CLOSED): Prior(2.1, 1.0),
        (Pattern.ROLLED, PatternWhen.FLAT): Prior(0.0, 0.0),
    }
    steps = {"uk": 0.625, "us": 1.277, "iso": 1.0, "jp": 1.047, "ch": 0.5, "de": 0.785}
    assert {key: practice.doubt.steps_mm[System(key)] for key in steps} == steps
    assert (practice.doubt.calibration_mm, practice.doubt.day_mm) == (0.1, 0.3)
    assert (practice.doubt.thickness_mm, practice.doubt.cut_mm) == (0.02, 0.15)
    assert (practice.source, dict(practice.said)) == ("common practice, no source", {})
    assert Practice() == practice
