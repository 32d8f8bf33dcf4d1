"""The quote: what is agreed, its price, how long it holds, room to sign. No figure of the studio's own."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from functools import partial

from studio.craft.directions import apart
from studio.craft.drawing import Svg, quote_ring, quote_ring_scale, quote_section, quote_views
from studio.craft.hallmark import HallmarkRule
from studio.craft.particulars import NOT_ASKED, Particulars, finish_words
from studio.craft.pricing import QuoteLine
from studio.craft.reckonings import Reckoning
from studio.papers.figures import spoken
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.particulars_words import inscription_sentence, stones_sentence
from studio.papers.quote_words import (
    COMMON_RETURNS,
    day_of_year,
    doubt_sentence,
    holds_sentence,
    ready_sentence,
    resize_sentences,
    ring_sentence,
    size_sentence,
    tolerance_sentence,
    weight_sentence,
)

TEMPLATE = "quote"
_MEASURED_MM = 67.0
"""Room for the measured drawings beside the ring on the table."""
_ALONE_MM = (63.0, 58.0)
_TOGETHER_MM = (45.0, 46.0)
"""Room for the ring on the table: of the only ring, and of one of several."""
_HELD = re.compile(r"(?<=\d) (?=(?:mm|g)\b|%|[A-Z][a-z]+ )|(?<=US|JP|CH|DE) (?=\d)|(?<=ISO) (?=\d)| (?=\(\d)")
"""Spaces at which no line ends: a figure and its unit, a day and its month, a system and its size."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The studio as its papers name it; what is empty is left out."""

    name: str
    subtitle: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""

    @property
    def full_name(self) -> str:
        """'Wrenfold, goldsmiths'."""
        return ", ".join(part for part in (self.name, self.subtitle) if part)


@dataclass(frozen=True, slots=True)
class QuotedRing:
    """One ring as quoted: all its figures, and the day its finger was measured in the studio's time zone."""

    reckoning: Reckoning
    taken_on: date | None
    particulars: Particulars = NOT_ASKED


@dataclass(frozen=True, slots=True)
class QuoteFacts:
    """Everything a quote says, as plain values.

    `lines` are the customer's, as priced; their sums are the sums on paper. `ready_at` is in the studio's own
    time zone. `tax_name`, `returns`, `small_print` and `notes` are the studio's own words, a line a
    paragraph; without a tax percentage the paper speaks of no tax.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued_on: date
    valid_until: date
    rings: tuple[QuotedRing, ...]
    hallmark: HallmarkRule
    ready_at: datetime | None
    wanted_on: date | None
    currency: str
    lines: tuple[QuoteLine, ...]
    deposit_minor: int
    tax_percent: Decimal
    tax_name: str = "VAT"
    returns: str = COMMON_RETURNS
    small_print: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PriceLine:
    """Words and an amount, ready to print."""

    text: str
    amount: str


@dataclass(frozen=True, slots=True)
class RingOnPaper:
    """One ring, ready to print. `title` is empty for the only ring."""

    title: str
    sentence: str
    size: str
    weight: str
    finish: str
    inscription: str
    stones: str
    lying: Svg
    section: Svg
    views: Svg

    @property
    def is_in_rows(self) -> bool:
        """Whether its drawings stand in rows: one of several rings, or views too wide to stand beside it."""
        return bool(self.title) or max(self.section.width, self.views.width) > _MEASURED_MM


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """All that the paper shows, ready to print; the page that reads it back shows the same.

    `tax` and `deposit` are None where there is none. `terms` are sentences of one paragraph, `small_print`
    paragraphs.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    rings: tuple[RingOnPaper, ...]
    ready: str
    lines: tuple[PriceLine, ...]
    tax: PriceLine | None
    total: str
    deposit: PriceLine | None
    holds: str
    terms: tuple[str, ...]
    small_print: tuple[str, ...]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Quote {self.number}, {self.customer}"

    @property
    def contact(self) -> str:
        """How to reach the studio, on one line."""
        return ", ".join(part for part in (self.studio.phone, self.studio.email) if part)

    @property
    def has_several(self) -> bool:
        """Whether it is a quote for more than one ring."""
        return len(self.rings) > 1


def quote_paper(facts: QuoteFacts) -> QuotePaper:
    """The quote put into words and drawings. Raises ValueError without a ring or a line."""
    if not facts.rings or not facts.lines:
        raise ValueError("a quote needs a ring and a line")
    reckonings = [ring.reckoning for ring in facts.rings]
    tax_minor = sum(line.tax_minor for line in facts.lines)
    total_minor = sum(line.net_minor for line in facts.lines) + tax_minor
    holds = holds_sentence(reckonings, facts.valid_until)

    def line(text: str, minor: int) -> PriceLine:
        return PriceLine(text, money_words(minor, facts.currency))

    return QuotePaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        issued=day_of_year(facts.issued_on),
        rings=_rings(facts, reckonings),
        ready=ready_sentence(facts.ready_at, facts.wanted_on),
        lines=tuple(line(one.text, one.net_minor) for one in facts.lines),
        tax=line(_tax_words(facts), tax_minor) if facts.tax_percent else None,
        total=money_words(total_minor, facts.currency),
        deposit=line("Deposit, to begin", facts.deposit_minor) if facts.deposit_minor else None,
        holds=holds,
        terms=(
            holds,
            *resize_sentences(reckonings),
            tolerance_sentence(reckonings),
            *filter(None, (doubt_sentence(reckonings),)),
            *_paragraphs(facts.returns),
        ),
        small_print=_paragraphs("\n".join((facts.small_print, *facts.notes))),
    )


def quote_to_print(paper: QuotePaper) -> Paper:
    """The quote, to be printed: one page for one ring, more where rings and terms need them."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def _tied(paper: QuotePaper) -> QuotePaper:
    """The paper with its figures tied to their units and days to their months, so that no line parts them."""

    def tied(words: str) -> str:
        return _HELD.sub("\N{NO-BREAK SPACE}", words)

    return replace(
        paper,
        issued=tied(paper.issued),
        rings=tuple(
            replace(ring, sentence=tied(ring.sentence), size=tied(ring.size), weight=tied(ring.weight))
            for ring in paper.rings
        ),
        terms=tuple(tied(term) for term in paper.terms),
    )


def _rings(facts: QuoteFacts, reckonings: Sequence[Reckoning]) -> tuple[RingOnPaper, ...]:
    """The rings, those of one order lying at one scale."""
    count = len(reckonings)
    room = _ALONE_MM if count == 1 else _TOGETHER_MM
    scale = min(quote_ring_scale(reckoning, *room) for reckoning in reckonings)
    beside = _MEASURED_MM if count == 1 else 0.0
    return tuple(
        RingOnPaper(
            title=f"Ring {position} of {count}" if count > 1 else "",
            sentence=ring_sentence(ring.reckoning),
            size=size_sentence(ring.reckoning, ring.taken_on, facts.issued_on),
            weight=weight_sentence(ring.reckoning, facts.hallmark),
            finish=finish_words(ring.particulars),
            inscription=_inscription(ring.particulars),
            stones=stones_sentence(ring.particulars.stones or ()),
            lying=spoken(quote_ring(ring.reckoning, scale)),
            section=spoken(quote_section(ring.reckoning)),
            views=spoken(quote_views(ring.reckoning, beside)),
        )
        for position, ring in enumerate(facts.rings, start=1)
    )


def _inscription(particulars: Particulars) -> str:
    """The words to cut, or that none are; '' where nobody asked."""
    words = particulars.words_to_cut
    if words is not None:
        return inscription_sentence(words)
    return "" if particulars.inscription is None else "none"


def _tax_words(facts: QuoteFacts) -> str:
    """'VAT, 20 %'; 'VAT, 7.5 %'."""
    percent = f"{facts.tax_percent:f}"
    return f"{facts.tax_name}, {percent.rstrip('0').rstrip('.') if '.' in percent else percent} %"


def _paragraphs(words: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in words.splitlines() if line.strip())
