"""Words set at a true size on paper: letters as high as they are cut, in the length they take."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from studio.craft.drawing.svg import number
from studio.papers.fonts import printable

CAPITAL = 0.67
"""Height of a capital of Source Serif Pro, of its size (the font's own table OS/2)."""
BASELINE = 0.8505
"""Where its base line stands in a line as high as its size: (1 - 1.371) / 2 + 1.036 (the font's own hhea)."""
_MEASURED_AT_MM = 10.0


@dataclass(frozen=True, slots=True)
class TrueLetters:
    """A line of words placed over a drawing. Lengths in mm from the drawing's upper left or upper right.

    `beside_mm` is where they begin as they are read: from the left, or `from_right` where they run from
    there. `narrowed` is what their type is drawn together to, 1 as it is.
    """

    words: str
    size_mm: float
    beside_mm: float
    base_line_mm: float
    narrowed: float
    from_right: bool

    def __html__(self) -> str:
        """The line as markup.

        Its sizes are this one ring's, so they cannot stand in the sheet of styles that all such papers share.
        """
        side, direction = ("right", "rtl") if self.from_right else ("left", "ltr")
        style = (
            f"font-size:{number(self.size_mm)}mm;line-height:{number(self.size_mm)}mm;"
            f"top:{number(self.base_line_mm - BASELINE * self.size_mm)}mm;{side}:{number(self.beside_mm)}mm;"
            f"transform:scaleX({self.narrowed:.4f});transform-origin:{side} center"
        )
        return f'<p class="letters" dir="{direction}" style="{style}">{escape(printable(self.words))}</p>'

    def __str__(self) -> str:
        return self.__html__()


def narrowed_to(lines: Sequence[tuple[str, float]], letter_mm: float) -> tuple[float, ...]:
    """For each line of words and the length it has in mm, what its type is drawn together to: 1 at most.

    A line that is shorter in type than what it takes stays as it is: letters are never stretched.
    """
    from studio.papers.render import widths_in_type  # noqa: PLC0415  a second to load: only who prints waits

    natural = widths_in_type([words for words, _ in lines], _MEASURED_AT_MM)
    scale = letter_mm / CAPITAL / _MEASURED_AT_MM
    return tuple(
        min(1.0, has_mm / (wide_mm * scale)) if wide_mm else 1.0
        for (_, has_mm), wide_mm in zip(lines, natural, strict=True)
    )
