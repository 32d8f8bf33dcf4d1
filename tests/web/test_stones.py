"""Stones: what they are said to be and what was found, whose they are, and who bears the risk of setting."""

import pytest

from studio.book.order_values import OrderRing
from studio.book.orders import order
from studio.craft.particulars import Particulars, Risk, Setting, Stone, Whose
from studio.craft.roles import Role
from studio.craft.stones import stone_line
from tests.builders import a_ring as a_ring_draft
from tests.builders import an_order as an_order_in
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes
from tests.web.counter_desk import typed
from tests.web.house import House, a_ring, an_order
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up
from tests.web.shown import Shown

PAGE = "/orders/2026-1"
FIELDS = {
    "stones.0.count": "3",
    "stones.0.shape": "round",
    "stones.0.size": "2.5 mm",
    "stones.0.stated": "sapphire",
    "stones.0.tested": "",
    "stones.0.condition": "one is chipped at the girdle",
    "stones.0.value": "about 400",
    "stones.0.setting": "flush",
    "stones.0.whose": "customer",
    "stones.0.risk": "",
}
HERS = Stone(
    3,
    Whose.CUSTOMER,
    "round",
    "2.5 mm",
    "sapphire",
    "",
    "one is chipped at the girdle",
    "about 400",
    Setting.FLUSH,
)
SAID = "3 round, 2.5 mm, said to be sapphire, one is chipped at the girdle, flush, the customer's"
AT_OUR_RISK = Stone(whose=Whose.CUSTOMER, stated="opal", risk=Risk.STUDIO)
OURS = Stone(shape="oval", size="4 × 3 mm", tested="garnet", setting=Setting.BEZEL)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book, setting_minor=1200)
    return opened


def send(morning: Morning, **changed: str) -> tuple[int, str, Shown]:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    fields = {name.replace("__", "."): value for name, value in changed.items()}
    sent = form.fields | typed() | FIELDS | fields | {"act": "save", "idempotency_key": "s"}
    return morning.send("/orders", sent, Role.COUNTER)


def ring(morning: Morning) -> OrderRing:
    with morning.book() as book:
        return order(book, "2026-1").rings[0]


def missing(morning: Morning) -> tuple[str, ...]:
    with morning.book() as book:
        return order(book, "2026-1").missing.bench


@pytest.mark.parametrize(
    ("stone", "line"),
    [
        (OURS, "1 oval, 4 × 3 mm, tested garnet, bezel"),
        (HERS, f"{SAID}, risk not answered"),
        (AT_OUR_RISK, "1, said to be opal, the customer's, at our risk"),
    ],
)
def test_a_stone_is_told_in_one_line(stone: Stone, line: str) -> None:
    assert stone_line(stone) == line


def test_stones_are_asked_at_the_counter_kept_and_come_back(morning: Morning) -> None:
    assert send(morning)[0] == 303
    assert ring(morning).particulars.stones == (HERS,)
    again = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1").fields
    assert {name: again[name] for name in FIELDS} == FIELDS
    assert "stones.1.stated" in again, "there is room for one more"
    assert stone_line(HERS) in morning.see(PAGE).words


def test_the_bench_waits_for_who_bears_the_risk(morning: Morning) -> None:
    send(morning)
    assert "risk of the stones of ring 1" in missing(morning)
    form = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1")
    sent = form.fields | {"stones.0.risk": "customer", "act": "save"}
    assert morning.send(form.action, sent, Role.COUNTER)[0] == 303
    assert "risk of the stones of ring 1" not in missing(morning)


def test_none_wanted_is_an_answer_and_an_empty_place_is_none(morning: Morning) -> None:
    nothing = dict.fromkeys(FIELDS, "")
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    sent = form.fields | typed() | nothing | {"stones.asked": "none", "act": "save", "idempotency_key": "n"}
    assert morning.send("/orders", sent, Role.COUNTER)[0] == 303
    assert ring(morning).particulars.stones == ()
    assert "Stones None wanted" in morning.see(PAGE).words


def test_the_second_place_alone_keeps_its_fields(morning: Morning) -> None:
    moved = dict.fromkeys(FIELDS, "") | {name.replace(".0.", ".1."): value for name, value in FIELDS.items()}
    assert send(morning, **{name.replace(".", "__"): value for name, value in moved.items()})[0] == 303
    assert ring(morning).particulars.stones == (HERS,)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("stones.0.count", "0"),
        ("stones.0.count", "many"),
        ("stones.0.setting", "glue"),
        ("stones.0.stated", "x" * 121),
    ],
)
def test_what_cannot_be_is_told_at_its_field(morning: Morning, field: str, value: str) -> None:
    status, _, page = send(morning, **{field.replace(".", "__"): value})
    assert status == 422
    assert page.by_id(f"f-{field.replace('.', '-')}-wrong")
    assert page.form("/orders").fields["stones.0.condition"] == FIELDS["stones.0.condition"]


def test_a_stone_that_nobody_named_is_asked_for(morning: Morning) -> None:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    nameless = FIELDS | {"stones.0.stated": "", "stones.0.shape": "", "act": "quote"}
    status, _, page = morning.send("/orders", form.fields | typed() | nameless, Role.COUNTER)
    assert status == 422
    assert "What is it?" in page.by_id("f-stones-0-stated-wrong")


def test_setting_is_a_line_of_the_price_and_stones_stand_on_both_papers(morning: Morning) -> None:
    told = Particulars(stones=(HERS, OURS))
    with morning.book() as book:
        asked = a_quote(book, an_order_in(book, rings=[a_ring_draft(particulars=told)]), pdf=None)
        a_yes(book, asked)
    assert {line.text: line.net_minor for line in asked.lines}["Setting 4 stones"] == 4 * 1200
    headers = morning._cookie(Role.OWNER)
    quote = text_of(morning.house.browse("GET", f"/quotes/{asked.number}.pdf", headers=headers).content)
    assert "3 round stones, 2.5 mm, said to be sapphire" in quote
    assert "1 oval stone, 4 × 3 mm, found to be garnet, bezel set." in quote
    sheet = text_of(morning.house.browse("GET", f"{PAGE}/bench-sheet.pdf", headers=headers).content)
    assert "Set the 4 stones" in sheet
    assert "tested garnet" in sheet
    assert "about 400" not in sheet, "what it is worth is no matter of the bench"


def test_more_kinds_than_the_page_has_room_for_stay_when_it_is_saved(morning: Morning) -> None:
    many = tuple(Stone(stated=f"stone {number}") for number in range(6))
    with morning.book() as book:
        an_order_in(book, rings=[a_ring_draft(particulars=Particulars(stones=many))])
    form = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1")
    sent = form.fields | {"stones.0.stated": "another", "act": "save"}
    assert morning.send(form.action, sent, Role.COUNTER)[0] == 303
    kept = ring(morning).particulars.stones
    assert kept is not None
    assert [stone.stated for stone in kept] == [
        "another",
        "stone 1",
        "stone 2",
        "stone 3",
        "stone 4",
        "stone 5",
    ]


def test_the_api_takes_gives_and_takes_back_stones(house: House) -> None:
    asked = an_order(
        rings=[a_ring(stones=[{"count": 2, "stated": "ruby", "whose": "customer", "risk": "studio"}])]
    )
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=asked).json()
    path = f"/api/orders/{taken['number']}"
    (first,) = house.ask("GET", path, Role.COUNTER).json()["rings"]
    assert first["stones"] == [
        {
            "count": 2, "whose": "customer", "shape": "", "size": "", "stated": "ruby", "tested": "",
            "condition": "", "value": "", "setting": None, "risk": "studio",
        }
    ]  # fmt: skip
    again = {name: value for name, value in first.items() if name not in {"ring", "reckoning"}}
    sent = house.ask("PATCH", path, Role.COUNTER, json={"version": 1, "rings": [again]})
    assert sent.status_code == 200
    assert house.ask("GET", path, Role.COUNTER).json()["rings"] == [first]
    bare = {"version": sent.json()["version"], "rings": [again | {"stones": []}]}
    none = house.ask("PATCH", path, Role.COUNTER, json=bare)
    assert none.status_code == 200
    assert house.ask("GET", path, Role.COUNTER).json()["rings"][0]["stones"] == []


def test_the_api_names_the_stone_that_cannot_be(house: House) -> None:
    asked = an_order(rings=[a_ring(stones=[{"stated": "ruby"}, {"count": 0, "stated": "ruby"}, {}])])
    answer = house.ask("POST", "/api/orders", Role.COUNTER, json=asked)
    assert answer.status_code == 422
    fields = {error["field"] for error in answer.json()["errors"]}
    assert fields == {"rings.0.stones.1.count", "rings.0.stones.2.stated"}


def test_a_place_that_holds_only_whose_it_is_opens_no_other_and_one_with_a_risk_is_asked(
    morning: Morning,
) -> None:
    form = morning.see("/orders/new", Role.COUNTER).form("/orders")
    nothing = form.fields | typed() | {"stones.0.whose": "studio", "act": "work out"}
    _, _, page = morning.send("/orders", nothing, Role.COUNTER)
    assert "stones.1.stated" not in page.form("/orders").fields
    begun = nothing | {"stones.0.whose": "customer", "act": "quote"}
    status, _, page = morning.send("/orders", begun, Role.COUNTER)
    assert status == 422
    assert "What is it?" in page.by_id("f-stones-0-stated-wrong")


def test_what_a_stone_is_worth_is_no_matter_of_makers(morning: Morning) -> None:
    send(morning)
    assert "declared at about 400" in morning.see(PAGE, Role.COUNTER).words
    assert "about 400" not in morning.see(PAGE, Role.MAKER).words
    path = "/api/orders/2026-1"
    for role, value in ((Role.COUNTER, "about 400"), (Role.MAKER, "")):
        (first,) = morning.house.ask("GET", path, role).json()["rings"]
        assert first["stones"][0]["value"] == value
