"""A name written from right to left in a line that is not: what stands around it keeps its place."""

from dataclasses import replace

import pytest

from studio.craft.directions import apart
from studio.craft.particulars import Inscription, Particulars, Stone
from studio.papers.bench_sheet import bench_sheets
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from tests.papers.laid_out import glyphs, pages_of
from tests.papers.quotes import QUOTES
from tests.papers.sheets import SHEETS

NAMES = {"arabic": "محمد عبد الله", "hebrew": "שרה כהן"}


def words_from_left(pdf: bytes, first: str) -> list[str]:
    """The words of the line that begins with `first`, as they stand from left to right."""
    for _, _, words, boxes in pages_of(pdf):
        if first in words:
            middle = boxes[words.index(first)][[1, 3]].mean()
            line = [at for at, box in enumerate(boxes) if box[1] < middle < box[3]]
            return [words[at] for at in sorted(line, key=lambda at: float(boxes[at][0]))]
    raise AssertionError(f"{first} is not there")


def test_words_from_the_left_go_in_as_they_are() -> None:
    for words in ("", "Jorun Müller", "Пётр", "山田 花子"):
        assert apart(words) == words


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_words_from_the_right_are_kept_apart(name: str) -> None:
    assert apart(name) == f"\u2068{name}\u2069"


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_the_day_of_a_quote_stands_behind_such_a_name(name: str) -> None:
    facts = replace(QUOTES["hammered-flat"], customer=name)
    pdf = printed(quote_to_print(quote_paper(facts)))
    line = words_from_left(pdf, "for")
    assert line[0] == "for"
    assert line[-5:] == ["26", "November", "2026,", "order", "2026-118"]
    assert 0 not in set(glyphs(pdf))


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_a_bench_sheet_reads_on_behind_such_words(name: str) -> None:
    stones = (Stone(2, shape=name, size="3 mm", stated=name),)
    told = Particulars(inscription=Inscription(name), stones=stones)
    ring = replace(SHEETS["plain"], customer=name, particulars=told, taken_by=name)
    pdf = printed(bench_sheets([ring], title="Bench sheet"))
    assert words_from_left(pdf, "Stone")[:2] == ["Stone", "2"]
    line = words_from_left(pdf, "letters")
    assert line.index("inside,") < line.index("roman,") < line.index("letters")
    assert 0 not in set(glyphs(pdf))
