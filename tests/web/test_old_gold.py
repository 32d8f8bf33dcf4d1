"""Old gold over the counter: its worth, the purchase, the note to sign, and who sees the seller."""

import pytest

from studio.craft.roles import Role
from tests.papers.printed import text_of
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up

HREF = "/metal/old-gold"
TYPED = {
    "description": "a worn band", "marks": "=750", "alloy": "gold-750-yellow", "tested": "acid",
    "mass": "8.42", "paid": "300", "method": "bank transfer", "seller": "Hedda Lorne",
    "address": "3 Quay Lane", "identity": "passport, ends 4471", "is_theirs": "yes",
}  # fmt: skip


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    return opened


def buy(morning: Morning, **changes: str) -> tuple[int, str, str]:
    form = morning.see(HREF, Role.COUNTER).form(HREF)
    status, where, page = morning.send(HREF, form.fields | TYPED | {"act": "buy"} | changes, Role.COUNTER)
    return status, where, page.words


def test_the_counter_asks_its_worth_and_buys_it(morning: Morning) -> None:
    form = morning.see(HREF, Role.COUNTER).form(HREF)
    status, _, page = morning.send(
        HREF, form.fields | TYPED | {"act": "worth", "percent": "80"}, Role.COUNTER
    )
    assert status == 200
    assert "6.315 g fine. By today's price" in page.words
    assert "at 80 %" in page.words
    assert page.form(HREF).fields["seller"] == "Hedda Lorne"
    assert "Nothing was bought yet." in page.words
    assert buy(morning)[:2] == (303, HREF)
    words = morning.see(HREF, Role.COUNTER).words
    assert "a worn band, marked =750" in words
    assert "3 Quay Lane" not in words
    assert "Hedda Lorne 3 Quay Lane, passport, ends 4471, kept until" in morning.see(HREF).words


def test_the_note_to_sign_says_all_and_the_file_runs_no_formula(morning: Morning) -> None:
    buy(morning)
    paper = morning.house.browse("GET", f"{HREF}/1.pdf", Role.COUNTER)
    words = " ".join(text_of(paper.content).split())
    for said in ("Old gold 1", "Weight 8.42 g", "Fine metal in it 6.315 g", "Paid £300.00, bank transfer",
                 "Shown passport, ends 4471", "I declare that this is mine"):  # fmt: skip
        assert said in words, words
    listed = morning.house.browse("GET", f"{HREF}.csv").text
    assert "'=750" in listed
    assert morning.house.browse("GET", f"{HREF}.csv", Role.COUNTER).status_code == 403
    assert morning.house.browse("GET", f"{HREF}/9.pdf").status_code == 404


def test_what_is_wrong_is_told_and_nothing_typed_is_lost(morning: Morning) -> None:
    status, _, words = buy(morning, is_theirs="", mass="lots", fineness="1001", identity="")
    assert status == 422
    for said in ("Ask the seller: without their word it is not bought.", "We cannot read"):
        assert said in words
    assert "Nothing was bought yet." in words


def test_the_owner_strikes_an_entry_with_a_reason(morning: Morning) -> None:
    buy(morning)
    action = f"{HREF}/1/strike"
    form = morning.see(HREF).form(action)
    assert morning.send(action, form.filled())[0] == 422
    assert morning.send(action, form.filled(**{"why-1": "weighed with its box"}))[0] == 303
    assert "Struck weighed with its box" in morning.see(HREF).words
    assert morning.send(f"{HREF}/1/forget", {})[0] == 409
