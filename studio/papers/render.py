"""HTML to PDF: the one printer of the house.

A paper is a folder `templates/papers/<paper>/` with `paper.html` and `paper.css`, filled from one frozen
context. The PDF is `pdf/ua-1`: tagged, with title and language, every drawing with words in its place. The
printer reads nothing but what it is handed: no file, no network, no address inside a text.
"""

import logging
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cache
from html import escape

import pydyf  # type: ignore[import-untyped]  # the package carries no types
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from weasyprint import CSS, HTML, Document  # type: ignore[import-untyped]  # the package carries no types
from weasyprint.text.fonts import FontConfiguration  # type: ignore[import-untyped]  # as above
from weasyprint.urls import URLFetcher, URLFetcherResponse  # type: ignore[import-untyped]  # as above

from studio.craft.printers import PaperSize
from studio.papers.fonts import printable, private_fonts
from studio.papers.joining import Sheaf, sheaf
from studio.papers.paper import Asset, Illustrated, Paper
from studio.resources import templates_dir

BASE_URL = "https://papers.invalid/"
"""Where a paper's relative addresses point: a name reserved never to exist (RFC 6761)."""

WITH_LETTERHEAD = frozenset(
    {
        "quote",
        "confirmation",
        "goods",
        "hand_over",
        "invoice",
        "metal_order",
        "old_gold",
        "outwork_slip",
        "payment",
    }
)
"""Papers with a letterhead, laid out alike."""
PX_IN_A_MM = 96 / 25.4
_VARIANT = "pdf/ua-1"
_FIRST_WORDS = '<html lang="en"><head><title>Ready</title></head><body><h1>Ready</h1></body></html>'
_PRINTER = threading.Lock()  # the text layout library is not made for two threads at once


class AssetRefused(ValueError):
    """A paper asked for something it was not handed."""

    def __init__(self, address: str) -> None:
        super().__init__(f"a paper may not read {address}")
        self.address = address


class PaperIncomplete(Exception):
    """The printer left something out, and says what; better no paper than one with a hole."""

    def __init__(self, complaints: tuple[str, ...]) -> None:
        super().__init__("; ".join(complaints))
        self.complaints = complaints


class NamedAssets(URLFetcher):  # type: ignore[misc]  # its base has no types
    """Serves the assets it was given, by name, and refuses every other address.

    Nothing here opens a file or a connection, whatever the scheme. A refusal stops the paper.
    """

    def __init__(self, assets: Mapping[str, Asset]) -> None:
        super().__init__(allowed_protocols=(), allow_redirects=False, fail_on_errors=True)
        self._assets = assets

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:  # noqa: ARG002  the base's signature
        """The asset named by `url`; `AssetRefused` for any address that is not one of them."""
        asset = self._assets.get(url.removeprefix(BASE_URL)) if url.startswith(BASE_URL) else None
        if asset is None:
            raise AssetRefused(url)
        return URLFetcherResponse(url, asset.content, {"Content-Type": asset.media_type})


_NOTHING = NamedAssets({})


@cache
def _fonts() -> FontConfiguration:
    with private_fonts():
        return FontConfiguration()


def stylesheet(text: str) -> CSS:
    """A parsed stylesheet; one that imports another, or a font, is refused when it is read."""
    return CSS(string=text, base_url=BASE_URL, url_fetcher=_NOTHING, font_config=_fonts())


@cache
def _stylesheets(template: str, size: PaperSize = PaperSize.A4) -> tuple[CSS, ...]:
    """What all papers share, what those for the customer do, the paper's own, then what is so on this size.

    Parsed once a process.
    """
    shared = ("layout.css", "customer.css") if template in WITH_LETTERHEAD else ("layout.css",)
    sized = () if size is PaperSize.A4 else (f"{template}/{size.lower()}.css",)
    papers = templates_dir() / "papers"
    return tuple(
        stylesheet((papers / name).read_text(encoding="utf-8"))
        for name in (*shared, f"{template}/paper.css", *sized)
    )


def _shown(value: object) -> object:
    """Text without characters that no font has. Markup and numbers pass as they are."""
    return printable(value) if type(value) is str else value


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(templates_dir() / "papers"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def markup_of(template: str, context: object, *, title: str, language: str = "en") -> str:
    """The HTML of a paper. The template sees `paper`, `title` and `language`, and nothing else."""
    page = _environment().get_template(f"{template}/paper.html")
    return page.render(paper=context, title=title, language=language)


class _Complaints(logging.Handler):
    """Keeps what the printer only notes in its log: a drawing it could not draw, a picture without words."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one complaint."""
        self.said.append(record.getMessage())


@contextmanager
def _at_the_printer() -> Iterator[None]:
    """The printer for oneself. Raises `PaperIncomplete` at the end if it had to leave anything out."""
    complaints = _Complaints()
    log = logging.getLogger("weasyprint")
    with _PRINTER:
        log.addHandler(complaints)
        try:
            yield
        finally:
            log.removeHandler(complaints)
    if complaints.said:
        raise PaperIncomplete(tuple(complaints.said))


def _asks_for_true_scale(_document: Document, pdf: pydyf.PDF) -> None:
    """Asks the reader's print dialog not to fit the page to the paper. It asks, it cannot force."""
    pdf.catalog["ViewerPreferences"]["PrintScaling"] = "/None"


def print_markup(
    markups: Sequence[str],
    stylesheets: Sequence[CSS],
    *,
    title: str,
    assets: NamedAssets = _NOTHING,
    finisher: Callable[[Document, pydyf.PDF], None] = _asks_for_true_scale,
) -> bytes:
    """One tagged PDF of all `markups` in turn, each with its own page count. At least one.

    Raises WeasyPrint's `FatalURLFetchingError` for an address the paper may not read, and `PaperIncomplete`.
    """
    with _at_the_printer():
        documents = [
            HTML(string=markup, base_url=BASE_URL, url_fetcher=assets, media_type="print").render(
                stylesheets=list(stylesheets), font_config=_fonts(), pdf_variant=_VARIANT
            )
            for markup in markups
        ]
        first = documents[0]
        first.metadata.title = title
        pages = [page for document in documents for page in document.pages]
        written: bytes = first.copy(pages).write_pdf(finisher=finisher, pdf_variant=_VARIANT)
    return written


def print_at_once(paper: Paper) -> bytes:
    """The paper as one PDF, made in one go. Safe from any thread; papers are made one at a time."""
    markups, assets = _filled(paper)
    return print_markup(markups, _stylesheets(paper.template, paper.size), title=paper.title, assets=assets)


def print_to_join(paper: Paper) -> Sheaf:
    """The paper as `print_at_once` makes it, to be joined with others."""
    kept: list[Sheaf] = []

    def keep(document: Document, pdf: pydyf.PDF) -> None:
        _asks_for_true_scale(document, pdf)
        kept.append(sheaf(pdf))

    markups, assets = _filled(paper)
    print_markup(
        markups, _stylesheets(paper.template, paper.size), title=paper.title, assets=assets, finisher=keep
    )
    return kept[0]


def widths_in_type(lines: Sequence[str], size_mm: float) -> tuple[float, ...]:
    """How wide each line runs in Source Serif Pro of `size_mm`, other scripts in the fonts that stand in.

    In mm. A line is laid out as a link of its own, since the printer tells where links lie.
    """
    rows = "".join(f'<p><a href="{BASE_URL}">{escape(printable(line))}</a></p>' for line in lines)
    sheet = stylesheet(
        "@page { size: 20000mm 20000mm; margin: 0 } p { margin: 0; white-space: pre; "
        f'font: {size_mm}mm "Source Serif Pro", "Noto Serif", serif }}'
    )
    with _at_the_printer():
        laid = HTML(
            string=f"<html><body>{rows}</body></html>", base_url=BASE_URL, url_fetcher=_NOTHING
        ).render(stylesheets=[sheet], font_config=_fonts())
    boxes = (box for page in laid.pages for _, _, box, _ in page.links)
    return tuple((right - left) / PX_IN_A_MM for left, _, right, _ in boxes)


def make_ready() -> None:
    """Have at hand what every paper needs: fonts, stylesheets, templates. A second's work, once a process."""
    for sheet in sorted((templates_dir() / "papers").glob("*/paper.css")):
        template = sheet.parent.name
        _stylesheets(template)
        _environment().get_template(f"{template}/paper.html")
    print_markup([_FIRST_WORDS], (), title="Ready")


def _filled(paper: Paper) -> tuple[list[str], NamedAssets]:
    """The HTML of each part, and the pictures that their contexts bring along."""
    contexts = [part() for part in paper.parts]
    assets: dict[str, Asset] = {}
    for context in contexts:
        if isinstance(context, Illustrated):
            assets |= context.assets
    markups = [
        markup_of(paper.template, context, title=paper.title, language=paper.language) for context in contexts
    ]
    return markups, NamedAssets(assets)
