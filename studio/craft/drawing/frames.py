"""How the counter's drawing is cut and laid out: what goes where, and at how many px a millimetre."""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.drawing.outlines import outside_radius, seen_width
from studio.craft.drawing.type_widths import text_width
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words


class Cut(StrEnum):
    """How wide the drawing is cut: for desk and tablet, for phones, for the narrowest phones."""

    WIDE = "wide"
    NARROW = "narrow"
    SLIM = "slim"


@dataclass(frozen=True, slots=True)
class Frame:
    """The measures of one cut in px. Heights are fixed, so that nothing moves while a figure is typed.

    `top` is where the tallest ring begins, `between` lies between the ring's lowest point and the blank,
    `under` holds the rule. `figures` are the sizes tried for the inside diameter, largest first.
    """

    width: float
    height: float
    waiting_height: float
    start: float
    spare: float
    top: float
    between: float
    under: float
    over: float
    aside: float
    largest_scale: float
    head: float
    note: float
    mark: float
    figures: tuple[float, ...]
    magnified: tuple[str, str, str]


FRAMES: dict[Cut, Frame] = {
    Cut.WIDE: Frame(
        width=724, height=446, waiting_height=318, start=20, spare=33, top=38, between=79, under=33, over=12,
        aside=46, largest_scale=12, head=15, note=15, mark=17, figures=(26, 22, 19),
        magnified=("Section, to the same scale", "Section, twice as large", "Section, three times as large"),
    ),
    Cut.NARROW: Frame(
        width=358, height=288, waiting_height=196, start=8, spare=14, top=37, between=73, under=30, over=9,
        aside=42, largest_scale=7, head=14, note=14, mark=16, figures=(18, 16),
        magnified=("Section, same scale", "Section, 2 times", "Section, 3 times"),
    ),
    Cut.SLIM: Frame(
        width=288, height=262, waiting_height=180, start=6, spare=12, top=37, between=73, under=30, over=6,
        aside=40, largest_scale=6, head=14, note=14, mark=16, figures=(17, 15),
        magnified=("Section, same", "Section, 2 times", "Section, 3 times"),
    ),
}  # fmt: skip

SERIF_SHARE = 1.06
"""How much wider than Source Sans Pro the headings in Source Serif Pro run, at most."""
_GAP = 10.0
"""Least room between the columns of the upper row, in px."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything stands.

    `scale` is px a mm, `times` how much larger the section is; `left` and `wide` are the columns of the upper
    row, front, side and section; `middle` is the y of its centre line.
    """

    scale: float
    times: int
    left: tuple[float, float, float]
    wide: tuple[float, float, float]
    middle: float
    blank_top: float


def diameter_words(reckoning: Reckoning) -> str:
    """The inside diameter as the drawing says it: Ø 17.71."""
    return f"Ø {reckoning.diameter_mm:.2f}"


def _columns(frame: Frame, reckoning: Reckoning, scale: float, times: int) -> tuple[float, float, float]:
    """Widths of front, side and section with what hangs on them, in px."""
    figure = text_width(diameter_words(reckoning), frame.figures[-1], 600)
    over = 2 * (frame.over + 1)
    wide = seen_width(reckoning) * scale
    beside = text_width(figure_words(reckoning.finished_width_mm), frame.note)
    front_column = max(2 * outside_radius(reckoning) * scale + over, figure)
    side_column = wide + over if wide >= max(beside + 1, 21) else wide + 2 * (20 + beside)
    section_wide = wide * times
    tail = frame.aside
    figured = text_width(f"{reckoning.finished_width_mm:.2f}", frame.note)
    if section_wide < max(figured + 1, 21):
        tail = max(tail, 24 + figured)
    head = text_width(frame.magnified[times - 1], frame.head) * SERIF_SHARE
    return front_column, side_column, max(frame.over + section_wide + tail, head)


def _largest_scale(frame: Frame, reckoning: Reckoning, times: int, *, is_waiting: bool) -> float:
    """The largest px a mm at which everything fits the frame, found by halving."""
    over_all = 2 * outside_radius(reckoning)
    if is_waiting:
        upright_limit = (frame.waiting_height - frame.top - 44) / over_all
    else:
        room = frame.height - frame.top - frame.between - frame.under
        upright_limit = room / (over_all + reckoning.design.width_mm)
    high = min(
        frame.largest_scale, upright_limit, (frame.width - frame.start - frame.spare) / reckoning.mark_mm
    )
    gaps = 2 * _GAP if frame.width > 400 else 4.0

    def fits(scale: float) -> bool:
        return sum(_columns(frame, reckoning, scale, times)) + gaps <= frame.width

    if fits(high):
        return high
    low = 0.2
    for _ in range(14):
        tried = (low + high) / 2
        low, high = (tried, high) if fits(tried) else (low, tried)
    return low


def layout(frame: Frame, reckoning: Reckoning, *, is_waiting: bool = False) -> Layout:
    """Lay the views out in `frame`.

    The section is three times the ring's scale; for a band so wide that this would shrink the ring to less
    than three fifths it is drawn smaller, and its heading says so.
    """
    scales = {n: _largest_scale(frame, reckoning, n, is_waiting=is_waiting) for n in (1, 3)}
    times, scale = 3, scales[3]
    if scales[3] < 0.6 * scales[1]:
        two = _largest_scale(frame, reckoning, 2, is_waiting=is_waiting)
        times, scale = (2, two) if two >= 0.6 * scales[1] else (1, scales[1])
    wide = _columns(frame, reckoning, scale, times)
    gap = (frame.width - sum(wide)) / 2
    blank_top = frame.height - frame.under - reckoning.design.width_mm * scale
    floor = frame.waiting_height - 44 if is_waiting else blank_top - frame.between
    return Layout(
        scale,
        times,
        (0, wide[0] + gap, wide[0] + wide[1] + 2 * gap),
        wide,
        (frame.top + floor) / 2,
        blank_top,
    )
