"""The sheet of a hand-over: what it says, sums that balance, and that no words lie on each other."""

import re
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from studio.craft.as_made import MadeFigures
from studio.craft.goods import GivenBack, Good
from studio.craft.particulars import Particulars
from studio.papers.hand_over import HandedRing, HandOverFacts, hand_over_paper, hand_over_to_print
from studio.papers.printing import printed
from tests.papers.documents import HEIRLOOM
from tests.papers.laid_out import out_of_page, overlapping, pages_of
from tests.papers.printed import catalogue, structure, text_of
from tests.papers.quotes import QUOTES, WRENFOLD

OLD_RING = Good("2026-118-r1", 2, words="A thin old ring, for its gold", weight_mg=2_140, bag="A-17")
CHAIN = Good("2026-118-r1", 3, words="A bit of chain", weight_mg=1_000)
STONE = Good("2026-118-r1", 1, 1, 1, HEIRLOOM)


def a_ring(kind: str = "hammered-flat", made: MadeFigures | None = None, **changes: Any) -> HandedRing:
    """The first ring of a quote, made half a size larger than it was ordered."""
    quoted = QUOTES[kind].rings[0]
    ordered = quoted.reckoning.circumference_mm
    figures = made or MadeFigures(size_mm=ordered + 0.625, finished_g=8.42, lot="A-77")
    ring = HandedRing(quoted.reckoning, quoted.particulars, True, figures, "P", ordered)  # noqa: FBT003  a fact
    return replace(ring, **changes)


def a_sheet(*rings: HandedRing, **changes: Any) -> HandOverFacts:
    facts = HandOverFacts(
        studio=WRENFOLD,
        number="2026-118-h1",
        order_number="2026-118",
        customer="Ines Radley",
        issued_on=date(2026, 12, 11),
        by="Ivo",
        rings=rings or (a_ring(),),
        resizing_note="One change of size is free in the first year.",
        given_back=(
            GivenBack(STONE, None, is_used=True),
            GivenBack(OLD_RING, 600, is_used=True),
            GivenBack(CHAIN, 1_000),
        ),
        due_minor=168_000,
        paid_minor=168_000,
        currency="GBP",
    )
    return replace(facts, **changes)


@cache
def sheet() -> bytes:
    return printed(hand_over_to_print(hand_over_paper(a_sheet())))


def test_the_sheet_says_what_was_made_and_how_to_look_after_it() -> None:
    words = " ".join(text_of(sheet()).split())
    for said in (
        "Hand-over 2026-118-h1 for Ines Radley, 11 December 2026, order 2026-118",
        "A flat band, 6 mm wide and 1.6 mm thick, hammered all round by hand",
        "UK P, 56.25 mm round inside; ordered at UK O½",
        "750 parts in 1,000 of gold; lot A-77",
        "8.42 g, weighed",
        "hallmarked",
        "Wear it for a week or two before you judge the fit.",
        "Take the ring off for heavy work",
        "The ring can later be made one size larger or smaller",
        "One change of size is free in the first year.",
        "Left to pay £0.00",
        "Handed over by Ivo, Wrenfold",
        "Received by Ines Radley",
    ):
        assert said in words, words
    for kept_inside in ("pickle", "nickel", "£400", "risk"):
        assert kept_inside not in words


def test_what_came_in_is_what_was_used_and_what_went_back() -> None:
    paper = hand_over_paper(a_sheet())
    assert [(one.weight_in, one.used, one.back) for one in paper.goods] == [
        ("not weighed", "in the ring", "with the ring"),
        ("2.14 g", "1.54 g", "0.6 g"),
        ("1 g", "0 g", "1 g"),
    ]
    assert paper.balance is not None
    came, used, back = (
        float(words.removesuffix(" g"))
        for words in (paper.balance.weight_in, paper.balance.used, paper.balance.back)
    )
    assert came == pytest.approx(3.14)
    assert used + back == pytest.approx(came)
    row = re.search(r"Weighed in all\s+([\d.]+)\s*g\s+([\d.]+)\s*g\s+([\d.]+)\s*g", text_of(sheet()))
    assert row is not None
    assert [float(one) for one in row.groups()] == [came, used, back]


def test_nothing_lies_on_anything_else() -> None:
    pair = [a_ring("pair", MadeFigures()), a_ring("engraved", MadeFigures(), is_marked=False)]
    long = "Wolfeschlegelsteinhausenbergerdorff " * 3
    crowded = a_sheet(
        *pair,
        customer=long.strip(),
        given_back=tuple(GivenBack(replace(CHAIN, words=long * 4, place=at), 400) for at in range(9)),
        left=(OLD_RING,),
        resizing_note="\n".join([long] * 4),
    )
    for pdf in (sheet(), printed(hand_over_to_print(hand_over_paper(crowded)))):
        assert out_of_page(pdf) == []
        assert overlapping(pdf) == []
    assert len(list(pages_of(sheet()))) <= 2


def test_nothing_that_is_not_known_is_made_up() -> None:
    bare = a_sheet(a_ring(made=MadeFigures(), label=""), given_back=(), due_minor=None, resizing_note="")
    told = hand_over_paper(replace(bare, rings=(replace(bare.rings[0], particulars=Particulars()),)))
    facts = dict(told.rings[0].facts)
    assert facts["Size"] == "UK O½, as ordered"
    assert facts["Weight"].startswith("about ")
    assert "Finish" not in facts
    assert (told.goods, told.balance, told.sums) == ((), None, ())
    with pytest.raises(ValueError, match="needs a ring"):
        hand_over_paper(replace(bare, rings=()))


def test_it_is_tagged_and_has_a_title() -> None:
    assert {"/H1", "/H2", "/P", "/Table", "/TH", "/TD"} <= {str(part["/S"]) for part in structure(sheet())}
    title = catalogue(sheet())["/Metadata"].get_object().get_data().decode()
    assert "Hand-over 2026-118-h1, Ines Radley" in title
