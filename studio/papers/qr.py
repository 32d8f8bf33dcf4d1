"""The square code that opens an order from its paper."""

from html import escape

import segno

from studio.craft.drawing import Svg

MODULE_MM = 0.65
QUIET_MODULES = 4


def qr_code(address: str, label: str) -> Svg:
    """A QR code of `address` as SVG in true mm, 0.65 mm a module, with four modules of quiet around it.

    Error correction M or better, so that a thumb print does not spoil it. Source: ISO/IEC 18004 asks for
    the four modules; the size of a module is common practice for reading by phone. `label` stands in for
    the picture when the paper is read aloud.
    """
    matrix = segno.make(address, error="m", micro=False).matrix
    side = len(matrix) + 2 * QUIET_MODULES
    runs: list[str] = []
    for y, row in enumerate(matrix, start=QUIET_MODULES):
        start: int | None = None
        for x, is_dark in enumerate((*row, 0), start=QUIET_MODULES):
            if is_dark and start is None:
                start = x
            elif not is_dark and start is not None:
                runs.append(f"M{start} {y}h{x - start}v1h{start - x}z")
                start = None
    data = "".join(runs)
    size = round(side * MODULE_MM, 2)
    return Svg(
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(label)}" '
        f'width="{size}mm" height="{size}mm" viewBox="0 0 {side} {side}">'
        f'<path fill="#000000" d="{data}"/></svg>',
        size,
        size,
    )
