"""Reading the square code of a printed paper as a phone does: from its points, clean or under dirt."""

from collections.abc import Iterator

import numpy as np
import zxingcpp
from numpy.typing import NDArray

from tests.papers.printed import pixels

Grey = NDArray[np.uint8]
QR = zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
SPOTS = 5
"""So many spots together are the dirt on a code."""
CORNER = 0.2
"""Share of the side that a corner square takes with the white around it: 8 of 41 modules."""


def grey_of(pdf: bytes) -> Grey:
    """The first page at 300 dpi, from 0 (black) to 255 (paper)."""
    return np.rint((1.0 - pixels(pdf)) * 255).astype(np.uint8)


def read_code(page: Grey) -> str | None:
    """What the one square code on the page says, None where it cannot be read."""
    found = zxingcpp.read_barcodes(page, formats=QR)
    assert len(found) <= 1
    return found[0].text if found else None


def smudged(page: Grey, share: float, seed: int) -> Grey:
    """The page with round spots on its code that hide `share` of it, some black, some white.

    The places hang on `seed` alone. The corner squares by which a code is found stay clear: no level of
    error correction speaks of them.
    """
    dirty = page.copy()
    for spot, dice in _spots(page, share, seed, is_clear_of_corners=True):
        dirty[spot] = dice.choice([20, 235])
    return dirty


def thumbed(page: Grey, share: float, seed: int) -> Grey:
    """The page with grey thumb prints anywhere on `share` of its code, the corner squares among it."""
    dirty = page.copy()
    for spot, _ in _spots(page, share, seed, is_clear_of_corners=False):
        dirty[spot] = (page[spot] * 0.55).astype(np.uint8)
    return dirty


def _spots(
    page: Grey, share: float, seed: int, *, is_clear_of_corners: bool
) -> Iterator[tuple[NDArray[np.bool_], np.random.Generator]]:
    (code,) = zxingcpp.read_barcodes(page, formats=QR)
    left, top = code.position.top_left.x, code.position.top_left.y
    side = code.position.bottom_right.x - left
    dice = np.random.default_rng(seed)
    rows, columns = np.ogrid[: page.shape[0], : page.shape[1]]
    code_rows, code_columns = slice(top, top + side), slice(left, left + side)
    dirt = np.zeros(page.shape, bool)
    radius = side * float(np.sqrt(share / SPOTS / np.pi))
    while dirt[code_rows, code_columns].mean() < share:
        across, down = dice.uniform(0, side, 2)
        if is_clear_of_corners and _is_near_a_corner(across / side, down / side, radius / side):
            continue
        spot = (columns - left - across) ** 2 + (rows - top - down) ** 2 <= radius**2
        dirt |= spot
        yield spot, dice


def _is_near_a_corner(across: float, down: float, radius: float) -> bool:
    """Whether a spot, in shares of the side, reaches one of the three corner squares."""
    for is_right, is_low in ((False, False), (True, False), (False, True)):
        beside = max((1 - across if is_right else across) - CORNER, 0.0)
        below = max((1 - down if is_low else down) - CORNER, 0.0)
        if beside**2 + below**2 < radius**2:
            return True
    return False
