"""A photo of the work, taken at the bench, is one of the order's pictures."""

import httpx
import pytest

from studio.book.engine import session
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.web.threshold import PICTURE_BODY_BYTES, most_bytes
from tests.builders import an_order
from tests.photos import a_photo
from tests.web.asking import shown
from tests.web.house import House
from tests.web.shown import Shown


@pytest.fixture
def number(house: House) -> str:
    with session(house.engine) as book:
        return an_order(book, state=State.AT_THE_BENCH).number


def photo(house: House, number: str, raw: bytes | None = None, **typed: str) -> httpx.Response:
    """What a maker's tablet sends: the page's form with a photo."""
    page = Shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    fields = page.form(f"/bench/{number}/1/pictures").filled(**typed)
    fields.pop("picture")
    files = {"picture": ("work.jpg", a_photo() if raw is None else raw, "image/jpeg")}
    return house.browse("POST", f"/bench/{number}/1/pictures", Role.MAKER, data=fields, files=files)


def test_a_photo_of_the_work_is_kept_with_the_order_as_one_of_its_ring(house: House, number: str) -> None:
    answer = photo(house, number, picture_note="the seam before it was soldered")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/bench/{number}/1")
    [kept] = shown(house, number)["pictures"]
    assert (kept["ring"], kept["note"]) == (1, "the seam before it was soldered")
    page = Shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER)).words
    assert "A photo of the work, one picture kept" in page


def test_what_is_no_photo_is_told_beside_its_field_and_the_note_stays(house: House, number: str) -> None:
    answer = photo(house, number, b"%PDF-1.7 and so on", picture_note="the seam")
    assert answer.status_code == 422
    assert 'id="f-picture-wrong"' in answer.text
    assert 'value="the seam"' in answer.text
    assert '<details class="bench-photo" open>' in answer.text
    assert shown(house, number)["pictures"] == []


def test_the_same_photo_sent_twice_is_kept_once(house: House, number: str) -> None:
    page = Shown(house.browse("GET", f"/bench/{number}/1", Role.MAKER))
    fields = page.form(f"/bench/{number}/1/pictures").filled()
    fields.pop("picture")
    for _ in range(2):
        files = {"picture": ("work.jpg", a_photo(), "image/jpeg")}
        answer = house.browse("POST", f"/bench/{number}/1/pictures", Role.MAKER, data=fields, files=files)
        assert answer.status_code == 303
    assert len(shown(house, number)["pictures"]) == 1


def test_a_ring_that_is_not_there_takes_no_photo(house: House, number: str) -> None:
    files = {"picture": ("work.jpg", a_photo(), "image/jpeg")}
    for where in (f"{number}/none", f"{number}/7", "2026-999/1"):
        answer = house.browse("POST", f"/bench/{where}/pictures", Role.MAKER, files=files)
        assert answer.status_code == 404
    assert shown(house, number)["pictures"] == []


def test_the_bench_may_send_as_large_a_picture_as_the_counter() -> None:
    assert most_bytes({"method": "POST", "path": "/bench/2026-1/1/pictures"}) == PICTURE_BODY_BYTES
    assert most_bytes({"method": "POST", "path": "/bench/2026-1/1"}) < PICTURE_BODY_BYTES
