import asyncio
import re

import httpx
import pytest

from studio.book.customers import CustomerDraft, add_customer, customers_page
from studio.book.engine import session
from studio.book.orders import order, orders_page
from studio.book.people import PROGRAM
from studio.clock import now
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import an_order
from tests.web.counter_desk import chosen, send, typed, value_of, words
from tests.web.house import BASE_URL, House


def numbers(house: House) -> list[str]:
    with session(house.engine) as book:
        return [line.number for line in orders_page(book).items]


def a_known_customer(house: House, name: str, phone: str) -> int:
    with session(house.engine) as book:
        add_customer(book, draft=CustomerDraft(name, phone), actor=PROGRAM, now=now())
        return next(line.id for line in customers_page(book).items if line.name == name)


def saved(house: House, **changed: str) -> str:
    answer = send(house, typed(**changed))
    assert answer.status_code == 303, words(answer.text)
    number: str = answer.headers["location"].split("/")[2]
    return number


def test_an_order_is_taken_and_its_page_comes_next(house: House) -> None:
    answer = send(
        house,
        typed(promised_on="17 Dec 2099", promised_hour="10", bench_on="1 Dec 2099", note="Engrave later."),
    )
    assert answer.status_code == 303
    (number,) = numbers(house)
    assert answer.headers["location"] == f"/orders/{number}"
    with session(house.engine) as book:
        taken = order(book, number)
    ring = taken.rings[0]
    assert (taken.customer.name, taken.customer.phone) == ("Oda Wrenlow", "01632 960 417")
    assert (ring.finger.label, ring.finger.hand, ring.finger.name) == ("O½", "left", "ring")
    assert (ring.design.width_mm, ring.design.thickness_mm, ring.design.alloy) == (6, 1.6, "gold-750-yellow")
    assert str(taken.terms.wanted_on) == "2099-12-19"
    assert taken.terms.promised_at is not None
    assert f"{taken.terms.promised_at:%Y-%m-%d %H:%M}" == "2099-12-17 10:00"
    assert (str(taken.terms.bench_on), taken.terms.note) == ("2099-12-01", "Engrave later.")


def test_the_ring_comes_back_to_the_counter_as_it_was_typed(house: House) -> None:
    number = saved(house, finger__knuckle="P", stretch_percent="1.2", wanted_hard="yes", note="Two notes")
    page = house.browse("GET", f"/orders/{number}/rings/1", Role.COUNTER).text
    for name in (
        "finger.size",
        "width",
        "thickness",
        "finger.gauge_width_mm",
        "finger.knuckle",
        "stretch_percent",
    ):
        assert value_of(page, name) == typed(finger__knuckle="P", stretch_percent="1.2")[name]
    assert chosen(page, "alloy") == "gold-750-yellow"
    assert chosen(page, "pattern") == "hammered"
    assert chosen(page, "finger.place") == "left ring"
    assert value_of(page, "wanted_on") == "Sat 19 Dec 2099"
    assert "ring 1 of 1" in words(page)


def test_pressing_save_twice_takes_one_order(house: House) -> None:
    first, second = send(house, typed()), send(house, typed())
    assert first.headers["location"] == second.headers["location"]
    assert len(numbers(house)) == 1


def test_twenty_presses_at_once_take_one_order(house: House) -> None:
    async def press() -> list[httpx.Response]:
        headers = {"cookie": f"shankwright={house.keys[Role.COUNTER]}", "sec-fetch-site": "same-origin"}
        transport = httpx.ASGITransport(app=house.app)
        async with httpx.AsyncClient(transport=transport, base_url=BASE_URL, headers=headers) as client:
            return await asyncio.gather(*(client.post("/orders", data=typed()) for _ in range(20)))

    answers = asyncio.run(press())
    assert {answer.status_code for answer in answers} == {303}
    assert len({answer.headers["location"] for answer in answers}) == 1
    assert len(numbers(house)) == 1


def test_a_page_saved_before_and_changed_asks_before_it_takes_another(house: House) -> None:
    saved(house)
    again = send(house, typed(width="5"))
    assert again.status_code == 409
    assert "This page was saved before." in words(again.text)
    assert value_of(again.text, "width") == "5"
    assert value_of(again.text, "idempotency_key") not in {"", typed()["idempotency_key"]}
    assert len(numbers(house)) == 1


def test_errors_stand_first_and_beside_their_fields_and_nothing_is_lost(house: House) -> None:
    form = typed(width="60", wanted_on="31 Feb 2099", finger__gauge_width_mm="3", **{"customer.name": ""})
    answer = send(house, form)
    page = answer.text
    assert answer.status_code == 422
    assert numbers(house) == []
    assert re.search(r"<title>Two things to put right, one to answer: New order", page)
    assert page.index('id="errors"') < page.index("<h1")
    summary = page.partition('id="errors"')[2].partition("</section>")[0]
    links = dict(re.findall(r'<a href="#([^"]+)">([^<]+)</a>', summary))
    assert list(links) == ["f-customer-name", "f-width", "f-wanted-on"]
    for field_id, sentence in links.items():
        field = re.search(rf'<input id="{field_id}"[^>]*>', page)
        assert field is not None
        assert 'aria-invalid="true"' in field.group()
        assert f"{field_id}-wrong" in field.group()
        beside = re.search(rf'<p class="field-wrong" id="{field_id}-wrong">(.*?)</p>', page, flags=re.DOTALL)
        assert beside is not None
        assert sentence.endswith(words(beside.group(1)))
    assert "60 mm is wider than a ring we can make, 0.8 to 40. Did you mean 6?" in words(summary)
    assert "February 2099 ends on Saturday the 28th. Which day is meant?" in words(summary)
    for name in ("width", "wanted_on", "thickness", "finger.size", "finger.gauge_width_mm", "customer.phone"):
        assert value_of(page, name) == form[name]
    assert chosen(page, "alloy") == form["alloy"]


def test_a_narrow_gauge_without_a_reason_refuses_no_order(house: House) -> None:
    number = saved(house, finger__gauge_width_mm="3")
    with session(house.engine) as book:
        assert "reason for narrow gauge on ring 1" in order(book, number).missing.bench


def test_a_reason_for_the_gauge_is_kept(house: House) -> None:
    number = saved(house, finger__gauge_width_mm="3", **{"reasons.narrow-gauge": "the wide set is lent out"})
    with session(house.engine) as book:
        assert order(book, number).rings[0].reasons == {"narrow-gauge": "the wide set is lent out"}


def test_the_open_reason_is_asked_where_the_page_comes_back_anyway(house: House) -> None:
    answer = send(house, typed(finger__gauge_width_mm="3", wanted_on="31 Feb 2099"))
    assert "One thing to put right, one to answer" in words(answer.text)
    assert 'href="#f-reasons-narrow-gauge"' in answer.text


def test_an_hour_without_a_day_is_asked_about(house: House) -> None:
    answer = send(house, typed(promised_hour="10:00"))
    assert answer.status_code == 422
    assert "On which day? Only the hour is given." in words(answer.text)


@pytest.mark.parametrize("hour", ["25", "tea time", "10:75", "💍"])
def test_an_hour_that_is_none_is_asked_about_beside_it(house: House, hour: str) -> None:
    answer = send(house, typed(promised_on="17 Dec 2099", promised_hour=hour))
    assert answer.status_code == 422
    assert 'href="#f-promised-hour"' in answer.text
    assert value_of(answer.text, "promised_hour") == hour


def test_markup_in_a_name_is_text(house: House) -> None:
    name = "<script>alert(1)</script>{{7*7}}"
    number = saved(house, **{"customer.name": name})
    page = house.browse("GET", f"/orders/{number}/rings/1", Role.COUNTER).text
    assert "<script>alert" not in page
    assert name in words(page.replace("&lt;", "‹").replace("&gt;", "›")).replace("‹", "<").replace("›", ">")


@pytest.mark.parametrize("name", ["width", "customer.name", "note", "wanted_on", "finger.size", "alloy"])
def test_whatever_is_typed_is_answered_and_kept(house: House, name: str) -> None:
    for strange in ("9" * 10_000, "<script>", "{{7*7}}", "💍", "NaN", "1,234", "\u202e6"):
        answer = send(house, {**typed(), name: strange, "idempotency_key": ""})
        assert answer.status_code in {303, 422}, strange[:40]
        if answer.status_code == 422 and name in {"width", "customer.name", "wanted_on", "finger.size"}:
            assert value_of(answer.text, name) == strange


def test_save_and_add_a_ring_goes_on_with_a_like_ring_for_another_finger(house: House) -> None:
    answer = send(house, typed(act="add"))
    (number,) = numbers(house)
    assert answer.headers["location"] == f"/orders/{number}/rings/new"
    page = house.browse("GET", answer.headers["location"], Role.COUNTER).text
    assert (value_of(page, "width"), chosen(page, "alloy")) == ("6", "gold-750-yellow")
    assert value_of(page, "finger.size") == ""
    second = typed(idempotency_key="a-second", finger__size="V", version=value_of(page, "version"))
    assert send(house, second, f"/orders/{number}/rings/new").status_code == 303
    with session(house.engine) as book:
        assert [ring.finger.label for ring in order(book, number).rings] == ["O½", "V"]


def test_changing_a_ring_leaves_its_neighbours_and_the_hour_it_was_measured(house: House) -> None:
    number = saved(house)
    with session(house.engine) as book:
        before = order(book, number)
    changed = typed(
        idempotency_key="later", width="5", version=str(before.version), note="Wider would not fit"
    )
    assert send(house, changed, f"/orders/{number}/rings/1").status_code == 303
    with session(house.engine) as book:
        after = order(book, number)
    assert after.rings[0].design.width_mm == 5
    assert after.rings[0].taken_at == before.rings[0].taken_at
    assert after.terms.note == "Wider would not fit"
    assert after.version == before.version + 1


def test_two_people_at_one_order_lose_nothing(house: House) -> None:
    number = saved(house)
    path = f"/orders/{number}/rings/1"
    page = house.browse("GET", path, Role.COUNTER).text
    version = value_of(page, "version")
    assert send(house, typed(idempotency_key="hers", width="5", version=version), path).status_code == 303
    late = send(house, typed(idempotency_key="his", width="4", version=version), path)
    assert late.status_code == 409
    assert "Somebody else changed this order meanwhile" in words(late.text)
    assert "Width you typed 4 stands now 5" in words(late.text)
    assert value_of(late.text, "width") == "4"
    fresh = typed(
        idempotency_key=value_of(late.text, "idempotency_key"),
        width="4",
        version=value_of(late.text, "version"),
    )
    assert send(house, fresh, path).status_code == 303


def test_an_agreed_order_stands(house: House) -> None:
    with session(house.engine) as book:
        number = an_order(book, state=State.AGREED).number
    path = f"/orders/{number}/rings/1"
    assert house.browse("GET", path, Role.COUNTER).headers["location"] == f"/orders/{number}"
    with session(house.engine) as book:
        version = order(book, number).version
    late = send(house, typed(idempotency_key="late", width="5", version=str(version)), path)
    assert late.status_code == 409
    assert "can no longer change" in words(late.text)
    assert value_of(late.text, "width") == "5"


def test_a_ring_that_is_not_there_is_not_found(house: House) -> None:
    number = saved(house)
    for position in ("2", "0", "first", "-1"):
        assert house.browse("GET", f"/orders/{number}/rings/{position}", Role.COUNTER).status_code == 404
    assert house.browse("GET", "/orders/2026-9999/rings/1", Role.COUNTER).status_code == 404


def test_a_known_customer_is_offered_while_the_name_is_typed(house: House) -> None:
    known = a_known_customer(house, "Petra Müller", "01632 960 118")
    for typed_so_far in ("muller", "Pet", "0118", "01 18"):
        offered = house.browse("GET", "/counter/customers", Role.COUNTER, params={"q": typed_so_far})
        assert f'value="choose {known}"' in offered.text, typed_so_far
    assert "<button" not in house.browse("GET", "/counter/customers?q=nobody", Role.COUNTER).text


def test_without_script_find_offers_and_a_press_chooses(house: House) -> None:
    known = a_known_customer(house, "Petra Müller", "01632 960 118")
    found = send(house, typed(act="find", width="60", **{"customer.name": "muller"}))
    assert found.status_code == 200
    assert f'value="choose {known}"' in found.text
    assert value_of(found.text, "width") == "60"
    picked = send(house, typed(act=f"choose {known}", **{"customer.name": "muller"})).text
    assert value_of(picked, "customer.id") == str(known)
    assert 'name="customer.name"' not in picked
    assert "Petra Müller 01632 960 118 change" in words(picked)
    assert send(house, {**typed(**{"customer.name": ""}), "customer.id": str(known)}).status_code == 303
    with session(house.engine) as book:
        assert order(book, numbers(house)[0]).customer.id == known
    changed = send(house, {**typed(act="change"), "customer.id": str(known)}).text
    assert 'name="customer.name"' in changed


def test_find_says_when_nobody_is_found(house: House) -> None:
    none = send(house, typed(act="find", **{"customer.name": "Nobody At All"}))
    assert "Nobody in the book has that name or number." in words(none.text)


@pytest.mark.parametrize("strange", ["99999", "-1", "abc", "9" * 300])
def test_a_customer_who_is_not_in_the_book_is_not_chosen(house: House, strange: str) -> None:
    answer = send(house, {**typed(), "customer.id": strange})
    assert answer.status_code == 422
    assert numbers(house) == []
