"""The check sheet: the two bars of a bench sheet alone, to learn what a printer makes of them."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from studio.craft.drawing import Svg, check_bar_across, check_bar_down, stretched
from studio.craft.printers import Drawn
from studio.papers.bench_sheet import drawn_for_words
from studio.papers.days import full_day_words
from studio.papers.figures import spoken
from studio.papers.paper import Paper


@dataclass(frozen=True, slots=True)
class CheckSheet:
    """All that the paper shows."""

    foot: str
    drawn_for: str
    across: Svg
    down: Svg


def check_context(drawn: Drawn, printed_on: date) -> CheckSheet:
    """The bars, corrected for `drawn` if it is."""
    across, down = (
        spoken(stretched(bar, drawn.times_across, drawn.times_down))
        for bar in (check_bar_across(), check_bar_down())
    )
    foot = f"Check sheet, {full_day_words(printed_on)}"
    return CheckSheet(foot, drawn_for_words(drawn) or "As it is drawn, nothing corrected", across, down)


def check_sheet(drawn: Drawn, printed_on: date) -> Paper:
    """One page with a bar of 100 mm each way, on the printer's own paper."""
    page = partial(check_context, drawn, printed_on)
    return Paper("check_sheet", (page,), "Check sheet", size=drawn.paper)
