"""How a figure came about: formula, inputs, value, unit, source. Page, paper and API show the same."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """One value that went into a figure."""

    name: str
    value: float | str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """One figure with all it takes to work it out again by hand.

    `figure` is the path of the value in the reckoning, such as `blank.mark_mm`.
    """

    figure: str
    formula: str
    inputs: tuple[Input, ...]
    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Caveat:
    """A warning: it refuses nothing, but may want a reason before the ring goes to the bench.

    `code` is stable (`narrow-gauge`); `field` is the path below the ring it stands beside;
    `message` is the sentence, in the studio's words.
    """

    code: str
    field: str
    message: str
    needs_reason: bool = False


class Notes:
    """Collects the working of each figure in the order they are reckoned.

    Formulas name their inputs in words, so that anybody can put the values in and work them out again; a
    test does so for every one of them.
    """

    def __init__(self) -> None:
        self._working: list[Working] = []

    @property
    def working(self) -> tuple[Working, ...]:
        """All workings so far."""
        return tuple(self._working)

    def note(self, figure: str, value: float, unit: str, formula: str, *inputs: Input, source: str) -> float:
        """Keep the working of `figure` and hand its value back."""
        self._working.append(Working(figure, formula, inputs, value, unit, source))
        return value


class Unkept(Notes):
    """Hands every value back and keeps nothing, where only one figure is wanted."""

    def note(self, figure: str, value: float, unit: str, formula: str, *inputs: Input, source: str) -> float:  # noqa: ARG002  as that of `Notes`
        """Hand the value of `figure` back."""
        return value
