"""Files that are no pictures, or more than that, and senders who may not: told, and nothing typed is lost."""

import asyncio
import errno
import io
import zipfile
from collections.abc import AsyncIterator
from typing import Any

import pytest
from starlette.datastructures import UploadFile

from studio.book.pictures import LONGEST_NOTE, MOST_PICTURES
from studio.craft.roles import Role
from studio.papers.pictures import MOST_BYTES
from studio.papers.pool import Cause, PaperNotMade
from studio.papers.printing import HousePrinter
from studio.web import uploads
from studio.web.threshold import MAX_BODY_BYTES, PICTURE_BODY_BYTES
from tests import photos
from tests.photos import SECRET, a_photo
from tests.web.asking import shown
from tests.web.house import House, a_ring
from tests.web.picturing import NOTE, added, page_of, send
from tests.web.shown import Shown


def test_an_order_keeps_six_pictures_and_says_so_of_the_seventh(house: House) -> None:
    number = house.take_order()
    for _ in range(MOST_PICTURES):
        added(house, number)
    answer = send(house, number, picture_note="the seventh")
    assert answer.status_code == 409
    assert "An order keeps 6 pictures at most. Take one away, then add this one." in answer.text
    assert len(shown(house, number)["pictures"]) == MOST_PICTURES
    page = page_of(house, number)
    assert "These are 6, and no order keeps more." in page.words
    assert f"/orders/{number}/pictures" not in [form.action for form in page.forms]
    first = shown(house, number)["pictures"][0]
    house.browse("POST", f"/orders/{number}/pictures/{first['id']}/away")
    assert send(house, number).status_code == 303


def a_packed_file() -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        packed.writestr("index.html", SECRET)
    return file.getvalue()


REFUSED = {
    "nothing": (b"", 422, "Choose a picture first."),
    "a GIF": (a_photo("GIF"), 422, "This is a GIF. Save it as JPEG or PNG, then add it."),
    "a GIF that is an archive too": (a_photo("GIF") + a_packed_file(), 422, "This is a GIF."),
    "a TIFF": (a_photo("TIFF"), 422, "This is a TIFF. Save it as JPEG or PNG"),
    "an SVG": (b"<svg xmlns='http://www.w3.org/2000/svg'>" + SECRET + b"</svg>", 422, "This is an SVG."),
    "a page": (b"<!DOCTYPE html>" + SECRET, 422, "We cannot see a picture in this."),
    "a PDF": (b"%PDF-1.7", 422, "This is a PDF. Take a screenshot of the page"),
    "an HEIC": (b"\0\0\0\x18ftypheic" + bytes(40), 422, "This is an HEIC photo."),
    "half a JPEG": (a_photo()[:900], 422, "This picture is damaged or not all there."),
    "a bomb": (photos.png_of(60_000, 60_000), 422, "This picture has more than 50 megapixels."),
    "a bomb of words": (photos.png_with_words(40_000_000), 422, "This picture is damaged"),
    "too large a file": (a_photo() + bytes(MOST_BYTES), 413, "This file has more than 12 megabytes."),
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_file_that_is_refused_is_told_why_beside_its_field_and_nothing_typed_is_lost(
    house: House, what: str
) -> None:
    raw, status, words = REFUSED[what]
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    answer = send(house, number, raw, picture_ring="2")
    assert answer.status_code == status
    page = Shown(answer)
    assert page.by_id("f-picture-wrong").startswith(words)
    form = page.form(f"/orders/{number}/pictures")
    assert (form.fields["picture_note"], form.fields["picture_ring"]) == (NOTE, "2")
    assert page.title.startswith("One thing to put right")
    assert SECRET.decode() not in answer.text
    assert shown(house, number)["pictures"] == []


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_of_a_picture_that_is_a_page_too_the_picture_alone_is_kept(house: House, kind: str) -> None:
    told = added(house, house.take_order(), a_photo(kind) + b"<html>" + SECRET + a_packed_file())
    for path in (told["href"], told["href"].replace(".jpg", "/small.jpg")):
        kept = house.browse("GET", path).content
        assert SECRET not in kept
        assert b"PK\x03\x04" not in kept


def test_a_note_too_long_and_a_ring_that_is_not_there_are_told_at_their_fields(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    long = "x" * (LONGEST_NOTE + 1)
    page = Shown(send(house, number, picture_note=long, picture_ring="3"))
    assert page.by_id("f-picture-note-wrong") == "This is too long: 201 signs where 200 have room."
    page = Shown(send(house, number, picture_ring="3"))
    assert "no ring" in page.by_id("f-picture-ring-wrong") or "no such ring" in page.by_id(
        "f-picture-ring-wrong"
    )
    assert page.form(f"/orders/{number}/pictures").fields["picture_note"] == NOTE
    assert Shown(send(house, number, picture_ring="none")).by_id("f-picture-ring-wrong")
    assert shown(house, number)["pictures"] == []


def test_only_a_picture_may_be_larger_than_a_megabyte(house: House) -> None:
    number = house.take_order()
    large = bytes(MAX_BODY_BYTES)
    for path in (f"/orders/{number}/plan", "/orders", f"/orders/{number}/pictures/1/away"):
        assert house.browse("POST", path, content=large + b"x").status_code == 413
    assert send(house, number, photos.noise((1400, 1200), "PNG")).status_code == 303
    answer = send(house, number, bytes(PICTURE_BODY_BYTES))
    assert answer.status_code == 413
    assert "A picture may have 12 megabytes at most." in answer.text


@pytest.mark.parametrize("role", [None, Role.MAKER])
def test_of_who_may_not_add_a_picture_not_a_byte_is_read(house: House, role: Role | None) -> None:
    number = house.take_order()
    cookie = "" if role is None else f"shankwright={house.keys[role]}"
    headers = {"content-type": "multipart/form-data; boundary=b", "sec-fetch-site": "same-origin"}
    heads = [(name.encode(), value.encode()) for name, value in {**headers, "cookie": cookie}.items()]
    scope = {
        "type": "http", "method": "POST", "path": f"/orders/{number}/pictures", "query_string": b"",
        "headers": heads, "http_version": "1.1", "scheme": "http", "server": ("127.0.0.1", 8321),
        "client": ("127.0.0.1", 5000), "root_path": "", "raw_path": b"", "asgi": {"version": "3.0"},
    }  # fmt: skip
    said: list[int] = []

    async def receive() -> dict[str, Any]:
        raise AssertionError("the body was asked for")

    async def answer(message: Any) -> None:
        if message["type"] == "http.response.start":
            said.append(message["status"])

    asyncio.run(house.app(scope, receive, answer))
    assert said == [303 if role is None else 403]


def test_more_fields_or_files_than_the_form_has_are_not_read(house: House) -> None:
    path = f"/orders/{house.take_order()}/pictures"
    two = [("picture", ("a.jpg", a_photo(), "image/jpeg")), ("picture", ("b.jpg", a_photo(), "image/jpeg"))]
    assert house.browse("POST", path, files=two).status_code == 422
    many = {f"field-{place}": "x" for place in range(30)}
    assert house.browse("POST", path, data=many, files=two[:1]).status_code == 422
    long = {"picture_note": "x" * 50_000}
    assert house.browse("POST", path, data=long, files=two[:1]).status_code == 422


@pytest.mark.parametrize(
    ("cause", "status", "words"),
    [
        (Cause.TOO_SLOW, 422, "This picture takes too long to open."),
        (Cause.TOO_BIG, 422, "This picture is too big to open."),
        (Cause.INTERRUPTED, 503, "The picture was interrupted on its way. Add it again."),
    ],
)
def test_a_picture_whose_worker_gives_up_is_told_beside_its_field(
    new_house: House, cause: Cause, status: int, words: str
) -> None:
    class Tired(HousePrinter):
        async def picture(self, raw: bytes) -> Any:
            assert raw.startswith(b"\xff\xd8")
            raise PaperNotMade(cause)

    new_house.app.state.printer = Tired()
    number = new_house.take_order()
    answer = send(new_house, number)
    assert answer.status_code == status
    page = Shown(answer)
    assert page.by_id("f-picture-wrong").startswith(words)
    assert page.form(f"/orders/{number}/pictures").fields["picture_note"] == NOTE


async def _slowly() -> AsyncIterator[bytes]:
    yield b'--b\r\nContent-Disposition: form-data; name="picture"; filename="a.jpg"\r\n\r\n'
    await asyncio.sleep(30)


def test_a_picture_that_does_not_arrive_is_not_waited_for(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(uploads, "_READ_S", 0.05)
    answer = house.browse(
        "POST",
        f"/orders/{house.take_order()}/pictures",
        content=_slowly(),
        headers={"content-type": "multipart/form-data; boundary=b"},
    )
    assert answer.status_code == 408
    assert "The picture took too long to arrive." in answer.text


def test_without_room_to_lay_a_picture_down_nothing_is_kept_and_it_is_said(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def full(_file: UploadFile, _data: bytes) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(UploadFile, "write", full)
    number = house.take_order()
    answer = send(house, number)
    assert answer.status_code == 507
    assert "There is no room to lay the picture down, so nothing was saved." in answer.text
    assert shown(house, number)["pictures"] == []


def test_only_three_pictures_are_read_at_a_time_and_the_others_wait_for_them(new_house: House) -> None:
    busy: list[int] = []

    class Watching(HousePrinter):
        at_work = 0

        async def picture(self, raw: bytes) -> Any:
            self.at_work += 1
            busy.append(self.at_work)
            await asyncio.sleep(0.05)
            self.at_work -= 1
            return await super().picture(raw)

    new_house.app.state.printer = Watching()
    number = new_house.take_order()
    headers = {"sec-fetch-site": "same-origin", "cookie": f"shankwright={new_house.keys[Role.COUNTER]}"}

    async def all_at_once() -> list[int]:
        sent = [
            new_house.sends(
                "POST", f"/orders/{number}/pictures", headers=headers, files={"picture": ("a.jpg", a_photo())}
            )
            for _ in range(MOST_PICTURES + 2)
        ]
        return [answer.status_code for answer in await asyncio.gather(*sent)]

    assert sorted(asyncio.run(all_at_once())) == [303] * MOST_PICTURES + [409, 409]
    assert max(busy) <= uploads.AT_ONCE == 3
    assert len(shown(new_house, number)["pictures"]) == MOST_PICTURES


def test_an_unknown_order_takes_no_picture(house: House) -> None:
    assert send(house, "2026-999").status_code == 404
