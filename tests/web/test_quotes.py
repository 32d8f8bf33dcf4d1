"""A quote: everything on the paper is read back first, then it is made, and how it left is noted."""

import asyncio
import re
from datetime import timedelta
from email import message_from_bytes, policy

import httpx
import pytest

from studio.book.orders import OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.book.quotes import quote, quotes_of
from studio.book.rates import put_rates
from studio.craft.designs import Measured, Pattern
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_finger, a_ring, an_order
from tests.web.house import BASE_URL, House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import give_an_address, quote_of, quoted, set_up, state_of, the_rates

NUMBER, QUOTE = "2026-1", "2026-1-q1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    return opened


def put(morning: Morning, **facts: object) -> None:
    with morning.book() as book:
        an_order(book, **facts)  # type: ignore[arg-type]  # handed on as they are


def test_everything_on_the_paper_is_read_back_first(morning: Morning) -> None:
    put(morning)
    words = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER).words
    for told in (
        "Quote 2026-1-q1 for Jorun Müller, 25 November 2026, order 2026-1",
        "A flat band, 6 mm wide and 1.6 mm thick, hammered all round by hand, in 18 carat yellow gold (750).",
        "O½, inside 55.6 mm round, left ring finger.",
        "VAT, 20 %",
        "This price holds until Wednesday, 9 December 2026, since the price of gold moves.",
        "No day is promised yet; wanted by Saturday, 19 December 2026",
    ):
        assert told in words, told
    assert state_of(morning, NUMBER) is State.DRAFT


def test_the_quote_s_page_says_what_the_read_back_said(morning: Morning) -> None:
    put(morning)
    before = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER).words
    made = quote_of(morning, NUMBER)
    assert made == QUOTE
    after = morning.see(f"/quotes/{QUOTE}", Role.COUNTER).words
    total = re.search(r"Total (£[\d,.]+)", before)
    assert total is not None
    assert f"Total {total.group(1)}" in after
    assert "Good until the end of Wed 9 Dec." in after
    assert state_of(morning, NUMBER) is State.QUOTED


def test_what_holds_up_the_quote_is_listed_with_the_way_to_its_field(morning: Morning) -> None:
    put(morning, wanted_on=None, rings=[a_ring(a_finger(measured=Measured.TOLD, gauge_width_mm=None))])
    page = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER)
    assert page.link("The day it is wanted") == f"/orders/{NUMBER}/rings/1#f-wanted-on"
    assert page.link("A measured finger") == f"/orders/{NUMBER}/rings/1#f-finger-measured"
    assert not [form for form in page.forms if form.action.endswith("/quotes")]
    status, _, refused = morning.send(f"/orders/{NUMBER}/quotes", {}, Role.COUNTER)
    assert status == 409
    assert "No quote was made" in refused.title


def test_terms_of_one_quote_leave_the_rates_as_they_are(morning: Morning) -> None:
    put(morning)
    made = quote_of(morning, NUMBER, Role.OWNER, valid_days="21", deposit_percent="0", **{"minutes-1": "300"})
    with morning.book() as book:
        found = quote(book, made)
    assert (found.valid_until.isoformat(), found.deposit_minor) == ("2026-12-16", 0)
    put(morning)
    fields = morning.see("/orders/2026-2/read-back").form("/orders/2026-2/quotes").fields
    assert (fields["valid_days"], fields["deposit_percent"]) == ("14", "40")


def test_reckoning_again_shows_the_price_of_the_minutes_typed(morning: Morning) -> None:
    put(morning)
    short = morning.see(f"/orders/{NUMBER}/read-back?minutes-1=60")
    long = morning.see(f"/orders/{NUMBER}/read-back?minutes-1=600")
    assert "Labour 60 min £48.00" in short.words
    assert "Labour 600 min £480.00" in long.words
    assert long.form(f"/orders/{NUMBER}/quotes").fields["minutes-1"] == "600"


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("valid_days", "0"),
        ("valid_days", "soon"),
        ("deposit_percent", "140"),
        ("deposit_percent", "1,234"),
        ("minutes-1", "-5"),
        ("minutes-1", "9" * 50),
    ],
)
def test_terms_that_cannot_stand_are_said_beside_their_field_and_kept(
    morning: Morning, field: str, typed: str
) -> None:
    put(morning)
    form = morning.see(f"/orders/{NUMBER}/read-back").form(f"/orders/{NUMBER}/quotes")
    status, _, page = morning.send(form.action, form.filled(**{field: typed}))
    assert status == 422
    assert page.by_id(f"f-{field.replace('_', '-')}-wrong")
    assert page.form(form.action).fields[field] == typed
    assert state_of(morning, NUMBER) is State.DRAFT


def test_a_price_that_is_missing_waits_for_the_owner(morning: Morning) -> None:
    plain = a_design(alloy="copper", pattern=Pattern.PLAIN, pattern_when=None)
    put(morning, rings=[a_ring(design=plain)])
    page = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER)
    assert "Missing The price of copper" in page.words
    assert (
        morning.see(f"/orders/{NUMBER}/read-back").link("The price of copper") == "/studio?for=2026-1#prices"
    )


def test_a_new_book_leads_to_the_studio_s_page_and_back_to_the_quote(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = a_morning(house, monkeypatch)
    put(morning)
    page = morning.see(f"/orders/{NUMBER}/read-back")
    assert page.link("Fill it in") == "/studio?for=2026-1#rates"
    hammered = "The minutes for 'Work the pattern, hammered'"
    assert page.link(hammered) == "/studio?for=2026-1#minutes-heading"
    studio = morning.see("/studio?for=2026-1")
    assert studio.link("back to the quote of 2026-1") == f"/orders/{NUMBER}/read-back"
    typed = {"metal": "gold", "price": "3100", "unit": "ozt", "on": "25 Nov", "source": "the refiner's list"}
    form = studio.form("/studio/prices?for=2026-1")
    assert morning.send(form.action, {**form.fields, **typed})[:2] == (303, "/studio?for=2026-1#prices")
    assert "back to the quote" not in morning.see("/studio?for=//example").words


def test_at_the_counter_what_the_owner_has_to_say_leads_nowhere(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = a_morning(house, monkeypatch)
    put(morning)
    page = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER)
    assert "The owner puts this in on the Studio page." in page.words
    assert "Fill it in" not in page.words


def test_twenty_presses_at_once_make_one_quote(morning: Morning) -> None:
    put(morning)
    form = morning.see(f"/orders/{NUMBER}/read-back", Role.COUNTER).form(f"/orders/{NUMBER}/quotes")

    async def press() -> list[httpx.Response]:
        headers = {**morning._cookie(Role.COUNTER), "sec-fetch-site": "same-origin"}
        transport = httpx.ASGITransport(app=morning.house.app)
        async with httpx.AsyncClient(transport=transport, base_url=BASE_URL, headers=headers) as client:
            return await asyncio.gather(*(client.post(form.action, data=form.fields) for _ in range(20)))

    answers = asyncio.run(press())
    assert {answer.headers.get("location") for answer in answers} == {f"/quotes/{QUOTE}"}
    with morning.book() as book:
        assert len(quotes_of(book, NUMBER)) == 1


def test_a_new_quote_takes_the_place_of_the_one_that_stood(morning: Morning) -> None:
    first = quoted(morning)
    assert (
        "Quote 2026-1-q1 stands; the new one takes its place."
        in morning.see(f"/orders/{NUMBER}/read-back").words
    )
    second = quote_of(morning, NUMBER)
    old = morning.see(f"/quotes/{first}", Role.COUNTER)
    assert "Superseded It no longer stands, since Wed 25 Nov, 10:00." in old.words
    assert old.link(f"{second} stands in its place") == f"/quotes/{second}"
    assert not [form for form in old.forms if form.action.endswith("/agreement")]
    status, _, refused = morning.send(f"/quotes/{first}/agreement", {"name": "Jorun Müller"}, Role.COUNTER)
    assert status == 409
    assert "This quote no longer stands. 2026-1-q2 stands in its place." in refused.words
    assert state_of(morning, NUMBER) is State.QUOTED


def test_changing_the_ring_takes_the_quote_back(morning: Morning) -> None:
    made = quoted(morning)
    with morning.book() as book:
        version = order(book, NUMBER).version
        changes = OrderChanges(rings=(a_ring(a_finger("P")),))
        change_order(book, number=NUMBER, version=version, changes=changes, actor=PROGRAM, now=NOW)
    assert "It no longer stands" in morning.see(f"/quotes/{made}").words
    assert "A draft since 10:00. It waits for its quote." in morning.see(f"/orders/{NUMBER}").words


def test_how_it_left_is_noted_with_who_and_when(morning: Morning) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}", Role.COUNTER).form(f"/quotes/{made}/sendings")
    assert form.fields["to"] == "Jorun Müller"
    status, where, _ = morning.send(form.action, {**form.fields, "how": "post"}, Role.COUNTER)
    assert (status, where) == (303, f"/quotes/{made}")
    assert "By post to Jorun Müller, Wed 25 Nov, 10:00, Ivo" in morning.see(f"/quotes/{made}").words
    assert morning.send(form.action, {"how": "by raven", "to": ""}, Role.COUNTER)[0] == 422


def test_the_letter_carries_the_paper_of_the_book_byte_for_byte(morning: Morning) -> None:
    with morning.book() as book:
        give_an_address(book)
    made = quoted(morning)
    with morning.book() as book:
        put_rates(book, rates=the_rates(margin_percent=the_rates().tax_percent), actor=PROGRAM, now=NOW)
    paper = morning.house.browse("GET", f"/quotes/{made}.pdf", headers=morning._cookie(Role.COUNTER))
    answer = morning.house.browse("GET", f"/quotes/{made}/letter.eml", headers=morning._cookie(Role.COUNTER))
    assert answer.headers["content-type"].startswith("message/rfc822")
    letter = message_from_bytes(answer.content, policy=policy.default)
    (attached,) = letter.iter_attachments()
    assert attached.get_content() == paper.content
    assert letter["Subject"] == f"Quote {made} from Wrenfold, goldsmiths"


def test_a_letter_without_an_address_to_write_from_says_so(morning: Morning) -> None:
    made = quoted(morning)
    answer = morning.house.browse("GET", f"/quotes/{made}/letter.eml", headers=morning._cookie(Role.COUNTER))
    assert answer.status_code == 409
    assert "The studio has no e-mail address yet." in answer.text


@pytest.mark.parametrize("end", ["superseded", "run out"])
def test_a_quote_that_no_longer_holds_goes_to_nobody(morning: Morning, end: str) -> None:
    with morning.book() as book:
        give_an_address(book)
    put(morning)
    made = quote_of(morning, NUMBER, valid_days="1")
    if end == "superseded":
        quote_of(morning, NUMBER)
        words = "This quote no longer stands. 2026-1-q2 stands in its place."
    else:
        morning = a_morning(morning.house, morning.monkeypatch, NOW + timedelta(days=2))
        words = "This quote was good until Thu 26 Nov. Make a new one, then write its letter."
    page = morning.see(f"/quotes/{made}/letter.eml", Role.OWNER)
    assert (page.status, words in page.words) == (409, True), page.words
    assert "Letter with the paper" not in morning.see(f"/quotes/{made}", Role.OWNER).words


def test_a_quote_nobody_made_is_not_found(morning: Morning) -> None:
    assert morning.see("/quotes/2026-1-q9").status == 404
    assert morning.see("/orders/2026-99/read-back").status == 404


def test_an_agreed_order_is_not_read_back_again(morning: Morning) -> None:
    put(morning, state=State.AGREED)
    answer = morning.house.browse("GET", f"/orders/{NUMBER}/read-back", headers=morning._cookie(Role.COUNTER))
    assert (answer.status_code, answer.headers["location"]) == (303, f"/orders/{NUMBER}")


@pytest.mark.parametrize("path", [f"/orders/{NUMBER}", "/orders", "/", "/week"])
def test_a_maker_sees_no_price_and_no_quote(morning: Morning, path: str) -> None:
    made = quoted(morning)
    form = morning.see(f"/quotes/{made}").form(f"/quotes/{made}/agreement")
    morning.send(form.action, form.filled(deposit="300"))
    words = morning.see(path, Role.MAKER).words
    assert "£" not in words
    assert not [href for _, href in morning.see(path, Role.MAKER).links if href.startswith("/quotes/")]


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_cost_and_margin_are_for_the_owner_alone(morning: Morning, role: Role) -> None:
    made = quoted(morning)
    paths = (
        f"/quotes/{made}",
        f"/orders/{NUMBER}",
        f"/orders/{NUMBER}/read-back",
        f"/orders/{NUMBER}/rings/1",
    )
    for path in paths:
        words = morning.see(path, role).words
        assert not re.search(
            r"margin|overhead|own cost|labour|minutes planned|what we earn", words.lower()
        ), path
    assert "Own cost" in morning.see(f"/quotes/{made}").words
    assert "Own cost" in morning.see(f"/orders/{NUMBER}/rings/1").words
