"""Reading a printed paper back: its text, its structure, its pixels."""

import io
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject

from studio.papers.bench_sheet import bench_sheets
from studio.papers.printing import printed
from tests.papers.sheets import SHEETS

DPI = 300
PIXEL_MM = 25.4 / DPI


@cache
def sheet(kind: str) -> bytes:
    """The PDF of one of the sheets that are looked at."""
    return printed(bench_sheets([SHEETS[kind]], title=f"Bench sheet, {kind}"))


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


def _tool(pdf: bytes, *command: str) -> bytes:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "paper.pdf"
        file.write_bytes(pdf)
        return subprocess.run([*command, str(file), "-"], check=True, capture_output=True).stdout


def text_of(pdf: bytes, page: int | None = None) -> str:
    """The words of the paper on one line each blank, as poppler reads them."""
    only = () if page is None else ("-f", str(page), "-l", str(page))
    return " ".join(_tool(pdf, "pdftotext", "-raw", *only).decode().split())


def lines_of(pdf: bytes) -> list[str]:
    """The words of the paper line for line as they are printed, with single blanks."""
    return [" ".join(line.split()) for line in _tool(pdf, "pdftotext", "-layout").decode().splitlines()]


def pixels(pdf: bytes, dpi: int = DPI) -> NDArray[np.float64]:
    """The ink of the first page at `dpi`, from 0 (paper) to 1 (black), row by row from the top."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "paper.pdf"
        file.write_bytes(pdf)
        subprocess.run(
            ["pdftoppm", "-r", str(dpi), "-gray", "-singlefile", str(file), str(Path(folder) / "page")],
            check=True,
        )
        image = (Path(folder) / "page.pgm").read_bytes()
    kind, size, depth, grey = image.split(b"\n", 3)
    assert (kind, depth) == (b"P5", b"255")
    width, height = (int(side) for side in size.split())
    return 1.0 - np.frombuffer(grey, np.uint8).reshape(height, width) / 255.0


def lines_across(
    ink: NDArray[np.float64], length_mm: float, slack_mm: float = 0.4, *, dpi: int = DPI
) -> list[tuple[float, float, float]]:
    """Every unbroken line across of about `length_mm`: its left end, right end and height on the page, in mm.

    Ends are the outer edges of the ink. A line thicker than a pixel is found once for each row of pixels.
    """
    found, pixel_mm = [], 25.4 / dpi
    for y, row in enumerate(ink > 0.5):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
        found += [
            (start * pixel_mm, end * pixel_mm, y * pixel_mm)
            for start, end in edges.reshape(-1, 2)
            if abs((end - start) * pixel_mm - length_mm) <= slack_mm
        ]
    return found


def middles(ink: NDArray[np.float64], dpi: int = DPI) -> list[float]:
    """The middles of the separate strokes that one row of pixels crosses, in mm from its start."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], (ink > 0.2).astype(np.int8), [0]))))
    return [
        float(np.average(np.arange(start, end) + 0.5, weights=ink[start:end])) * 25.4 / dpi
        for start, end in edges.reshape(-1, 2)
    ]


def catalogue(pdf: bytes) -> Any:
    """The PDF's own list of what it claims to be."""
    return reader(pdf).root_object


def structure(pdf: bytes) -> Iterator[dict[str, Any]]:
    """Every element of the structure tree, in reading order."""

    def walk(node: Any) -> Iterator[dict[str, Any]]:
        node = node.get_object()
        if isinstance(node, ArrayObject):
            for child in node:
                yield from walk(child)
        elif isinstance(node, DictionaryObject) and "/S" in node:
            yield node
            yield from walk(node.get("/K", ArrayObject()))

    yield from walk(catalogue(pdf)["/StructTreeRoot"].get_object()["/K"])


def fonts(pdf: bytes) -> dict[str, DictionaryObject]:
    """The descriptors of all fonts of the paper, by their names without the subset's tag."""
    found: dict[str, DictionaryObject] = {}
    pages: Any = reader(pdf).pages
    for page in pages:
        for font in page["/Resources"].get_object()["/Font"].get_object().values():
            inner = font.get_object()["/DescendantFonts"].get_object()[0].get_object()
            name = str(inner["/BaseFont"]).split("+")[-1]
            found[name] = inner["/FontDescriptor"].get_object()
    return found
