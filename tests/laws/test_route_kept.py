"""What a studio changes in a route is kept apart from it, comes back whole, and breaks no rule of order."""

from contextlib import suppress
from dataclasses import replace
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from studio.book.plain_values import as_json, from_json
from studio.craft.minutes import MinutesRecord, with_minutes
from studio.craft.operations import Does, Operation
from studio.craft.route_changes import RouteChanges, changes_of, with_changes
from studio.craft.route_order import (
    RouteRefused,
    add_operation,
    check_order,
    drop_operation,
    move_operation,
    own_operation,
    reword_operation,
)
from studio.craft.solders import Grade
from tests.routes import cases

SOME = st.integers(0, 100_000)


def changed_by_hand(operations: tuple[Operation, ...], chance: Random) -> tuple[Operation, ...]:
    """Some changes of every kind, as far as the rules of order let them through."""
    for _ in range(chance.randrange(1, 9)):
        one = chance.choice(operations)
        with suppress(RouteRefused):
            match chance.randrange(4):
                case 0:
                    operations = move_operation(operations, one.key, chance.randrange(len(operations)))
                case 1:
                    operations = drop_operation(operations, one.key)
                case 2:
                    operations = reword_operation(operations, one.key, text=f"our way, {chance.random()}")
                case _:
                    own = own_operation(
                        "Photograph it",
                        does=frozenset(chance.sample(list(Does), chance.randrange(3))),
                        solder=chance.choice(list(Grade)),
                        taken=frozenset(other.key for other in operations),
                    )
                    at = chance.randrange(len(operations) + 1)
                    operations = add_operation(operations, replace(own, minutes=5.0), at)
    return operations


@given(SOME, SOME)
def test_the_changes_of_a_route_laid_over_the_rules_give_the_changed_route(which: int, seed: int) -> None:
    by_rules = cases()[which % len(cases())].operations
    edited = changed_by_hand(by_rules, Random(seed))  # noqa: S311  the same walk again
    found = with_changes(by_rules, changes_of(by_rules, edited))
    assert found.operations == edited
    assert found.unfit == ()
    there = {one.key for one in edited}
    assert [one.key for one in found.left_out] == [one.key for one in by_rules if one.key not in there]


@given(SOME, SOME)
def test_changes_are_kept_as_text_and_read_back(which: int, seed: int) -> None:
    by_rules = cases()[which % len(cases())].operations
    changes = changes_of(by_rules, changed_by_hand(by_rules, Random(seed)))  # noqa: S311  the same walk again
    assert from_json(RouteChanges, as_json(changes)) == changes


@given(SOME, SOME, SOME)
def test_changes_laid_over_another_ring_break_no_rule_or_are_said_not_to_fit(
    which: int, other: int, seed: int
) -> None:
    by_rules, now = cases()[which % len(cases())].operations, cases()[other % len(cases())].operations
    changes = changes_of(by_rules, changed_by_hand(by_rules, Random(seed)))  # noqa: S311  the same walk again
    found = with_changes(now, changes)
    assert check_order(found.operations) == ()
    own = {one.key for one in changes.own}
    there = {one.key for one in found.operations}
    assert own <= there or found.unfit
    assert there - own == {one.key for one in now} - {one.key for one in found.left_out}
    assert not any(one.keep for one in found.left_out)


def test_a_route_that_nobody_changed_has_no_changes() -> None:
    for case in cases():
        assert changes_of(case.operations, case.operations) == RouteChanges()
        assert with_changes(case.operations, RouteChanges()).operations == case.operations


def test_words_for_figures_that_have_changed_fall_away_and_that_is_said() -> None:
    case = next(one for one in cases() if "saw" in one.keys)
    edited = reword_operation(case.operations, "saw", text="mark 62.4 and saw with the fine blade.")
    changes = changes_of(case.operations, edited)
    longer = tuple(
        replace(one, text=f"{one.text} Longer.") if one.key == "saw" else one for one in case.operations
    )
    found = with_changes(longer, changes)
    assert found.operations == longer
    assert found.unfit
    assert "other figures" in found.unfit[0]


def test_what_the_studio_adds_keeps_its_own_minutes_whatever_other_rings_took() -> None:
    case = cases()[0]
    own = replace(own_operation("Photograph it"), minutes=5.0)
    timed = with_minutes(
        (*case.operations, own), case.reckoning.design, {}, {own.key: MinutesRecord(90.0, 3)}
    )
    assert timed[-1].minutes == 5.0


def test_what_the_studio_adds_brings_the_cautions_of_what_it_does() -> None:
    fire = own_operation("Anneal once more", does=frozenset({Does.ANNEALS, Does.PICKLES}))
    assert fire.caution == (
        "Torch: hair and cuffs back, extraction on. Hot looks cold. Acid into water, lid on, copper tongs."
    )
    assert fire.cautions_in_full[-1] == "Local rules and trained supervision come first."
    assert own_operation("Photograph it").caution is None
