"""Texts as long as their fields take, in several scripts, and an order that is full of them."""

import unicodedata
from collections.abc import Callable
from itertools import cycle, islice
from typing import Any

from studio.craft.inscriptions import LONGEST
from studio.craft.stones import LONGEST_WORDS
from studio.web.forms import LONGEST_NOTE, LONGEST_REASON
from studio.web.particulars_reading import STONE_WORDS
from studio.web.studio_facts import LONGEST_TERMS
from studio.web.studio_invoices import LONGEST_TAX_NUMBER
from studio.web.texts import LONGEST_ADDRESS, LONGEST_NAME
from tests.web.house import a_ring, an_order

Writer = Callable[[int], str]
"""Gives a text of that many signs."""

LETTERS = {
    # q and x with marks that no single sign has, so they stay two signs each in every form of Unicode
    "latin": "Donaudampfschifffahrtsgesellschaftskapitänq̃x̂ẞ",
    "greek": "Παρασκευοπουλοδημητρίουάΰ",
    "cyrillic": "Достопримечательностьщёйї",
    "hebrew": "שרהבתאברהםוילדיהם",
    "arabic": "عبدالرحمنبنخالد",
    "devanagari": "श्रीराजराजेश्वरीक्षत्रिय",
    "thai": "กรุงเทพมหานครอมรรัตนโกสินทร์",
    "cjk": "山田花子漢字東京都渋谷区",
}
"""A long word of each script, without a space to break at."""
MIXED = ("abc 12 ", "(7) ", "«½» ")
"""What stands between the words: signs of the other direction, figures, brackets."""


def unbroken(script: str) -> Writer:
    """One word as long as the field takes."""
    return lambda longest: _whole("".join(islice(cycle(LETTERS[script]), longest)))


def worded(script: str) -> Writer:
    """Words with figures and brackets among them, as long as the field takes."""
    word = LETTERS[script]

    def write(longest: int) -> str:
        text, between = "", cycle(MIXED)
        while len(text) < longest:
            text += f"{word} {next(between)}"
        return _whole(text[:longest])

    return write


def _whole(text: str) -> str:
    """The text in the form the book keeps, without a space at its end."""
    text = unicodedata.normalize("NFC", text)
    return text[:-1] + "o" if text[-1:].isspace() else text


def a_full_order(write: Writer, **changes: Any) -> dict[str, Any]:
    """An order with all its texts written by `write`, as the API takes it: one ring, two kinds of stones."""
    words = {name: write(LONGEST_WORDS) for name in STONE_WORDS}
    hers = {"count": 2, "whose": "customer", "setting": "bezel", "risk": "customer"} | words
    ours = {"count": 1, "whose": "studio", "setting": "claw"} | words
    ring = a_ring(
        width=8,
        finger={"gauge_width_mm": 3, "taken_by": write(LONGEST_NAME)},
        reasons={"narrow-gauge": write(LONGEST_REASON)},
        finish={"inside": "polished", "outside": "matt"},
        inscription={"text": write(LONGEST), "face": "inside", "lettering": "script", "letter_mm": 1.5},
        stones=[hers, ours],
    )
    customer = {
        "name": write(LONGEST_NAME),
        "phone": "01632 960 411",
        "email": f"{'o' * 180}@{'m' * 60}.example",
    }
    order = an_order(
        customer=customer,
        rings=[ring],
        note=write(LONGEST_NOTE),
        collects=write(LONGEST_NAME),
        bench_on="2026-12-01",
    )
    return order | changes


def full_facts(write: Writer) -> dict[str, str]:
    """What the studio says of itself, all of it written by `write`, as its form sends it."""
    lengths = {"name": LONGEST_NAME, "subtitle": 120, "address": LONGEST_ADDRESS, "tax_name": 120}
    terms = ("returns", "small_print", "hallmark_note", "allergy_note", "resizing_note")
    lengths |= dict.fromkeys(terms, LONGEST_TERMS)
    texts = {name: write(longest) for name, longest in lengths.items()}
    again = {"tax_number": texts["tax_name"][:LONGEST_TAX_NUMBER].strip()}
    again |= dict.fromkeys(("custody_note", "invoice_note"), texts["resizing_note"])
    return texts | again | {"hallmark_rule": "uk"}
