"""The strip template: where whole repeats of a pattern stand on the strip, to be laid on the metal."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from studio.craft.drawing import Svg, check_bar_across, check_bar_down, repeat_strip, stretched
from studio.craft.printers import Drawn
from studio.craft.reckonings import Reckoning
from studio.craft.repeats import Repeats, repeats_of
from studio.craft.units import figure_words
from studio.papers.bench_sheet import drawn_for_words
from studio.papers.days import full_day_words
from studio.papers.figures import spoken
from studio.papers.paper import Paper


@dataclass(frozen=True, slots=True)
class RingToRepeat:
    """A ring whose pattern is to meet at the seam, and the pitch wanted for it, in mm."""

    number: str
    position: int
    reckoning: Reckoning
    wanted_mm: float


@dataclass(frozen=True, slots=True)
class RepeatSheet:
    """All that the paper shows."""

    foot: str
    drawn_for: str
    number: str
    ring: str
    told: tuple[str, ...]
    strip: Svg
    across: Svg
    down: Svg


def repeat_words(reckoning: Reckoning, found: Repeats) -> tuple[str, ...]:
    """The repeats in sentences: how many, their pitch, how they are marked, where the seam is."""
    grown = reckoning.stretch.used_percent
    marked = f"Mark {found.marked_mm:.3f} mm apart on {found.marked_length_mm:.2f} mm"
    if grown:
        marked += f"; the pattern adds {figure_words(grown)} %"
    times = "repeat" if found.count == 1 else "repeats"
    wanted = f"wanted were {figure_words(found.wanted_mm)} mm"
    seam = f"The first line is the seam, {figure_words(reckoning.trim_mm / 2)} mm from the sawn end"
    return (
        f"{found.count} {times} of {found.pitch_mm:.3f} mm on {found.length_mm:.2f} mm; {wanted}.",
        f"{marked}.",
        f"{seam}; it falls between two repeats.",
    )


def repeat_context(ring: RingToRepeat, drawn: Drawn, printed_on: date) -> RepeatSheet:
    """The page of one ring, worked out and put into words."""
    reckoning = ring.reckoning
    found = repeats_of(reckoning, ring.wanted_mm)

    def to_scale(svg: Svg) -> Svg:
        return spoken(stretched(svg, drawn.times_across, drawn.times_down))

    return RepeatSheet(
        foot=f"{ring.number}, ring {ring.position}, {full_day_words(printed_on)}",
        drawn_for=drawn_for_words(drawn),
        number=ring.number,
        ring=f"Ring {ring.position}, whole repeats of its pattern",
        told=repeat_words(reckoning, found),
        strip=to_scale(repeat_strip(found, reckoning.design.width_mm, drawn.room_mm)),
        across=to_scale(check_bar_across()),
        down=to_scale(check_bar_down()),
    )


def repeat_sheet(ring: RingToRepeat, drawn: Drawn, printed_on: date) -> Paper:
    """One page to be laid on the strip, on the printer's own paper."""
    page = partial(repeat_context, ring, drawn, printed_on)
    return Paper("repeat_sheet", (page,), f"Repeats, {ring.number}, ring {ring.position}", size=drawn.paper)
