"""Papers full of the longest texts there are, in every script: all of it is there, and nothing lies on it."""

import unicodedata
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from studio.papers.fonts import unprintable
from studio.papers.render import _stylesheets, print_markup
from studio.web.particulars_reading import STONE_WORDS
from tests.full_studio import write_the_documents
from tests.long_texts import Writer, a_full_order, full_facts, unbroken, worded
from tests.papers.laid_out import glyphs, out_of_page, overlapping, pages_of
from tests.papers.printed import text_of
from tests.web.house import Fresh, House, a_house
from tests.web.priced import ask_for_quote, put_in_rates
from tests.web.shown import Shown

LOST = 1 / 1000
"""Signs that may be told otherwise by a reader: a bracket turned round, a syllable broken over two lines."""
BAR_PT = 12
"""How far the bar's ticks reach to the left of the words 'down?' beside it, in points."""
SCRIPTS = {
    "latin": unbroken,
    "greek": worded,
    "hebrew": unbroken,
    "arabic": worded,
    "devanagari": worded,
    "thai": unbroken,
}


@pytest.fixture
def house(fresh: Fresh, tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path, fresh) as opened:
        yield opened


def put_facts(house: House, write: Writer) -> Shown:
    form = Shown(house.browse("GET", "/studio")).form("/studio/facts")
    return Shown(house.browse("POST", "/studio/facts", data=form.filled() | full_facts(write)))


def papers_of(house: House, write: Writer) -> tuple[bytes, bytes]:
    """The quote and the bench sheet of an order whose every text is written by `write`."""
    put_in_rates(house)
    assert put_facts(house, write).status == 303
    number = house.take_order(**a_full_order(write))
    quote = ask_for_quote(house, number).json()
    yes = {"name": write(120), "without_deposit": write(500)}
    assert house.ask("POST", f"/api/quotes/{quote['number']}/agreement", json=yes).status_code == 201
    sheet = house.ask("GET", f"/orders/{number}/bench-sheet.pdf")
    assert sheet.status_code == 200
    return house.ask("GET", quote["pdf"]).content, sheet.content


def documents_of(house: House, write: Writer) -> tuple[bytes, bytes, bytes]:
    """The confirmation, the receipt and the return of an order whose every text is written by `write`."""
    put_in_rates(house)
    assert put_facts(house, write).status == 303
    number = house.take_order(**a_full_order(write))
    quote = ask_for_quote(house, number).json()
    yes = {"name": write(120), "without_deposit": write(500)}
    assert house.ask("POST", f"/api/quotes/{quote['number']}/agreement", json=yes).status_code == 201
    write_the_documents(house, number, write)
    told = house.ask("GET", f"/api/orders/{number}").json()["documents"]
    confirmation, receipt, back = (
        house.ask("GET", one["pdf"]).content for one in told if one["number"] != f"{number}-r2"
    )
    return confirmation, receipt, back


def signs(*texts: str) -> Counter[str]:
    return Counter(
        sign for text in texts for sign in unicodedata.normalize("NFC", text) if not sign.isspace()
    )


def must_be_laid_out(pdf: bytes, *texts: str) -> None:
    """Inside the page, apart from each other, with a shape for every sign, and every sign to be read."""
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    drawn = Counter(glyphs(pdf))
    assert drawn[0] == 0
    assert sum(drawn.values()) > 1_000
    asked = signs(*texts)
    lost = asked - signs(text_of(pdf))
    assert lost.total() <= asked.total() * LOST, lost.most_common(9)


@pytest.mark.parametrize("script", SCRIPTS)
def test_the_longest_texts_go_on_both_papers(house: House, script: str) -> None:
    write = SCRIPTS[script](script)
    quote, sheet = papers_of(house, write)
    of_the_studio = [write(120), write(120), write(120), write(500), *[write(2_000)] * 5]
    must_be_laid_out(quote, write(120), *of_the_studio, *[write(120)] * 13)
    must_be_laid_out(sheet, write(120), write(120), write(500), write(4_000), *[write(120)] * 11)
    beside_the_bar = [
        word
        for _, _, words, boxes in pages_of(sheet)
        for bar in [box for word, box in zip(words, boxes, strict=True) if word == "down?"]
        for word, box in zip(words, boxes, strict=True)
        if abs(box[1] - bar[1]) < 142 and bar[0] - BAR_PT < box[2] <= bar[0]
    ]
    assert beside_the_bar == []


@pytest.mark.parametrize("script", SCRIPTS)
def test_the_longest_texts_go_on_every_document(house: House, script: str) -> None:
    write = SCRIPTS[script](script)
    confirmation, receipt, back = documents_of(house, write)
    letterhead = [write(120), write(120), write(500), write(120)]
    must_be_laid_out(confirmation, *letterhead, *[write(120)] * 16, *[write(2_000)] * 5)
    must_be_laid_out(receipt, *letterhead, *[write(120)] * 6, write(500), write(40), write(2_000))
    must_be_laid_out(back, *letterhead, *[write(120)] * 3, write(500), write(40), write(500))


def test_chinese_and_japanese_are_printed_or_told_at_every_field(house: House) -> None:
    """What the fonts of a machine have is printed; a machine without says so beside each field."""
    write = worded("cjk")
    if not unprintable(write(120)):
        quote, sheet = papers_of(house, write)
        must_be_laid_out(quote, write(120))
        must_be_laid_out(sheet, write(4_000))
        return
    answer = house.ask("POST", "/api/orders", json=a_full_order(write))
    assert answer.status_code == 422
    told = {error["field"] for error in answer.json()["errors"] if "No font here has 山" in error["message"]}
    stones = {f"rings.0.stones.{at}.{name}" for at in (0, 1) for name in STONE_WORDS}
    assert told == stones | {
        "customer.name", "note", "collects", "rings.0.finger.taken_by", "rings.0.reasons.narrow-gauge",
        "rings.0.inscription.text",
    }  # fmt: skip
    page = put_facts(house, write)
    assert page.status == 422
    assert page.words.count("No font here has 山") == 2 * len(full_facts(write)) - 2


def test_what_lies_on_something_else_would_be_found() -> None:
    markup = (
        '<html lang="en"><head><title>x</title></head><body><p class="foot">x</p><p>above it</p>'
        f'<p style="margin-top: -10pt">below it</p><p style="white-space: nowrap">{"far" * 60}</p>'
        "</body></html>"
    )
    pdf = print_markup([markup], _stylesheets("quote"), title="x")
    assert ("above", "below") in overlapping(pdf)
    assert [word[:6] for word in out_of_page(pdf)] == ["farfar"]
