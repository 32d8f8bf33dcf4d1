"""The drawing at the counter: front, side, section, blank, dimensioned, redrawn while the ring is chosen."""

from dataclasses import replace
from math import sqrt

from studio.craft.designs import WIRE_PROFILES, Pattern, Profile
from studio.craft.drawing.frames import (
    FRAMES,
    SERIF_SHARE,
    Cut,
    Frame,
    Layout,
    diameter_words,
    layout,
)
from studio.craft.drawing.lines import (
    SANS,
    SCREEN_PEN,
    SERIF,
    Figure,
    Pen,
    Spot,
    across,
    arrows_between,
    upright,
)
from studio.craft.drawing.outlines import outside_radius, section_height, seen_width
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import first_that_fits, text_width
from studio.craft.drawing.views import (
    blank_view,
    centre_lines,
    front,
    has_worked_face,
    section_view,
    side_view,
    steel_rule,
)
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words

WAITING_PEN = replace(SCREEN_PEN, metal="none", outline=1)


def _front(pen: Pen, frame: Frame, place: Layout, reckoning: Reckoning) -> str:
    """Front view with its inside diameter: within the ring where it fits, else below it."""
    outside = outside_radius(reckoning) * place.scale
    inside = reckoning.diameter_mm / 2 * place.scale
    x, y = max(outside + frame.over + 1, place.wide[0] / 2), place.middle
    words = diameter_words(reckoning)
    spot = Spot(x, y, place.scale)
    ring = front(pen, reckoning, spot)

    def chord(away: float) -> float:
        return 2 * sqrt(max(0.0, inside**2 - away**2))

    size = next((s for s in frame.figures if text_width(words, s, 600) + 8 <= chord(6 + 0.68 * s)), 0)
    if not size:
        line = y + outside + 12
        below = across(pen, (x - inside, x + inside), Figure("", frame.note), line=line, edge=y)
        figure = text(
            words,
            x,
            line + 8 + 0.68 * frame.figures[-1],
            frame.figures[-1],
            text_anchor="middle",
            font_weight="600",
            fill=pen.ink,
        )
        return centre_lines(pen, reckoning, spot, over=frame.over) + ring + below + figure
    low = y + frame.note + 5
    circumference = f"{reckoning.circumference_mm:.1f}"
    told = first_that_fits(
        (f"inside {circumference} round", f"{circumference} round", circumference),
        chord(frame.note + 9) - 14,
        frame.note,
    )
    gap = (y - 6 - 0.68 * size - 5, low + 6 if told else y + 5)
    return (
        ring
        + centre_lines(pen, reckoning, spot, over=frame.over, gap=gap)
        + arrows_between(pen, (x - inside, x + inside), y)
        + text(words, x, y - 6, size, text_anchor="middle", font_weight="600", fill=pen.ink)
        + (text(told, x, low, frame.note, text_anchor="middle", fill=pen.ink) if told else "")
    )


def _side(pen: Pen, frame: Frame, place: Layout, reckoning: Reckoning) -> str:
    """Side view with the width below it."""
    half = reckoning.finished_width_mm * place.scale / 2
    x = place.left[1] + frame.over + 1 + seen_width(reckoning) * place.scale / 2
    foot = place.middle + outside_radius(reckoning) * place.scale
    width = Figure(figure_words(reckoning.finished_width_mm), frame.note)
    return side_view(pen, reckoning, Spot(x, place.middle, place.scale), over=frame.over) + across(
        pen, (x - half, x + half), width, line=foot + 28, edge=foot
    )


def _section(pen: Pen, frame: Frame, place: Layout, reckoning: Reckoning) -> str:
    """Section with width and thickness, and the name of the face that is worked."""
    scale = place.scale * place.times
    high_mm, wide = section_height(reckoning), seen_width(reckoning) * scale
    half, rise = reckoning.finished_width_mm * scale / 2, high_mm * scale / 2
    x, y = place.left[2] + frame.over + wide / 2, place.middle
    foot = y + rise
    width = Figure(f"{reckoning.finished_width_mm:.2f}", frame.note)
    thickness = Figure(f"{high_mm:.2f}", frame.note)
    told, line = "", x + wide / 2 + frame.aside - 7
    if has_worked_face(reckoning):
        words = "worked face"
        long = text_width(words, frame.note)
        at = max(x, place.left[2] + long / 2)
        told = text(words, at, y - rise - 13, frame.note, text_anchor="middle", fill=pen.note)
        # A thin section's thickness stands above the arrows, level with these words: it keeps clear of them.
        line = max(line, at + long / 2 + frame.note + 3)
    return (
        told
        + section_view(pen, reckoning, Spot(x, y, scale), over=frame.over)
        + across(pen, (x - half, x + half), width, line=foot + 33, edge=foot)
        + upright(pen, (y - rise, foot), thickness, line=line, edge=x + wide / 2)
    )


def _stock_words(reckoning: Reckoning) -> str:
    """The blank's cross measures: 6 × 1.6, or the wire's size."""
    design = reckoning.design
    if design.profile is Profile.ROUND:
        return f"Ø {figure_words(design.width_mm)}"
    if design.profile in WIRE_PROFILES:
        return f"{figure_words(design.width_mm)} square"
    return f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}"


def _blank(pen: Pen, frame: Frame, place: Layout, reckoning: Reckoning) -> str:
    """The blank on its rule, the mark above it, its stock on it or, where it is slim, above its end."""
    x, y, scale = frame.start, place.blank_top, place.scale
    end, wide = x + reckoning.mark_mm * scale, reckoning.design.width_mm * scale
    line = y - 20
    mark = f"mark {reckoning.mark_mm:.1f}"
    stock = f"{reckoning.alloy.short_name}, {_stock_words(reckoning)}"
    trued = (f"{stock}, ends trued to the broken lines",) if reckoning.trim_mm > 0 else ()
    size = frame.note if frame.width < 400 else frame.note + 1
    is_slim = wide < size + 5
    # The heading stands left of the mark; where a small scale leaves it no room the mark moves aside.
    mark_wide = text_width(mark, frame.mark, 600)
    heads = ("Blank, lying on a steel rule", "Blank")
    head = first_that_fits(heads, ((x + end - mark_wide) / 2 - 8) / SERIF_SHARE, frame.head) or heads[-1]
    free = SERIF_SHARE * text_width(head, frame.head) + 8
    middle = (x + end) / 2
    room = frame.width - max(middle, free + mark_wide / 2) - mark_wide / 2 - 16 if is_slim else end - x - 30
    told = first_that_fits((*trued, stock, _stock_words(reckoning)), room, size)
    note = ""
    if told and is_slim:
        note = text(told, frame.width, line - 7, size, text_anchor="end", fill=pen.ink)
    elif told:
        note = text(told, middle, y + wide / 2 + size * 0.34, size, text_anchor="middle", fill=pen.ink)
    return (
        text(head, 0, line - 7, frame.head, font_family=SERIF, fill=pen.note)
        + blank_view(pen, reckoning, Spot(x, y, scale))
        + note
        + across(pen, (x, end), Figure(mark, frame.mark, 600), line=line, edge=y, least=free)
        + steel_rule(pen, Spot(x, y + wide + 5, scale), frame.width - 0.5, 14)
    )


def _label(reckoning: Reckoning) -> str:
    """What the drawing shows, as a sentence."""
    design = reckoning.design
    worked = "" if design.pattern is Pattern.PLAIN else f", {design.pattern}"
    worked += "" if reckoning.form is None else ", its edges flaring"
    return (
        f"The ring drawn to scale: {PROFILE_NAMES[design.profile]}, {figure_words(design.width_mm)} mm wide,"
        f" {figure_words(design.thickness_mm)} mm thick{worked}, {reckoning.diameter_mm:.2f} mm inside;"
        f" its blank is marked at {reckoning.mark_mm:.1f} mm."
    )


def counter_drawing(reckoning: Reckoning, cut: Cut, *, is_waiting: bool = False) -> Svg:
    """The ring and its blank, dimensioned, in one of three cuts: 724 x 446, 358 x 288 or 288 x 262 px.

    Front, side and blank share one scale, written as `data-mm-per-unit`; the section is three times as
    large and carries its own. What stands under the drawing closes the rule at its foot with a 2 px line.
    `is_waiting` draws the last ring that could be reckoned, in thin lines and without section and blank,
    since what is being typed decides them; it is lower (318, 196, 180 px).
    """
    frame = FRAMES[cut]
    place = layout(frame, reckoning, is_waiting=is_waiting)
    pen = WAITING_PEN if is_waiting else SCREEN_PEN
    if reckoning.design.thickness_mm * place.scale < 4:
        pen = replace(pen, outline=1)  # two heavy lines would run into one
    width = figure_words(reckoning.finished_width_mm)
    heads = [
        ("Front", 0.0, 13.0),
        (f"Side, as last drawn, {width} mm" if is_waiting else "Side", place.left[1], 13.0),
    ]
    parts = [_front(pen, frame, place, reckoning), _side(pen, frame, place, reckoning)]
    label = f"Waiting. As last drawn: {_label(reckoning)}" if is_waiting else _label(reckoning)
    if not is_waiting:
        heads.append((frame.magnified[place.times - 1], place.left[2], 13.0))
        parts += [_section(pen, frame, place, reckoning), _blank(pen, frame, place, reckoning)]
    titles = element(
        "g", *(text(words, x, y, frame.head) for words, x, y in heads), font_family=SERIF, fill=pen.note
    )
    return drawing(
        titles,
        *parts,
        width=frame.width,
        height=frame.waiting_height if is_waiting else frame.height,
        label=label,
        font_family=SANS,
        data_mm_per_unit=f"{1 / place.scale:.6f}",
    )
