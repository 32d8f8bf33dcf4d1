"""One change of a route at a time, as somebody asks for it: a value each, that says what it did in words."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from studio.craft.designs import Limits
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.operations import Does, Operation
from studio.craft.route_changes import ChangedRoute
from studio.craft.route_order import (
    add_operation,
    drop_operation,
    move_operation,
    operation_of,
    own_operation,
    reword_operation,
)
from studio.craft.solders import Grade

MINUTES = Limits(0.0, 600.0)
_ENDS = " .,:"


@dataclass(frozen=True, slots=True)
class MoveStep:
    """Put the operation at place `to`, counted from 1 as the reader does."""

    key: str
    to: int


@dataclass(frozen=True, slots=True)
class AddStep:
    """Add an operation of the studio's own at place `at`, counted from 1."""

    name: str
    text: str
    at: int
    does: frozenset[Does] = frozenset()
    solder: Grade | None = None
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class LeaveOut:
    """Leave the operation out; an own one is gone with it."""

    key: str


@dataclass(frozen=True, slots=True)
class PutBack:
    """Take an operation in again that was left out, after the one it follows by the rules."""

    key: str


@dataclass(frozen=True, slots=True)
class Reword:
    """Say the operation otherwise; `minutes` are those of an own one."""

    key: str
    name: str
    text: str
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class AsTheRules:
    """Let go of every change."""


RouteEdit = MoveStep | AddStep | LeaveOut | PutBack | Reword | AsTheRules


@dataclass(frozen=True, slots=True)
class Edited:
    """The operations after a change, and what was done, in words: '“Bend:” is step 7 now'."""

    operations: tuple[Operation, ...]
    words: str


def edited(
    by_rules: Sequence[Operation],
    route: ChangedRoute,
    edit: RouteEdit,
    used: frozenset[str] = frozenset(),
) -> Edited:
    """The route with this one change more.

    `used` are the keys of steps that were worked on: a step that is added takes none of them, or the ticks of
    one that was taken out would be its own.
    Raises `RouteRefused` with the reasons where it would break a rule of order, `OperationUnknown` for an
    operation that is not there, and `Refused` naming `to`, `name`, `text`, `minutes` or `solder`.
    """
    now = route.operations
    match edit:
        case MoveStep(key, to):
            operation_of(now, key)
            _check_place("to", to, len(now))
            return Edited(move_operation(now, key, to - 1), f"{_said(now, key)} is step {to}")
        case AddStep():
            return _added(now, edit, used)
        case LeaveOut(key):
            return Edited(drop_operation(now, key), f"{_said(now, key)} is left out")
        case PutBack(key):
            back = operation_of(route.left_out, key)
            return Edited(_put_back(by_rules, now, back), f"{_said(by_rules, key)} is taken in again")
        case Reword(key, name, text, minutes):
            said = reword_operation(now, key, name=name.strip(), text=text.strip())
            own = operation_of(now, key).is_own
            _check_minutes(minutes)
            said = tuple(replace(one, minutes=minutes) if own and one.key == key else one for one in said)
            return Edited(said, f"{_said(now, key)} reads otherwise")
        case AsTheRules():
            return Edited(tuple(by_rules), "as the rules have it")


def _added(now: Sequence[Operation], edit: AddStep, used: frozenset[str]) -> Edited:
    taken = used | {one.key for one in now}
    own = own_operation(edit.name, edit.text, does=edit.does, solder=edit.solder, taken=taken)
    _check_minutes(edit.minutes)
    _check_place("at", edit.at, len(now) + 1)
    made = add_operation(now, replace(own, minutes=edit.minutes), edit.at - 1)
    return Edited(made, f"“{own.name}” is added as step {edit.at}")


def _put_back(
    by_rules: Sequence[Operation], now: Sequence[Operation], back: Operation
) -> tuple[Operation, ...]:
    """After the nearest operation before it by the rules that is in the route."""
    before = [one.key for one in by_rules]
    earlier = set(before[: before.index(back.key)])
    at = max((place for place, one in enumerate(now, 1) if one.key in earlier), default=0)
    return add_operation(now, back, at)


def _said(operations: Sequence[Operation], key: str) -> str:
    return f"“{operation_of(operations, key).name.rstrip(_ENDS)}”"


def _check_place(field: str, place: int, most: int) -> None:
    if not 1 <= place <= most:
        why = Why.TOO_SMALL if place < 1 else Why.TOO_LARGE
        raise Refused(Refusal(field, why, str(place), 1, most))


def _check_minutes(minutes: float | None) -> None:
    if minutes is not None and not MINUTES.low <= minutes <= MINUTES.high:
        why = Why.TOO_SMALL if minutes < MINUTES.low else Why.TOO_LARGE
        raise Refused(Refusal("minutes", why, f"{minutes:g}", MINUTES.low, MINUTES.high, "minutes"))
