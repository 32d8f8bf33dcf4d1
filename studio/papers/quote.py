"""The quote: what is agreed, its price, how long it holds, room to sign. No figure of the studio's own."""

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from studio.craft.directions import apart
from studio.craft.drawing import quote_ring, quote_ring_scale, quote_section, quote_views
from studio.craft.particulars import Particulars, finish_words
from studio.papers.amendment import amended
from studio.papers.care_words import care_sentences
from studio.papers.figures import spoken
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.particulars_words import inscription_sentence, marks_sentence, stones_sentence
from studio.papers.quote_facts import OtherWay, QuotedRing, QuoteFacts
from studio.papers.quote_parts import (
    MEASURED_MM,
    PriceLine,
    QuotePaper,
    RingOnPaper,
    VariantPrice,
    VariantTable,
)
from studio.papers.quote_variants import side_by_side
from studio.papers.quote_words import (
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
_ALONE_MM = (63.0, 58.0)
_TOGETHER_MM = (45.0, 46.0)
"""Room for the ring on the table: of the only ring, and of one of several."""
_MOST_WAYS = 3
_COLUMN_MM = {2: 66.0, _MOST_WAYS: 44.0}
"""Room for the ring on the table in one of so many columns."""
FIRST = "a"
"""The key of the order's own rings where there is a choice."""
_HELD = re.compile(r"(?<=\d) (?=(?:mm|g)\b|%|[A-Z][a-z]+ )|(?<=US|JP|CH|DE) (?=\d)|(?<=ISO) (?=\d)| (?=\(\d)")
"""Spaces at which no line ends: a figure and its unit, a day and its month, a system and its size."""


def quote_paper(facts: QuoteFacts) -> QuotePaper:
    """The quote put into words and drawings. Raises ValueError without a ring or a line."""
    if not facts.rings or not facts.lines:
        raise ValueError("a quote needs a ring and a line")
    ways = [OtherWay(FIRST, facts.rings, facts.lines, facts.deposit_minor), *facts.others]
    reckonings = [ring.reckoning for way in ways for ring in way.rings]
    holds = holds_sentence(reckonings, facts.valid_until)
    prices = [_price(way, facts) for way in ways]
    own = prices[0]
    return QuotePaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        issued=day_of_year(facts.issued_on),
        rings=_rings(facts.rings, facts),
        ready=ready_sentence(facts.ready_at, facts.wanted_on),
        lines=own.lines,
        tax=own.tax,
        total=own.total,
        deposit=own.deposit,
        holds=holds,
        terms=(
            holds,
            *resize_sentences(reckonings, [ring.particulars for ring in facts.rings]),
            tolerance_sentence(reckonings),
            *filter(None, (doubt_sentence(reckonings),)),
            *_paragraphs(facts.returns),
        ),
        small_print=_paragraphs("\n".join((facts.small_print, *facts.notes))),
        care=care_sentences(ring for way in ways for ring in way.rings),
        variants=_compared(facts, ways, prices) if facts.others else None,
        amended=None if facts.amends is None else amended(facts, facts.amends, _total_minor(ways[0])),
    )


def quote_to_print(paper: QuotePaper) -> Paper:
    """The quote, to be printed: one page for one ring, more where rings and terms need them."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def tied(words: str) -> str:
    """The words with each figure tied to its unit and each day to its month, so that no line parts them."""
    return _HELD.sub("\N{NO-BREAK SPACE}", words)


def tied_ring(ring: RingOnPaper) -> RingOnPaper:
    """The ring with the words that a line may not part."""
    return replace(ring, sentence=tied(ring.sentence), size=tied(ring.size), weight=tied(ring.weight))


def _tied(paper: QuotePaper) -> QuotePaper:
    """The paper with the words that a line may not part."""
    return replace(
        paper,
        issued=tied(paper.issued),
        rings=tuple(map(tied_ring, paper.rings)),
        terms=tuple(tied(term) for term in paper.terms),
        variants=None
        if paper.variants is None
        else replace(
            paper.variants,
            rings=tuple(
                replace(
                    ring,
                    rows=tuple(replace(row, cells=tuple(map(tied, row.cells))) for row in ring.rows),
                )
                for ring in paper.variants.rings
            ),
        ),
    )


def _price(way: OtherWay, facts: QuoteFacts) -> VariantPrice:
    """What one way to make the order costs, in words."""
    tax_minor = sum(line.tax_minor for line in way.lines)

    def line(text: str, minor: int) -> PriceLine:
        return PriceLine(text, money_words(minor, facts.currency))

    return VariantPrice(
        key=way.key,
        title=f"Variant {way.key.upper()}",
        lines=tuple(line(one.text, one.net_minor) for one in way.lines),
        tax=line(_tax_words(facts), tax_minor) if facts.tax_percent else None,
        total=money_words(_total_minor(way), facts.currency),
        deposit=line("Deposit, to begin", way.deposit_minor)
        if way.deposit_minor and facts.amends is None
        else None,
    )


def _total_minor(way: OtherWay) -> int:
    return sum(line.net_minor + line.tax_minor for line in way.lines)


def _compared(facts: QuoteFacts, ways: Sequence[OtherWay], prices: Sequence[VariantPrice]) -> VariantTable:
    """The ways side by side, their rings lying at one scale."""
    wide = _COLUMN_MM[len(ways)] if len(facts.rings) == 1 else _COLUMN_MM[_MOST_WAYS]
    room = (wide, _TOGETHER_MM[1])
    scale = min(quote_ring_scale(ring.reckoning, *room) for way in ways for ring in way.rings)
    return side_by_side(
        [(price, _rings(way.rings, facts, scale)) for way, price in zip(ways, prices, strict=True)]
    )


def _rings(
    rings: Sequence[QuotedRing], facts: QuoteFacts, at_scale: float | None = None
) -> tuple[RingOnPaper, ...]:
    """The rings, those of one order lying at one scale."""
    count = len(rings)
    room = _ALONE_MM if count == 1 else _TOGETHER_MM
    scale = at_scale or min(quote_ring_scale(ring.reckoning, *room) for ring in rings)
    beside = MEASURED_MM if count == 1 else 0.0
    return tuple(
        RingOnPaper(
            title=f"Ring {position} of {count}" if count > 1 else "",
            sentence=ring_sentence(ring.reckoning),
            size=size_sentence(ring.reckoning, ring.taken_on, facts.issued_on),
            weight=weight_sentence(ring.reckoning, facts.hallmark, ring.particulars.marks),
            finish=finish_words(ring.particulars),
            inscription=_inscription(ring.particulars),
            stones=stones_sentence(ring.particulars.stones or ()),
            marks=marks_sentence(ring.particulars.marks),
            lying=spoken(quote_ring(ring.reckoning, scale)),
            section=spoken(quote_section(ring.reckoning)),
            views=spoken(quote_views(ring.reckoning, beside)),
        )
        for position, ring in enumerate(rings, start=1)
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
