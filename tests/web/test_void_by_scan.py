"""A phone over the square code of a paper of the bench: the order it opens, and what it says of the paper."""

import pytest

from studio.book.orders import order
from studio.craft.roles import Role
from tests.amending import NARROWER, agreed, changing, issued
from tests.builders import a_ring
from tests.papers.scanned import Grey, grey_of, read_code, smudged, thumbed
from tests.quoting import a_yes
from tests.web.house import BASE_URL, House
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

PAPERS = ("bench-sheet.pdf", "label.pdf")
SEEDS = range(12)
A_TENTH = 0.1


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def an_agreed_order(morning: Morning) -> str:
    with morning.book() as book:
        return agreed(book, rings=[a_ring()]).number


def amend(morning: Morning, number: str) -> None:
    """Its ring is made narrower, and the customer said yes to it."""
    with morning.book() as book:
        stands = order(book, number)
        a_yes(book, issued(book, stands, changing(stands, **NARROWER)))


def printed_page(morning: Morning, href: str) -> Grey:
    status, kind, pdf = morning.fetch(href, Role.MAKER)
    assert (status, kind) == (200, "application/pdf")
    return grey_of(pdf)


def path_in(page: Grey) -> str:
    """The path of the address in the code, which is one of the app's own."""
    read = read_code(page)
    assert read is not None
    assert read.startswith(f"{BASE_URL}/")
    return read.removeprefix(BASE_URL)


def scan(morning: Morning, page: Grey) -> Shown:
    """What the phone of a maker shows who scans the code."""
    shown = morning.see(path_in(page), Role.MAKER)
    assert shown.status == 200
    return shown


@pytest.mark.parametrize("paper", PAPERS)
def test_the_code_of_a_paper_is_read_clean_and_under_dirt(morning: Morning, paper: str) -> None:
    number = an_agreed_order(morning)
    page = printed_page(morning, f"/orders/{number}/{paper}")
    assert path_in(page) == f"/orders/{number}?sheet=q1"
    for soil in (smudged, thumbed):
        read = {seed: read_code(soil(page, A_TENTH, seed)) for seed in SEEDS}
        assert read == dict.fromkeys(SEEDS, f"{BASE_URL}/orders/{number}?sheet=q1")


def test_dirt_is_what_it_says_and_more_of_it_hides_a_code(morning: Morning) -> None:
    """Were the spots laid beside the code, or none at all, the test above would say nothing."""
    page = printed_page(morning, f"/orders/{an_agreed_order(morning)}/label.pdf")
    assert (smudged(page, A_TENTH, 1) != page).sum() < (smudged(page, 0.4, 1) != page).sum()
    assert [read_code(smudged(page, 0.4, seed)) for seed in SEEDS] == [None] * len(SEEDS)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_scanned_paper_holds_until_the_order_is_amended_and_is_void_then(
    morning: Morning, paper: str
) -> None:
    number = an_agreed_order(morning)
    old = printed_page(morning, f"/orders/{number}/{paper}")
    before = scan(morning, old)
    assert "VOID" not in before.words
    assert number in before.words
    amend(morning, number)
    void = scan(morning, old)
    assert void.words.index("VOID This paper holds no more") < void.words.index(f"Order {number}")
    assert f"It was printed from {number}-q1; {number}-a1 is agreed now." in void.words
    assert void.title.startswith("Void paper: ")
    for words in ("Open the sheet that holds", "Its label"):
        now = printed_page(morning, void.link(words))
        assert path_in(now) == f"/orders/{number}?sheet=a1"
        assert "VOID" not in scan(morning, now).words


def test_void_is_drawn_as_well_as_said(morning: Morning) -> None:
    number = an_agreed_order(morning)
    old = path_in(printed_page(morning, f"/orders/{number}/label.pdf"))
    amend(morning, number)
    with_mark = morning.fetch(old, Role.MAKER)[2].decode()
    assert '<svg class="void-mark"' in with_mark
    assert with_mark.count("void-mark") == 1
    assert "void" not in morning.fetch(f"/orders/{number}?sheet=a1", Role.MAKER)[2].decode().lower()


def test_a_phone_that_is_not_signed_in_comes_to_the_answer_by_signing_in(morning: Morning) -> None:
    number = an_agreed_order(morning)
    path = path_in(printed_page(morning, f"/orders/{number}/label.pdf"))
    answer = morning.house.browse("GET", path, None)
    assert answer.status_code == 303
    assert answer.headers["location"] == f"/sign-in?next=/orders/{number}%3Fsheet%3Dq1"
