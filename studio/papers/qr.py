"""The square code that opens an order from its paper."""

from html import escape

import segno

from studio.craft.drawing import Svg
from studio.papers.figures import spoken

LEAST_MODULE_MM = 0.4
QUIET_MODULES = 4
SHEET_CODE_MM, LOW_SHEET_CODE_MM = 25.6, 21.0
"""Its sides on a bench sheet: what is free over the rule of the head, and below what the sheet waits for."""
LEVELS = ("h", "q", "m", "l")
"""Levels of error correction, the best first: 30, 25, 15 and 7 % of its words may be lost."""


def qr_code(address: str, label: str, side_mm: float) -> Svg:
    """A QR code of `address` as SVG in true mm, as large as goes into a square of `side_mm`.

    Four modules of quiet around it are part of the square. Error correction H, so that it is read with a
    tenth of it under dirt, as long as the three corner squares are seen (Q is not enough for that); where an
    address is so long that a module would be smaller than 0.4 mm, the level gives way first. Source: ISO/IEC
    18004 asks for the four modules and says what a level corrects; the size of a module is common practice
    for reading by phone. `label` stands in for the picture when the paper is read aloud.
    """
    for level in LEVELS:
        modules = _modules(address, level)
        module_mm = side_mm / (len(modules) + 2 * QUIET_MODULES)
        if module_mm >= LEAST_MODULE_MM:
            break
    return _drawn(modules, module_mm, label)


def code_of_order(number: str, address: str, side_mm: float) -> Svg:
    """The code that opens the page of an order, with its words for who cannot see it."""
    return spoken(qr_code(address, f"Square code that opens order {number}: {address}", side_mm))


def _modules(address: str, level: str) -> tuple[bytearray, ...]:
    return tuple(segno.make(address, error=level, micro=False).matrix)


def _drawn(modules: tuple[bytearray, ...], module_mm: float, label: str) -> Svg:
    side = len(modules) + 2 * QUIET_MODULES
    runs: list[str] = []
    for y, row in enumerate(modules, start=QUIET_MODULES):
        start: int | None = None
        for x, is_dark in enumerate((*row, 0), start=QUIET_MODULES):
            if is_dark and start is None:
                start = x
            elif not is_dark and start is not None:
                runs.append(f"M{start} {y}h{x - start}v1h{start - x}z")
                start = None
    data = "".join(runs)
    size = round(side * module_mm, 2)
    return Svg(
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(label)}" '
        f'width="{size}mm" height="{size}mm" viewBox="0 0 {side} {side}">'
        f'<path fill="#000000" d="{data}"/></svg>',
        size,
        size,
    )
