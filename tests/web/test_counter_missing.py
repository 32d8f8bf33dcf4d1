"""What is not yet asked, beside the drawing and at its field, as the form is typed."""

import re

import pytest

from studio.craft.roles import Role
from tests.builders import a_finger, a_narrowly_measured_ring, a_ring, an_order
from tests.web.counter_desk import typed, words
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    return opened


def lists(text: str) -> dict[str, str]:
    """The lists by their heading: {'Missing for the quote': 'A telephone number'}."""
    found = re.findall(
        r'<section class="missing-list">\s*<h2>(.*?)</h2>(.*?)</section>', text, flags=re.DOTALL
    )
    return {heading: words(items) for heading, items in found}


def missing(morning: Morning, query: str = "", **changed: str) -> dict[str, str]:
    return lists(fragment(morning, query, Role.COUNTER, **changed))


def fragment(morning: Morning, query: str = "", role: Role = Role.COUNTER, **changed: str) -> str:
    form = typed(**changed)
    answer = morning.house.browse(
        "POST", f"/counter/figures{query}", role, headers=morning._cookie(role), data=form
    )
    assert answer.status_code == 200
    return answer.text


def test_a_form_with_everything_waits_for_nothing_before_the_quote(morning: Morning) -> None:
    told = missing(morning)
    assert told["Missing for the quote"] == "nothing"
    assert re.fullmatch(r"The day at the bench Deposit of £[\d,.]+", told["Missing for the bench"])
    assert told["Good to have"] == "The day we promise the finish an inscription stones"


def test_what_holds_up_the_quote_is_in_the_list_and_at_its_field(morning: Morning) -> None:
    text = fragment(morning, wanted_on="", customer__phone="")
    assert lists(text)["Missing for the quote"] == "A telephone number The day it is wanted"
    for field in ("f-customer-phone", "f-wanted-on"):
        label = re.search(rf'<label for="{field}"[^>]*class="hand">(.*?)</label>', text, flags=re.DOTALL)
        assert label is not None, field
        assert "missing" in words(label.group(1))
    assert 'href="#f-wanted-on"' in text


def test_a_size_that_was_only_told_holds_up_the_quote(morning: Morning) -> None:
    assert missing(morning, finger__measured="told")["Missing for the quote"] == "A measured finger"


def test_a_size_between_two_holds_up_the_bench_alone(morning: Morning) -> None:
    told = missing(morning, finger__size="J", finger__size_to="M")
    assert told["Missing for the quote"] == "nothing"
    assert "one size, not a range" in told["Missing for the bench"].lower()


def test_an_empty_form_lists_everything_in_one_paragraph_and_marks_no_field(morning: Morning) -> None:
    page = morning.house.browse("GET", "/orders/new", headers=morning._cookie(Role.COUNTER)).text
    told = lists(page)["Missing for the quote"]
    for word in ("The name", "the size", "the width", "the thickness", "the metal", "the day it is wanted"):
        assert word in told
    assert 'class="missing-run"' in page
    assert 'class="hand">' not in page.partition("<h1>")[2].partition('id="reckoned"')[0]


def test_a_warning_that_wants_a_reason_holds_up_the_bench(morning: Morning) -> None:
    told = missing(morning, finger__gauge_width_mm="3")["Missing for the bench"]
    assert "A reason for the narrow gauge" in told or "a reason for the narrow gauge" in told
    given = missing(
        morning, finger__gauge_width_mm="3", **{"reasons.narrow-gauge": "the wide set is lent out"}
    )
    assert "narrow gauge" not in given["Missing for the bench"]


def test_what_another_ring_of_the_order_misses_leads_to_that_ring(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book, rings=[a_narrowly_measured_ring(), a_ring(a_finger("V"))]).number
    text = fragment(morning, f"?order={number}&ring=2")
    assert f'href="/orders/{number}/rings/1"' in text
    assert "narrow gauge, ring 1" in words(text)


def test_what_the_studio_has_not_said_holds_up_the_quote_too(morning: Morning) -> None:
    assert missing(morning, alloy="copper")["Missing for the quote"] == "The price of copper"
    assert 'href="/studio"' in fragment(morning, role=Role.OWNER, alloy="copper")
    assert 'href="/studio"' not in fragment(morning, alloy="copper")


def test_a_maker_is_not_asked_what_only_the_counter_can_answer(morning: Morning) -> None:
    assert lists(fragment(morning, role=Role.MAKER, wanted_on="")) == {}
