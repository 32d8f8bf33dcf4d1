"""The small marks beside words: how far a ring has come, what needs a hand, what a list hides."""

from functools import cache

from studio.craft.drawing.lines import INK, PENCIL
from studio.craft.drawing.svg import Svg, drawing, element
from studio.craft.orders import State

MARK_SIZE = 18
"""Side of the square a state mark stands in, in px."""


@cache
def state_mark(state: State) -> Svg:
    """The ring's own way, as a mark of 18 px: strip, bent, closed, on the bench, heavy, worn, struck through.

    It is ornament for the eye: the word always stands beside it.
    """
    ring: dict[str, float | str] = {"cx": 9, "cy": 9, "fill": "none", "stroke": INK}
    parts: dict[State, tuple[str, ...]] = {
        State.DRAFT: (element("path", d="M2 9h14", stroke=INK, stroke_width=3.2),),
        State.QUOTED: (
            element("path", d="M5.5 14.2a6.2 6.2 0 1 1 7 0", fill="none", stroke=INK, stroke_width=2),
        ),
        State.AGREED: (element("circle", r=6.2, stroke_width=2, **ring),),
        State.AT_THE_BENCH: (
            element("circle", r=5.6, stroke_width=2, **{**ring, "cy": 7.2}),
            element("path", d="M1 15.4h16", stroke=INK, stroke_width=2.8),
        ),
        State.READY: (element("circle", r=5, stroke_width=4.4, **ring),),
        State.HANDED_OVER: (
            element("path", d="M5.2 1v16M12.8 1v16", stroke=INK, stroke_width=1.6),
            element("path", d="M1.6 9.2h14.8", stroke=INK, stroke_width=4.4),
        ),
        State.CALLED_OFF: (
            element("circle", r=6.2, stroke_width=2, **ring),
            element("path", d="M2.2 15.8L15.8 2.2", stroke=INK, stroke_width=2.2),
        ),
    }
    return drawing(*parts[state], width=MARK_SIZE, height=MARK_SIZE, label="", focusable="false")


def caret() -> Svg:
    """The proof-reader's caret in pencil, 12 px: something here needs a hand. The word stands beside it."""
    stroke = element("path", d="M1.6 10.6L6 2.6l4.4 8", fill="none", stroke=PENCIL, stroke_width=2.2)
    return drawing(stroke, width=12, height=12, label="", focusable="false")


def chevron() -> Svg:
    """The mark at the right of a list that opens, 16 px."""
    stroke = element("path", d="M2 5l6 6.4L14 5", fill="none", stroke=INK, stroke_width=1.6)
    return drawing(stroke, width=16, height=16, label="", focusable="false")


def first_day_ring() -> Svg:
    """A ring not made yet: broken outlines on chain centre lines, 360 px."""
    return drawing(
        element("circle", cx=180, cy=180, r=157, fill="none", stroke=INK, stroke_dasharray="12 5"),
        element("circle", cx=180, cy=180, r=133, fill="none", stroke=INK, stroke_dasharray="12 5"),
        element("path", d="M0 180h360M180 0v360", stroke=INK, stroke_dasharray="14 3 2 3"),
        width=360,
        height=360,
        label="",
        focusable="false",
    )
