"""A piece sawn as somebody says: checked against its edges, with what is left of it."""

from collections.abc import Sequence

from studio.craft.cutting.values import Cut, Offcut, Opened, Stock, Strip


class CutsOverlap(ValueError):
    """The strips or blanks do not go into the piece with a kerf between them."""


def sawn(stock: Stock, strips: Sequence[tuple[int, Sequence[tuple[str, int]]]], kerf_um: int) -> Opened:
    """The piece with these strips, (width, (blank, length)...), and its offcuts. All in µm.

    Less than a kerf left over is lost in the last cut. 198 x 24 mm, kerf 0.31, strips of 8 (64.7 59.2 58.4),
    6 (67.1 58.2 69.5) and 5 mm (56.3 65.7): offcuts of 14.77, 2.27, 75.38 mm and of 198 x 4.07. Raises
    `CutsOverlap` where they pass an edge, and for a strip without a blank.
    """
    rests: list[Offcut] = []
    for width, cuts in strips:
        taken = sum(length for _, length in cuts)
        if not cuts or width <= 0 or min(length for _, length in cuts) <= 0:
            raise CutsOverlap
        if taken + (len(cuts) - 1) * kerf_um > stock.length_um:
            raise CutsOverlap
        left = stock.length_um - taken - len(cuts) * kerf_um
        if left > 0:
            rests.append(Offcut(left, width))
    across = sum(width for width, _ in strips)
    if not strips or across + (len(strips) - 1) * kerf_um > stock.width_um:
        raise CutsOverlap
    left = stock.width_um - across - len(strips) * kerf_um
    if left > 0:
        rests.append(Offcut(stock.length_um, left))
    made = tuple(
        Strip(width, tuple(Cut(blank, length, is_turned=False) for blank, length in cuts))
        for width, cuts in strips
    )
    return Opened(stock.id, stock.length_um, stock.width_um, stock.is_offcut, made, tuple(rests))
