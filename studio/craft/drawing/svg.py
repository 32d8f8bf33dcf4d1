"""SVG as text: elements with escaped attributes, numbers as short as may be, the finished drawing."""

import re
from dataclasses import dataclass
from html import escape
from itertools import chain

Value = str | float | None
"""What an attribute may hold; None leaves the attribute out."""


@dataclass(frozen=True, slots=True)
class Svg:
    """One finished drawing.

    `width` and `height` are in px for the screen and in mm for paper, the same as in the markup.
    """

    markup: str
    width: float
    height: float

    def __html__(self) -> str:
        """The markup as it stands: templates that escape by themselves print it without a filter."""
        return self.markup

    def __str__(self) -> str:
        return self.markup


def number(value: float) -> str:
    """`value` with at most two decimals and no idle zeros: 61.5, not 61.50."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _quoted(words: str) -> str:
    """`words` as they may stand in an attribute; long path data is only looked through, not rewritten."""
    return escape(words) if "&" in words or "<" in words or ">" in words or '"' in words else words


def element(name: str, *children: str, **attributes: Value) -> str:
    """One element. An underscore in a name stands for a hyphen; children are markup, not bare text.

    `element("rect", x=1.5, stroke_width=2)` is `<rect x="1.5" stroke-width="2"/>`.
    """
    written = "".join(
        [
            f' {key.replace("_", "-")}="{_quoted(value) if isinstance(value, str) else number(value)}"'
            for key, value in attributes.items()
            if value is not None
        ]
    )
    inner = "".join(children)
    return f"<{name}{written}>{inner}</{name}>" if inner else f"<{name}{written}/>"


def text(words: str, x: float, y: float, size: float, **attributes: Value) -> str:
    """A line of words with its baseline at `y`."""
    return element("text", escape(words, quote=False), x=x, y=y, font_size=size, **attributes)


def points(corners: "list[tuple[float, float]]", *, is_closed: bool = True) -> str:
    """Path data through `corners`, to a hundredth of a unit."""
    flat = tuple(chain.from_iterable(corners))
    return ("M" + "%.2f %.2fL" * (len(corners) - 1) + "%.2f %.2f" + ("Z" if is_closed else "")) % flat


def circle_path(x: float, y: float, radius: float) -> str:
    """Path data of a whole circle, for outlines that are joined with others."""
    return (
        f"M{x - radius:.2f} {y:.2f}a{radius:.2f} {radius:.2f} 0 1 0 {2 * radius:.2f} 0"
        f"a{radius:.2f} {radius:.2f} 0 1 0 {-2 * radius:.2f} 0Z"
    )


def drawing(*parts: str, width: float, height: float, label: str, unit: str = "", **attributes: Value) -> Svg:
    """A whole drawing with its text alternative; an empty `label` marks it as ornament for the eye only.

    `unit` is what width and height are written in: nothing for px, 'mm' for true scale on paper.
    """
    said: dict[str, Value] = {"role": "img", "aria_label": label} if label else {"aria_hidden": "true"}
    markup = element(
        "svg",
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        width=f"{number(width)}{unit}",
        height=f"{number(height)}{unit}",
        viewBox=f"0 0 {number(width)} {number(height)}",
        **said,
        **attributes,
    )
    return Svg(markup, width, height)


def stretched(svg: Svg, across: float, down: float) -> Svg:
    """The drawing `across` times as wide and `down` times as high, each way for itself.

    Only the frame changes, to a ten-thousandth of its unit; what is in it follows, lines and letters too.
    """
    if across == down == 1.0:
        return svg
    head, rest = svg.markup.split(">", 1)
    wide, high = svg.width * across, svg.height * down
    framed = re.sub(r'(?<= width=")[0-9.]+', f"{wide:.4f}", head, count=1)
    framed = re.sub(r'(?<= height=")[0-9.]+', f"{high:.4f}", framed, count=1)
    return Svg(f'{framed} preserveAspectRatio="none">{rest}', wide, high)
