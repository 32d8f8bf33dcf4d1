"""What is to be printed, as a value: it is put together in one process and printed in another."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol, runtime_checkable

from studio.craft.printers import PaperSize

PARTS_AT_ONCE = 10
"""How many parts are printed in one go. What is longer is printed in goes of so many, and joined."""


@dataclass(frozen=True, slots=True)
class Asset:
    """A picture that a paper may show, by its name."""

    media_type: str
    content: bytes


@runtime_checkable
class Illustrated(Protocol):
    """The context of a part that shows pictures: each under a name that no other picture has."""

    @property
    def assets(self) -> Mapping[str, Asset]:
        """The pictures by the names under which the template shows them."""
        ...


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper: the folder of its template, what makes the context of each part, its title, its size.

    The parts begin a page each and count their pages on their own. A part is called by whoever prints, so
    that drawings and words are made there; it must be a function of a module with frozen values.
    """

    template: str
    parts: tuple[Callable[[], object], ...]
    title: str
    language: str = "en"
    size: PaperSize = PaperSize.A4

    @property
    def goes(self) -> tuple["Paper", ...]:
        """The paper in goes of ten parts: 25 parts make three."""
        return tuple(
            replace(self, parts=self.parts[start : start + PARTS_AT_ONCE])
            for start in range(0, len(self.parts), PARTS_AT_ONCE)
        )
