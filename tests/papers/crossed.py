"""Which words of a page are crossed by a line that is drawn there."""

from tests.papers.drawn_lines import POINT_MM, Stroke, strokes
from tests.papers.laid_out import pages_of


def crossed(pdf: bytes) -> list[str]:
    """The words that a straight line of a drawing or a table runs through."""
    found, lines = [], strokes(pdf)
    for number, (_, _, words, boxes) in enumerate(pages_of(pdf)):
        mine = [one for one in lines if one.page == number]
        for word, box in zip(words, boxes * POINT_MM, strict=True):
            inset = (box[3] - box[1]) / 4
            left, top, right, bottom = box[0] + 0.2, box[1] + inset, box[2] - 0.2, box[3] - inset
            found += [word for one in mine if runs_through(one, left, top, right, bottom)]
    return found


def runs_through(one: Stroke, left: float, top: float, right: float, bottom: float) -> bool:
    """Whether some of the line lies within the box, by cutting it at each side in turn."""
    low, high = 0.0, 1.0
    for start, end, least, most in ((one.x0, one.x1, left, right), (one.y0, one.y1, top, bottom)):
        if abs(end - start) < 1e-9:
            if not least < start < most:
                return False
            continue
        near_at, far_at = sorted(((least - start) / (end - start), (most - start) / (end - start)))
        low, high = max(low, near_at), min(high, far_at)
    return low < high
