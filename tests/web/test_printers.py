"""The page of the printers, and the sheets that are drawn for them."""

import pytest

from studio.book.printers import drawn_for, printers
from studio.craft.printers import FOR_ANY, Drawn, PaperSize
from tests.papers.printed import text_of
from tests.web.house import House, a_ring
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

ADDRESS = "/printers"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def send(morning: Morning, number: int = 0, **fields: str) -> tuple[int, str, Shown]:
    """The form of a printer as its page sends it, some fields otherwise."""
    address = f"{ADDRESS}/{number}" if number else ADDRESS
    form = morning.see(ADDRESS).form(address).fields
    return morning.send(
        address, form | {"paper-0": "A4"} | {f"{key}-{number}": fields[key] for key in fields}
    )


def usual(morning: Morning) -> Drawn:
    with morning.book() as book:
        return drawn_for(book)


def test_a_printer_is_put_in_becomes_the_usual_one_and_goes_back_to_none(morning: Morning) -> None:
    assert usual(morning) == FOR_ANY
    assert "No printer is put in yet." in morning.see(ADDRESS).words
    assert send(morning, name="Back room", across_mm="97.2", is_usual="yes")[:2] == (303, ADDRESS)
    assert usual(morning) == Drawn("Back room", PaperSize.A4, 97.2, 100.0)
    assert "A4, bars of 97.2 across and 100 down; sheets are drawn for it" in morning.see(ADDRESS).words
    assert send(morning, 1, across_mm="", paper="Letter")[0] == 303
    assert usual(morning) == Drawn("Back room", PaperSize.LETTER)
    assert send(morning, name="Counter", is_usual="yes")[0] == 303
    with morning.book() as book:
        assert [(one.drawn.name, one.is_usual) for one in printers(book)] == [
            ("Counter", True), ("Back room", False),
        ]  # fmt: skip


@pytest.mark.parametrize(("typed", "field"), [("89.9", "across_mm"), ("110.1", "down_mm"), ("x", "down_mm")])
def test_what_no_bar_can_measure_is_refused_beside_its_field(
    morning: Morning, typed: str, field: str
) -> None:
    status, _, page = send(morning, 0, **{"name": "Back room", field: typed})
    assert status == 422
    assert page.by_id(f"f-{field.replace('_', '-')}-0-wrong")
    fields = page.form(ADDRESS).fields
    assert (fields["name-0"], fields[f"{field}-0"]) == ("Back room", typed)
    with morning.book() as book:
        assert printers(book) == ()


def test_two_printers_of_one_name_and_a_name_too_long_are_refused(morning: Morning) -> None:
    send(morning, name="Back room")
    assert send(morning, name="back ROOM")[2].by_id("f-name-0-wrong").startswith("There is another called")
    assert send(morning, name="x" * 25)[0] == 422


def test_who_was_second_is_told_and_loses_nothing(morning: Morning) -> None:
    send(morning, name="Back room")
    first = morning.see(ADDRESS).form(f"{ADDRESS}/1").fields
    assert send(morning, 1, across_mm="97.2")[0] == 303
    status, _, page = morning.send(f"{ADDRESS}/1", first | {"across_mm-1": "98"})
    assert status == 409
    assert "Somebody else changed this printer meanwhile" in page.words
    assert page.form(f"{ADDRESS}/1").fields["across_mm-1"] == "98"


def test_a_sheet_is_for_the_usual_printer_unless_another_or_none_is_asked(morning: Morning) -> None:
    send(morning, name="Back room", across_mm="97.2", is_usual="yes")

    def words(query: str) -> str:
        answer = morning.house.browse("GET", f"{ADDRESS}/check-sheet.pdf{query}")
        assert answer.status_code == 200
        return text_of(answer.content)

    assert "Drawn for Back room" in words("")
    assert "Drawn for Back room" in words("?printer=1")
    assert "nothing corrected" in words("?printer=none")
    assert morning.house.browse("GET", f"{ADDRESS}/check-sheet.pdf?printer=9").status_code == 404
    assert morning.house.browse("GET", f"{ADDRESS}/check-sheet.pdf?printer=x").status_code == 422


def test_repeats_are_asked_by_a_pitch_and_printed(morning: Morning) -> None:
    house = morning.house
    number = house.take_order(rings=[a_ring()])
    address = f"/orders/{number}/rings/1/repeats"
    assert address in [href for _, href in morning.see(f"/orders/{number}").links]
    page = morning.see(f"{address}?pitch=2.5")
    assert "repeats of" in page.words
    paper = house.browse("GET", f"{address}.pdf?pitch=2.5")
    assert paper.status_code == 200
    assert "seam" in text_of(paper.content)
    wrong = house.browse("GET", f"{address}?pitch=99")
    assert wrong.status_code == 422
    assert Shown(wrong).form(address).fields["pitch"] == "99"
    assert house.browse("GET", f"{address}.pdf?pitch=").status_code == 422
    plain = house.take_order(rings=[a_ring(pattern="plain", pattern_when=None)])
    assert house.browse("GET", f"/orders/{plain}/rings/1/repeats").status_code == 409
