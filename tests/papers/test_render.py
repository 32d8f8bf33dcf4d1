import logging
from functools import partial

import pytest
from jinja2 import UndefinedError
from weasyprint.urls import FatalURLFetchingError  # type: ignore[import-untyped]  # the package carries no types

from studio.papers import render
from studio.papers.bench_sheet import EmptyWeek
from studio.papers.paper import Asset, Paper
from tests.papers.printed import catalogue, fonts, reader, structure, text_of

ELSEWHERE = [
    "file:///etc/passwd",
    "http://127.0.0.1:9/logo.png",
    "https://fonts.example/a.woff",
    "ftp://files.example/a",
    "data:text/css,p{color:red}",
    "logo.png",
    "/etc/passwd",
    "//files.example/a.png",
]


def printed(body: str, css: str = "", assets: render.NamedAssets | None = None) -> bytes:
    """A small paper of its own with `body` and `css`."""
    markup = f'<html lang="en"><head><title>A paper</title></head><body>{body}</body></html>'
    served = assets or render.NamedAssets({})
    return render.print_markup([markup], [render.stylesheet(css)], title="A paper", assets=served)


def weeks_printed(*weeks: str) -> bytes:
    """A paper of one empty week after the other."""
    parts = tuple(partial(EmptyWeek, week=week, printed="today") for week in weeks)
    return render.print_at_once(Paper("empty_week", parts, "Some weeks"))


@pytest.mark.parametrize("address", ELSEWHERE)
@pytest.mark.parametrize(
    "body",
    [
        '<img alt="a logo" src="{}">',
        '<link rel="stylesheet" href="{}">',
        '<link rel="attachment" href="{}">',
        '<a rel="attachment" href="{}">all orders</a>',
        "<style>@import url({});</style>",
        '<style>@font-face {{ font-family: "x"; src: url({}) }} p {{ font-family: "x" }}</style><p>x</p>',
        '<p style="background-image: url({})">x</p>',
        '<object data="{}"></object>',
    ],
    ids=["img", "stylesheet", "attachment", "attachment-link", "import", "font", "background", "object"],
)
def test_no_paper_reads_anything_it_was_not_handed(body: str, address: str) -> None:
    with pytest.raises(FatalURLFetchingError) as refused:
        printed(body.format(address))
    assert isinstance(refused.value.__cause__, render.AssetRefused)


@pytest.mark.parametrize("address", ELSEWHERE)
def test_a_drawing_reads_nothing_it_was_not_handed(address: str, caplog: pytest.LogCaptureFixture) -> None:
    picture = f'<image href="{address}" width="9" height="9"/>'
    with caplog.at_level(logging.DEBUG, "weasyprint"), pytest.raises(render.PaperIncomplete, match="SVG"):
        printed(
            f'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><title>x</title>{picture}</svg>'
        )
    causes = [record.exc_info[1] for record in caplog.records if record.exc_info]
    assert [type(cause) for cause in causes] == [FatalURLFetchingError]


def test_a_picture_without_words_in_its_place_stops_the_paper() -> None:
    dot = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'
    assets = render.NamedAssets({"mark.svg": Asset("image/svg+xml", dot)})
    with pytest.raises(render.PaperIncomplete, match="alt"):
        printed('<img src="mark.svg">', assets=assets)


@pytest.mark.parametrize("address", ELSEWHERE)
def test_no_stylesheet_imports_another(address: str) -> None:
    with pytest.raises(FatalURLFetchingError):
        render.stylesheet(f"@import url({address});")


def test_an_asset_handed_over_by_name_is_shown() -> None:
    dot = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text y="9">hallmark</text></svg>'
    assets = render.NamedAssets({"mark.svg": Asset("image/svg+xml", dot)})
    assert "hallmark" in text_of(printed('<img alt="The mark" src="mark.svg">', assets=assets))


def test_a_paper_is_tagged_and_says_its_title_and_language() -> None:
    pdf = printed("<h1>Head</h1><p>Words</p>")
    root = catalogue(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert [str(element["/S"]) for element in structure(pdf)][:2] == ["/Document", "/H1"]
    information = reader(pdf).metadata
    assert information is not None
    assert information.title == "A paper"
    claims = root["/Metadata"].get_object().get_data().decode()
    assert 'pdfuaid:part="1"' in claims


def test_a_word_a_template_lacks_stops_the_paper() -> None:
    with pytest.raises(UndefinedError):
        render.markup_of("empty_week", object(), title="A paper")


def test_whatever_is_typed_stays_text() -> None:
    typed = EmptyWeek(week="<script>alert(1)</script> {{7*7}} <img src=x>", printed="Wed 25 Nov 2026")
    pdf = render.print_at_once(Paper("empty_week", (lambda: typed,), "<b>A paper</b>"))
    assert "<script>alert(1)</script> {{7*7}} <img src=x>" in text_of(pdf)
    information = reader(pdf).metadata
    assert information is not None
    assert information.title == "<b>A paper</b>"


def test_a_character_without_a_glyph_is_printed_as_a_question_mark(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING, "weasyprint"):
        pdf = weeks_printed("Ann \U0010fffd\x07")
    assert "Ann ??" in text_of(pdf)
    assert not caplog.records


@pytest.mark.parametrize(
    "name",
    [
        "Müller-Łukasiewicz",
        "Ωμέγα Παπαδοπούλου",
        "Пётр Иванов",
        "Nguyễn Thị Ánh",
        "דנה כהן",
        "გიორგი",
        "สมชาย",
    ],
)
def test_names_in_other_scripts_print_without_a_missing_glyph(
    name: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "weasyprint"):
        pdf = weeks_printed(name)
    assert not caplog.records
    # Poppler gives words written from right to left in their order on the line.
    assert all(word in text_of(pdf) for word in name.split())
    assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts(pdf).values())


def test_each_paper_of_a_batch_counts_its_own_pages() -> None:
    pdf = weeks_printed("week 1", "week 2")
    assert len(reader(pdf).pages) == 2
    assert text_of(pdf).count("page 1 of 1") == 2
