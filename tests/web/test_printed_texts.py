"""What is typed stands on paper one day, so what no paper can show is told beside its field."""

import unicodedata
from typing import Any

import pytest

from studio.book.studio import Studio
from studio.papers import fonts
from studio.web.errors import FieldErrors
from studio.web.studio_facts import facts_texts, read_facts
from studio.web.texts import read_name, read_phone, read_text, read_word
from tests.builders import TODAY
from tests.full_studio import ALLOY, GAUGE, PIECE, must_go, sent
from tests.web.house import House, a_ring, an_order
from tests.web.priced import a_quote
from tests.web.shown import Shown

LACKING = "\U0010fffd"
"""A code that is for private use, so no font of any machine has a shape for it."""


def lacking_fonts(monkeypatch: pytest.MonkeyPatch, missing: str) -> None:
    """A machine whose fonts lack these signs, whatever this one has."""
    has_glyph = fonts._has_glyph
    monkeypatch.setattr(fonts, "_has_glyph", lambda sign: sign not in missing and has_glyph(sign))


def sentence_for(typed: str, **how: Any) -> str:
    with pytest.raises(FieldErrors) as told:
        read_text(typed, "note", longest=100, **how)
    (error,) = told.value.errors
    assert error.field == "note"
    return error.message


def test_a_note_on_goods_given_back_is_told_beside_its_field(house: House) -> None:
    house.take_order()
    must_go(sent(house, ORDER, f"{ORDER}/documents/receipt", {"goods": "An old ring"}))
    typed = {"back-r1-1": "yes", "back_note": f"ours{LACKING}"}
    answer = sent(house, ORDER, f"{ORDER}/documents/return", typed)
    assert answer.status_code == 422
    shown = Shown(answer)
    assert shown.by_id("f-back-note-wrong").startswith("No font here has U+10FFFD")
    assert shown.form(f"{ORDER}/documents/return").fields["back_note"] == f"ours{LACKING}"


def test_signs_that_no_font_has_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    lacking_fonts(monkeypatch, "漢字💍")
    assert sentence_for("for 漢") == "No font here has 漢, so no paper could show it. Write it otherwise."
    assert "has 漢, 字 and 💍, so" in sentence_for("漢字 and 漢 💍")


def test_many_signs_are_not_all_named(monkeypatch: pytest.MonkeyPatch) -> None:
    lacking_fonts(monkeypatch, "一二三四五六七")
    assert "has 一, 二, 三, 四, 五 and more, so" in sentence_for("一二三四五六七")


def test_a_sign_without_a_shape_goes_by_its_number() -> None:
    assert "has U+10FFFD, so" in sentence_for(f"a{LACKING}")


@pytest.mark.parametrize(
    "typed", ["Jorun Müller", "Ottilie O’Neil", "Пётр", "Ωμέγα", "½ × 2 °C", "two\nlines"]
)
def test_what_the_papers_fonts_have_is_taken(typed: str) -> None:
    assert read_text(typed, "note", longest=100, has_lines=True) == typed


def test_what_stands_on_no_paper_may_hold_any_sign(monkeypatch: pytest.MonkeyPatch) -> None:
    lacking_fonts(monkeypatch, "漢１２３")
    assert read_word("漢", "q") == "漢"
    assert read_phone("１２３", "phone") == "123"


@pytest.mark.parametrize("sign", list("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"))
def test_signs_that_turn_the_direction_of_writing_are_refused(sign: str) -> None:
    assert unicodedata.category(sign) == "Cf"
    words = "There is a sign in this that cannot be printed. Type it again."
    assert sentence_for(f"a{sign}b") == words
    assert sentence_for(f"a{sign}b", is_printed=False) == words


@pytest.mark.parametrize("name", ["שרה כהן", "محمد", "Sara \u200fכהן"])
def test_names_written_from_right_to_left_are_names(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fonts, "_has_glyph", lambda _: True)
    assert read_name(name, "name") == name


def test_every_text_that_is_printed_is_told_at_its_field(house: House) -> None:
    ring = a_ring(finger={"taken_by": f"I{LACKING}"}, reasons={"narrow-gauge": f"so{LACKING}"})
    order = an_order(rings=[ring], customer={"name": f"N{LACKING}"}, note=f"n{LACKING}")
    answer = house.ask("POST", "/api/orders", json=order)
    assert answer.status_code == 422
    told = {error["field"]: error["message"] for error in answer.json()["errors"]}
    assert set(told) == {
        "customer.name", "note", "rings.0.finger.taken_by", "rings.0.reasons.narrow-gauge",
    }  # fmt: skip
    assert {message.split(",")[0] for message in told.values()} == {"No font here has U+10FFFD"}


def test_the_studios_own_texts_are_told_at_their_fields() -> None:
    stands = Studio("Wrenfold")
    printed = ("name", "subtitle", "address", "tax_name", "returns", "small_print", "custody_note")
    typed = facts_texts(stands) | {"version": "1"} | dict.fromkeys(printed, f"ours{LACKING}")
    with pytest.raises(FieldErrors) as told:
        read_facts(typed, stands, TODAY)
    assert [error.field for error in told.value.errors] == list(printed)


ORDER, QUOTE = "/orders/2026-1", "/quotes/2026-1-q1"
FORMS: tuple[tuple[str, str, dict[str, str], tuple[str, ...]], ...] = (
    ("/studio", "/studio/prices", {"metal": "silver", "price": "1", "unit": "g"}, ("source",)),
    ("/studio/practice", "/studio/practice", {"kerf_mm": "0.4"}, ("source",)),
    ("/studio/gauges", "/studio/gauges", GAUGE, ("name-0", "note-0")),
    ("/studio/alloys", "/studio/alloys", ALLOY, ("name-new", "note-new")),
    ("/metal", "/metal", PIECE, ("lot-new", "place-new")),
    ("/customers/1", "/customers/1", {}, ("name", "note")),
    (QUOTE, f"{QUOTE}/sendings", {"how": "post"}, ("to",)),
    (QUOTE, f"{QUOTE}/agreement", {}, ("name", "without_deposit")),
    (ORDER, f"{ORDER}/plan", {}, ("note", "collects")),
    (ORDER, f"{ORDER}/documents/receipt", {}, ("goods", "goods_bag")),
)
"""Each page with a form, where it goes, what else it asks for, and its fields of words."""


@pytest.mark.parametrize(("page", "action", "typed", "fields"), FORMS, ids=[row[1] for row in FORMS])
def test_every_field_of_every_form_tells_it_beside_itself(
    house: House, page: str, action: str, typed: dict[str, str], fields: tuple[str, ...]
) -> None:
    a_quote(house, house.take_order())
    answer = sent(house, page, action, typed | dict.fromkeys(fields, f"ours{LACKING}"))
    assert answer.status_code == 422
    shown = Shown(answer)
    told = {
        id_: words for id_, words in shown.described.items() if words.startswith("No font here has U+10FFFD")
    }
    assert len(told) == len(fields), shown.words
    assert {shown.form(action).fields[name] for name in fields} == {f"ours{LACKING}"}
