"""What the book tells of mendings: frozen values, never rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from studio.craft.mends import Cause, MendKind, PaidBy
from studio.craft.orders import State


@dataclass(frozen=True, slots=True)
class MendedBy:
    """A later order that mends ring `ring` of this one."""

    ring: int
    order: str
    state: State
    kind: MendKind
    cause: Cause | None
    words: str
    paid_by: PaidBy | None


@dataclass(frozen=True, slots=True)
class OwnCost:
    """What an order costs the studio without margin, in minor units of `currency`, by its standing quote."""

    minor: int
    currency: str


@dataclass(frozen=True, slots=True)
class MadeTwice:
    """The mendings of one cause: how many, how many of them have no quote, and by currency what they cost.

    `borne` is the part of `cost` that the studio pays. Minor units.
    """

    cause: Cause | None
    count: int
    unpriced: int
    cost: Mapping[str, int] = field(default_factory=dict)
    borne: Mapping[str, int] = field(default_factory=dict)
