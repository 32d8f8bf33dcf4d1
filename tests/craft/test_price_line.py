"""The line of a metal's price: its words large enough and inside the drawing, each step on its day."""

import re
from datetime import date, timedelta
from decimal import Decimal

import pytest

from studio.craft.drawing import Svg, price_line

FIRST = date(2026, 9, 21)
TODAY = date(2026, 11, 30)
PRICES = ((FIRST, Decimal("68.10")), (date(2026, 10, 5), Decimal("71.25")), (date(2026, 11, 2), Decimal(66)))
MADE = (date(2026, 10, 1), date(2026, 11, 10), date(2026, 11, 10))


def drawn(
    prices: tuple[tuple[date, Decimal], ...] = PRICES, quotes: tuple[date, ...] = MADE, width: float = 288
) -> Svg:
    return price_line(
        prices,
        quotes,
        until=TODAY,
        width=width,
        label="The price of gold",
        money=lambda value: f"£{value:.2f}",
        day=lambda day: f"{day:%d %b}",
    )


def words(svg: Svg) -> list[tuple[str, float, float, str]]:
    """Each word with its place and the end it is anchored at."""
    found = []
    for given, text in re.findall(r"<text ([^>]*)>([^<]*)</text>", svg.markup):
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', given))
        assert at["font-size"] == "14"
        found.append((text, float(at["x"]), float(at["y"]), at.get("text-anchor", "start")))
    return found


@pytest.mark.parametrize("width", [288, 620])
def test_lowest_highest_and_todays_price_and_both_days_are_said_inside_the_drawing(width: float) -> None:
    svg = drawn(width=width)
    said = words(svg)
    assert [text for text, *_ in said] == ["£71.25", "£66.00", "£66.00", "21 Sep", "30 Nov"]
    for text, x, y, anchor in said:
        wide = 7.2 * len(text)  # no figure or letter of these is wider
        left = x - wide if anchor == "end" else x
        assert left >= -2, text
        assert left + wide <= width + 2, text
        assert 12 <= y <= svg.height - 4, text
    assert f'width="{width}"' in svg.markup
    assert 'role="img" aria-label="The price of gold"' in svg.markup


def path(svg: Svg, place: int) -> str:
    return str(re.findall(r'<path d="([^"]*)"', svg.markup)[place])


def test_the_line_steps_on_the_day_of_each_price_and_not_before() -> None:
    numbers = [float(one) for one in re.findall(r"[\d.]+", path(drawn(), 0))]
    corners = list(zip(numbers[::2], numbers[1::2], strict=True))
    left, right = corners[0][0], corners[-1][0]
    assert (left, right) == (62, 288 - 62)
    places = [left + (right - left) * (day - FIRST).days / (TODAY - FIRST).days for day, _ in PRICES]
    assert [x for x, _ in corners] == pytest.approx(
        [places[0], places[1], places[1], places[2], places[2], right], abs=0.01
    )
    heights = [y for _, y in corners]
    assert heights[0] == heights[1] > heights[2] == heights[3]
    assert heights[4] == heights[5] > heights[0]


def test_a_dot_stands_on_the_line_for_each_day_a_quote_was_made_on() -> None:
    svg = drawn()
    assert len(re.findall("v12", path(svg, 2))) == 2
    starts = re.findall(r"M([\d.]+) ([\d.]+)a", path(svg, 3))
    assert len(starts) == 2
    line = [float(one) for one in re.findall(r"[\d.]+", path(svg, 0))]
    (_, first), (_, second) = [(float(x), float(y)) for x, y in starts]
    assert (first, second) == (line[1], line[-1]), "each as high as the price of its day"


def test_a_quote_older_than_the_first_price_is_drawn_too() -> None:
    svg = drawn(quotes=(FIRST - timedelta(days=10),))
    assert "11 Sep" in [text for text, *_ in words(svg)]


def test_a_price_that_never_moved_is_said_once_on_the_left() -> None:
    svg = drawn(prices=PRICES[:1], quotes=())
    assert [text for text, *_ in words(svg)] == ["£68.10", "£68.10", "21 Sep", "30 Nov"]
    assert "NaN" not in svg.markup


def test_a_line_needs_a_price() -> None:
    with pytest.raises(ValueError, match="needs a price"):
        drawn(prices=())
