"""One-time links: the first way in, and the way back in."""

from collections.abc import Iterator

import pytest

from studio import clock
from studio.book.engine import open_book, session
from studio.book.errors import WhyWeak
from studio.book.first_start import prepare
from studio.book.links import LASTS
from studio.book.schema import bring_up_to_date
from studio.web.book_errors import _WEAK
from tests.web.house import PASSPHRASE, House
from tests.web.way_in import NEW_PASSPHRASE, a_link, key_of, later, opens, sign_in


def test_looking_at_a_one_time_link_does_not_use_it_up(house: House) -> None:
    link = a_link(house)
    for _ in range(2):
        page = house.browse("GET", link, None)
        assert page.status_code == 200
        assert "Welcome, Ivo" in page.text
        assert "set-cookie" not in page.headers


def test_a_one_time_link_sets_the_passphrase_and_opens_the_book_once(house: House) -> None:
    link = a_link(house)
    entered = house.browse("POST", link, None, data={"passphrase": NEW_PASSPHRASE})
    assert (entered.status_code, entered.headers["location"]) == (303, "/")
    assert opens(house, key_of(entered))
    again = house.browse("POST", link, None, data={"passphrase": NEW_PASSPHRASE})
    assert again.status_code == 404
    assert "This link was used before or has run out." in again.text
    assert house.browse("GET", link, None).status_code == 404
    assert sign_in(house, NEW_PASSPHRASE, "Ivo").status_code == 303
    assert sign_in(house, PASSPHRASE, "Ivo").status_code == 401


def test_a_one_time_link_runs_out(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    link = a_link(house)
    later(monkeypatch, LASTS)
    assert house.browse("GET", link, None).status_code == 404


@pytest.mark.parametrize(
    ("passphrase", "why"),
    [
        ("elevensigns", WhyWeak.TOO_SHORT),
        ("a" * 300, WhyWeak.TOO_LONG),
        ("passwordpassword", WhyWeak.COMMON),
        ("aaaaaaaaaaaaaa", WhyWeak.COMMON),
        ("wrenfold12345", WhyWeak.OWN_NAME),
    ],
)
def test_a_weak_passphrase_is_told_why_and_the_link_stays_good(
    house: House, passphrase: str, why: WhyWeak
) -> None:
    link = a_link(house)
    answer = house.browse("POST", link, None, data={"passphrase": passphrase})
    assert answer.status_code == 422
    assert _WEAK[why] in answer.text
    assert passphrase not in answer.text
    assert house.browse("POST", link, None, data={"passphrase": NEW_PASSPHRASE}).status_code == 303


@pytest.mark.parametrize(
    "passphrase", ["twelve signs", "ß" * 3 + " großer Ring ", "🜚 is the sign of gold", "b c d " * 40]
)
def test_any_long_passphrase_will_do_whatever_its_signs(house: House, passphrase: str) -> None:
    assert house.browse("POST", a_link(house), None, data={"passphrase": passphrase}).status_code == 303
    assert sign_in(house, passphrase, "Ivo").status_code == 303


def test_a_passphrase_is_the_same_from_every_keyboard(house: House) -> None:
    composed, decomposed = "über den Dächern", "u\u0308ber den Da\u0308chern"
    house.browse("POST", a_link(house), None, data={"passphrase": composed})
    assert sign_in(house, decomposed, "Ivo").status_code == 303


def test_a_new_passphrase_ends_no_link_of_somebody_else(house: House) -> None:
    hers, his = a_link(house, "Tilde"), a_link(house, "Ivo")
    assert house.browse("POST", his, None, data={"passphrase": NEW_PASSPHRASE}).status_code == 303
    assert house.browse("GET", hers, None).status_code == 200


@pytest.fixture
def demo(new_house: House) -> House:
    """A house whose links open at once, as the demo's do."""
    new_house.app.state.links_open_at_once = True
    return new_house


def test_the_demos_link_opens_on_the_first_look(demo: House) -> None:
    link = a_link(demo, "Maren")
    opened = demo.browse("GET", link, None, headers={"sec-fetch-site": "none"})
    assert (opened.status_code, opened.headers["location"]) == (303, "/")
    assert opens(demo, key_of(opened))
    assert demo.browse("GET", link, None).status_code == 404


def test_the_demos_link_looked_at_by_a_preview_is_still_good(demo: House) -> None:
    link = a_link(demo, "Maren")
    assert demo.browse("HEAD", link, None).status_code == 200
    assert demo.browse("GET", link, None, headers={"sec-purpose": "prefetch"}).status_code == 200
    assert demo.browse("GET", link, None).status_code == 303


def test_the_demos_link_opened_again_by_who_is_signed_in_leads_in(demo: House) -> None:
    link = a_link(demo, "Maren")
    key = key_of(demo.browse("GET", link, None))
    again = demo.browse("GET", link, None, headers={"cookie": f"shankwright={key}"})
    assert (again.status_code, again.headers["location"]) == (303, "/")


@pytest.fixture
def first_start(house: House, empty_url: str) -> Iterator[tuple[House, str]]:
    """A new book before anybody came, and the link printed for its owner."""
    engine = open_book(empty_url)
    now = clock.now()
    bring_up_to_date(engine, now=now)
    with session(engine) as book:
        key = prepare(book, time_zone="Europe/London", now=now)
    house.app.state.engine = engine
    yield House(engine, house.app, {}, {}, house.home), f"/enter/{key}"
    engine.dispose()


def test_the_first_start_asks_for_the_names_and_a_passphrase(first_start: tuple[House, str]) -> None:
    house, link = first_start
    assert "The studio&#39;s name" in house.browse("GET", link, None).text
    names = {"studio_name": "Marlstone Rings", "name": "Odile"}
    half = house.browse("POST", link, None, data=names | {"passphrase": "short"})
    assert half.status_code == 422
    assert 'value="Marlstone Rings"' in half.text
    empty = house.browse("POST", link, None, data={})
    assert empty.status_code == 422
    for words in (
        "The studio&#39;s name is not given yet.",
        "The name is not given yet.",
        "Three things to put right",
    ):
        assert words in empty.text
    entered = house.browse("POST", link, None, data=names | {"passphrase": NEW_PASSPHRASE})
    assert entered.status_code == 303
    page = house.browse("GET", "/", None, headers={"cookie": f"shankwright={key_of(entered)}"})
    assert "Marlstone Rings" in page.text
    assert "Odile" in page.text
    house.engine.dispose()
