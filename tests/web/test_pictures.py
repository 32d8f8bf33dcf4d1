"""The pictures of an order: who adds them, what is kept, and who sees them."""

import io

import pytest
from PIL import Image

from studio.book.engine import session
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import an_order
from tests.papers.printed import reader, text_of
from tests.photos import SECRET, a_located_photo, a_photo
from tests.web.asking import shown
from tests.web.house import House, a_ring
from tests.web.picturing import NOTE, added, page_of, send
from tests.web.priced import say_yes


def written(house: House, state: State) -> str:
    with session(house.engine) as book:
        return an_order(book, state=state).number


def test_a_picture_stands_on_the_page_with_its_note_and_is_shown_to_everybody(house: House) -> None:
    number = house.take_order()
    told = added(house, number)
    assert told == {
        "id": told["id"], "ring": None, "note": NOTE, "width_px": 640, "height_px": 480,
        "href": f"/orders/{number}/pictures/{told['id']}.jpg",
    }  # fmt: skip
    for role in Role:
        page = page_of(house, number, role)
        assert NOTE in page.words
        assert told["href"] in [href for _, href in page.links]
        for path in (told["href"], told["href"].replace(".jpg", "/small.jpg")):
            assert f'="{path}"' in house.browse("GET", f"/orders/{number}", role).text
            picture = house.browse("GET", path, role)
            assert picture.status_code == 200
            assert Image.open(io.BytesIO(picture.content)).format == "JPEG"


def test_the_form_of_the_page_is_what_the_route_takes(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    form = page_of(house, number).form(f"/orders/{number}/pictures")
    assert set(form.fields) == {"version", "idempotency_key", "picture_note", "picture_ring", "picture"}
    sent = {name: value for name, value in form.filled(picture_ring="2").items() if name != "picture"}
    assert added(house, number, None, **sent)["ring"] == 2


def test_a_picture_is_sent_out_as_nothing_but_a_picture(house: House) -> None:
    told = added(house, house.take_order())
    answer = house.browse("GET", told["href"], Role.MAKER)
    assert answer.headers["content-type"] == "image/jpeg"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-disposition"].startswith('inline; filename="')
    assert answer.headers.get_list("content-security-policy") == [
        "default-src 'none'; frame-ancestors 'none'; sandbox"
    ]
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert answer.headers["cache-control"] == "private, no-cache"
    again = house.browse("GET", told["href"], headers={"if-none-match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_no_page_but_a_picture_has_another_policy_than_all(house: House) -> None:
    number = house.take_order()
    for path in (f"/orders/{number}", f"/orders/{number}/pictures/1.jpg"):
        assert "script-src 'self'" in house.browse("GET", path).headers["content-security-policy"]


def test_what_a_photo_says_beside_its_points_is_not_kept(house: House) -> None:
    told = added(house, house.take_order(), a_located_photo(6))
    assert (told["width_px"], told["height_px"]) == (480, 640)
    kept = house.browse("GET", told["href"]).content
    assert SECRET not in kept
    assert dict(Image.open(io.BytesIO(kept)).getexif()) == {}


def test_a_picture_of_another_order_is_not_found_under_this_one(house: House) -> None:
    mine, others = house.take_order(), house.take_order()
    told = added(house, mine)
    for path in (
        f"/orders/{others}/pictures/{told['id']}.jpg",
        f"/orders/{others}/pictures/{told['id']}/small.jpg",
    ):
        assert house.browse("GET", path).status_code == 404
    away = house.browse("POST", f"/orders/{others}/pictures/{told['id']}/away")
    assert away.status_code == 404
    assert shown(house, mine)["pictures"] == [told]
    for strange in ("0", "-1", "1e3", "99999999999999999999", "x", "%00"):
        assert house.browse("GET", f"/orders/{mine}/pictures/{strange}.jpg").status_code == 404


def test_makers_neither_add_nor_take_away(house: House) -> None:
    number = house.take_order()
    told = added(house, number)
    assert send(house, number, role=Role.MAKER).status_code == 403
    assert house.browse("POST", f"/orders/{number}/pictures/{told['id']}/away", Role.MAKER).status_code == 403
    assert [
        form.action for form in page_of(house, number, Role.MAKER).forms if "pictures" in form.action
    ] == []
    assert shown(house, number)["pictures"] == [told]


def test_a_picture_that_is_taken_away_is_gone_and_stands_in_the_history(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    told = added(house, number, picture_ring="2")
    form = page_of(house, number).form(f"/orders/{number}/pictures/{told['id']}/away")
    for _ in range(2):  # a double press
        answer = house.browse("POST", form.action, Role.COUNTER, data=form.filled())
        assert answer.status_code == 303, answer.text
    assert shown(house, number)["pictures"] == []
    assert house.browse("GET", told["href"]).status_code == 404
    again = house.browse("POST", form.action, Role.COUNTER)
    assert (again.status_code, "no such picture" in again.text) == (404, True)
    words = page_of(house, number).words
    assert f"Ivo added a picture of ring 2, {NOTE}." in words
    assert f"Ivo took a picture away of ring 2, {NOTE}." in words
    with house.engine.connect() as book:
        kept = book.exec_driver_sql("SELECT jpeg, small_jpeg, note FROM pictures").all()
    assert kept == [(None, None, NOTE)]


def test_pictures_change_neither_the_quote_nor_the_yes_nor_the_version(house: House) -> None:
    number = house.take_order()
    say_yes(house, number)
    before = shown(house, number)
    told = added(house, number)
    after = shown(house, number)
    assert after | {"pictures": []} == before
    house.browse("POST", f"/orders/{number}/pictures/{told['id']}/away")
    assert shown(house, number) == before


@pytest.mark.parametrize("state", list(State))
def test_pictures_are_added_until_the_order_is_handed_over_or_called_off(house: House, state: State) -> None:
    number = written(house, state)
    is_over = state in {State.HANDED_OVER, State.CALLED_OFF}
    has_form = any(form.action.endswith("/pictures") for form in page_of(house, number).forms)
    assert has_form is not is_over
    answer = send(house, number)
    assert answer.status_code == (409 if is_over else 303)
    if is_over:
        assert f"The order is {state}, so its pictures stay as they are." in answer.text
    assert len(shown(house, number)["pictures"]) == (0 if is_over else 1)


def test_what_was_added_before_stays_to_be_seen_when_the_order_is_over(house: House) -> None:
    number = house.take_order()
    told = added(house, number)
    moved = house.ask(
        "POST", f"/api/orders/{number}/moves", json={"to": "called off", "version": 1, "reason": "ill"}
    )
    assert moved.status_code == 200, moved.text
    assert house.browse("GET", told["href"]).status_code == 200
    assert house.browse("POST", f"/orders/{number}/pictures/{told['id']}/away").status_code == 409
    assert NOTE in page_of(house, number).words


def test_what_is_sent_twice_under_one_key_is_one_picture(house: House) -> None:
    number = house.take_order()
    for _ in range(2):
        assert send(house, number, idempotency_key="k-1").status_code == 303
    assert len(shown(house, number)["pictures"]) == 1
    other = send(house, number, a_photo("PNG"), idempotency_key="k-1")
    assert other.status_code == 409


def test_a_picture_of_a_ring_that_is_taken_out_is_of_the_whole_order(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    added(house, number, picture_ring="2")
    changed = house.ask("PATCH", f"/api/orders/{number}", json={"version": 1, "rings": [a_ring()]})
    assert changed.status_code == 200, changed.text
    assert [one["ring"] for one in changed.json()["pictures"]] == [None]


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("application/x-www-form-urlencoded", b"picture=x"),
        ("multipart/form-data", b"no boundary"),
        ("multipart/form-data; boundary=b", b"--c\r\nnonsense"),
        ("multipart/form-data; boundary=b", b"--b\r\nContent-Disposition: form-data\r\n\r\nx\r\n--b--"),
        ("text/plain", b""),
    ],
)
def test_a_body_that_is_no_such_form_is_told_so(house: House, kind: str, body: bytes) -> None:
    answer = house.browse(
        "POST", f"/orders/{house.take_order()}/pictures", content=body, headers={"content-type": kind}
    )
    assert answer.status_code == 422
    assert "We could not read what was sent." in answer.text


def test_the_sheets_show_each_ring_its_own_pictures_and_the_first_those_of_all(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    say_yes(house, number)
    added(house, number, picture_note="of all of it")
    added(house, number, a_photo(size=(300, 200)), picture_note="of the second", picture_ring="2")
    pdf = house.ask("GET", f"/orders/{number}/bench-sheet.pdf").content
    pages = [text_of(pdf, page) for page in range(1, len(reader(pdf).pages) + 1)]
    first = " ".join(words for words in pages if "ring 1 of 2" in words)
    second = " ".join(words for words in pages if "ring 2 of 2" in words)
    assert ("of all of it" in first, "of the second" in first) == (True, False)
    assert ("of all of it" in second, "of the second" in second) == (False, True)
    assert len({image.indirect_reference for page in reader(pdf).pages for image in page.images}) == 2
