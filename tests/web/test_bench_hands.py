"""The bench's own way in: a device, a name and a PIN, which open the work at the bench and nothing else."""

from dataclasses import dataclass
from functools import cache

import httpx
import pytest

from studio import clock
from studio.book.bench_devices import add_device, at_device, take_over
from studio.book.engine import session
from studio.book.passphrases import HASHER
from studio.book.people import user_named
from studio.book.pin_tables import PinRow
from studio.book.transaction import transaction
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import an_order
from tests.web.house import PASSPHRASE, PEOPLE, House
from tests.web.routes import ALL_ROUTES, GUARDED, address
from tests.web.shown import Shown

BENCH_WORK = {
    ("GET", "/bench"),
    ("GET", "/bench/{number}/{position}"),
    ("POST", "/bench/{number}/{position}"),
    ("POST", "/bench/{number}/{position}/moves"),
    ("POST", "/bench/{number}/{position}/pictures"),
    ("POST", "/bench/{number}/{position}/place"),
    ("POST", "/bench/{number}/{position}/proof"),
    ("GET", "/orders/{number}/rings/{position}/inscription.pdf"),
    ("GET", "/orders/{number}/bench-sheet.pdf"),
    ("GET", "/orders/{number}/label.pdf"),
}
"""All that a PIN opens."""
PINS = {Role.OWNER: "290388", Role.MAKER: "4711"}


@dataclass(frozen=True, slots=True)
class Tablet:
    """A device of the bench, as its browser asks."""

    house: House
    key: str

    def browse(self, method: str, path: str, **given: object) -> httpx.Response:
        headers = {"cookie": f"shankwright-bench={self.key}"}
        return self.house.browse(method, path, None, headers=headers, **given)

    def hands(self, role: Role, pin: str | None = None, **typed: str) -> httpx.Response:
        sent = {"maker": str(id_of(self.house, role)), "pin": PINS[role] if pin is None else pin, **typed}
        return self.browse("POST", "/bench/hands", data=sent)


def id_of(house: House, role: Role) -> int:
    with session(house.engine) as book:
        return user_named(book, PEOPLE[role]).id


@cache
def hashed(pin: str) -> str:
    """A PIN as the book keeps it: hashing takes its time, so each is hashed once."""
    return HASHER.hash(pin)


@pytest.fixture
def tablet(house: House) -> Tablet:
    """A device of the bench; Maren and Tilde have a PIN."""
    now = clock.now()
    with session(house.engine) as book:
        owner = user_named(book, PEOPLE[Role.OWNER]).actor
        with transaction(book):
            for role, pin in PINS.items():
                user = user_named(book, PEOPLE[role])
                book.add(PinRow(user_id=user.id, pin_hash=hashed(pin), set_at=now))
        key = add_device(book, name="Tablet by the window", sign_in_key=None, actor=owner, now=now)
    return Tablet(house, key)


@pytest.fixture
def number(house: House) -> str:
    with session(house.engine) as book:
        return an_order(book, state=State.AT_THE_BENCH).number


@pytest.mark.parametrize("role", list(PINS))
def test_a_pin_opens_the_work_at_the_bench_and_nothing_else(tablet: Tablet, role: Role) -> None:
    with session(tablet.house.engine) as book:
        user = id_of(tablet.house, role)
        take_over(book, key=tablet.key, user_id=user, pin=PINS[role], now=clock.now())
    for method, path in GUARDED:
        answer = tablet.browse(method, address(path))
        if (method, path) in BENCH_WORK:
            assert answer.status_code not in {401, 403}, (method, path)
            assert "/sign-in" not in answer.headers.get("location", ""), (method, path)
        else:
            assert answer.status_code == 403, (method, path)
            assert "A PIN opens the work at the bench alone." in answer.text, (method, path)
            if not path.startswith("/api/"):
                assert Shown(answer).link("Back to the bench") == "/bench", (method, path)
    for method, path in set(ALL_ROUTES) - set(GUARDED):
        assert tablet.browse(method, address(path)).status_code != 403, (method, path)


def test_a_device_on_which_nobody_works_opens_nothing(tablet: Tablet) -> None:
    for method, path in GUARDED:
        answer = tablet.browse(method, address(path))
        if path.startswith("/api/"):
            assert answer.status_code == 401, (method, path)
            continue
        way_in = "/bench/hands" if (method, path) in BENCH_WORK else "/sign-in"
        assert answer.status_code == 303, (method, path)
        assert answer.headers["location"].startswith(way_in), (method, path)


def test_a_maker_chooses_their_name_types_the_pin_and_is_back_at_the_ring(
    tablet: Tablet, number: str
) -> None:
    first = tablet.browse("GET", f"/bench/{number}/1")
    assert first.headers["location"] == f"/bench/hands?next=/bench/{number}/1"
    page = Shown(tablet.browse("GET", first.headers["location"]))
    assert "Tilde" in page.words
    assert "Ivo" not in page.words  # who has no PIN
    answer = tablet.hands(Role.MAKER, next=f"/bench/{number}/1")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/bench/{number}/1")
    ring = Shown(tablet.browse("GET", f"/bench/{number}/1"))
    assert ring.link("change hands") == f"/bench/hands?next=/bench/{number}/1"


def test_what_is_done_is_done_by_whoever_typed_the_pin(tablet: Tablet, number: str) -> None:
    for role, step in ((Role.MAKER, "weigh"), (Role.OWNER, "saw")):
        assert tablet.hands(role).status_code == 303
        form = Shown(tablet.browse("GET", f"/bench/{number}/1")).form(f"/bench/{number}/1")
        assert form.fields["step"] == step
        sent = form.filled("Done, next")
        assert tablet.browse("POST", f"/bench/{number}/1", data=sent).status_code == 303
    history = Shown(tablet.house.browse("GET", f"/orders/{number}", Role.OWNER)).words
    assert "Tilde ticked a step off: Weigh out of ring 1." in history
    assert "Maren ticked a step off: Scribe" in history


@pytest.mark.parametrize(
    "wanted",
    ["https://elsewhere.example/", "//elsewhere.example", "/studio", "/bench/../studio", "/bench/a"],
)
def test_a_pin_leads_to_no_other_place(tablet: Tablet, wanted: str) -> None:
    assert tablet.hands(Role.MAKER, next=wanted).headers["location"] == "/bench"


def test_a_wrong_pin_is_told_and_the_name_stays_chosen(tablet: Tablet) -> None:
    answer = tablet.hands(Role.MAKER, pin="0815")
    assert answer.status_code == 401
    assert "Name and PIN do not belong together. Try again." in answer.text
    page = Shown(answer)
    assert page.form("/bench/hands").fields["maker"] == str(id_of(tablet.house, Role.MAKER))
    assert "0815" not in answer.text


def test_too_many_wrong_pins_have_to_wait(tablet: Tablet) -> None:
    for _ in range(6):
        tablet.hands(Role.MAKER, pin="0815")
    answer = tablet.hands(Role.MAKER)
    assert answer.status_code == 429
    assert "retry-after" in answer.headers


def test_without_a_name_the_name_is_asked(tablet: Tablet) -> None:
    answer = tablet.browse("POST", "/bench/hands", data={"pin": "4711"})
    assert answer.status_code == 422
    assert "Choose your name first." in answer.text


def test_nobody_for_now_leaves_the_device(tablet: Tablet) -> None:
    tablet.hands(Role.MAKER)
    assert tablet.browse("POST", "/bench/hands", data={"act": "away"}).status_code == 303
    assert tablet.browse("GET", "/bench").headers["location"] == "/bench/hands?next=/bench"


def test_the_passphrase_goes_before_the_pin(tablet: Tablet) -> None:
    tablet.hands(Role.MAKER)
    cookies = f"shankwright-bench={tablet.key}; shankwright={tablet.house.keys[Role.OWNER]}"
    answer = tablet.house.browse("GET", "/studio", None, headers={"cookie": cookies})
    assert answer.status_code == 200


def test_from_a_pin_the_way_to_the_passphrase_is_open(tablet: Tablet) -> None:
    tablet.hands(Role.MAKER)
    assert tablet.browse("GET", "/sign-in").status_code == 200


def test_a_browser_that_is_no_device_of_the_bench_types_no_pin(house: House, tablet: Tablet) -> None:
    sent = {"maker": str(id_of(house, Role.MAKER)), "pin": "4711"}
    for cookie in ("", "shankwright-bench=made-up", f"shankwright={tablet.key}"):
        answer = house.browse("POST", "/bench/hands", None, data=sent, headers={"cookie": cookie})
        assert answer.headers["location"] == "/sign-in?next=/bench"
        assert house.browse("GET", "/bench", None, headers={"cookie": cookie}).status_code == 303


def test_setting_a_device_up_signs_out_and_asks_for_a_pin(house: House) -> None:
    answer = house.browse("POST", "/bench/devices", Role.COUNTER, data={"device": "Tablet"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/bench/hands")
    cookies = answer.headers.get_list("set-cookie")
    [made] = [cookie for cookie in cookies if cookie.startswith("shankwright-bench=")]
    assert "HttpOnly" in made
    assert any(cookie.startswith('shankwright="";') for cookie in cookies)
    assert house.browse("GET", "/bench", Role.COUNTER).headers["location"].startswith("/sign-in")
    key = made.partition("=")[2].partition(";")[0]
    with session(house.engine) as book:
        found = at_device(book, key=key, now=clock.now())
    assert found is not None
    assert (found.name, found.maker) == ("Tablet", None)


def test_a_device_without_a_name_is_not_set_up(house: House) -> None:
    answer = house.browse("POST", "/bench/devices", Role.COUNTER, data={"device": "  "})
    assert answer.status_code == 422
    assert house.browse("GET", "/bench", Role.COUNTER).status_code == 200


def test_the_owner_ends_a_device(tablet: Tablet) -> None:
    page = Shown(tablet.house.browse("GET", "/bench/people", Role.OWNER))
    assert "Tablet by the window" in page.words
    tablet.hands(Role.MAKER)
    assert tablet.house.browse("POST", "/bench/devices/1/end", Role.OWNER).status_code == 303
    assert tablet.browse("GET", "/bench").headers["location"].startswith("/sign-in")


def test_a_maker_sets_their_own_pin_by_passphrase(house: House) -> None:
    sent = {"pin": "4711", "passphrase": "not it"}
    refused = house.browse("POST", "/bench/people/own-pin", Role.MAKER, data=sent)
    assert refused.status_code == 422
    assert "This is not your passphrase. Try again." in refused.text
    sent = {"pin": "1234", "passphrase": PASSPHRASE}
    refused = house.browse("POST", "/bench/people/own-pin", Role.MAKER, data=sent)
    assert "This one would be tried first." in refused.text
    sent = {"pin": "4711", "passphrase": PASSPHRASE}
    assert house.browse("POST", "/bench/people/own-pin", Role.MAKER, data=sent).status_code == 303
    page = Shown(house.browse("GET", "/bench/people", Role.MAKER)).words
    assert "You have a PIN." in page
    assert "Ivo" not in page  # whose PIN is no matter of a maker


def test_the_owner_sets_a_pin_for_somebody(house: House) -> None:
    user_id = str(id_of(house, Role.MAKER))
    refused = house.browse(
        "POST", "/bench/people/pins", Role.OWNER, data={"user_id": user_id, "new_pin": "12"}
    )
    assert refused.status_code == 422
    assert "A PIN has 4 to 8 digits." in refused.text
    sent = {"user_id": user_id, "new_pin": "4711"}
    assert house.browse("POST", "/bench/people/pins", Role.OWNER, data=sent).status_code == 303
    assert "Tilde, has a PIN" in Shown(house.browse("GET", "/bench/people", Role.OWNER)).words
