"""Metal over time on its page: pictures as the table, values for the owner, a missing price in words."""

import re

import pytest

from studio.book.people import PROGRAM
from studio.book.pieces import PieceDraft, put_piece
from studio.craft.drawer import Measures, PieceKind
from studio.craft.roles import Role
from tests.builders import NOW
from tests.quoting import put_figures
from tests.web.house import House
from tests.web.morning import a_morning


def test_the_pictures_say_what_the_table_says_and_only_who_sees_cost_sees_values(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = a_morning(house, monkeypatch)
    with morning.book() as book:
        put_figures(book)
        for alloy, mass_g in (("silver-925", 73.8), ("gold-750-yellow", 9.6), ("brass", 40.0)):
            sheet = Measures(PieceKind.SHEET, alloy, 198, 24, 1.5)
            put_piece(book, piece=PieceDraft(sheet, mass_g=mass_g, is_sure=True), actor=PROGRAM, now=NOW)
    _, _, told = morning.fetch("/metal/over-time")
    text = told.decode()
    pictures = text.split('class="moves-many"')[1].split("<table", maxsplit=1)[0]
    first_row = text.split("<tbody>")[1].split("</tr>", maxsplit=1)[0]
    drawn = [f"{float(value):.3f}" for value in re.findall(r'data-value="([^"]+)"', pictures)]
    assert drawn == re.findall(r'class="number">([\d.]+)<', first_row)[:-1] == ["73.800", "40.000", "9.600"]
    page = morning.see("/metal/over-time")
    assert "£535.75" in page.words, "73.8 g x 0.925 x 0.95, and 9.6 g of gold with its silver"
    assert "Without brass, of no known price that day" in page.words
    assert "What is held, in money" not in morning.see("/metal/over-time", Role.MAKER).words
