"""The demo's pictures: a sketch and a photo, both drawn here, of two rings that are at the bench."""

import io
import math
from collections.abc import Iterator
from datetime import datetime
from random import Random

from PIL import Image, ImageDraw, ImageFilter
from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.order_values import Order
from studio.book.pictures import add_picture
from studio.papers.pictures import take_in, taken_in

Point = tuple[float, float]
_PAPER, _GRID, _PENCIL = (246, 242, 232), (221, 221, 214), (70, 68, 66)
_BARK, _GAP = (226, 219, 207), (58, 48, 42)
_SIZE = (1200, 900)
_FINE = 2
"""Drawn twice as large and made smaller, so that lines have soft edges."""
_SAID = (
    "The face as drawn with her: facets close together, edges bright.",
    "Her birch: marks like these, not deeper.",
)


def pictures_in_demo(session: Session, order: Order, *, actor: Actor, now: datetime) -> None:
    """Add the sketch to the first ring of an order, and the photo to the whole of it."""
    for ring, note, image in ((1, _SAID[0], _sketch()), (None, _SAID[1], _birch())):
        file = io.BytesIO()
        image.save(file, "PNG")
        made = taken_in(take_in(file.getvalue()))
        add_picture(
            session,
            number=order.number,
            ring=ring if len(order.rings) > 1 else None,
            note=note,
            made=made,
            actor=actor,
            now=now,
        )


def _sketch() -> Image.Image:
    """A ring in pencil on squared paper, seen a little from above, with a sweep of facets on its face."""
    chance = Random("a sketch")  # noqa: S311  the same lines every time
    width, height = (side * _FINE for side in _SIZE)
    image = Image.new("RGB", (width, height), _PAPER)
    pen = ImageDraw.Draw(image)
    for place in range(0, width, 50 * _FINE):
        pen.line((place, 0, place, height), fill=_GRID, width=_FINE)
        pen.line((0, place, width, place), fill=_GRID, width=_FINE)
    middle, across, down = width * 0.46, width * 0.29, width * 0.105
    top, bottom = height * 0.34, height * 0.62
    for _ in range(3):
        _stroke(pen, _arc((middle, top), (across, down), 0, 360), chance, wide=3)
        _stroke(pen, _arc((middle, top), (across * 0.91, down * 0.84), 0, 360), chance, wide=2)
        _stroke(pen, _arc((middle, bottom), (across, down), 0, 180), chance, wide=3)
        for side in (-1, 1):
            _stroke(
                pen, iter(((middle + side * across, top), (middle + side * across, bottom))), chance, wide=3
            )
    for row in range(5):
        for angle in range(8, 175, 9):
            turned = math.radians(angle + 4.5 * (row % 2))
            x = middle - across * math.cos(turned)
            y = top + (bottom - top) * (0.14 + 0.18 * row) + down * math.sin(turned)
            size = across * 0.065 * (0.35 + 0.65 * math.sin(turned))
            _stroke(pen, _arc((x, y), (size, across * 0.055), 20, 160), chance, wide=2)
    right = middle + across * 1.18
    for end in (top, bottom):
        _stroke(pen, iter(((right - 40 * _FINE, end), (right + 40 * _FINE, end))), chance, wide=2)
    _stroke(pen, iter(((right, top), (right, bottom))), chance, wide=2)
    return image.resize(_SIZE, Image.Resampling.LANCZOS)


def _birch() -> Image.Image:
    """The bark of a birch, near enough to be taken for a photo: a pale trunk with its dark marks."""
    chance = Random("a birch")  # noqa: S311  the same tree every time
    width, height = 900, 1200
    image = Image.new("RGB", (width, height), _BARK)
    pen = ImageDraw.Draw(image)
    for _ in range(900):
        x, y, long = chance.uniform(-50, width), chance.uniform(0, height), chance.uniform(20, 160)
        shade = chance.randint(-14, 10)
        pen.line(
            (x, y, x + long, y + chance.uniform(-3, 3)), fill=tuple(part + shade for part in _BARK), width=3
        )
    for _ in range(70):
        x, y = chance.uniform(0, width), chance.uniform(0, height)
        long, thick = chance.uniform(20, 150), chance.uniform(4, 15)
        pen.ellipse((x - long, y - thick, x + long, y + thick), fill=_GAP)
    image = image.filter(ImageFilter.GaussianBlur(1.6))
    shadow = Image.linear_gradient("L").rotate(90).resize((width, height))
    dark = Image.blend(image, Image.new("RGB", image.size, (52, 46, 44)), 0.55)
    return Image.composite(image, dark, shadow.point(lambda light: min(255, 70 + light)))


def _arc(middle: Point, half: Point, start: int, end: int) -> Iterator[Point]:
    """Points along an ellipse of these half axes, from one angle to another in degrees."""
    for angle in range(start, end + 1, 4):
        turned = math.radians(angle)
        yield middle[0] + half[0] * math.cos(turned), middle[1] + half[1] * math.sin(turned)


def _stroke(pen: ImageDraw.ImageDraw, points: Iterator[Point], chance: Random, *, wide: int) -> None:
    """A line as a hand draws it: a little beside where it should be."""
    off = (chance.gauss(0, 2.2 * _FINE), chance.gauss(0, 2.2 * _FINE))
    drawn = [
        (x + off[0] + chance.gauss(0, 0.5 * _FINE), y + off[1] + chance.gauss(0, 0.5 * _FINE))
        for x, y in points
    ]
    pen.line(drawn, fill=_PENCIL, width=wide * _FINE // 2, joint="curve")
