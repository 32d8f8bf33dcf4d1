"""Holding a list of operations against the rules of order, and changing it."""

import pytest

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.errors import Refused, Why
from studio.craft.operations import Does, Operation
from studio.craft.particulars import Inscription, Particulars, Setting, Stone
from studio.craft.route import route
from studio.craft.route_constraints import CONSTRAINTS, PRACTICE
from studio.craft.route_order import (
    LONGEST_NAME,
    LONGEST_TEXT,
    MOST_OPERATIONS,
    OperationUnknown,
    RouteRefused,
    add_operation,
    check_order,
    drop_operation,
    move_operation,
    own_operation,
    reword_operation,
)
from studio.craft.solders import Grade
from tests.craft.drawn import a_reckoning

HAMMERED = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
BEZEL = Particulars(inscription=Inscription("Ada"), stones=(Stone(stated="ruby", setting=Setting.BEZEL),))
OPERATIONS = route(HAMMERED, BEZEL)


def place_of(key: str, operations: tuple[Operation, ...] = OPERATIONS) -> int:
    return next(place for place, one in enumerate(operations) if one.key == key)


@pytest.mark.parametrize(
    ("key", "before", "said"),
    [
        (
            "square", "pattern",
            "“Hammer the face” has to come before “Square the ends to 60.65”. A pattern stretches the strip:",
        ),
        ("bend", "anneal", "Before “Bend” something is missing that anneals. Rolling, hammering and"),
        ("solder", "bend", "“Bend” has to come before “Solder the seam”. Solder fills no gap"),
        ("sides", "solder", "There is no seam to clean"),
        ("seam-pattern", "sides", "The pattern is worked over a seam that is clean"),
        ("inscribe", "size", "Letters are cut once the size is right: resizing distorts them."),
        ("solder-setting", "solder", "with the hardest solder before anything is soldered onto it"),
        ("set", "solder-setting", "would break the stone in it"),
        ("set", "finish", "The wheel drags at claws and bezels"),
        ("finish", "inscribe", "The graver leaves a burr"),
    ],
)  # fmt: skip
def test_what_is_put_too_early_is_refused_with_the_reason(key: str, before: str, said: str) -> None:
    with pytest.raises(RouteRefused) as refused:
        move_operation(OPERATIONS, key, place_of(before))
    assert said in str(refused.value)
    assert refused.value.broken


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("saw", "“Scribe 61.3 and saw” is not left out. Without it there is no blank."),
        ("solder", "“Solder the seam” is not left out. The ring is open without it."),
        ("size", "is not left out. A ring is not engraved"),
        ("anneal", "Before “Bend” something is missing that anneals."),
        (
            "seam-pattern",
            "After “Hammer the face” something is missing that works the pattern over the seam.",
        ),
    ],
)
def test_what_others_need_is_not_dropped(key: str, said: str) -> None:
    with pytest.raises(RouteRefused) as refused:
        drop_operation(OPERATIONS, key)
    assert said in str(refused.value)


def test_what_nobody_needs_is_moved_and_dropped() -> None:
    fewer = drop_operation(OPERATIONS, "weigh")
    assert [one.key for one in fewer] == [one.key for one in OPERATIONS[1:]]
    swapped = move_operation(OPERATIONS, "setting", place_of("size"))
    assert place_of("setting", swapped) == place_of("size", swapped) - 1
    assert check_order(swapped) == ()


def test_an_operation_of_the_studios_own_goes_where_its_doing_may() -> None:
    photograph = own_operation(" Photograph it ", "for the book")
    assert (photograph.key, photograph.name, photograph.does) == ("own-1", "Photograph it", frozenset())
    assert add_operation(OPERATIONS, photograph, 0)[0] is photograph
    assert add_operation(OPERATIONS, photograph, len(OPERATIONS))[-1] is photograph
    again = own_operation("Weigh again", taken=frozenset({"own-1"}))
    assert again.key == "own-2"


@pytest.mark.parametrize(
    ("does", "at", "said"),
    [
        ({Does.WHEELS_OUTSIDE}, "finish", "A wheel erases the pattern."),
        ({Does.FILES_OUTSIDE}, "size", "A file on the outside takes the pattern off"),
        ({Does.RESIZES}, "finish", "Moving the size after the letters are cut distorts them."),
        ({Does.FIRES_PLATINUM}, "anneal", "come clean from an oxidising flame"),
        ({Does.PLATES}, "finish", "Any polish goes through the plating."),
        ({Does.STRETCHES_STRIP}, "bend", "A pattern stretches the strip"),
    ],
)
def test_an_own_operation_that_would_do_harm_is_refused(does: set[Does], at: str, said: str) -> None:
    with pytest.raises(RouteRefused) as refused:
        add_operation(OPERATIONS, own_operation("Our way", does=frozenset(does)), place_of(at))
    assert said in str(refused.value)


def test_a_later_joint_takes_no_harder_solder() -> None:
    hard = own_operation("Solder a loop on", does=frozenset({Does.SOLDERS}), solder=Grade.HARD)
    after = place_of("solder-setting") + 1
    with pytest.raises(RouteRefused) as refused:
        add_operation(OPERATIONS, hard, after)
    assert "“Solder a loop on” takes a harder solder than “Solder the bezel on” before it." in str(
        refused.value
    )
    easy = own_operation("Solder a loop on", does=frozenset({Does.SOLDERS}), solder=Grade.EASY)
    assert check_order(add_operation(OPERATIONS, easy, after)) == ()


def test_soldering_wants_its_grade_and_a_name_is_wanted_and_has_an_end() -> None:
    def why(name: str, text: str = "", does: Does = Does.TRIES) -> tuple[str, Why]:
        with pytest.raises(Refused) as refused:
            own_operation(name, text, does=frozenset({does}))
        (refusal,) = refused.value.refusals
        return refusal.field, refusal.why

    assert why("Ours", does=Does.JOINS_SETTING) == ("solder", Why.EMPTY)
    assert why("  ") == ("name", Why.EMPTY)
    assert why("x" * (LONGEST_NAME + 1)) == ("name", Why.TOO_LONG)
    assert why("Ours", "x" * (LONGEST_TEXT + 1)) == ("text", Why.TOO_LONG)


def test_words_are_changed_and_nothing_else_is() -> None:
    said = reword_operation(OPERATIONS, "bend", text="over the tapered block.")
    one, old = said[place_of("bend")], OPERATIONS[place_of("bend")]
    assert (one.text, one.name, one.does, one.cautions) == (
        "over the tapered block.", old.name, old.does, old.cautions,
    )  # fmt: skip
    assert [other for other in said if other.key != "bend"] == [
        other for other in OPERATIONS if other.key != "bend"
    ]
    with pytest.raises(Refused):
        reword_operation(OPERATIONS, "bend", name="")


def test_a_key_that_is_not_there_and_a_place_beyond_the_list_are_told() -> None:
    with pytest.raises(OperationUnknown) as unknown:
        move_operation(OPERATIONS, "cast", 0)
    assert unknown.value.key == "cast"
    for place in (-1, len(OPERATIONS)):
        with pytest.raises(IndexError):
            move_operation(OPERATIONS, "weigh", place)
    with pytest.raises(IndexError):
        add_operation(OPERATIONS, own_operation("Ours"), len(OPERATIONS) + 1)
    with pytest.raises(RouteRefused):
        add_operation(OPERATIONS, OPERATIONS[0], 0)


def test_a_route_has_an_end() -> None:
    many = OPERATIONS
    while len(many) < MOST_OPERATIONS:
        many = add_operation(many, own_operation("Look at it", taken=frozenset(one.key for one in many)), 0)
    with pytest.raises(RouteRefused, match="60 operations at most"):
        add_operation(many, own_operation("Once more", taken=frozenset(one.key for one in many)), 0)


def test_every_rule_has_a_key_of_its_own_a_reason_and_a_source() -> None:
    assert len({one.key for one in CONSTRAINTS}) == len(CONSTRAINTS) > 50
    for one in CONSTRAINTS:
        assert one.reason.endswith(".")
        assert one.source == PRACTICE or len(one.source) > 10
