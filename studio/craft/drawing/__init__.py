"""Drawings of rings as SVG: for the counter, for lists, for the sheet at the bench. Attributes, no styles.

Values in, text out: every function takes a reckoning or plain measures and gives an `Svg`.
"""

from studio.craft.drawing.bench import BenchCut, Piece, bench_drawing, piece_at
from studio.craft.drawing.columns import Columns, columns_over_time
from studio.craft.drawing.compared import Compared, compared_bars, points_within, ticks_to
from studio.craft.drawing.counter import counter_drawing
from studio.craft.drawing.frames import FRAMES, Cut
from studio.craft.drawing.lying import lying_ring, quote_ring, quote_ring_scale, ring_thumb
from studio.craft.drawing.marks import caret, chevron, first_day_ring, state_mark
from studio.craft.drawing.paper import (
    check_bar_across,
    check_bar_down,
    sheet_blank,
    sheet_section,
    sheet_views,
    warning_triangle,
)
from studio.craft.drawing.price_line import price_line
from studio.craft.drawing.quote import quote_section, quote_views
from studio.craft.drawing.repeat_strip import repeat_strip
from studio.craft.drawing.sections import section_icon, section_small
from studio.craft.drawing.strip import blank_within, squared_strip
from studio.craft.drawing.svg import Svg, stretched

WIDE_HEIGHT = FRAMES[Cut.WIDE].height
NARROW_HEIGHT = FRAMES[Cut.NARROW].height
SLIM_HEIGHT = FRAMES[Cut.SLIM].height
"""Heights of the counter's three cuts in px; a page keeps them free, so that it never jumps."""

__all__ = [
    "NARROW_HEIGHT",
    "SLIM_HEIGHT",
    "WIDE_HEIGHT",
    "BenchCut",
    "Columns",
    "Compared",
    "Cut",
    "Piece",
    "Svg",
    "bench_drawing",
    "blank_within",
    "caret",
    "check_bar_across",
    "check_bar_down",
    "chevron",
    "columns_over_time",
    "compared_bars",
    "counter_drawing",
    "first_day_ring",
    "lying_ring",
    "piece_at",
    "points_within",
    "price_line",
    "quote_ring",
    "quote_ring_scale",
    "quote_section",
    "quote_views",
    "repeat_strip",
    "ring_thumb",
    "section_icon",
    "section_small",
    "sheet_blank",
    "sheet_section",
    "sheet_views",
    "squared_strip",
    "state_mark",
    "stretched",
    "ticks_to",
    "warning_triangle",
]
