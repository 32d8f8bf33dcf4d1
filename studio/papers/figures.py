"""Drawings as a PDF reads them aloud."""

import re
from html import escape

from studio.craft.drawing import Svg

_LABEL = re.compile(r' aria-label="([^"]*)"')


def spoken(drawing: Svg, words: str = "") -> Svg:
    """The drawing with its text alternative as a `title` inside, where the printer of the PDF looks for it.

    `words` stand in where the drawing itself is silent, as a sign beside its own words is; without either the
    drawing is left as it is, and the printer would name it a figure without words.
    """
    root, _, rest = drawing.markup.partition(">")
    label = _LABEL.search(root)
    title = label[1] if label else escape(words)
    return Svg(f"{root}><title>{title}</title>{rest}", drawing.width, drawing.height) if title else drawing
