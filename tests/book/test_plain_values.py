"""Frozen values as plain JSON and back: the same value, whatever it is made of, and from older rows too."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.book.plain_values import as_json, as_plain, from_json, from_plain
from studio.craft.designs import Pattern, Profile, System
from studio.craft.practice import COMMON_PRACTICE, DoubtTerms, FitRow, Practice, Prior, Said

FIGURES = st.floats(-1e6, 1e6, allow_nan=False)
ROWS = st.lists(st.builds(FitRow, st.none() | FIGURES, FIGURES), max_size=4).map(tuple)
PRACTICES = st.builds(
    Practice,
    fit_rule=ROWS,
    fit_by_profile=st.dictionaries(st.sampled_from(Profile), ROWS),
    kerf_mm=FIGURES,
    priors=st.fixed_dictionaries({key: st.builds(Prior, FIGURES, FIGURES) for key in COMMON_PRACTICE.priors}),
    doubt=st.builds(
        DoubtTerms, steps_mm=st.fixed_dictionaries(dict.fromkeys(System, FIGURES)), day_mm=FIGURES
    ),
    stated_on=st.dates(),
    source=st.text(),
    said=st.dictionaries(st.text(min_size=1), st.builds(Said, st.dates(), st.text())),
)


@given(PRACTICES)
def test_a_practice_reads_back_as_it_was_kept(practice: Practice) -> None:
    kept = as_json(practice)
    assert from_json(Practice, kept) == practice
    assert as_json(from_json(Practice, kept)) == kept


class Metal(StrEnum):
    GOLD = "gold"
    TIN = "tin"


@dataclass(frozen=True, slots=True)
class Inner:
    on: date = date(2026, 1, 2)
    metal: Metal = Metal.GOLD


@dataclass(frozen=True, slots=True)
class Grown:
    """As a practice may grow: fields and keys that an older row does not know."""

    amount: float
    is_so: bool = True
    inner: Inner = field(default_factory=Inner)
    by_metal: Mapping[Metal, float] = field(default_factory=lambda: {Metal.GOLD: 1.0, Metal.TIN: 2.0})
    pairs: Mapping[tuple[Metal, Pattern], tuple[str, float]] = field(default_factory=dict)


def test_what_an_older_row_does_not_know_takes_its_default() -> None:
    assert from_plain(Grown, {"amount": 3, "gone": [1]}) == Grown(3.0)
    told = from_plain(Grown, {"amount": 3, "inner": {"metal": "tin"}, "by_metal": {"gold": 9}})
    assert (told.inner, dict(told.by_metal)) == (Inner(metal=Metal.TIN), {Metal.GOLD: 9.0, Metal.TIN: 2.0})
    assert from_json(Practice, "{}") == COMMON_PRACTICE


def test_keys_of_several_parts_are_joined_and_read_again() -> None:
    value = Grown(1.0, pairs={(Metal.TIN, Pattern.HAMMERED): ("a", 1.5)})
    assert as_plain(value)["pairs"] == {"tin/hammered": ["a", 1.5]}
    assert from_plain(Grown, as_plain(value)) == value


@pytest.mark.parametrize("kept", [{"amount": "3"}, {"amount": 1.0, "is_so": 1}, {"amount": None}])
def test_what_is_of_another_kind_is_not_taken(kept: dict[str, Any]) -> None:
    with pytest.raises(TypeError):
        from_plain(Grown, kept)


def test_a_value_without_a_plain_form_is_said_so() -> None:
    with pytest.raises(TypeError, match="set has no plain form"):
        as_plain({"a": {1}})
