"""The price of a metal over time as a stepped line, with the days on which quotes were made by it."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from studio.craft.drawing.lines import SCREEN_PEN
from studio.craft.drawing.svg import Svg, circle_path, drawing, element, points, text

_HIGH, _SIDE, _TOP, _FOOT = 208.0, 62.0, 18.0, 46.0
_SIZE = 14.0
"""Height of the words, in px: the drawing is never shrunk, so they stay as large."""
_APART = 16.0
"""How far the price of today is kept from the drawing's edges."""


def price_line(
    prices: Sequence[tuple[date, Decimal]],
    quotes: Sequence[date],
    *,
    until: date,
    width: float,
    label: str,
    money: Callable[[Decimal], str],
    day: Callable[[date], str],
) -> Svg:
    """The prices of a gram, the first day first, each holding until the next and the last until `until`.

    `quotes` are the days of open quotes: a dot each on the line, and a tick under it. `money` says a price
    and `day` a day. Lowest and highest price stand on the left, that of `until` on the right. The axis begins
    at the lowest price, not at nought. Raises ValueError without a price.
    """
    if not prices:
        raise ValueError("a line needs a price")
    first = min(prices[0][0], *quotes) if quotes else prices[0][0]
    span = max(1, (until - first).days)
    low, high = min(value for _, value in prices), max(value for _, value in prices)
    rise = float(high - low) or 1.0
    end = width - _SIDE
    tall = _HIGH - _TOP - _FOOT
    base = _TOP + tall + 12

    def across(on: date) -> float:
        return _SIDE + (end - _SIDE) * min(1.0, max(0.0, (on - first).days / span))

    def up(value: Decimal) -> float:
        return _TOP + tall * (1 - float(value - low) / rise)

    corners: list[tuple[float, float]] = []
    for place, (on, value) in enumerate(prices):
        if place:
            corners.append((across(on), up(prices[place - 1][1])))
        corners.append((across(on), up(value)))
    corners.append((end, up(prices[-1][1])))
    made = [(across(on), up(_price_on(prices, on))) for on in sorted(set(quotes))]
    pen = SCREEN_PEN
    ticks = "".join(f"M{x:.2f} {base - 6:.2f}v12" for x, _ in made)
    dots = "".join(circle_path(x, y, 4) for x, y in made)
    return drawing(
        element("path", d=points(corners, is_closed=False), fill="none", stroke=pen.ink, stroke_width=2),
        element("path", d=f"M{_SIDE} {base}H{end}", fill="none", stroke=pen.ink, stroke_width=1),
        element("path", d=ticks, fill="none", stroke=pen.ink, stroke_width=2) if made else "",
        element("path", d=dots, fill=pen.ink, stroke=pen.ground, stroke_width=1.5) if made else "",
        text(money(high), _SIDE - 8, _TOP + 5, _SIZE, text_anchor="end", fill=pen.ink),
        text(money(low), _SIDE - 8, _TOP + tall + 5, _SIZE, text_anchor="end", fill=pen.ink)
        if high != low
        else "",
        text(money(prices[-1][1]), end + 8, up(prices[-1][1]) + 5, _SIZE, fill=pen.ink),
        text(day(first), _SIDE, base + _APART + 8, _SIZE, fill=pen.ink),
        text(day(until), end, base + _APART + 8, _SIZE, text_anchor="end", fill=pen.ink),
        width=width,
        height=_HIGH,
        label=label,
    )


def _price_on(prices: Sequence[tuple[date, Decimal]], on: date) -> Decimal:
    """What held on that day; before the first price, the first."""
    return next((value for since, value in reversed(prices) if since <= on), prices[0][1])
