"""The way in and out."""

from datetime import timedelta

import pytest

from studio.book.sign_in import IDLE, LONGEST
from studio.book.tables import metadata
from studio.craft.roles import Role
from studio.web.app import create_app
from studio.web.book_errors import waiting_words
from studio.web.sign_in import local_path
from tests.postgresql.both import SQLITE
from tests.web.house import PASSPHRASE, House, settings
from tests.web.way_in import key_of, later, opens, sign_in


def test_name_and_passphrase_open_the_book(house: House) -> None:
    answer = sign_in(house)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = {part.strip() for part in answer.headers["set-cookie"].split(";")}
    assert {"HttpOnly", "Path=/", "SameSite=lax"} <= cookie
    assert "Secure" not in cookie  # plain http on loopback; with TLS see test_security
    assert opens(house, key_of(answer))


def test_the_name_may_be_typed_in_any_case(house: House) -> None:
    assert sign_in(house, name=" maren ").status_code == 303


@pytest.mark.parametrize(
    ("name", "passphrase"), [("Maren", "four rings in a box"), ("Nobody", PASSPHRASE), ("", "")]
)
def test_a_wrong_try_keeps_the_name_and_tells_not_which_was_wrong(
    house: House, name: str, passphrase: str
) -> None:
    answer = sign_in(house, passphrase, name)
    assert answer.status_code == 401
    assert "Name and passphrase do not belong together." in answer.text
    assert "set-cookie" not in answer.headers
    assert f'value="{name}"' in answer.text
    assert PASSPHRASE not in answer.text


def test_every_sign_in_has_a_key_of_its_own_and_ends_the_one_before(house: House) -> None:
    first = key_of(sign_in(house))
    again = house.browse(
        "POST",
        "/sign-in",
        None,
        data={"name": "Maren", "passphrase": PASSPHRASE},
        headers={"cookie": f"shankwright={first}"},
    )
    assert key_of(again) != first
    assert not opens(house, first)
    assert opens(house, key_of(again))


def test_a_key_chosen_by_somebody_else_never_becomes_a_sign_in(house: House) -> None:
    planted = {"cookie": "shankwright=planted"}
    answer = house.browse(
        "POST", "/sign-in", None, data={"name": "Maren", "passphrase": PASSPHRASE}, headers=planted
    )
    assert key_of(answer) != "planted"
    assert not opens(house, "planted")


def test_a_stolen_key_fails_after_signing_out(house: House) -> None:
    key = key_of(sign_in(house))
    answer = house.browse("POST", "/sign-out", None, headers={"cookie": f"shankwright={key}"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/sign-in")
    assert 'shankwright=""' in answer.headers["set-cookie"]
    assert not opens(house, key)


def test_a_sign_in_ends_when_nobody_was_there_for_a_working_day(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    key = house.keys[Role.OWNER]
    later(monkeypatch, IDLE - timedelta(hours=2))  # this house may stand for an hour already
    assert opens(house, key)
    later(monkeypatch, timedelta(hours=4))
    assert opens(house, key)  # somebody was there two hours before the day was over
    later(monkeypatch, IDLE + timedelta(minutes=1))
    assert not opens(house, key)


def test_a_sign_in_ends_after_a_week_however_busy(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    key, step = house.keys[Role.OWNER], timedelta(hours=7)
    for _ in range(LONGEST // step - 1):
        later(monkeypatch, step)
        assert opens(house, key)
    later(monkeypatch, step)
    assert not opens(house, key)


def test_too_many_wrong_tries_cost_time_and_the_wait_is_told(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    statuses = [sign_in(house, "wrong and wrong again").status_code for _ in range(8)]
    assert statuses[:6] == [401] * 6
    assert 429 in statuses
    answer = sign_in(house)
    assert answer.status_code == 429
    assert "That was tried too often. Wait a few seconds, then try again." in answer.text
    assert int(answer.headers["retry-after"]) > 0
    later(monkeypatch, timedelta(minutes=1))
    assert sign_in(house).status_code == 303


@pytest.mark.parametrize(
    ("seconds", "words"), [(1, "a few seconds"), (40, "40 seconds"), (99, "99 seconds"), (600, "10 minutes")]
)
def test_a_wait_is_told_as_people_say_it(seconds: int, words: str) -> None:
    assert waiting_words(seconds) == words


@pytest.mark.parametrize(
    ("wanted", "where"),
    [
        ("/orders?state=draft", "/orders?state=draft"),
        ("/week", "/week"),
        ("", "/"),
        ("https://elsewhere.example", "/"),
        ("//elsewhere.example", "/"),
        ("/\\elsewhere.example", "/"),
        ("/orders\\..\\x", "/"),
        ("/orders\r\nset-cookie: a=b", "/"),
        ("/\t/elsewhere.example", "/"),
        ("javascript:alert(1)", "/"),
        ("orders", "/"),
        ("/sign-in?next=/sign-in", "/"),
        ("/" + "a" * 600, "/"),
    ],
)
def test_after_signing_in_one_lands_in_this_book_only(house: House, wanted: str, where: str) -> None:
    assert local_path(wanted) == where
    assert sign_in(house, next=wanted).headers["location"] == where


def test_a_stranger_is_led_back_to_the_page_that_was_wanted(house: House) -> None:
    turned_away = house.browse("GET", "/orders?state=draft&q=a b", None)
    assert turned_away.headers["location"] == "/sign-in?next=/orders%3Fstate%3Ddraft%26q%3Da%2520b"
    page = house.browse("GET", turned_away.headers["location"], None)
    assert 'value="/orders?state=draft&amp;q=a%20b"' in page.text


def test_who_is_signed_in_needs_no_sign_in_page(house: House) -> None:
    answer = house.browse("GET", "/sign-in?next=/week", Role.MAKER)
    assert (answer.status_code, answer.headers["location"]) == (303, "/week")


def test_the_sign_in_page_has_the_fields_a_password_manager_knows(house: House) -> None:
    page = house.browse("GET", "/sign-in", None).text
    assert "Wrenfold, goldsmiths" in page
    assert 'autocomplete="username"' in page
    assert 'autocomplete="current-password"' in page
    assert "Show what I type" in page
    assert "onpaste" not in page


def test_with_a_secret_a_cookie_made_without_it_opens_nothing(house: House) -> None:
    app = create_app(settings(house.home, secret="s" * 40), house.engine)
    signed = House(house.engine, app, house.tokens, house.keys, house.home)
    key = key_of(sign_in(signed))
    assert opens(signed, key)
    bare, _, signature = key.partition(".")
    assert len(signature) == 32
    assert not opens(signed, bare)
    assert not opens(signed, f"{bare}.{'0' * 32}")
    other = House(
        house.engine, create_app(settings(house.home, secret="t" * 40), house.engine), {}, {}, house.home
    )
    assert not opens(other, key)


def test_the_key_of_a_cookie_stands_nowhere_in_the_book(house: House) -> None:
    key = key_of(sign_in(house))
    with house.engine.connect() as book:
        rows = [repr(list(book.execute(table.select()))) for table in metadata().tables.values()]
    assert key not in "".join(rows)
    house.engine.dispose()
    if house.engine.dialect.name == SQLITE:  # nor where the file keeps what was deleted
        assert key.encode() not in (house.home / "book.db").read_bytes()


def test_signing_in_is_refused_from_another_sites_page(house: House) -> None:
    answer = house.browse(
        "POST",
        "/sign-in",
        None,
        data={"name": "Maren", "passphrase": PASSPHRASE},
        headers={"sec-fetch-site": "cross-site"},
    )
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers
