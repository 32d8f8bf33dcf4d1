"""Whatever ring is ordered, its way over the bench keeps every rule of order."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.alloys import ALLOYS, Metal
from studio.craft.cautions import LOCAL_RULES, Caution
from studio.craft.designs import Design, Finger, Pattern, PatternWhen
from studio.craft.hallmark import HallmarkRule, Verdict, foresight
from studio.craft.metals import Cooling
from studio.craft.operations import Does
from studio.craft.particulars import Surface
from studio.craft.reckonings import reckon
from studio.craft.route import route
from studio.craft.route_order import check_order
from studio.craft.solders import HARDEST_FIRST, admits, seam_solder
from tests.routes import FEATURES, Case, cases, every_pair, made_of, pairs_of
from tests.strategies import designs, whole_fingers


def test_every_pair_of_features_is_in_one_of_the_rings() -> None:
    places = [{name: FEATURES[name].index(value) for name, value in case.chosen.items()} for case in cases()]
    seen = set().union(*(pairs_of(chosen) for chosen in places))
    assert every_pair() - seen == set()
    assert len(every_pair()) > 2000


def test_every_ring_keeps_every_rule_of_order() -> None:
    for case in cases():
        assert [found.words for found in check_order(case.operations)] == []


ASKED = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in FEATURES.items()})


@given(whole_fingers(), designs(), ASKED)
def test_every_design_keeps_every_rule_of_order(
    finger: Finger, chosen: Design, asked: dict[str, object]
) -> None:
    told = made_of({**asked, "profile": FEATURES["profile"][0]}).particulars
    found = reckon(finger, chosen)
    assert check_order(route(found, told, HallmarkRule.UK, mate=found)) == ()


def before(case: Case, earlier: str, later: str) -> bool:
    """Whether one key stands before the other, or either is not in the route."""
    keys = case.keys
    return earlier not in keys or later not in keys or keys.index(earlier) < keys.index(later)


ORDER = [
    "trial", "weigh", "roll", "saw", "square", "anneal", "bend", "solder", "round", "sides", "seam-pattern",
    "form", "sponsor", "size", "setting", "solder-setting", "seats", "hallmark", "inscribe", "finish",
    "match",
]  # fmt: skip
"""Said once more by hand, without the rules: what comes before what, by the names of the operations."""


@pytest.mark.parametrize(("earlier", "later"), list(combinations(ORDER, 2)))
def test_the_order_of_the_bench_holds_by_name(earlier: str, later: str) -> None:
    assert all(before(case, earlier, later) for case in cases())
    assert any(earlier in case.keys for case in cases())


def test_plating_is_last_but_for_stones_that_its_bath_would_etch() -> None:
    seen = set()
    for case in cases():
        if "plate" in case.keys:
            after = case.keys[case.keys.index("plate") + 1 :]
            is_delicate = any(Does.SETS_DELICATE in one.does for one in case.operations)
            assert after == (["set"] if is_delicate else [])
            seen.add(is_delicate)
        is_plated = Surface.PLATED in {case.particulars.inside, case.particulars.outside}
        assert ("plate" in case.keys) == is_plated
    assert seen == {True, False}


def test_stones_meet_neither_fire_nor_acid_nor_wheel() -> None:
    for case in cases():
        if "set" in case.keys:
            after = case.operations[case.keys.index("set") + 1 :]
            harm = {Does.HEATS, Does.PICKLES, Does.POLISHES, Does.MARKS, Does.RESIZES}
            assert all(not one.does & harm for one in after)


def test_no_wheel_and_no_file_comes_to_a_pattern() -> None:
    for case in cases():
        design = case.reckoning.design
        if design.pattern is Pattern.PLAIN:
            continue
        worked = max(case.keys.index(key) for key in ("roll", "pattern", "seam-pattern") if key in case.keys)
        first = min(case.keys.index(key) for key in ("roll", "pattern") if key in case.keys)
        for place, one in enumerate(case.operations):
            if place > first:
                assert not one.does & {Does.FILES_OUTSIDE, Does.WHEELS_OUTSIDE}
        if design.pattern_when is PatternWhen.FLAT:
            assert case.keys[worked] == "seam-pattern"
            (seam,) = [one for one in case.operations if one.key == "solder"]
            assert seam.text.startswith("from the inside")


def test_solder_falls_from_joint_to_joint_and_the_seam_takes_what_its_alloy_admits() -> None:
    for case in cases():
        grades = [one.solder for one in case.operations if one.solder is not None]
        places = [HARDEST_FIRST.index(grade) for grade in grades]
        assert places == sorted(places)
        assert len(set(places)) == len(places)
        assert admits(case.reckoning.alloy, seam_solder(case.reckoning.alloy)).is_admitted


def test_every_fire_is_cooled_as_its_alloy_wants_and_pickled_only_where_it_may_be() -> None:
    for case in cases():
        alloy = case.reckoning.alloy
        for one in case.operations:
            if Does.HEATS in one.does and one.key != "setting":
                assert alloy.anneal.quench in one.text
            if Does.HEATS in one.does:
                is_of_platinum = alloy.metal in {Metal.PLATINUM, Metal.PALLADIUM}
                assert (Does.PICKLES in one.does) != is_of_platinum
                assert (Caution.PICKLE in (*one.cautions, *one.also)) != is_of_platinum
                assert (Caution.NO_PICKLE in (*one.cautions, *one.also)) == is_of_platinum


def test_the_way_of_cooling_follows_what_is_in_the_alloy() -> None:
    for alloy in ALLOYS.values():
        parts, cooling = alloy.composition, alloy.anneal.cooling
        if alloy.metal is Metal.GOLD and parts.get("Ni"):
            assert cooling is Cooling.BELOW_RED, "nickel white is never quenched from red"
        is_red = parts.get("Cu", 0) > 2 * parts.get("Ag", 0) and {"red", "rose"} & set(alloy.name.split())
        if alloy.metal is Metal.GOLD and is_red:
            assert cooling is Cooling.AT_LAST_RED, "gold and copper order and turn brittle when cooled slowly"
        is_free = cooling in {Cooling.ANY, Cooling.IN_AIR, Cooling.BELOW_RED}
        assert "Quench" in alloy.anneal.quench or is_free


def test_every_operation_says_why_and_with_what_and_is_checked() -> None:
    for case in cases():
        assert len(set(case.keys)) == len(case.keys)
        for one in case.operations:
            assert one.why.endswith("."), one.key
            assert one.check.endswith("."), one.key
            assert one.tools or one.key == "match"
            assert one.does, one.key
            said = (*one.cautions, *one.also)
            assert one.cautions_in_full[-1:] == ((LOCAL_RULES,) if said else ())


HEEDED: list[tuple[set[Does], set[Caution]]] = [
    ({Does.HEATS}, {Caution.TORCH, Caution.OXYGEN}),
    ({Does.HEATS}, {Caution.HOT}),
    ({Does.SOLDERS}, {Caution.FUME, Caution.NO_PICKLE}),
    ({Does.ROLLS}, {Caution.ROLLS}),
    ({Does.POLISHES}, {Caution.MOTOR}),
    ({Does.CUTS, Does.CUTS_SEATS, Does.ENGRAVES, Does.SETS}, {Caution.EYES}),
    ({Does.FILES_SEAM}, {Caution.FILINGS}),
    ({Does.PLATES}, {Caution.BATH}),
    ({Does.SETS_DELICATE}, {Caution.DELICATE}),
]
"""Where an operation does one of these, one of these cautions stands beside it."""


@pytest.mark.parametrize(("done", "wanted"), HEEDED)
def test_a_caution_stands_where_what_it_is_about_is_done(done: set[Does], wanted: set[Caution]) -> None:
    met = [one for case in cases() for one in case.operations if one.does & done]
    assert met
    assert all(wanted & {*one.cautions, *one.also} for one in met)


def test_the_hallmark_is_in_the_route_where_the_rule_may_ask_for_it_and_kept_where_it_does() -> None:
    seen: set[Verdict | str | None] = set()
    for case in cases():
        foreseen = foresight(case.reckoning, case.chosen["rule"])
        verdict = None if foreseen is None else foreseen.verdict
        marks = [one for one in case.operations if one.key == "hallmark"]
        if verdict in {Verdict.REQUIRED, Verdict.WEIGH}:
            assert len(marks) == 1
            if verdict is Verdict.REQUIRED and marks[0].keep:
                seen.add("kept")
        if marks:
            seen.add(verdict)
    assert {"kept", Verdict.REQUIRED, Verdict.EXEMPT} <= seen
