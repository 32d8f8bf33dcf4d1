"""The finish and the inscription: asked at the counter, priced, read back, on the quote and on the sheet."""

import re

import pytest

from studio.book.orders import Order, order
from studio.craft.orders import State
from studio.craft.particulars import Face, Inscription, Lettering, Particulars, Surface
from studio.craft.roles import Role
from tests.builders import a_ring as a_ring_draft
from tests.builders import an_order as an_order_in
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes
from tests.web.counter_desk import typed, words
from tests.web.house import House, a_ring, an_order
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
TOLD = {
    "finish.inside": "polished",
    "finish.outside": "matt",
    "inscription.face": "inside",
    "inscription.text": "Ada & Jon",
    "inscription.lettering": "script",
}
TO_CUT = Inscription("Ada & Jon", Face.INSIDE, Lettering.SCRIPT)
CUT = Particulars(Surface.POLISHED, Surface.PLATED, TO_CUT)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book, letter_minor=250, plating_minor=1800)
    return opened


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, NUMBER)


def at_the_counter(morning: Morning, **changed: str) -> str:
    form = typed() | {name.replace("__", "."): value for name, value in changed.items()}
    headers = morning._cookie(Role.COUNTER)
    return morning.house.browse("POST", "/counter/figures", Role.COUNTER, headers=headers, data=form).text


def save(morning: Morning, **changed: str) -> None:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    fields = form.fields | typed() | TOLD | {name.replace("__", "."): v for name, v in changed.items()}
    status, _, page = morning.send("/orders", fields | {"act": "save"}, Role.COUNTER)
    assert status == 303, page.words


def test_what_is_asked_at_the_counter_is_kept_and_comes_back(morning: Morning) -> None:
    save(morning)
    (ring,) = stands(morning).rings
    assert ring.particulars == Particulars(Surface.POLISHED, Surface.MATT, TO_CUT)
    again = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1").fields
    assert {name: again[name] for name in TOLD} == TOLD
    assert "inscription.read_back" not in again
    seen = morning.see(PAGE, Role.COUNTER).words
    assert "Polished inside, matt outside" in seen
    assert "“Ada & Jon”, inside, in script." in seen
    assert "7 letters, 2 mm high, about 12 mm of the" in seen


def test_none_wanted_is_an_answer(morning: Morning) -> None:
    save(morning, inscription__face="none", inscription__text="")
    (ring,) = stands(morning).rings
    assert ring.particulars.inscription == Inscription()
    assert stands(morning).missing.nice == ("promised day", "stones of ring 1", "marks of ring 1")
    assert "None wanted" in morning.see(PAGE, Role.COUNTER).words


def test_the_signs_are_spelt_and_their_room_told_while_typing(morning: Morning) -> None:
    told = words(at_the_counter(morning, **{name.replace(".", "__"): value for name, value in TOLD.items()}))
    assert "7 letters, 2 mm high, about 12 mm of the" in told
    assert "A | d | a | (space) | & | (space) | J | o | n" in told
    long = words(at_the_counter(morning, inscription__face="inside", inscription__text="m" * 90))
    assert "Too long: 90 letters, 2 mm high, take about 135 mm of the" in long


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("finish.inside", "shiny", "finish.inside"),
        ("inscription.text", "x" * 121, "This is too long: 121 signs where 120 have room."),
        ("inscription.letter_mm", "12", "inscription.letter_mm"),
    ],
)
def test_what_cannot_be_is_told_at_its_field_and_nothing_is_lost(
    morning: Morning, field: str, value: str, sentence: str
) -> None:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    fields = form.fields | typed() | TOLD | {field: value, "act": "save"}
    status, _, page = morning.send("/orders", fields, Role.COUNTER)
    assert status == 422
    wrong = page.by_id(f"f-{field.replace('.', '-').replace('_', '-')}-wrong")
    assert wrong
    if sentence != field:
        assert sentence in wrong
    back = page.form("/orders").fields
    kept = TOLD | {field: value}
    assert {name: back[name] for name in kept if name != "finish.inside"} == {
        name: text for name, text in kept.items() if name != "finish.inside"
    }


def test_letters_and_plating_are_lines_of_the_price(morning: Morning) -> None:
    with morning.book() as book:
        found = an_order_in(book, rings=[a_ring_draft(particulars=CUT)])
        quoted = a_quote(book, found)
    lines = {line.text: line.net_minor for line in quoted.lines}
    assert lines["Its inscription, 7 letters"] == 7 * 250
    assert lines["Its plating"] == 1800


def test_the_quote_and_the_sheet_say_what_is_made(morning: Morning) -> None:
    with morning.book() as book:
        found = an_order_in(book, rings=[a_ring_draft(particulars=CUT)])
        a_yes(book, a_quote(book, found, pdf=None))
    quote = text_of(
        morning.house.browse("GET", f"/quotes/{NUMBER}-q1.pdf", headers=morning._cookie(Role.OWNER)).content
    )
    assert "polished inside, plated outside" in quote
    assert "“Ada & Jon”, inside, in script." in quote
    sheet = text_of(
        morning.house.browse("GET", f"{PAGE}/bench-sheet.pdf", headers=morning._cookie(Role.OWNER)).content
    )
    assert "Cut the inscription" in sheet
    assert "Not read back yet." in sheet
    assert "Not yet for the bench" in sheet


def test_the_proof_is_led_to_where_there_are_words_to_cut(morning: Morning) -> None:
    with morning.book() as book:
        an_order_in(book, rings=[a_ring_draft(particulars=CUT), a_ring_draft()])
    page = morning.see(PAGE, Role.MAKER)
    found = [(words, href) for words, href in page.links if words.startswith("Print the inscription")]
    assert found == [("Print the inscription at true size, First ring", f"{PAGE}/rings/1/inscription.pdf")]
    assert morning.fetch(found[0][1], Role.MAKER)[:2] == (200, "application/pdf")


@pytest.mark.parametrize("state", [State.QUOTED, State.AGREED])
def test_an_inscription_is_read_back_after_the_quote_and_the_quote_stands(
    morning: Morning, state: State
) -> None:
    with morning.book() as book:
        asked = a_quote(book, an_order_in(book, rings=[a_ring_draft(particulars=CUT)]))
        before = a_yes(book, asked) if state is State.AGREED else order(book, NUMBER)
    assert "inscription read back of ring 1" in before.missing.bench
    path = f"{PAGE}/rings/1/read-back"
    page = morning.see(PAGE, Role.COUNTER)
    assert "A | d | a | (space) | & | (space) | J | o | n" in page.words
    form = page.form(path)
    assert morning.send(f"{PAGE}/rings/7/read-back", {**form.fields, "idempotency_key": "7"})[0] == 404
    status, where, _ = morning.send(form.action, form.fields, Role.COUNTER)
    assert (status, where) == (303, PAGE)
    after = stands(morning)
    assert (after.state, after.quotes, after.agreement) == (state, before.quotes, before.agreement)
    assert "inscription read back of ring 1" not in after.missing.bench
    assert not [form for form in morning.see(PAGE, Role.COUNTER).forms if form.action == path]


def test_another_inscription_after_the_quote_needs_another_quote(morning: Morning) -> None:
    with morning.book() as book:
        a_quote(book, an_order_in(book, rings=[a_ring_draft(particulars=CUT)]))
    form = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1")
    fields = form.fields | {"inscription.text": "Ada & John", "act": "save"}
    assert morning.send(form.action, fields, Role.COUNTER)[0] == 303
    assert stands(morning).state is State.DRAFT
    assert re.search(r"inscription Ada & John, before Ada & Jon", morning.see(PAGE, Role.COUNTER).words)


def test_the_api_takes_gives_and_takes_back_what_it_gave(house: House) -> None:
    finish, inscription = {"inside": "polished", "outside": None}, {"text": "Ø", "face": "outside"}
    asked = an_order(rings=[a_ring(finish=finish, inscription=inscription)])
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=asked).json()
    path = f"/api/orders/{taken['number']}"
    (ring,) = house.ask("GET", path, Role.COUNTER).json()["rings"]
    assert ring["finish"] == finish
    assert ring["inscription"] == {
        "text": "Ø", "face": "outside", "lettering": "roman", "letter_mm": None, "read_back": False,
    }  # fmt: skip
    again = {name: value for name, value in ring.items() if name not in {"ring", "reckoning"}}
    answer = house.ask("PATCH", path, Role.COUNTER, json={"version": 1, "rings": [again]})
    assert answer.status_code == 200
    assert house.ask("GET", path, Role.COUNTER).json()["rings"] == [ring]


def test_the_api_names_the_field_that_cannot_be(house: House) -> None:
    asked = an_order(rings=[a_ring(finish={"inside": "shiny"}, inscription={"text": "a\nb"})])
    answer = house.ask("POST", "/api/orders", Role.COUNTER, json=asked)
    assert answer.status_code == 422
    fields = {error["field"] for error in answer.json()["errors"]}
    assert fields == {"rings.0.finish.inside", "rings.0.inscription.text"}


def test_other_words_than_those_read_back_are_read_back_anew(morning: Morning) -> None:
    save(morning, inscription__read_back="yes")
    path = f"{PAGE}/rings/1"
    form = morning.see(path, Role.COUNTER).form(path)
    assert form.fields["inscription.read_back"]
    assert morning.send(path, form.fields | {"note": "by noon", "act": "save"}, Role.COUNTER)[0] == 303
    assert "inscription read back of ring 1" not in stands(morning).missing.bench
    form = morning.see(path, Role.COUNTER).form(path)
    changed = form.fields | {"inscription.text": "Ada & John", "act": "save"}
    assert morning.send(path, changed, Role.COUNTER)[0] == 303
    assert "inscription read back of ring 1" in stands(morning).missing.bench
