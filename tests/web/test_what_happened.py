"""What really happened, on the page of an order and of all kinds: the picture says what the table says."""

import re

import pytest

from studio.book.bench_work import Deed, do_at_bench
from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.craft.bench_work import What
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_ring, an_order, one_step
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.test_counter_price import shown

HAMMERED = a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
NOTED = (("weigh", 8.4, 11), ("pattern", None, 130), ("solder", None, 6))


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        put_figures(book)
    return found


def one_is_made(morning: Morning) -> str:
    """A hammered ring that is quoted, agreed, made with `NOTED`, and ready: its order's number."""
    with morning.book() as book:
        agreed = a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=HAMMERED)])))
        stands = one_step(book, agreed, State.AT_THE_BENCH)
        for key, grams, minutes in NOTED:
            deed = Deed(What.DONE, key, grams, minutes, "noted in the evening")
            do_at_bench(
                book,
                number=stands.number,
                position=1,
                deed=deed,
                actor=PROGRAM,
                now=NOW,
            )
        one_step(book, order(book, stands.number), State.READY)
    return stands.number


def drawn(text: str) -> list[tuple[str, str]]:
    """Kind and value of each bar of the wide picture."""
    wide = text.split("moves-line-wide")[1].split("moves-line-narrow", maxsplit=1)[0]
    return re.findall(r'data-kind="(\w+)" data-value="([^"]+)"', wide)


def table(text: str) -> list[list[str]]:
    """The cells of the first table's lines."""
    body = text.split("<tbody>")[1].split("</tbody>", maxsplit=1)[0]
    rows = (re.findall(r"<td[^>]*>(.*?)</td>", row, re.DOTALL) for row in body.split("</tr>"))
    return [[re.sub(r"<[^>]+>", "", cell).strip() for cell in row] for row in rows if row]


def test_the_order_says_what_it_took_and_the_picture_what_its_table_says(morning: Morning) -> None:
    number = one_is_made(morning)
    here = morning.see(f"/orders/{number}", Role.MAKER)
    href = next(href for words, href in here.links if words.startswith("What really happened"))
    page, text = morning.see(href, Role.MAKER), morning.fetch(href, Role.MAKER)[2].decode()
    lines = {row[0]: row[1:] for row in table(text)}
    told = [line for line in lines.values() if line[1] != "not said"][: len(NOTED)]
    assert drawn(text) == [bar for planned, real, _ in told for bar in (("planned", planned), ("real", real))]
    planned, real, more = lines["Work the pattern, hammered"]
    assert (real, int(more)) == ("130", 130 - int(planned))
    assert f"allow {more.removeprefix('+')} min more at 'Work the pattern, hammered'" in page.words
    assert "8.40 g" in page.words
    assert "Margin" not in page.words
    assert "Margin" in morning.see(f"/orders/{number}/what-happened", Role.OWNER).words


def test_three_rings_that_are_made_change_the_next_price_and_it_says_by_what(morning: Morning) -> None:
    before = shown(morning, Role.OWNER)
    assert "from its table" in before
    kinds = [one_is_made(morning) for _ in range(3)]
    after = shown(morning, Role.OWNER)
    assert "the record of 3 rings the studio made" in after
    assert "130 min, the record of 3 rings" in after
    page = morning.see("/what-happened", Role.COUNTER)
    assert f"Hammered in gold, {len(kinds)} rings" in page.words
    text = morning.fetch("/what-happened", Role.COUNTER)[2].decode()
    (line,) = table(text)
    assert [round(float(value)) for _, value in drawn(text)] == [int(line[1]), int(line[2])]


def test_an_order_that_is_not_made_says_so(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    assert "not made yet" in morning.see(f"/orders/{number}/what-happened", Role.MAKER).words
    assert "noted at the bench" in morning.see("/what-happened", Role.MAKER).words
