"""Every way to fill a strip: all sets of kinds that nothing can be added to, each as counts by kind."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

Pattern = tuple[tuple[int, int], ...]
"""How many of which kind, by the kind's number."""


@dataclass(frozen=True, slots=True)
class Lying:
    """A kind as it lies in strips of one width: its number, its length and kerf, and how many it has."""

    kind: int
    along: int
    count: int


class TooMany(Exception):
    """There are more patterns than were asked for."""


def patterns(lying: Sequence[Lying], capacity: int, waste: int, most: int) -> list[Pattern]:
    """All sets that fit and to which no further blank can be added, wasting no more than `waste`.

    Raises `TooMany` past `most` patterns or ten times as many steps. Of 5 and two of 4 into 9: {5, 4} and
    {4, 4}.
    """
    step = gcd(*(one.along for one in lying))
    least = -(-max(capacity - waste, 0) // step)
    room = capacity // step
    if least > room:
        return []
    in_steps = [Lying(one.kind, one.along // step, one.count) for one in lying]
    search = _Search(sorted(in_steps, key=lambda one: (-one.along, one.kind)), room, room - least, most)
    search.walk(0, room, [])
    return search.found


class _Search:
    def __init__(self, lying: list[Lying], capacity: int, waste: int, most: int) -> None:
        self.lying = lying
        self.waste = min(waste, capacity)
        self.most = most
        self.steps = 10 * most + 1_000
        self.found: list[Pattern] = []
        self.reach = self._reach(capacity)

    def _reach(self, capacity: int) -> list[int]:
        """For each place in the list, the sums the kinds from there on can make, one bit each."""
        if self.waste * 4 > capacity:
            return []
        mask = (1 << (capacity + 1)) - 1
        reach = [1]
        for one in reversed(self.lying):
            sums = reach[-1]
            for _ in range(min(one.count, capacity // one.along)):
                sums |= (sums << one.along) & mask
            reach.append(sums)
        return reach[::-1]

    def walk(self, at: int, room: int, taken: list[tuple[int, int]]) -> None:
        """Every way to lie from the piece `at` on in what is left of the `room`. Raises `TooMany`."""
        self.steps -= 1
        if self.steps < 0:
            raise TooMany
        if self.reach and not self._can_end(at, room):
            return
        if at == len(self.lying):
            if room <= self.waste and self._is_full(room, dict(taken)):
                if len(self.found) >= self.most:
                    raise TooMany
                self.found.append(tuple(taken))
            return
        one = self.lying[at]
        for count in range(min(one.count, room // one.along), -1, -1):
            more = [*taken, (one.kind, count)] if count else taken
            self.walk(at + 1, room - count * one.along, more)

    def _can_end(self, at: int, room: int) -> bool:
        """Whether the kinds from here on can fill the room but for the waste allowed."""
        low = max(room - self.waste, 0)
        sums = self.reach[at] >> low
        return bool(sums & ((1 << (room - low + 1)) - 1))

    def _is_full(self, room: int, counts: dict[int, int]) -> bool:
        return all(one.along > room or counts.get(one.kind, 0) == one.count for one in self.lying)
