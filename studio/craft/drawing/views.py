"""The views of a ring that screen and paper share: front, side, section, blank, rule. No dimensions yet."""

from functools import lru_cache
from math import pi

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.facets import strokes_on_the_round
from studio.craft.drawing.flared import flare
from studio.craft.drawing.lines import (
    Pen,
    Span,
    Spot,
    broken_line,
    chain_line,
    chain_line_over,
    fine_lines,
    hatched,
)
from studio.craft.drawing.outlines import (
    FACET_MM,
    faceted_front,
    formed_section,
    formed_side,
    hollows_across,
    outside_radius,
    section,
    section_height,
    seen_width,
    side,
)
from studio.craft.drawing.svg import Value, circle_path, element, points, text
from studio.craft.drawing.type_widths import text_width
from studio.craft.reckonings import Reckoning


def _outline(pen: Pen) -> dict[str, Value]:
    """The heavy line round metal."""
    return {"fill": "none", "stroke": pen.ink, "stroke_width": pen.outline}


def front(pen: Pen, reckoning: Reckoning, spot: Spot, *, inset: float = 0.0) -> str:
    """The ring from the front: metal and the two outlines, without centre lines.

    `inset` draws the outlines that much into the metal, so that on paper the outer edge of the line is true.
    """
    x, y = spot.x, spot.y
    inside = reckoning.diameter_mm / 2 * spot.scale + inset
    outside = outside_radius(reckoning) * spot.scale - inset
    line = _outline(pen)
    if reckoning.design.pattern is Pattern.HAMMERED:
        edge = faceted_front(x, y, outside, outside_radius(reckoning))
        rim = element("path", d=edge, stroke_linejoin="round", data_part="outside", **line)
    else:
        edge = circle_path(x, y, outside)
        rim = element("circle", cx=x, cy=y, r=outside, data_part="outside", **line)
    return (
        element("path", d=edge + circle_path(x, y, inside), fill=pen.metal, fill_rule="evenodd")
        + rim
        + _flaring_edge(pen, reckoning, spot)
        + element("circle", cx=x, cy=y, r=inside, data_part="inside", **line)
    )


def _flaring_edge(pen: Pen, reckoning: Reckoning, spot: Spot) -> str:
    """The inner corner of a flaring edge, which stands before the waist."""
    arc = flare(reckoning, spot.scale)
    if arc is None:
        return ""
    circle = circle_path(spot.x, spot.y, arc.inside(1)[1])
    return element("path", d=circle, fill="none", stroke=pen.ink, stroke_width=pen.thin)


def centre_lines(pen: Pen, reckoning: Reckoning, spot: Spot, *, over: float, gap: Span | None = None) -> str:
    """Chain lines of the front view, `over` past the outline; the upright one leaves `gap` free for figures.

    With a gap the line across stops at the inside, where the dimension line takes over.
    """
    x, y = spot.x, spot.y
    reach = outside_radius(reckoning) * spot.scale + over
    if gap is None:
        return chain_line(
            pen, f"M{x - reach:.1f} {y:.2f}H{x + reach:.1f}M{x:.2f} {y - reach:.1f}V{y + reach:.1f}"
        )
    inside = reckoning.diameter_mm / 2 * spot.scale
    return chain_line(
        pen,
        f"M{x - reach:.1f} {y:.2f}H{x - inside:.1f}M{x + reach:.1f} {y:.2f}H{x + inside:.1f}"
        f"M{x:.2f} {y - reach:.1f}V{gap[0]:.1f}M{x:.2f} {y + reach:.1f}V{gap[1]:.1f}",
    )


def side_view(pen: Pen, reckoning: Reckoning, spot: Spot, *, over: float, inset: float = 0.0) -> str:
    """The ring from the side with its pattern as the round of the ring shows it."""
    design, x, y = reckoning.design, spot.x, spot.y
    wide, high = seen_width(reckoning) * spot.scale / 2, outside_radius(reckoning) * spot.scale
    squeeze_x, squeeze_y = (wide - inset) / wide * spot.scale, (high - inset) / high * spot.scale
    arc = flare(reckoning)
    if arc is None:
        corners = side(design.profile, design.width_mm, design.thickness_mm, reckoning.diameter_mm / 2)
    else:
        corners = formed_side(arc)
    outline = points([(x + a * squeeze_x, y + b * squeeze_y) for a, b in corners])
    ridge = ""
    if design.profile is Profile.KNIFE_EDGE:
        data = f"M{x:.2f} {y - high:.2f}V{y + high:.2f}"
        ridge = element("path", d=data, stroke=pen.ink, stroke_width=pen.thin)
    if arc is not None:
        rim, far = (place * spot.scale for place in arc.outside(1))
        data = "".join(f"M{x + a:.2f} {y - far:.2f}V{y + far:.2f}" for a in (-rim, rim))
        ridge = element("path", d=data, stroke=pen.ink, stroke_width=pen.thin)
    return (
        element("path", d=outline, fill=pen.metal)
        + ("" if design.pattern is Pattern.PLAIN else fine_lines(pen, _side_pattern(pen, reckoning, spot)))
        + ridge
        + chain_line_over(
            pen,
            f"M{x - wide - over:.1f} {y:.2f}H{x + wide + over:.1f}",
            f"M{x - wide:.1f} {y:.2f}H{x + wide:.1f}",
        )
        + element("path", d=outline, stroke_linejoin="round", data_part="side", **_outline(pen))
    )


def _side_pattern(pen: Pen, reckoning: Reckoning, spot: Spot) -> str:
    """Path data of the pattern on the half of the ring that faces the eye, crowded toward top and bottom."""
    design, y = reckoning.design, spot.y
    inside, thick = reckoning.diameter_mm / 2 * spot.scale, design.thickness_mm * spot.scale
    width = design.width_mm * spot.scale
    left = spot.x - width / 2
    grain = max(FACET_MM * spot.scale, 8.5 * pen.dash)
    # On paper the unit is a whole millimetre, so places go to a hundredth; a tenth of a px is fine enough.
    form = "M%.2f %.2fQ%.2f %.2f %.2f %.2f" if pen.dash < 1 else "M%.1f %.1fQ%.1f %.1f %.1f %.1f"
    places = strokes_on_the_round(design.profile, design.pattern, width, pi * (inside + thick), grain)
    arc = flare(reckoning, spot.scale)
    if arc is not None:
        told = []
        for a, _, turn_a, b, _, turn_b, c, _, turn_c in places:
            for across, turn in ((a, turn_a), (b, turn_b), (c, turn_c)):
                along, out = arc.outside(2 * across - 1)
                told += [spot.x + along, y + out * turn]
        return (form * len(places)) % tuple(told)
    # Written at once: a pattern is up to some hundred strokes.
    return (form * len(places)) % tuple(
        [
            number
            for a, high_a, turn_a, b, high_b, turn_b, c, high_c, turn_c in places
            for number in (
                left + a * width,
                y + (inside + thick * high_a) * turn_a,
                left + b * width,
                y + (inside + thick * high_b) * turn_b,
                left + c * width,
                y + (inside + thick * high_c) * turn_c,
            )
        ]
    )


def section_view(pen: Pen, reckoning: Reckoning, spot: Spot, *, over: float) -> str:
    """The cut through the ring, outside up, hatched, with its neutral line."""
    design, x, scale = reckoning.design, spot.x, spot.scale
    arc = flare(reckoning)
    wide, base = seen_width(reckoning) * scale / 2, spot.y + section_height(reckoning) * scale / 2
    if arc is None:
        corners = section(design.profile, design.width_mm, design.thickness_mm, design.pattern)
    else:
        corners = formed_section(arc)
    level = base - reckoning.neutral_mm * scale
    hatch, outline = hatched(
        pen,
        [(x + a * scale, base - b * scale) for a, b in corners],
        data_part="section",
        data_mm_per_unit=f"{1 / scale:.6f}",
    )
    neutral = chain_line_over(
        pen,
        f"M{x - wide - over:.1f} {level:.2f}H{x + wide + over:.1f}",
        f"M{x - wide:.1f} {level:.2f}H{x + wide:.1f}",
    )
    return hatch + (neutral if arc is None else "") + outline


def blank_view(pen: Pen, reckoning: Reckoning, spot: Spot, *, inset: float = 0.0) -> str:
    """The blank from above, broken lines where its ends are trued.

    Before a pattern the ends stand at the mark less the trim, not yet at the true length.
    """
    x, y = spot.x, spot.y
    long, wide = reckoning.mark_mm * spot.scale, reckoning.design.width_mm * spot.scale
    end = reckoning.trim_mm / 2 * spot.scale
    trued = f"M{x + end:.2f} {y:.2f}v{wide:.2f}M{x + long - end:.2f} {y:.2f}v{wide:.2f}"
    line = {**_outline(pen), "stroke_width": 2 * inset or pen.outline}
    return (
        element("rect", x=x, y=y, width=long, height=wide, fill=pen.metal)
        + (broken_line(pen, trued) if reckoning.trim_mm > 0 else "")
        + element(
            "rect",
            x=x + inset,
            y=y + inset,
            width=long - 2 * inset,
            height=wide - 2 * inset,
            data_part="blank",
            **line,
        )
    )


def steel_rule(pen: Pen, spot: Spot, end: float, size: float) -> str:
    """A steel rule whose zero is at the spot's x and whose upper edge lies at its y, as far as x `end`.

    A tick a mm, numbers of `size` every 10 mm. Below 2.6 px a mm only every fifth tick is drawn, and where
    the numbers would run into one another only every second or fifth is written. What stands under the
    drawing closes the rule.
    """
    step = 1 if spot.scale >= 2.6 else 5
    last = int((end - spot.x) / spot.scale)
    widest = text_width(str(last), size) + 9
    numbered = next((mm for mm in (10, 20, 50) if mm * spot.scale >= widest), 100)
    five = 16 if 5 * spot.scale > text_width("00", size) + 6 else 10
    places = [spot.x + mm * spot.scale for mm in range(0, last + 1, step)]
    ticks = _ticks(last, step, numbered, five) % tuple([n for at in places for n in (at, spot.y)])
    data = f"M{spot.x:.1f} {spot.y:.1f}H{end:.1f}{ticks}"
    figures = [
        text(str(mm), at + 4, spot.y + 24, size, fill=pen.ink)
        for mm in range(0, last + 1, numbered)
        if (at := spot.x + mm * spot.scale) + text_width(str(mm), size) + 5 < end
    ]
    lines = element("path", d=data, fill="none", stroke=pen.ink, stroke_width=pen.thin)
    return lines + "".join(figures)


@lru_cache(maxsize=256)
def _ticks(last: int, step: int, numbered: int, five: int) -> str:
    """Path data of a rule's ticks, to be filled with the place of each: two numbers a tick."""
    return "".join(f"M%.1f %.1fv{_tick(mm, numbered, five)}" for mm in range(0, last + 1, step))


def _tick(mm: int, numbered: int, five: int) -> int:
    """Length of a tick in px: none but those with a number reaches down beside the numbers."""
    if mm % numbered == 0:
        return 25
    if mm % 10 == 0:
        return 13
    return five if mm % 5 == 0 else 10


def has_worked_face(reckoning: Reckoning) -> bool:
    """Whether the section shows a face that was worked."""
    return hollows_across(reckoning.design.pattern, reckoning.design.width_mm) > 0
