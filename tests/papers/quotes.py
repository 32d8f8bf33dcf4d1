"""Quotes for the tests: one of each kind that is looked at."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import cache
from typing import Any

from studio.craft.designs import Measured, Pattern, PatternWhen, Profile, System
from studio.craft.hallmark import HallmarkRule
from studio.craft.particulars import Inscription, Lettering, Particulars, Surface
from studio.craft.pricing import QuoteLine
from studio.craft.reckonings import Reckoning
from studio.papers.house_words import USUAL, Country
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from studio.papers.quote_facts import Letterhead, QuotedRing, QuoteFacts
from tests.builders import a_finger
from tests.papers.sheets import a_reckoning

LONG_NAMES = "Konstantina Papadimitriou-Featherstonehaugh and Bartholomew Wolfeschlegelstein"
WRENFOLD = Letterhead(
    "Wrenfold", "goldsmiths", "7 Cooper's Stair", phone="01632 960 715", email="book@wrenfold.example"
)
TAKEN_ON = date(2026, 11, 26)


def a_quote(*rings: Reckoning, **changes: Any) -> QuoteFacts:
    """Quote 2026-118-q1: a hammered flat band 6 x 1.6 of 750 yellow gold, 1,400.00 and 20 % tax."""
    facts = QuoteFacts(
        studio=WRENFOLD,
        number="2026-118-q1",
        order_number="2026-118",
        customer="Ines Radley",
        issued_on=date(2026, 11, 26),
        valid_until=date(2026, 12, 10),
        rings=tuple(
            QuotedRing(reckoning, TAKEN_ON) for reckoning in rings or (a_reckoning(pattern=Pattern.HAMMERED),)
        ),
        hallmark=HallmarkRule.UK,
        ready_at=datetime(2026, 12, 11, 10, tzinfo=UTC),
        wanted_on=date(2026, 12, 12),
        currency="GBP",
        lines=(QuoteLine("The ring, made and hallmarked", 140000, 28000),),
        deposit_minor=67200,
        tax_percent=Decimal(20),
    )
    return replace(facts, **changes)


_PAIR = (
    a_reckoning(Profile.HALF_ROUND, 4.0, 1.7, "gold-750-rose", a_finger("M", gauge_width_mm=4.0)),
    a_reckoning(
        Profile.HALF_ROUND,
        5.0,
        1.8,
        "gold-750-white-pd",
        a_finger("V", gauge_width_mm=3.0),
        pattern=Pattern.HAMMERED,
        pattern_when=PatternWhen.CLOSED,
    ),
)
_PAIR_LINES = (
    QuoteLine("Half-round ring, 18 carat rose gold", 98250, 19650),
    QuoteLine("Hallmark", 1500, 300),
    QuoteLine("Half-round ring, 18 carat white gold", 143300, 28660),
    QuoteLine("Hallmark", 1500, 300),
)
_WORDS = USUAL[Country.GREAT_BRITAIN]
_ASKED = Particulars(
    Surface.POLISHED, Surface.MATT, Inscription("Edda & Jón, 14 Feb", lettering=Lettering.SCRIPT)
)
QUOTES: dict[str, QuoteFacts] = {
    "engraved": a_quote(
        rings=(QuotedRing(a_reckoning(pattern=Pattern.HAMMERED), TAKEN_ON, _ASKED),),
        lines=(
            QuoteLine("The ring, made by hand", 140000, 28000),
            QuoteLine("Its hallmark", 1333, 267),
            QuoteLine("Its inscription, 13 letters", 3250, 650),
        ),
        returns=_WORDS.returns,
        small_print=_WORDS.small_print,
        notes=(_WORDS.hallmark_note, _WORDS.allergy_note, _WORDS.resizing_note),
    ),
    "hammered-flat": a_quote(),
    "pair": a_quote(*_PAIR, customer=LONG_NAMES, lines=_PAIR_LINES, deposit_minor=117384),
    "round-wire": a_quote(
        a_reckoning(Profile.ROUND, 2.0, None, "silver-925", a_finger("7", System.US, gauge_width_mm=2.0)),
        lines=(QuoteLine("The ring, made by hand", 16250, 3250),),
        deposit_minor=0,
    ),
    "size-range": a_quote(
        a_reckoning(
            Profile.COURT,
            3.0,
            1.8,
            "platinum-950-ru",
            a_finger("J", to_label="M", to_circumference_mm=52.5, gauge_width_mm=3.0),
            pattern=Pattern.ROLLED,
        ),
        ready_at=None,
    ),
    "told": a_quote(
        a_reckoning(
            width_mm=8.0,
            thickness_mm=1.4,
            alloy="silver-925",
            finger=a_finger("57", System.ISO, measured=Measured.TOLD, gauge_width_mm=None, is_warm=None),
            pattern=Pattern.STAMPED,
        ),
        ready_at=None,
        wanted_on=None,
    ),
    "widest-band": a_quote(
        a_reckoning(
            width_mm=40.0,
            thickness_mm=6.0,
            alloy="silver-925",
            finger=a_finger("Z+12"),
            pattern=Pattern.HAMMERED,
        ),
        small_print="VAT number GB 000 0000 00.\nWhat the law gives you, these terms leave untouched. " * 6,
    ),
    "without-tax": a_quote(
        a_reckoning(Profile.SQUARE, 1.0, None, "copper"), currency="JPY", tax_percent=Decimal(0),
        lines=(QuoteLine("The ring", 16800, 0),), deposit_minor=5000,
    ),
}  # fmt: skip
"""One quote of each kind that is looked at."""


@cache
def quote(kind: str) -> bytes:
    """The PDF of one of the quotes that are looked at."""
    return printed(quote_to_print(quote_paper(QUOTES[kind])))
