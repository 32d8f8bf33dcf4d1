"""What a studio changed in the route of one ring, kept apart from the rules that made the route.

Kept are the changes, not the list: when the ring is amended, the rules write its route anew and the changes
are laid over it again. Where they do not fit any more, because a rule of order would be broken or the words
they replaced have new figures, that is said, and what does not fit is left away rather than guessed.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from studio.craft.operations import Does, Operation
from studio.craft.route_order import check_order, own_operation
from studio.craft.solders import Grade


@dataclass(frozen=True, slots=True)
class OwnWork:
    """An operation the studio has added. `minutes` are its own, None while nobody said how long."""

    key: str
    name: str
    text: str = ""
    does: tuple[Does, ...] = ()
    solder: Grade | None = None
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Reworded:
    """Other words for an operation of the rules, with those they stand for: new figures undo them."""

    key: str
    name: str
    text: str
    instead_of: str


@dataclass(frozen=True, slots=True)
class RouteChanges:
    """All that was changed: the keys in the order wanted (empty: as the rules have it), and what else."""

    order: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    own: tuple[OwnWork, ...] = ()
    reworded: tuple[Reworded, ...] = ()

    @property
    def is_none(self) -> bool:
        """Whether the route is as the rules have it."""
        return self == RouteChanges()


@dataclass(frozen=True, slots=True)
class ChangedRoute:
    """A route with the studio's changes in it.

    `left_out` are the operations of the rules that are left out of it; `unfit` names, as sentences, the
    changes that do not fit the ring as it is now and are not in it; `is_changed` that somebody changed
    anything.
    """

    operations: tuple[Operation, ...]
    left_out: tuple[Operation, ...] = ()
    unfit: tuple[str, ...] = ()
    is_changed: bool = False


def with_changes(by_rules: Sequence[Operation], changes: RouteChanges) -> ChangedRoute:
    """The route of the rules with the studio's changes laid over it; it breaks no rule of order.

    An operation the changes do not know stands after the one it follows by the rules. Where the order wanted,
    the own work or what is left out would break a rule of order now, the route is that of the rules, with
    such words as still fit, and `unfit` says so.
    """
    said, unfit = _said_otherwise(by_rules, changes.reworded)
    left = {one.key for one in said if one.key in changes.left_out and not one.keep}
    own = tuple(_own(one) for one in changes.own)
    kept = tuple(one for one in said if one.key not in left)
    arranged = _arranged(kept, own, changes.order)
    if check_order(arranged):
        lost = ", ".join(f"“{one.name}”" for one in own)
        told = "The order of this route was changed by hand, and does not fit the ring as it is now."
        lost_too = f" Left away with it: {lost}." if lost else ""
        return ChangedRoute(said, unfit=(*unfit, told + lost_too), is_changed=True)
    left_out = tuple(one for one in said if one.key in left)
    return ChangedRoute(arranged, left_out, unfit, is_changed=not changes.is_none)


def changes_of(by_rules: Sequence[Operation], edited: Sequence[Operation]) -> RouteChanges:
    """The changes that make `edited` of the route of the rules: `with_changes` gives it back."""
    ruled = {one.key: one for one in by_rules}
    left_out = tuple(key for key in ruled if all(one.key != key for one in edited))
    order = tuple(one.key for one in edited)
    natural = tuple(key for key in ruled if key not in left_out)
    return RouteChanges(
        order=() if order == natural else order,
        left_out=left_out,
        own=tuple(
            OwnWork(
                one.key,
                one.name,
                one.text,
                tuple(sorted(one.does, key=list(Does).index)),
                one.solder,
                one.minutes,
            )
            for one in edited
            if one.is_own
        ),
        reworded=tuple(
            Reworded(one.key, one.name, one.text, _words(ruled[one.key]))
            for one in edited
            if not one.is_own and _words(one) != _words(ruled[one.key])
        ),
    )


def _said_otherwise(
    by_rules: Sequence[Operation], reworded: Sequence[Reworded]
) -> tuple[tuple[Operation, ...], tuple[str, ...]]:
    """The operations in the studio's words, and what of those does not fit any more."""
    wanted = {one.key: one for one in reworded}
    said, unfit = [], []
    for one in by_rules:
        new = wanted.get(one.key)
        if new is not None and new.instead_of == _words(one):
            said.append(replace(one, name=new.name, text=new.text))
            continue
        if new is not None:
            unfit.append(f"Your words for “{new.name}” were for other figures, so the step reads as new.")
        said.append(one)
    return tuple(said), tuple(unfit)


def _arranged(
    kept: Sequence[Operation], own: Sequence[Operation], order: Sequence[str]
) -> tuple[Operation, ...]:
    """All of them in the order wanted, each the order does not name after the one it follows by the rules."""
    if not order:
        return (*kept, *own)
    there = {one.key: one for one in (*kept, *own)}
    arranged = [there[key] for key in order if key in there]
    before: Operation | None = None
    for one in kept:
        if one not in arranged:
            arranged.insert(0 if before is None else arranged.index(before) + 1, one)
        before = one
    return (*arranged, *(one for one in own if one not in arranged))


def _own(work: OwnWork) -> Operation:
    made = own_operation(work.name, work.text, does=frozenset(work.does), solder=work.solder)
    return replace(made, key=work.key, minutes=work.minutes)


def _words(operation: Operation) -> str:
    return f"{operation.name}\n{operation.text}"
