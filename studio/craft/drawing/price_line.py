"""The price of a metal over time as a stepped line, with the days on which quotes were made by it."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from studio.craft.drawing.lines import SCREEN_PEN
from studio.craft.drawing.svg import Svg, drawing, element, points, text

_HIGH, _LEFT, _RIGHT, _TOP, _FOOT = 190.0, 64.0, 12.0, 18.0, 34.0


def price_line(
    prices: Sequence[tuple[date, Decimal]],
    quotes: Sequence[date],
    *,
    until: date,
    width: float,
    label: str,
    money: Sequence[str],
) -> Svg:
    """The prices of a gram, the first day first, each holding until the next and the last until `until`.

    `quotes` are the days of open quotes, a tick each under the line. `money` are the lowest and the highest
    price in words. The axis begins at the lowest price, not at nought: the words beside it say so. Raises
    ValueError without a price.
    """
    if not prices:
        raise ValueError("a line needs a price")
    first = min(prices[0][0], *quotes) if quotes else prices[0][0]
    span = max(1, (until - first).days)
    low, high = min(value for _, value in prices), max(value for _, value in prices)
    rise = float(high - low) or 1.0
    inner = width - _LEFT - _RIGHT
    tall = _HIGH - _TOP - _FOOT

    def across(day: date) -> float:
        return _LEFT + inner * min(1.0, max(0.0, (day - first).days / span))

    def up(value: Decimal) -> float:
        return _TOP + tall * (1 - float(value - low) / rise)

    corners: list[tuple[float, float]] = []
    for place, (day, value) in enumerate(prices):
        if place:
            corners.append((across(day), up(prices[place - 1][1])))
        corners.append((across(day), up(value)))
    corners.append((across(until), up(prices[-1][1])))
    base = _TOP + tall + 8
    pen = SCREEN_PEN
    return drawing(
        element("path", d=points(corners, is_closed=False), fill="none", stroke=pen.ink, stroke_width=1.6),
        element("path", d=f"M{_LEFT} {base}H{width - _RIGHT}", fill="none", stroke=pen.ink, stroke_width=1),
        *(
            element(
                "path", d=f"M{across(day):.2f} {base - 6}v12", fill="none", stroke=pen.ink, stroke_width=1.6
            )
            for day in quotes
        ),
        text(money[1], _LEFT - 8, _TOP + 5, 13, text_anchor="end", fill=pen.ink),
        text(money[0], _LEFT - 8, _TOP + tall + 5, 13, text_anchor="end", fill=pen.ink),
        text(f"{first.day}.{first.month}.", _LEFT, base + 20, 13, fill=pen.ink),
        text(f"{until.day}.{until.month}.", width - _RIGHT, base + 20, 13, text_anchor="end", fill=pen.ink),
        width=width,
        height=_HIGH,
        label=label,
    )
