"""Whether a list of operations keeps the rules of order, and changing it so that it does.

A change that would break a rule is refused with the reason. What was broken before, by a ring that was
changed since its route was, refuses no change that does not make it worse.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.operations import Does, Operation, cautions_of, what_it_does
from studio.craft.route_constraints import CONSTRAINTS, Constraint, Way
from studio.craft.solders import HARDEST_FIRST, Grade

LONGEST_NAME, LONGEST_TEXT, MOST_OPERATIONS = 60, 300, 60
OWN = "own-"
"""With this begins the key of an operation the studio has added."""
_ENDS = " .,:"


@dataclass(frozen=True, slots=True)
class Broken:
    """A rule that a route does not keep: by which operation, against which other, '' where one is wanting.

    Both are keys; `name` and `other_name` are what the reader calls them.
    """

    constraint: Constraint
    key: str
    name: str
    other_key: str = ""
    other_name: str = ""

    @property
    def words(self) -> str:
        """'Square the ends stands before Hammer the face. A pattern stretches the strip ...'."""
        way, reason = self.constraint.way, self.constraint.reason
        told = {
            Way.BEFORE: f"“{self.name}” has to come before “{self.other_name}”.",
            Way.NEEDS_BEFORE: f"Before “{self.name}” something is missing that {self.constraint.other}.",
            Way.NEEDS_AFTER: f"After “{self.name}” something is missing that {self.constraint.other}.",
            Way.NEVER: f"“{self.name}” and “{self.other_name}” do not go together.",
            Way.NOT_HARDER: f"“{self.name}” takes a harder solder than “{self.other_name}” before it.",
        }[way]
        return f"{told} {reason}"


class RouteRefused(ValueError):
    """A change of a route that cannot stand, with every reason in words."""

    def __init__(self, *reasons: str, broken: tuple[Broken, ...] = ()) -> None:
        super().__init__(" ".join(reasons))
        self.reasons = reasons
        self.broken = broken


class OperationUnknown(KeyError):
    """No operation of the route has this key."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


def check_order(operations: Sequence[Operation]) -> tuple[Broken, ...]:
    """Every rule of order that these operations do not keep, with its reason; nothing where all are kept."""
    return tuple(found for constraint in CONSTRAINTS for found in _broken(constraint, operations))


def _broken(constraint: Constraint, operations: Sequence[Operation]) -> Iterator[Broken]:
    """What of `operations` breaks one rule: places of those it speaks of, and of those they stand against."""
    doing = _places(operations, constraint.what)
    others = _places(operations, constraint.other)
    for place, other in _wrong(constraint, operations, doing, others):
        against = None if other is None else operations[other]
        yield Broken(
            constraint,
            operations[place].key,
            operations[place].name.rstrip(_ENDS),
            "" if against is None else against.key,
            "" if against is None else against.name.rstrip(_ENDS),
        )


def _places(operations: Sequence[Operation], does: Does | None) -> list[int]:
    return [place for place, one in enumerate(operations) if does in one.does]


def _wrong(
    constraint: Constraint, operations: Sequence[Operation], doing: Sequence[int], others: Sequence[int]
) -> Iterator[tuple[int, int | None]]:
    match constraint.way:
        case Way.BEFORE:
            yield from ((place, other) for place in doing for other in others if other < place)
        case Way.NEEDS_BEFORE:
            since = _places(operations, constraint.since)
            for place in doing:
                last = max((at for at in since if at < place), default=-1)
                if not any(last < other < place for other in others):
                    yield place, None
        case Way.NEEDS_AFTER:
            yield from ((place, None) for place in doing if not any(other > place for other in others))
        case Way.NEVER:
            yield from ((place, others[0]) for place in doing[:1] if others)
        case Way.NOT_HARDER:
            soldering = [place for place in doing if operations[place].solder is not None]
            for before, place in pairwise(soldering):
                if _hard(operations[place]) > _hard(operations[before]):
                    yield place, before


def _hard(operation: Operation) -> int:
    """How hard the solder of an operation is, the hardest the largest."""
    return -HARDEST_FIRST.index(operation.solder or HARDEST_FIRST[-1])


def move_operation(operations: Sequence[Operation], key: str, to: int) -> tuple[Operation, ...]:
    """The operations with that one at place `to`, counted from 0 in the new list.

    Raises `RouteRefused` with every reason where that breaks a rule, `OperationUnknown`, and `IndexError`
    for a place that is not in the list.
    """
    one = operation_of(operations, key)
    if not 0 <= to < len(operations):
        raise IndexError(to)
    rest = [other for other in operations if other is not one]
    return _kept(operations, (*rest[:to], one, *rest[to:]))


def add_operation(operations: Sequence[Operation], operation: Operation, at: int) -> tuple[Operation, ...]:
    """The operations with this one at place `at`, from 0 to their number.

    Raises `RouteRefused` where it breaks a rule there, where its key is in the list, or where there are
    `MOST_OPERATIONS`; `IndexError` for a place beyond the list.
    """
    if not 0 <= at <= len(operations):
        raise IndexError(at)
    if any(one.key == operation.key for one in operations):
        raise RouteRefused(f"“{operation.name}” is in the route already.")
    if len(operations) >= MOST_OPERATIONS:
        raise RouteRefused(f"A route has {MOST_OPERATIONS} operations at most.")
    return _kept(operations, (*operations[:at], operation, *operations[at:]))


def drop_operation(operations: Sequence[Operation], key: str) -> tuple[Operation, ...]:
    """The operations without that one.

    Raises `RouteRefused` with the reason where it may not be left out, for itself or since another needs it.
    """
    one = operation_of(operations, key)
    if one.keep:
        raise RouteRefused(f"“{one.name.rstrip(_ENDS)}” is not left out. {one.keep}")
    return _kept(operations, tuple(other for other in operations if other is not one))


def reword_operation(
    operations: Sequence[Operation], key: str, *, name: str | None = None, text: str | None = None
) -> tuple[Operation, ...]:
    """The operations with other words for that one; what it does, and its cautions, stay as they are.

    Raises `Refused` naming `name` or `text` for an empty name and for words that are too long.
    """
    one = operation_of(operations, key)
    said = replace(one, name=one.name if name is None else name, text=one.text if text is None else text)
    _check_words(said.name, said.text)
    return tuple(said if other is one else other for other in operations)


def own_operation(
    name: str,
    text: str = "",
    *,
    does: frozenset[Does] = frozenset(),
    solder: Grade | None = None,
    taken: frozenset[str] = frozenset(),
) -> Operation:
    """An operation of the studio's own, its key unlike all of `taken`; `does` is what rules of order heed.

    Its cautions are those of what it does: whoever adds a fire adds what is to be said of fire.
    Raises `Refused` for an empty name, words that are too long, and soldering without a grade of solder.
    """
    _check_words(name, text)
    done = what_it_does(*does)
    if Does.SOLDERS in done and solder is None:
        raise Refused(Refusal("solder", Why.EMPTY))
    number = 1
    while f"{OWN}{number}" in taken:
        number += 1
    return Operation(
        f"{OWN}{number}",
        name.strip(),
        text.strip(),
        cautions_of(done),
        does=done,
        solder=solder,
        is_own=True,
    )


def operation_of(operations: Sequence[Operation], key: str) -> Operation:
    """The operation of that key. Raises `OperationUnknown`."""
    for one in operations:
        if one.key == key:
            return one
    raise OperationUnknown(key)


def _check_words(name: str, text: str) -> None:
    found = [] if name.strip() else [Refusal("name", Why.EMPTY)]
    found += [
        Refusal(field, Why.TOO_LONG, high=most, unit="signs")
        for field, said, most in (("name", name, LONGEST_NAME), ("text", text, LONGEST_TEXT))
        if len(said) > most
    ]
    if found:
        raise Refused(*found)


def _kept(before: Sequence[Operation], after: tuple[Operation, ...]) -> tuple[Operation, ...]:
    """`after`, if it breaks no rule that `before` did not."""
    old = {_where(found) for found in check_order(before)}
    new = tuple(found for found in check_order(after) if _where(found) not in old)
    if new:
        raise RouteRefused(*dict.fromkeys(found.words for found in new), broken=new)
    return after


def _where(found: Broken) -> tuple[str, str, str]:
    return found.constraint.key, found.key, found.other_key
