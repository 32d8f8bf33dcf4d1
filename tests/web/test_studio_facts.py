"""What the papers say of the studio, and the first day of a new book."""

import pytest

from studio.book.studio import Studio, studio
from studio.craft.hallmark import HallmarkRule
from studio.craft.roles import Role
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
