"""The papers of an order on its page: who makes them, who sees them, what is held for the customer."""

from dataclasses import replace
from datetime import timedelta

import pytest

from studio.book.orders import order
from studio.craft.particulars import NOT_ASKED, Risk, Setting, Stone, Whose
from studio.craft.roles import Role
from tests.builders import NOW, a_ring, an_order
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up
from tests.web.shown import Form, Shown

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
CONFIRM, RECEIVE, RETURN = (f"{PAGE}/documents/{kind}" for kind in ("confirmation", "receipt", "return"))
SAPPHIRE = Stone(
    1, Whose.CUSTOMER, "oval", "5 x 3 mm", "sapphire", value="£400", setting=Setting.BEZEL, risk=Risk.CUSTOMER
)
OPAL = Stone(1, Whose.CUSTOMER, stated="opal", risk=Risk.STUDIO)


def a_studio(house: House, monkeypatch: pytest.MonkeyPatch, *stones: Stone) -> Morning:
    """A studio with one draft whose ring is set with these stones."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book, setting_minor=1200)
        an_order(book, rings=[a_ring(particulars=replace(NOT_ASKED, stones=stones))])
    return opened


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_studio(house, monkeypatch, SAPPHIRE, OPAL)


def agree_to_it(morning: Morning) -> None:
    with morning.book() as book:
        a_yes(book, a_quote(book, order(book, NUMBER)))


def form(morning: Morning, action: str, role: Role = Role.COUNTER) -> Form:
    return morning.see(PAGE, role).form(action)


def press(morning: Morning, action: str, **typed: str) -> Shown:
    """The order's page after a form of it that has to be kept."""
    filled = form(morning, action).filled(**{name.replace("__", "-"): value for name, value in typed.items()})
    status, where, page = morning.send(action, filled, Role.COUNTER)
    assert (status, where) == (303, f"{PAGE}#papers"), page.words
    return morning.see(PAGE, Role.COUNTER)


def refused(morning: Morning, action: str, filled: dict[str, str], status: int) -> Shown:
    told, _, page = morning.send(action, filled, Role.COUNTER)
    assert told == status, page.words
    return page


def actions(page: Shown) -> set[str]:
    return {one.action for one in page.forms}


def test_a_confirmation_is_made_on_the_order_s_page_from_the_yes_on(morning: Morning) -> None:
    assert CONFIRM not in actions(morning.see(PAGE, Role.COUNTER))
    agree_to_it(morning)
    page = press(morning, CONFIRM)
    assert f"{NUMBER}-c1 Order confirmation made Wed 25 Nov, 10:00 by Ivo" in page.words
    assert "Make the confirmation again" in page.words
    assert f"Ivo made a confirmation, {NUMBER}-c1." in page.words
    answer = morning.house.ask("GET", page.link(f"{NUMBER}-c1"), Role.COUNTER)
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == f'inline; filename="{NUMBER}-c1.pdf"'
    assert f"Order confirmation {NUMBER}-c1" in text_of(answer.content)
    again = press(morning, CONFIRM)
    assert [words for words, _ in again.links if words.startswith(f"{NUMBER}-c")] == [
        f"{NUMBER}-c2",
        f"{NUMBER}-c1",
    ]
    assert morning.house.ask("GET", f"/documents/{NUMBER}-c1.pdf").content == answer.content


def test_pressed_twice_one_confirmation_is_made(morning: Morning) -> None:
    agree_to_it(morning)
    filled = form(morning, CONFIRM).fields
    for _ in range(2):
        assert morning.send(CONFIRM, filled, Role.COUNTER)[0] == 303
    with morning.book() as book:
        made = [one.number for one in order(book, NUMBER).documents]
    assert made == [f"{NUMBER}-p1", f"{NUMBER}-c1"]


def test_a_confirmation_before_the_yes_is_refused_in_words(morning: Morning) -> None:
    filled = form(morning, RECEIVE).fields
    page = refused(morning, CONFIRM, filled, 409)
    assert "No confirmation was made" in page.words
    assert f"{NUMBER} is not agreed yet; it is confirmed after the yes." in page.words


def test_stones_and_other_goods_are_taken_in_and_listed_as_held(morning: Morning) -> None:
    page = press(morning, RECEIVE, goods="A thin old ring", goods_weight="2.14 g", goods_bag="A-17")
    assert f"{NUMBER}-r1 Receipt for goods taken in made Wed 25 Nov, 10:00 by Ivo" in page.words
    assert "Held for the customer for ring 1: 1 oval, 5 x 3 mm, said to be sapphire, bezel" in page.words
    assert f"A thin old ring, 2.14 g bag or seal A-17, taken in Wed 25 Nov, {NUMBER}-r1/3" in page.words
    assert f"Ivo took goods in, {NUMBER}-r1." in page.words
    paper = text_of(morning.house.ask("GET", f"/documents/{NUMBER}-r1.pdf").content)
    for said in ("Ivo took them in for us", "Declared value £400", "A thin old ring Weight 2.14 g"):
        assert said in paper
    assert not [name for name in form(morning, RECEIVE).fields if name.startswith("take-")]


def test_a_stone_that_is_not_marked_stays_with_the_customer(morning: Morning) -> None:
    filled = form(morning, RECEIVE).fields
    assert filled.pop("take-1-2") == "yes"
    assert morning.send(RECEIVE, filled, Role.COUNTER)[0] == 303
    with morning.book() as book:
        assert [good.stone for good in order(book, NUMBER).goods_held] == [SAPPHIRE]
    assert form(morning, RECEIVE).fields["take-1-2"] == "yes"


def test_an_unanswered_risk_is_said_beside_the_button_and_refused(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = a_studio(house, monkeypatch, replace(OPAL, risk=None))
    page = morning.see(PAGE, Role.COUNTER)
    missing = "who bears the risk of setting: ring 1, 1, said to be opal, the customer's"
    assert f"Make the receipt Missing {missing}" in page.words
    told = refused(morning, RECEIVE, page.form(RECEIVE).filled(goods="A case"), 409)
    assert "No receipt was made" in told.words
    assert "Say first who bears the risk of setting these stones of the customer's: ring 1" in told.words
    assert told.form(RECEIVE).fields["goods"] == "A case"


def test_what_is_wrong_is_told_by_its_field_and_nothing_typed_is_lost(morning: Morning) -> None:
    typed = {"goods": "", "goods_weight": "heavy", "goods_bag": "x" * 41}
    filled = form(morning, RECEIVE).filled(**typed)
    del filled["take-1-1"]
    page = refused(morning, RECEIVE, filled, 422)
    again = page.form(RECEIVE).fields
    assert {name: again[name] for name in typed} == typed
    assert "take-1-1" not in again
    assert again["take-1-2"] == "yes"
    assert page.by_id("f-goods-wrong") == "What was weighed? Say what was taken in."
    assert "cannot read" in page.by_id("f-goods-weight-wrong")
    assert page.by_id("f-goods-bag-wrong") == "This is too long: 41 signs where 40 have room."


def test_a_receipt_of_nothing_is_told_at_its_field(morning: Morning) -> None:
    filled = {name: value for name, value in form(morning, RECEIVE).fields.items() if "take-" not in name}
    page = refused(morning, RECEIVE, filled, 422)
    assert page.by_id("f-goods-wrong").startswith("Nothing is there to take in: mark a stone")


def test_a_weight_takes_no_other_unit_than_those_of_a_balance(morning: Morning) -> None:
    page = refused(morning, RECEIVE, form(morning, RECEIVE).filled(goods="A ring", goods_weight="3 mm"), 422)
    assert page.by_id("f-goods-weight-wrong") == (
        "We do not know the unit in 3 mm. Use g, mg, ct, dwt or ozt."
    )


def test_what_goes_back_is_taken_off_the_list(morning: Morning) -> None:
    press(morning, RECEIVE, goods="A thin old ring", goods_weight="2.14")
    page = press(morning, RETURN, back_weight__r1__3="1.98", back_note="Assayed first.")
    assert f"{NUMBER}-b1 Receipt for goods given back" in page.words
    assert f"Ivo gave goods back, {NUMBER}-b1." in page.words
    paper = text_of(morning.house.ask("GET", f"/documents/{NUMBER}-b1.pdf").content)
    for said in (f"{NUMBER}-r1 2.14 g 1.98 g", "Assayed first.", "Still with us 1 oval stone"):
        assert said in paper
    press(morning, RETURN, back__r1__1="yes", back__r1__2="yes")
    gone = morning.see(PAGE, Role.COUNTER)
    assert "Held for the customer" not in gone.words
    assert RETURN not in actions(gone)


def test_nothing_marked_goes_back(morning: Morning) -> None:
    press(morning, RECEIVE)
    page = refused(morning, RETURN, form(morning, RETURN).filled(back_note="x"), 422)
    assert page.by_id("f-back-note-wrong") == "What goes back? Mark it in the list."
    assert page.form(RETURN).fields["back_note"] == "x"
    wrong = refused(morning, RETURN, form(morning, RETURN).filled(**{"back_weight-r1-1": "light"}), 422)
    assert "cannot read" in wrong.by_id("f-back-weight-r1-1-wrong")


def test_nothing_goes_back_where_nothing_is_held(morning: Morning) -> None:
    page = refused(morning, RETURN, form(morning, RECEIVE).fields, 422)
    assert "What goes back?" in page.words


def test_makers_see_what_is_held_and_none_of_the_papers(morning: Morning) -> None:
    press(morning, RECEIVE)
    page = morning.see(PAGE, Role.MAKER)
    assert "Held for the customer for ring 1" in page.words
    assert "£400" not in page.words
    assert actions(page) & {CONFIRM, RECEIVE, RETURN} == set()
    assert f"/documents/{NUMBER}-r1.pdf" not in [href for _, href in page.links]
    assert morning.house.ask("GET", f"/documents/{NUMBER}-r1.pdf", Role.MAKER).status_code == 403


def test_an_order_that_is_over_takes_nothing_in(morning: Morning) -> None:
    press(morning, RECEIVE)
    filled = form(morning, RECEIVE).filled(goods="A case")
    move = form(morning, f"{PAGE}/moves")
    assert (
        morning.send(move.action, move.filled("Call it off", **{"reason-called-off": "No."}), Role.COUNTER)[0]
        == 303
    )
    page = morning.see(PAGE, Role.COUNTER)
    assert RECEIVE not in actions(page)
    assert RETURN in actions(page)
    told = refused(morning, RECEIVE, filled, 409)
    assert "The order is called off, so nothing more is taken in for it." in told.words


def test_the_studios_own_words_stand_on_the_receipt(morning: Morning) -> None:
    page = morning.see("/studio")
    assert "Ask your insurer and somebody who knows the law what it has to say." in page.words
    facts = page.form("/studio/facts")
    assert facts.fields["custody_note"].startswith("Your goods stay yours.")
    assert morning.send(facts.action, facts.filled(custody_note="Insured to £500."))[0] == 303
    press(morning, RECEIVE)
    morning.turn_to(NOW + timedelta(hours=1))
    facts = morning.see("/studio").form("/studio/facts")
    assert morning.send(facts.action, facts.filled(custody_note="Not insured."))[0] == 303
    assert "Insured to £500." in text_of(morning.house.ask("GET", f"/documents/{NUMBER}-r1.pdf").content)
