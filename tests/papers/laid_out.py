"""What lies where on a printed paper: words and their boxes, glyphs, and what a PDF would do of itself."""

import io
import re
from collections import Counter
from collections.abc import Iterator
from html import unescape
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

from tests.papers.printed import _tool

_PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
_WORD = re.compile(r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>')
_SHOWN = re.compile(rb"<([0-9A-Fa-f]+)>")
_EDGE_PT = 5.0
"""Nothing is printed nearer to the edge of the page than this."""
ACTS = frozenset(
    {"/JS", "/JavaScript", "/URI", "/Launch", "/OpenAction", "/AA", "/SubmitForm", "/EmbeddedFile"}
)


def pages_of(pdf: bytes) -> Iterator[tuple[float, float, list[str], NDArray[np.float64]]]:
    """Of each page its width and height in points, its words, and their boxes: left, top, right, bottom."""
    told = _tool(pdf, "pdftotext", "-bbox").decode()
    for width, height, inside in _PAGE.findall(told):
        found = _WORD.findall(inside)
        boxes = np.array([[float(side) for side in word[:4]] for word in found]).reshape(-1, 4)
        yield float(width), float(height), [unescape(word[4]) for word in found], boxes


def out_of_page(pdf: bytes) -> list[str]:
    """The words that reach over the edge of their page."""
    found = []
    for width, height, words, boxes in pages_of(pdf):
        low, high = np.array([_EDGE_PT, _EDGE_PT]), np.array([width - _EDGE_PT, height - _EDGE_PT])
        is_out = (boxes[:, :2] < low).any(axis=1) | (boxes[:, 2:] > high).any(axis=1)
        found += [words[at] for at in np.flatnonzero(is_out)]
    return found


def overlapping(pdf: bytes) -> list[tuple[str, str]]:
    """Pairs of words that lie on each other.

    A box is as high as its font says, more than its letters: lines set tight touch without their words doing
    so. A quarter of the height is taken off above and below.
    """
    found = []
    for _, _, words, boxes in pages_of(pdf):
        inset = (boxes[:, 3] - boxes[:, 1]) / 4
        left, right = boxes[:, 0] + 0.5, boxes[:, 2] - 0.5
        top, bottom = boxes[:, 1] + inset, boxes[:, 3] - inset
        across = np.minimum.outer(right, right) > np.maximum.outer(left, left)
        down = np.minimum.outer(bottom, bottom) > np.maximum.outer(top, top)
        found += [(words[a], words[b]) for a, b in np.argwhere(np.triu(across & down, 1))]
    return found


def glyphs(pdf: bytes) -> Iterator[int]:
    """The number of every glyph that is drawn; 0 is the one that stands for a missing one."""
    for stream in _streams(pdf):
        for shown in _SHOWN.findall(stream):
            yield from (int(shown[at : at + 4], 16) for at in range(0, len(shown), 4))


def _streams(pdf: bytes) -> Iterator[bytes]:
    """What every page draws, and every form it draws with."""
    read: Any = PdfReader(io.BytesIO(pdf))
    for page in read.pages:
        yield page.get_contents().get_data()
        for form in page["/Resources"].get_object().get("/XObject", {}).values():
            yield form.get_object().get_data()


def acts(pdf: bytes) -> Counter[str]:
    """Whatever in the whole file a reader's program might act upon, by its name."""
    read: Any = PdfReader(io.BytesIO(pdf))
    found: Counter[str] = Counter()
    for number in range(1, len(read.xref_objStm) + sum(map(len, read.xref.values())) + 1):
        found.update(_named(read.get_object(IndirectObject(number, 0, read))))
    return found


def _named(value: Any) -> Iterator[str]:
    if isinstance(value, DictionaryObject | StreamObject):
        for name, inner in value.items():
            yield from ({name, str(inner)} & ACTS if not isinstance(inner, list) else {name} & ACTS)
            yield from _named(inner) if isinstance(inner, DictionaryObject | ArrayObject) else ()
    elif isinstance(value, ArrayObject):
        for inner in value:
            yield from _named(inner) if isinstance(inner, DictionaryObject | ArrayObject) else ()
