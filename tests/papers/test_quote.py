import io
import logging
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from pypdf import PdfReader
from pypdf.generic import StreamObject

from studio.craft.alloys import ALLOYS
from studio.craft.pricing import Bought, Job, PriceBreakdown, QuoteLine, price
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit
from studio.craft.units import to_milligrams
from studio.papers.money import money_words
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from studio.papers.quote_facts import Letterhead
from tests.papers.printed import catalogue, fonts, reader, structure, text_of
from tests.papers.quotes import LONG_NAMES, QUOTES, a_quote, quote
from tests.papers.sheets import a_reckoning

KINDS = sorted(QUOTES)
ONE_PAGE = ["hammered-flat", "round-wire", "size-range", "told", "without-tax"]
OWN_WORDS = re.compile(
    r"\b(costs?|margins?|mark-?ups?|minutes?|hours?|labour|overheads?|consumables|rates?|premium|waste|profit)\b",
    re.IGNORECASE,
)
"""Words of the studio's own reckoning, which a customer's paper never speaks."""


def plain(words: str) -> str:
    """Words as a paper's text is read back: spaces that hold a line together are spaces."""
    return " ".join(words.split())


def streams(pdf: bytes) -> list[bytes]:
    """Every stream of the PDF, unpacked: what is drawn, and what is said about the paper."""
    found = PdfReader(io.BytesIO(pdf))
    objects = [found.get_object(number) for numbers in found.xref.values() for number in numbers if number]
    objects += [found.get_object(number) for number in found.xref_objStm]
    return [one.get_data() for one in objects if isinstance(one, StreamObject)]


def said_of(pdf: bytes) -> str:
    """What the PDF says of itself: its list of facts, and the same as XMP."""
    return f"{reader(pdf).metadata} {catalogue(pdf)['/Metadata'].get_object().get_data().decode()}"


@pytest.mark.parametrize("kind", ONE_PAGE)
def test_one_ring_is_quoted_on_one_page(kind: str) -> None:
    assert len(reader(quote(kind)).pages) == 1


@pytest.mark.parametrize("kind", ["pair", "widest-band"])
def test_what_does_not_fit_goes_on_overleaf_with_the_room_to_sign(kind: str) -> None:
    pdf = quote(kind)
    assert len(reader(pdf).pages) == 2
    assert "Quote 2026-118-q1, page 2 of 2" in text_of(pdf, page=2)
    assert "Name and day" not in text_of(pdf, page=1)
    assert "Name and day" in text_of(pdf, page=2)


@pytest.mark.parametrize("kind", KINDS)
def test_everything_that_is_agreed_stands_on_the_paper(kind: str) -> None:
    facts, paper, words = QUOTES[kind], quote_paper(QUOTES[kind]), text_of(quote(kind))
    priced = [*paper.lines, *([paper.tax] if paper.tax else []), *([paper.deposit] if paper.deposit else [])]
    shown = [
        "Wrenfold, goldsmiths",
        "7 Cooper's Stair",
        "01632 960 715, book@wrenfold.example",
        "Quote 2026-118-q1 for ",
        "26 November 2026, order 2026-118",
        *(ring.title for ring in paper.rings),
        *(f"{ring.sentence} Size {ring.size} Weight {ring.weight}" for ring in paper.rings),
        f"Ready {paper.ready}",
        *(f"{line.text} {line.amount}" for line in priced),
        f"Total {paper.total}",
        "This price holds until Thursday, 10 December 2026, since ",
        *paper.small_print,
        "Yes, make them as written here" if len(facts.rings) > 1 else "Yes, make it as written here",
        "Name and day",
        f"page 1 of {2 if kind not in ONE_PAGE else 1}",
    ]
    assert [line for line in shown if plain(line) not in words] == []
    terms = (*paper.terms, *paper.small_print)
    if kind == "engraved":  # one of its terms goes on overleaf: its beginning stands here, its end there
        terms = tuple(" ".join(end) for term in terms for end in (term.split()[:8], term.split()[-8:]))
    assert [term for term in terms if plain(term) not in words] == []
    assert facts.returns in paper.terms
    assert f"for {facts.customer}, 26 November" in words.replace("- ", "-")


def test_the_price_stands_as_in_the_worked_example() -> None:
    words = text_of(quote("hammered-flat"))
    assert "The ring, made and hallmarked £1,400.00 VAT, 20 % £280.00 Total £1,680.00" in words
    assert "Deposit, to begin £672.00" in words


@pytest.mark.parametrize("kind", KINDS)
def test_the_lines_and_the_tax_sum_to_the_total(kind: str) -> None:
    paper = quote_paper(QUOTES[kind])

    def amount(words: str) -> Decimal:
        return Decimal(re.sub(r"[^\d.]", "", words))

    lines = [*paper.lines, *([paper.tax] if paper.tax else [])]
    assert sum(amount(line.amount) for line in lines) == amount(paper.total)


def test_a_studio_without_tax_speaks_of_none() -> None:
    words = text_of(quote("without-tax"))
    assert "VAT" not in words
    assert "The ring JP¥16,800 Total JP¥16,800 Deposit, to begin JP¥5,000" in words


def test_without_a_deposit_none_is_asked() -> None:
    assert "Deposit" not in text_of(quote("round-wire"))


def test_a_tax_is_called_what_the_studio_calls_it() -> None:
    paper = quote_paper(a_quote(tax_percent=Decimal("7.70"), tax_name="MWST"))
    assert paper.tax is not None
    assert paper.tax.text == "MWST, 7.7 %"


@pytest.mark.parametrize("kind", KINDS)
def test_a_quote_is_tagged_with_its_title_and_its_language(kind: str) -> None:
    pdf, facts = quote(kind), QUOTES[kind]
    root = catalogue(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert 'pdfuaid:part="1"' in said_of(pdf)
    information = reader(pdf).metadata
    assert information is not None
    assert information.title == f"Quote 2026-118-q1, {facts.customer}"


@pytest.mark.parametrize("kind", KINDS)
def test_a_reader_that_reads_aloud_finds_every_drawing_in_words(kind: str) -> None:
    spoken = [
        str(element.get("/Alt", "")) for element in structure(quote(kind)) if element["/S"] == "/Figure"
    ]
    starts = ["The ring lying on the table", "Section", "The ring at true size"] * len(QUOTES[kind].rings)
    assert len(spoken) == len(starts)
    assert all(words.startswith(start) for words, start in zip(spoken, starts, strict=True))


def test_a_quote_is_read_in_order_with_a_head_in_each_row() -> None:
    elements = [str(element["/S"]) for element in structure(quote("hammered-flat"))]
    assert elements.count("/H1") == 1
    assert elements.count("/Table") == 2
    assert elements.index("/H1") < elements.index("/Figure") < elements.index("/Table")
    assert elements.count("/TH") == elements.count("/TD") == 3 + 4
    cells = [element for element in structure(quote("hammered-flat")) if element["/S"] in {"/TH", "/TD"}]
    for head, cell in zip(cells[::2], cells[1::2], strict=True):
        assert [str(one) for one in cell["/A"].get_object()["/Headers"]] == [str(head["/ID"])]


def test_each_ring_of_a_pair_has_a_heading_of_its_own() -> None:
    assert [str(element["/S"]) for element in structure(quote("pair"))].count("/H2") == 2
    assert [ring.title for ring in quote_paper(QUOTES["pair"]).rings] == ["Ring 1 of 2", "Ring 2 of 2"]


def test_the_rings_of_a_pair_lie_at_one_scale() -> None:
    first, second = quote_paper(QUOTES["pair"]).rings
    over_all = [
        ring.reckoning.diameter_mm + 2 * ring.reckoning.design.thickness_mm for ring in QUOTES["pair"].rings
    ]
    line_mm = 1.0
    drawn = (second.lying.width - line_mm) / (first.lying.width - line_mm)
    assert drawn == pytest.approx(over_all[1] / over_all[0], rel=0.001)


@pytest.mark.parametrize("kind", KINDS)
def test_every_sign_has_its_glyph_and_the_paper_carries_its_fonts(
    kind: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING):
        pdf = printed(quote_to_print(quote_paper(QUOTES[kind])))
    assert [record.getMessage() for record in caplog.records] == []
    found = fonts(pdf)
    assert set(found) == {"Source-Sans-Pro", "Source-Serif-Pro"}
    assert all("/FontFile2" in font for font in found.values())
    glyphs = [
        glyph
        for stream in streams(pdf)
        for shown in re.findall(rb"\[([^\]]*)\] TJ", stream)
        for run in re.findall(rb"<([0-9a-f]+)>", shown)
        for glyph in (run[at : at + 4] for at in range(0, len(run), 4))
    ]
    assert len(glyphs) > 300
    assert b"0000" not in glyphs  # glyph 0 is the box for a missing sign


@pytest.mark.parametrize("kind", KINDS)
def test_no_word_of_the_studios_own_reckoning_is_on_the_paper_or_in_what_it_says_of_itself(kind: str) -> None:
    pdf = quote(kind)
    alternatives = " ".join(str(element.get("/Alt", "")) for element in structure(pdf))
    assert OWN_WORDS.findall(f"{text_of(pdf)} {said_of(pdf)} {alternatives}") == []


@pytest.mark.parametrize("kind", KINDS)
def test_no_figure_of_the_bench_is_on_the_paper(kind: str) -> None:
    words = text_of(quote(kind))
    for ring in QUOTES[kind].rings:
        reckoning = ring.reckoning
        own = [f"{reckoning.mark_mm:.1f}", f"{reckoning.true_length_mm:.2f}", f"{reckoning.issue_g:.2f}"]
        assert [figure for figure in own if re.search(rf"(?<![\d.,]){re.escape(figure)}(?!\d)", words)] == []


def _priced() -> PriceBreakdown:
    """A ring of 750 yellow gold priced by a studio whose every amount is another."""
    on = date(2026, 11, 25)
    prices = {
        metal: MetalPrice(metal, Decimal(each), WeightUnit.G, on, "a dealer's list")
        for metal, each in (("gold", "113.37"), ("silver", "1.29"))
    }
    rates = Rates(
        currency="GBP", labour_hour_minor=5310, overhead_percent=Decimal("27.5"), consumables_minor=437,
        premium_percent=Decimal("11.5"), waste_percent=Decimal("4.5"), margin_percent=Decimal("31.5"),
        extra_margin_percent={Extra.ASSAY: Decimal("12.5")}, assay_minor=1319, tax_percent=Decimal(20),
        step_minor=500, deposit_percent=Decimal(40), valid_days=14, stale_after_days=7, minutes={},
    )  # fmt: skip
    issue_mg = to_milligrams(a_reckoning().issue_g)
    job = Job("The ring", ALLOYS["gold-750-yellow"], issue_mg, 197, (Bought(Extra.ASSAY, "Hallmark", 1319),))
    return price([job], prices, rates)


def test_what_the_ring_costs_and_earns_cannot_be_read_out_of_the_paper() -> None:
    priced = _priced()
    pdf = printed(
        quote_to_print(quote_paper(a_quote(lines=priced.lines, deposit_minor=priced.deposit_minor)))
    )
    words = f"{text_of(pdf)} {said_of(pdf)}"
    assert f"Total {money_words(priced.total_minor, 'GBP')}" in words
    (ring,) = priced.rings
    own = {
        ring.metal_minor, ring.labour_minor, ring.overhead_minor, ring.consumables_minor, ring.own_minor,
        ring.line_minor, ring.margin_minor, ring.cost_minor, priced.cost_minor, priced.margin_minor,
        priced.rounding_minor, 1319, 5310,
    }  # fmt: skip
    for minor in own:
        assert money_words(minor, "GBP").removeprefix("£") not in words
    assert list(reader(pdf).attachments) == []
    assert not re.search(r"\b(197|113\.37|31\.5|27\.5|11\.5)\b", words)


def test_a_pair_with_long_names_and_long_terms_loses_nothing() -> None:
    small_print = "\n".join(f"Paragraph {number} of the studio's own terms. " * 6 for number in range(1, 13))
    studio = Letterhead(LONG_NAMES, "goldsmiths and silversmiths", f"{LONG_NAMES}'s House", "", "a@b.example")
    facts = replace(
        QUOTES["pair"],
        studio=studio,
        small_print=small_print,
        lines=tuple(QuoteLine(f"{LONG_NAMES}, ring {number}", 100_000_000, 0) for number in range(1, 9)),
    )
    pdf = printed(quote_to_print(quote_paper(facts)))
    words = text_of(pdf).replace("- ", "-")
    assert "Paragraph 12 of the studio's own terms." in words
    assert words.count("£1,000,000.00") == 8
    assert f"{LONG_NAMES}, goldsmiths and silversmiths" in words
    assert words.index("Paragraph 12") < words.index("Name and day")
    pages = len(reader(pdf).pages)
    assert f"page {pages} of {pages}" in text_of(pdf, page=pages)


def test_what_is_left_empty_leaves_no_hole() -> None:
    facts = a_quote(studio=Letterhead("Wrenfold"), returns="", ready_at=None, wanted_on=None)
    words = text_of(printed(quote_to_print(quote_paper(facts))))
    assert words.startswith("Wrenfold Quote 2026-118-q1 for Ines Radley")
    assert "returned" not in words
    assert "Ready No day is promised yet" in words


def test_a_quote_for_nothing_is_not_made() -> None:
    for facts in (a_quote(lines=()), replace(a_quote(), rings=())):
        with pytest.raises(ValueError, match="needs a ring and a line"):
            quote_paper(facts)


def test_what_is_typed_stays_text_on_a_quote() -> None:
    typed = "<b>Ines</b> {{7*7}} & Co"
    assert f"for {typed}, 26 November" in text_of(
        printed(quote_to_print(quote_paper(a_quote(customer=typed))))
    )


def test_a_quote_is_sharp_about_whose_words_are_whose() -> None:
    paper = quote_paper(a_quote(returns="Bring it back.\n\nWe talk.", small_print="VAT number GB 0.\n"))
    assert paper.terms[-2:] == ("Bring it back.", "We talk.")
    assert paper.small_print == ("VAT number GB 0.",)
    assert paper.holds == paper.terms[0]
