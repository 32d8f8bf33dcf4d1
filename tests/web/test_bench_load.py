"""The load of the bench on its page and the week's hours: the picture says what the table says."""

import re

import pytest

from studio.book.bench_work import Deed, do_at_bench
from studio.book.people import PROGRAM
from studio.craft.bench_work import What
from studio.craft.orders import State
from tests.builders import NOW, TODAY, an_order
from tests.quoting import put_figures
from tests.web.house import House
from tests.web.morning import a_morning


def test_the_picture_says_what_the_table_says_and_the_week_has_its_hours(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = a_morning(house, monkeypatch)
    with morning.book() as book:
        put_figures(book)
        made = an_order(book, state=State.AT_THE_BENCH, bench_on=TODAY)
        deed = Deed(What.DONE, "weigh", minutes=90)
        do_at_bench(book, number=made.number, position=1, deed=deed, actor=PROGRAM, now=NOW)
    _, _, told = morning.fetch("/week/load")
    text = told.decode()
    wide = text.split("moves-line-wide")[1].split("moves-line-narrow", maxsplit=1)[0]
    drawn = re.findall(r'data-kind="(\w+)" data-value="([^"]+)"', wide)
    body = text.split("<tbody>")[1].split("</tbody>", maxsplit=1)[0]
    rows = [re.findall(r'class="number">(.*?)</td>', row) for row in body.split("</tr>")[:-1]]
    assert [f"{float(value):.1f}" for kind, value in drawn if kind == "planned"] == [row[1] for row in rows]
    assert [f"{float(value):.1f}" for kind, value in drawn if kind == "real"] == [
        row[2] for row in rows if row[2]
    ]
    assert re.search(r"Week 48</a><strong>, this week", body)
    hours = rows[8][1]
    assert rows[8] == ["1", hours, "1.5"]
    week = morning.see("/week")
    assert f"{hours} hours are planned at the bench for one ring; 1.5 hours are noted." in week.words
    assert week.link("The load of the bench") == "/week/load"
