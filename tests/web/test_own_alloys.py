"""The studio's own alloys, the metals to avoid, and the alloying helper in a browser."""

import pytest

from studio.book.orders import order
from studio.book.practices import practice_on
from studio.craft.own_alloys import Part
from studio.craft.roles import Role
from tests.builders import TODAY, a_design, a_ring, an_order
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.house import a_ring as ring_json
from tests.web.morning import Morning, a_morning

PAGE = "/studio/alloys"
KEY = "own-leaf-750"
TYPED = {
    "name-new": "Leaf 750",
    "alike-new": "gold-750-yellow",
    "fineness-new": "18 ct",
    "parts-new": "Au 75, silver 12.5, Cu 12,5",
    "note-new": "recipe of our own",
}


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def put(morning: Morning, **changes: str) -> tuple[int, str]:
    """Put in an alloy; the status and the words of the page that came back."""
    form = morning.see(PAGE).form(PAGE)
    typed = TYPED | {f"{name}-new": value for name, value in changes.items()}
    status, _, page = morning.send(PAGE, form.filled(**typed))
    return status, page.words


def test_an_alloy_put_in_is_chosen_reckoned_priced_and_printed(morning: Morning) -> None:
    assert put(morning)[0] == 303
    with morning.book() as book:
        (own,) = practice_on(book, TODAY).own_alloys
        assert (own.key, own.fineness) == (KEY, 750)
        assert own.parts == (Part("Au", 750), Part("Ag", 125), Part("Cu", 125))
        put_figures(book)
        ring = a_ring(design=a_design(alloy=KEY))
        stands = a_yes(book, a_quote(book, an_order(book, rings=[ring])))
    assert "Leaf 750" in morning.see("/orders/new").words
    page = morning.see(f"/orders/{stands.number}")
    assert "Leaf 750" in page.words
    assert "recipe of our own" in morning.see(f"/orders/{stands.number}/rings/1/came-about").words
    sheet = morning.house.browse("GET", f"/orders/{stands.number}/bench-sheet.pdf", Role.MAKER)
    assert "Leaf 750" in text_of(sheet.content)
    assert "Leaf 750" in morning.see(f"/orders/{stands.number}/rings/1/metals").words
    assert "leaf 750" in morning.see("/orders").words


def test_a_change_leaves_rings_of_before_as_they_were(morning: Morning) -> None:
    put(morning, parts="")
    with morning.book() as book:
        stands = an_order(book, rings=[a_ring(design=a_design(alloy=KEY))])
    form = morning.see(PAGE).form(f"{PAGE}/{KEY}")
    status, where, _ = morning.send(f"{PAGE}/{KEY}", form.filled(**{f"density-{KEY}": "15.1"}))
    assert (status, where) == (303, PAGE)
    assert "15.1 g/cm³" in morning.see(PAGE).words
    with morning.book() as book:
        assert order(book, stands.number).rings[0].reckoning == stands.rings[0].reckoning
        newer = an_order(book, rings=[a_ring(design=a_design(alloy=KEY))])
    assert newer.rings[0].reckoning.density_g_cm3 == 15.1


def test_where_only_the_carat_is_known_the_spread_is_said(morning: Morning) -> None:
    put(morning, parts="")
    assert "between 14.6 and 16.9" in morning.see(PAGE).words
    with morning.book() as book:
        number = an_order(book, rings=[a_ring(design=a_design(alloy=KEY))]).number
    assert "Only the fineness of Leaf 750 is known: 14.6 to 16.9" in morning.see(f"/orders/{number}").words


@pytest.mark.parametrize(
    ("name", "typed", "sentence"),
    [
        ("name", "", "The name is not given yet."),
        ("name", "925 silver", "There is another called 925 silver."),
        ("alike", "", "This is not chosen yet."),
        ("fineness", "three quarters", "Type the parts in 1000"),
        ("fineness", "", "The fineness is not given yet."),
        ("parts", "Au 750, Unobtainium 250", "Type each part like"),
        ("parts", "Au 750, Ag 100", "The parts make 850. They have to make 1000."),
        ("density", "154", "154 g/cm³ is more"),
    ],
)
def test_what_cannot_be_an_alloy_is_put_right_beside_its_field(
    morning: Morning, name: str, typed: str, sentence: str
) -> None:
    status, words = put(morning, **{name: typed})
    assert status == 422
    assert sentence in words
    assert "Nothing you typed is lost." in words


def test_of_two_people_at_the_alloys_the_second_is_told(morning: Morning) -> None:
    form = morning.see(PAGE).form(PAGE)
    put(morning)
    status, _, page = morning.send(PAGE, form.filled(**TYPED | {"name-new": "Other 750"}))
    assert status == 409
    assert "Somebody else changed the practice meanwhile" in page.words


def test_one_put_away_is_offered_no_more(morning: Morning) -> None:
    put(morning)
    form = morning.see(PAGE).form(f"{PAGE}/{KEY}")
    assert morning.send(f"{PAGE}/{KEY}", form.filled(**{f"is_put_away-{KEY}": "yes"}))[0] == 303
    assert "Leaf 750" not in morning.see("/orders/new").words
    assert "put away" in morning.see(PAGE).words


def test_programs_see_own_alloys_in_the_list(house: House, morning: Morning) -> None:
    put(morning)
    items = house.ask("GET", "/api/alloys").json()["items"]
    assert [one["density_g_cm3"] for one in items if one["key"] == KEY] == [15.459]


def test_nickel_white_gold_is_refused_at_the_counter_to_who_avoids_nickel(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    path = f"/orders/{number}/rings/1"
    form = morning.see(path).form(path)
    status, _, page = morning.send(path, form.filled(alloy="gold-750-white-ni", avoid="nickel"))
    assert status == 422
    assert "holds nickel, which is to be avoided." in page.words
    status, _, page = morning.send(path, form.filled(alloy="platinum-950-ru", avoid="Ni, Co"))
    assert status == 303
    with morning.book() as book:
        assert order(book, number).terms.avoid == "nickel, cobalt"


def test_what_is_to_be_avoided_can_be_said_later_unless_a_ring_holds_it(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book, rings=[a_ring(design=a_design(alloy="gold-750-white-ni"))]).number
    form = morning.see(f"/orders/{number}").form(f"/orders/{number}/plan")
    status, _, page = morning.send(f"/orders/{number}/plan", form.filled(avoid="nickel"))
    assert status == 422
    assert "holds nickel, which is to be avoided." in page.words
    status, _, page = morning.send(f"/orders/{number}/plan", form.filled(avoid="cobalt"))
    assert status == 303
    assert "cobalt" in morning.see(f"/orders/{number}").words


def test_the_sheet_says_what_to_avoid(morning: Morning) -> None:
    with morning.book() as book:
        put_figures(book)
        stands = a_yes(book, a_quote(book, an_order(book, avoid="nickel, cobalt")))
    sheet = morning.house.browse("GET", f"/orders/{stands.number}/bench-sheet.pdf", Role.MAKER)
    assert "Avoid nickel, cobalt, in solder and plating too." in text_of(sheet.content)


def test_programs_say_what_to_avoid_and_are_refused_alike(house: House) -> None:
    number = house.take_order(avoid=["cobalt", "Ni"])
    stands = house.ask("GET", f"/api/orders/{number}").json()
    assert stands["avoid"] == ["nickel", "cobalt"]
    body = {"version": stands["version"], "rings": [ring_json(alloy="gold-375-white-ni")]}
    refused = house.ask("PATCH", f"/api/orders/{number}", json=body)
    assert refused.status_code == 422
    assert refused.json()["errors"][0]["field"] == "rings.0.alloy"
    wrong = house.ask("PATCH", f"/api/orders/{number}", json={"version": stands["version"], "avoid": [7]})
    assert (wrong.status_code, wrong.json()["errors"][0]["field"]) == (422, "avoid")


@pytest.mark.parametrize(
    ("query", "answers"),
    [
        ("way=melt&wanted=750&grams=20&fine=1000&other=0", ("15.00 g", "5.00 g", "750.0 in 1000")),
        ("way=raise&wanted=750&grams=30&fine=1000&other=585", ("19.80 g", "49.80 g")),
        ("way=lower&wanted=585&grams=10&fine=1000&other=0", ("7.09 g", "585.1 in 1000")),
    ],
)
def test_the_crucible_is_worked_out(morning: Morning, query: str, answers: tuple[str, ...]) -> None:
    words = morning.see(f"/alloying?{query}", Role.MAKER).words
    assert all(answer in words for answer in answers)
    assert "Local rules and trained supervision come first." in words


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ("wanted=750&grams=&fine=1000&other=0", "This is not given yet."),
        ("wanted=1000&grams=5&fine=750&other=0", "has to lie between 0 and 750"),
        ("wanted=75o&grams=5&fine=1000&other=0", "We cannot read"),
    ],
)
def test_what_cannot_be_melted_is_put_right(morning: Morning, query: str, sentence: str) -> None:
    page = morning.see(f"/alloying?{query}")
    assert page.status == 422
    assert sentence in page.words
