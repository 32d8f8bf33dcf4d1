"""Patterns as strokes on the unrolled outside of a ring: hammer facets, a stamped repeat, a rolled texture.

A stroke is a bowed line of three places (start, bend, end). Places are (across, along): across from 0 to 1
over the width, along from 0 to 1 over the stretch that is seen. Everything is worked out from fixed numbers,
so a ring always looks the same.
"""

import math
from collections.abc import Callable
from functools import lru_cache

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.lines import Point
from studio.craft.drawing.outlines import outside_height

Stroke = tuple[float, float, float, float, float, float]
RoundStroke = tuple[float, float, float, float, float, float, float, float, float]

_TILE_ACROSS, _TILE_ALONG = 8, 22
"""Cells along each side of the tile the facets repeat by: more than the front of a ring shows."""
_OUTER = -1
_OPEN, _SHORTEST = 0.045, 0.11
"""What stays open at each end of an edge, and the shortest edge drawn, in cells."""
_AT_THE_SIDE = 0.066
"""A corner closer to the side of the ring than this, in cells, is drawn as lying on it."""


def _chance(*keys: float) -> float:
    """A fixed number from 0 to 1 that looks like chance."""
    value = (
        math.sin(sum(key * weight for key, weight in zip(keys, (12.9898, 78.233, 37.719), strict=False)))
        * 43758.5453
    )
    return value - math.floor(value)


def _cut(cell: list[tuple[Point, int]], middle: Point, normal: Point, mark: int) -> list[tuple[Point, int]]:
    """What of `cell` lies on the near side of the line through `middle`; the new edge carries `mark`.

    Each corner carries the mark of the edge that leaves it.
    """
    inside = [(x - middle[0]) * normal[0] + (y - middle[1]) * normal[1] for (x, y), _ in cell]
    if max(inside) <= 0:
        return cell
    kept: list[tuple[Point, int]] = []
    for i, ((x, y), edge) in enumerate(cell):
        j = (i + 1) % len(cell)
        here, there = inside[i], inside[j]
        if here <= 0:
            kept.append(((x, y), edge))
        if (here <= 0) != (there <= 0):
            share = here / (here - there)
            (x2, y2), _ = cell[j]
            meeting = (x + (x2 - x) * share, y + (y2 - y) * share)
            kept.append((meeting, mark if here <= 0 else edge))
    return kept


def _blow(column: int, row: int) -> Point:
    """Where the blow of this column and row falls, in cells: off its place in a staggered grid by chance."""
    keys = (column % _TILE_ACROSS, row % _TILE_ALONG)
    return (
        column + 0.5 * (row % 2) + 0.62 * (_chance(*keys) - 0.5),
        row + 0.62 * (_chance(*keys, 1) - 0.5),
    )


@lru_cache(maxsize=1)
def _tile() -> tuple[tuple[Point, Point], ...]:
    """Edges between the places nearest to each blow, one tile, in cells. Every edge once."""
    edges = []
    for column in range(_TILE_ACROSS):
        for row in range(_TILE_ALONG):
            x, y = _blow(column, row)
            near = [_blow(column + dx, row + dy) for dx in range(-3, 4) for dy in range(-2, 3) if dx or dy]
            cell: list[tuple[Point, int]] = [
                ((x + a, y + b), -1) for a, b in ((-2, -2), (2, -2), (2, 2), (-2, 2))
            ]
            for mark, (u, v) in enumerate(near):
                cell = _cut(cell, ((x + u) / 2, (y + v) / 2), (u - x, v - y), mark)
            for i, (corner, mark) in enumerate(cell):
                if mark != _OUTER and near[mark] > (x, y):
                    edges.append((corner, cell[(i + 1) % len(cell)][0]))
    return tuple(edges)


def _within(a: Point, b: Point, width: float) -> tuple[Point, Point] | None:
    """The part of a line from `a` to `b` that lies across 0 to `width`, or None."""
    (x, y), (u, v) = a, b
    if x > u:
        (x, y), (u, v) = (u, v), (x, y)
    if u <= 0 or x >= width:
        return None
    if x < 0:
        x, y = 0.0, y + (v - y) * -x / (u - x)
    if u > width:
        u, v = width, y + (v - y) * (width - x) / (u - x)
    return (x, y), (u, v)


def _to_the_side(a: Point, b: Point, width: float) -> tuple[Point, Point]:
    """The line from `a` across to `b`, drawn out to a side of the ring that it stops just short of.

    What goes on from there is too short to be drawn, and near the rim of a strongly domed ring, where little
    across is much up and down, the gap would be seen.
    """
    (x, y), (u, v) = a, b
    if u - x > abs(v - y):
        lean = (v - y) / (u - x)
        if 0 < x < _AT_THE_SIDE:
            x, y = 0.0, y - lean * x
        if 0 < width - u < _AT_THE_SIDE:
            u, v = width, v + lean * (width - u)
    return (x, y), (u, v)


def _facets(across: int, along: int) -> list[Stroke]:
    """Facet edges with open corners, slightly bowed, for a stretch of `across` by `along` cells."""
    strokes = []
    for over in range(-_TILE_ACROSS, across + 1, _TILE_ACROSS):
        for down in range(-_TILE_ALONG, along + 1, _TILE_ALONG):
            for (xa, ya), (xb, yb) in _tile():
                seen = _within((xa + over, ya + down), (xb + over, yb + down), across)
                if seen is None:
                    continue
                (x, y), (u, v) = _to_the_side(*seen, across)
                long = math.hypot(u - x, v - y)
                shortest = _AT_THE_SIDE if x == 0 or u == across else _SHORTEST
                if long < shortest or min(y, v) < 0 or max(y, v) > along:
                    continue
                dx, dy = (u - x) / long, (v - y) / long
                # Corners stay open, but an edge runs up to the side of the ring.
                near = 0 if x == 0 else _OPEN
                far = 0 if u == across else _OPEN
                x, y, u, v = x + dx * near, y + dy * near, u - dx * far, v - dy * far
                bow = 0.16 * (_chance(xa, ya) - 0.5) * long
                bend_x, bend_y = (x + u) / 2 - dy * bow, (y + v) / 2 + dx * bow
                strokes.append(
                    (x / across, y / along, bend_x / across, bend_y / along, u / across, v / along)
                )
    return strokes


def _stamped(rows: int, along: int) -> list[Stroke]:
    """A leaf struck again and again, every second row set half a leaf on, wedges along the outer edges."""
    strokes = []
    for row in range(rows):
        for place in range(along):
            middle, half = (place + (0.5 if row % 2 == 0 else 1.0)) / along, 0.75 / along
            tip, heart, end = ((row + share) / rows for share in (0.12, 0.5, 0.88))
            strokes += [
                (tip, middle, heart, middle - half, end, middle),
                (tip, middle, heart, middle + half, end, middle),
                ((row + 0.3) / rows, middle, heart, middle, (row + 0.7) / rows, middle),
            ]
    for place in range(along + 1):
        for edge, last in ((0.0, 0), (1.0, rows - 1)):
            middle = (place + (0.0 if last % 2 == 0 else 0.5)) / along
            tip, half = edge + (0.14 if edge == 0 else -0.14) / rows, 0.22 / along
            bend = (edge + tip) / 2
            strokes += [
                (edge, middle - half, bend, middle - half / 2, tip, middle),
                (edge, middle + half, bend, middle + half / 2, tip, middle),
            ]
    return [s for s in strokes if min(s[1::2]) >= 0 and max(s[1::2]) <= 1]


def _rolled(across: int, along: int) -> list[Stroke]:
    """Short slanting strokes in lanes that lean to and fro, as a ribbed sheet leaves them in the mill."""
    lanes, rows = across, along * 2
    strokes = []
    for lane in range(lanes):
        left, right = (lane + 0.08) / lanes, (lane + 0.92) / lanes
        lean = 0.9 if lane % 2 else -0.9
        for row in range(rows):
            start, end = (row + 0.5 - lean / 2) / rows, (row + 0.5 + lean / 2) / rows
            strokes.append((left, start, (left + right) / 2, (start + end) / 2, right, end))
    return strokes


@lru_cache(maxsize=64)
def _strokes(pattern: Pattern, across: int, along: int) -> tuple[Stroke, ...]:
    makers: dict[Pattern, Callable[[int, int], list[Stroke]]] = {
        Pattern.HAMMERED: _facets,
        Pattern.STAMPED: _stamped,
        Pattern.ROLLED: _rolled,
    }
    return tuple(makers[pattern](across, along)) if pattern in makers else ()


def _counts(pattern: Pattern, width: float, stretch: float, grain: float) -> tuple[int, int]:
    """How many cells, leaves or ribs go across and along."""
    if pattern is Pattern.STAMPED:
        rows = max(1, round(width / (3.2 * grain)))
        return rows, max(3, round(stretch / max(1.8 * grain, 0.5 * width / rows)))
    if pattern is Pattern.ROLLED:
        return 2 * max(1, round(width / (1.5 * grain))), max(3, round(stretch / grain))
    return max(1, round(width / grain)), max(3, round(stretch / grain))


def strokes(pattern: Pattern, width: float, stretch: float, grain: float) -> tuple[Stroke, ...]:
    """The pattern's strokes on a stretch of `width` by `stretch`, its cells about `grain` in size."""
    return _strokes(pattern, *_counts(pattern, width, stretch, grain))


@lru_cache(maxsize=128)
def _on_the_round(profile: Profile, pattern: Pattern, across: int, along: int) -> tuple[RoundStroke, ...]:
    def turned(x: float, y: float) -> tuple[float, float, float]:
        return x, outside_height(profile, 2 * x - 1), math.sin((y - 0.5) * math.pi)

    return tuple(
        (*turned(a, b), *turned(c, d), *turned(e, f)) for a, b, c, d, e, f in _strokes(pattern, across, along)
    )


def strokes_on_the_round(
    profile: Profile, pattern: Pattern, width: float, stretch: float, grain: float
) -> tuple[RoundStroke, ...]:
    """The strokes of half a ring as they are seen from the side, thrice (across, height, turn).

    Across runs from 0 to 1, height is the outside face's share of the thickness there, and turn, from -1 to
    1, how far up or down the round carries it: a share of the radius.
    """
    return _on_the_round(profile, pattern, *_counts(pattern, width, stretch, grain))


def stroke_data(places: tuple[Stroke, ...], where: Callable[[float, float], Point | None]) -> str:
    """Path data of `places`, each of their three places put where `where` says; None hides a stroke."""
    data = []
    for x, y, bend_x, bend_y, u, v in places:
        start, bend, end = where(x, y), where(bend_x, bend_y), where(u, v)
        if start is not None and bend is not None and end is not None:
            data.append("M{:.1f} {:.1f}Q{:.1f} {:.1f} {:.1f} {:.1f}".format(*start, *bend, *end))
    return "".join(data)
