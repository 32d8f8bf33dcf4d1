"""What a customer is told of looking after a ring; common practice, no source."""

from dataclasses import replace
from typing import Any

import pytest

from studio.craft.particulars import Particulars, Setting, Stone, Surface, Whose
from studio.craft.reckonings import reckon
from studio.papers.care_words import care_sentences
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from studio.papers.quote_facts import QuotedRing
from tests.builders import a_design, a_finger
from tests.papers.printed import text_of
from tests.papers.quotes import QUOTES

GOLD, SILVER = "gold-750-yellow", "silver-925"
STONE = Stone(1, Whose.STUDIO, "round", "2 mm", setting=Setting.FLUSH)


def a_quoted_ring(alloy: str, **particulars: Any) -> QuotedRing:
    made = reckon(a_finger(), a_design(alloy=alloy))
    return QuotedRing(made, None, replace(Particulars(), **particulars))


def test_of_a_plain_gold_band_two_things_are_said() -> None:
    assert len(care_sentences([a_quoted_ring(GOLD)])) == 2


def test_no_cloth_is_recommended_for_what_it_would_rub_off() -> None:
    told = care_sentences([a_quoted_ring(SILVER, outside=Surface.OXIDISED)])
    assert not any("polishing cloth" in sentence for sentence in told)


@pytest.mark.parametrize(
    ("ring", "word"),
    [
        (a_quoted_ring(SILVER), "darkens in air"),
        (a_quoted_ring(GOLD, outside=Surface.MATT), "matt"),
        (a_quoted_ring(GOLD, outside=Surface.OXIDISED), "oxidised"),
        (a_quoted_ring(GOLD, inside=Surface.PLATED), "Plating"),
        (a_quoted_ring(GOLD, stones=(STONE,)), "settings"),
    ],
)
def test_what_wears_or_darkens_is_told_once(ring: QuotedRing, word: str) -> None:
    told = care_sentences([ring, ring])
    assert sum(word in sentence for sentence in told) == 1
    assert len(told) == 3


def test_the_care_of_every_variant_is_on_the_page_and_none_on_paper() -> None:
    paper = quote_paper(QUOTES["hammered-flat"])
    assert len(paper.care) >= 2
    words = text_of(printed(quote_to_print(paper)))
    assert [sentence for sentence in paper.care if sentence in words] == []
