"""The sentence for each thing the trade refuses of what is put down at the bench."""

from collections.abc import Callable

from studio.craft.errors import Refusal, Why
from studio.craft.units import figure_words
from studio.web.echo import echo

BENCH_SENTENCES: dict[Why, Callable[[Refusal], str]] = {
    Why.NOTHING_MEASURED_HERE: lambda _: "Nothing is measured at this step. Leave it out.",
    Why.HEAVIER_THAN_TAKEN_IN: lambda r: (
        f"It weighed {figure_words(r.high or 0, 3)} g when it was taken in: no more can go back. Weigh again."
    ),
    Why.OFF_BY_NOTHING: lambda _: "Only what is too tight or loose is off by something. Leave it out.",
    Why.LONGER_THAN_BEFORE: lambda r: (
        f"The strip was {figure_words(r.high or 0)} mm before: filed, it cannot be longer. Measure again."
    ),
    Why.SHORTER_THAN_BEFORE: lambda r: (
        f"It was {figure_words(r.low or 0)} mm before: a pattern makes it no smaller. Measure again."
    ),
    Why.HEAVIER_THAN_ISSUED: lambda r: (
        f"{figure_words(r.high or 0)} g was weighed out: the ring cannot weigh more. Weigh again."
    ),
    Why.OUT_OF_ORDER: lambda r: f"{_step(r.typed)} comes before and is not done. Say why this is done first.",
}


def _step(name: str) -> str:
    """The step as a sentence begins with it; a name too strange to be said back is just a step."""
    said = echo(name)
    return f"Step '{said}'" if said else "A step"
