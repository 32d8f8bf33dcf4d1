"""Nobody can break a rule of order unseen: a change keeps them all, or is refused with the reason."""

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.operations import Does
from studio.craft.route_constraints import CONSTRAINTS
from studio.craft.route_order import (
    OWN,
    RouteRefused,
    add_operation,
    check_order,
    drop_operation,
    move_operation,
    own_operation,
)
from studio.craft.solders import HARDEST_FIRST, Grade
from tests.routes import cases

SOME = st.integers(0, 100_000)


@given(SOME, SOME, SOME)
def test_a_move_keeps_every_rule_or_is_refused_with_the_reason(which: int, what: int, where: int) -> None:
    operations = cases()[which % len(cases())].operations
    one, to = operations[what % len(operations)], where % len(operations)
    moved = [other for other in operations if other is not one]
    moved.insert(to, one)
    if wrong := check_order(moved):
        with pytest.raises(RouteRefused) as refused:
            move_operation(operations, one.key, to)
        assert set(refused.value.broken) == set(wrong)
        assert all(found.words in refused.value.reasons for found in wrong)
        assert all(found.constraint.reason in found.words for found in wrong)
    else:
        assert list(move_operation(operations, one.key, to)) == moved


@given(SOME, SOME)
def test_an_operation_is_dropped_only_where_nothing_needs_it(which: int, what: int) -> None:
    operations = cases()[which % len(cases())].operations
    one = operations[what % len(operations)]
    rest = tuple(other for other in operations if other is not one)
    if one.keep or check_order(rest):
        with pytest.raises(RouteRefused) as refused:
            drop_operation(operations, one.key)
        assert refused.value.reasons
        assert one.keep in refused.value.reasons[0]
    else:
        assert drop_operation(operations, one.key) == rest


@given(SOME, SOME, st.sets(st.sampled_from(Does), max_size=3), st.sampled_from(Grade))
def test_an_operation_of_the_studios_own_is_held_to_the_same_rules(
    which: int, where: int, does: set[Does], grade: Grade
) -> None:
    operations = cases()[which % len(cases())].operations
    at = where % (len(operations) + 1)
    own = own_operation("Our own way", does=frozenset(does), solder=grade)
    assert own.key.startswith(OWN)
    added = (*operations[:at], own, *operations[at:])
    if wrong := check_order(added):
        with pytest.raises(RouteRefused) as refused:
            add_operation(operations, own, at)
        assert refused.value.broken == wrong
    else:
        assert add_operation(operations, own, at) == added


def broken_by_one_move() -> Iterator[tuple[str, str]]:
    """The rules that dropping an operation breaks, or putting it first or last, with what is said then."""
    for case in cases():
        for one in case.operations:
            rest = tuple(other for other in case.operations if other is not one)
            for tried in (rest, (one, *rest), (*rest, one)):
                yield from ((found.constraint.key, found.words) for found in check_order(tried))


def broken_by_an_addition() -> Iterator[tuple[str, str]]:
    """The same of an operation the studio adds somewhere, that does one thing."""
    for case in cases()[::6]:
        for does in Does:
            own = own_operation("Our own way", does=frozenset({does}), solder=HARDEST_FIRST[0])
            for at in range(0, len(case.operations) + 1, 3):
                tried = (*case.operations[:at], own, *case.operations[at:])
                yield from ((found.constraint.key, found.words) for found in check_order(tried))


def test_there_is_no_rule_that_nothing_can_break() -> None:
    found = dict(broken_by_one_move()) | dict(broken_by_an_addition())
    assert {one.key for one in CONSTRAINTS} - set(found) == set()
    begins = ("“", "Before “", "After “")
    assert all(words.endswith(".") and words.startswith(begins) for words in found.values())


def test_what_was_broken_before_holds_up_no_change_that_makes_it_no_worse() -> None:
    case = next(one for one in cases() if "inscribe" in one.keys and "pattern" in one.keys)
    broken = tuple(one for one in case.operations if one.key != "size")
    assert check_order(broken)
    words = own_operation("Photograph it")
    assert add_operation(broken, words, len(broken))[-1] == words
    with pytest.raises(RouteRefused):
        move_operation(broken, "solder", 0)
