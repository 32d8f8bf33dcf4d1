"""What the papers say of the studio, and the first day of a new book."""

from dataclasses import asdict

import pytest

from studio.book.studio import Studio, studio
from studio.craft.hallmark import HallmarkRule
from studio.craft.roles import Role
from studio.papers.house_words import USUAL, Country
from studio.web.studio_facts import LONGEST_TERMS
from tests.papers.printed import text_of
from tests.quoting import a_quote, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

SAVE = "Save for the papers"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def save(morning: Morning, **typed: str) -> tuple[int, str, Shown]:
    form = morning.see("/studio").form("/studio/facts")
    return morning.send("/studio/facts", form.filled(SAVE) | {"hallmark_rule": "uk"} | typed)


def stands(morning: Morning) -> Studio:
    with morning.book() as book:
        return studio(book)


def test_name_address_and_terms_are_kept_as_typed(morning: Morning) -> None:
    answer = save(
        morning,
        name="Wrenfold & Daughters",
        subtitle="rings",
        address="7 Cooper's Stair\r\nOld Town",
        phone="01632 960 715",
        email="book@wrenfold.example",
        hallmark_rule="convention",
        currency="eur",
        tax_name="MwSt",
        returns="Not if made to order.",
        small_print="One.\r\nTwo.",
    )
    assert answer[:2] == (303, "/studio#papers")
    kept = stands(morning)
    assert (kept.name, kept.subtitle, kept.address) == (
        "Wrenfold & Daughters", "rings", "7 Cooper's Stair\nOld Town",
    )  # fmt: skip
    assert (kept.hallmark_rule, kept.currency, kept.tax_name) == (HallmarkRule.CONVENTION, "EUR", "MwSt")
    assert (kept.returns, kept.small_print) == ("Not if made to order.", "One.\nTwo.")
    page = morning.see("/studio")
    assert "Since Wed 25 Nov, 10:00, put in by Maren" in page.words
    assert page.title == "Studio, Wrenfold & Daughters"


def test_law_and_tax_say_whom_to_ask(morning: Morning) -> None:
    words = morning.see("/studio").words
    assert "Ask your assay office." in words
    assert "Ask your accountant." in words
    assert "What a customer may give back is law: ask somebody who knows it." in words


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", " ", "The name is not given yet."),
        ("phone", "ring us", "A phone number is made of digits, such as 01632 960 123."),
        ("email", "nowhere", "An e-mail address looks like name@place.example."),
        ("currency", "POUNDS", "We know no such currency. Type its three letters: GBP."),
        ("currency", "", "The currency is not given yet."),
        ("hallmark_rule", "moon", "We have no hallmark rule called moon. Choose one from the list."),
        ("tax_name", "", "The name of the tax is not given yet."),
        ("address", "a" * 501, "This is too long: 501 signs where 500 have room."),
    ],
)
def test_what_is_wrong_stands_beside_its_field(morning: Morning, field: str, typed: str, words: str) -> None:
    before = stands(morning)
    status, _, page = save(morning, **{"subtitle": "kept typing", field: typed})
    assert (status, page.described[f"f-{field.replace('_', '-')}-wrong"]) == (422, words)
    assert page.form("/studio/facts").fields["subtitle"] == "kept typing"
    assert stands(morning) == before


def test_two_owners_at_once_see_both_versions(morning: Morning) -> None:
    form = morning.see("/studio").form("/studio/facts")
    save(morning, subtitle="silversmiths")
    mine = form.filled(SAVE, subtitle="ring makers", hallmark_rule="uk")
    status, _, page = morning.send("/studio/facts", mine)
    assert status == 409
    assert "Somebody else changed this meanwhile" in page.words
    assert "Below it you typed ring makers stands now silversmiths" in page.words
    again = page.form("/studio/facts").filled(SAVE, hallmark_rule="uk")
    assert morning.send("/studio/facts", again)[0] == 303
    assert stands(morning).subtitle == "ring makers"


def test_the_first_day_leads_the_owner_to_the_rates(morning: Morning) -> None:
    page = morning.see("/")
    assert "Put in your rates" in page.words
    assert "needed for a price" in page.words
    assert page.link("Rates") == "/studio#rates"
    for role in (Role.COUNTER, Role.MAKER):
        assert "Put in your rates" not in morning.see("/", role).words


COUNTRIES = [country for country in Country if country is not Country.ELSEWHERE]


@pytest.mark.parametrize("country", COUNTRIES)
def test_words_to_begin_with_are_offered_for_a_country_and_kept_only_when_saved(
    morning: Morning, country: Country
) -> None:
    before = stands(morning)
    form = morning.see("/studio").form("/studio/facts")
    typed = form.filled("Words to begin with", hallmark_rule="uk", country=country, subtitle="kept typing")
    status, _, page = morning.send("/studio/facts", typed)
    assert status == 200
    assert "Nothing is saved yet. They are no legal advice" in page.words
    offered = page.form("/studio/facts")
    for name, words in asdict(USUAL[country]).items():
        assert words
        assert offered.fields[name] == words
    is_usual = country is not Country.UNITED_STATES
    assert offered.fields.get("invoices_on_account") == ("yes" if is_usual else None)
    assert offered.fields["subtitle"] == "kept typing"
    assert stands(morning) == before
    assert morning.send("/studio/facts", offered.filled(SAVE, hallmark_rule="uk"))[0] == 303
    kept = stands(morning)
    assert kept.country is country
    assert kept.invoices_on_account is is_usual
    assert {name: getattr(kept, name) for name in asdict(USUAL[country])} == asdict(USUAL[country])


@pytest.mark.parametrize("country", ["", "moon"])
def test_for_no_country_there_are_no_words_to_begin_with(morning: Morning, country: str) -> None:
    form = morning.see("/studio").form("/studio/facts")
    typed = form.filled("Words to begin with", hallmark_rule="uk", country=country, subtitle="kept typing")
    status, _, page = morning.send("/studio/facts", typed)
    assert status == 422
    assert "Choose a country" in page.described["f-country-wrong"]
    assert page.form("/studio/facts").fields["subtitle"] == "kept typing"


def test_the_notes_stand_on_the_next_quote_and_not_on_one_that_was_issued(morning: Morning) -> None:
    with morning.book() as book:
        put_figures(book)
        before = a_quote(book, pdf=None)
    save(
        morning, allergy_note="Ask us of nickel.", hallmark_note="Struck in the shop.", resizing_note="Wait."
    )
    with morning.book() as book:
        after = a_quote(book, pdf=None)

    def printed(number: str) -> str:
        headers = morning._cookie(Role.OWNER)
        return text_of(morning.house.browse("GET", f"/quotes/{number}.pdf", headers=headers).content)

    assert "Ask us of nickel." not in printed(before.number)
    words = printed(after.number)
    for note in ("Ask us of nickel.", "Struck in the shop.", "Wait."):
        assert note in words


@pytest.mark.parametrize("country", COUNTRIES)
def test_words_to_begin_with_fit_a_quote_and_speak_of_what_they_must(country: Country) -> None:
    words = USUAL[country]
    assert all(len(text) <= LONGEST_TERMS for text in asdict(words).values())
    assert "faulty" in words.returns
    assert "metals your skin does not bear" in words.allergy_note
    assert "two weeks" in words.resizing_note
