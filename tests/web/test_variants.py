"""Other ways to make a ring: offered from the order's page, changed at the counter, read back, chosen."""

from dataclasses import replace
from email import message_from_bytes
from email.policy import default as default_policy

import pytest

from studio.book.orders import OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from studio.craft.particulars import Marks, MarkWish, Particulars
from studio.craft.roles import Role
from tests.builders import NOW, a_ring, an_order
from tests.papers.printed import text_of
from tests.web.asking import shown
from tests.web.house import House
from tests.web.house import a_ring as a_told_ring
from tests.web.morning import Morning, a_morning
from tests.web.priced import ask_for_quote, put_in_rates
from tests.web.quoting import give_an_address, quote_of, set_up

NUMBER = "2026-1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
        an_order(book, rings=[a_ring()])
    return opened


def offer(morning: Morning, **changes: str) -> str:
    """Offer another variant from the order's page with these fields changed; the address of its ring."""
    form = morning.see(f"/orders/{NUMBER}", Role.COUNTER).form(f"/orders/{NUMBER}/variants")
    status, where, _ = morning.send(form.action, form.fields, Role.COUNTER)
    assert status == 303
    ring = morning.see(where, Role.COUNTER).form(where)
    status, back, page = morning.send(where, ring.filled(**changes, act="quote"), Role.COUNTER)
    assert (status, back) == (303, f"/orders/{NUMBER}#variants"), page.words
    return where


def test_a_variant_is_offered_from_the_orders_page_and_changed_at_the_counter(morning: Morning) -> None:
    where = offer(morning, alloy="silver-925")
    assert where == f"/orders/{NUMBER}/variants/b/rings/1"
    words = morning.see(f"/orders/{NUMBER}", Role.COUNTER).words
    assert "A, this ring" in words
    assert "in sterling silver (925)" in words
    counter = morning.see(where, Role.COUNTER)
    assert f"Order {NUMBER}, variant B, ring 1 of 1" in counter.words
    assert "Save variant B" in counter.words
    assert "wanted_on" not in counter.form(where).fields, "the days are the order's"


def test_what_the_counter_does_not_ask_stays_with_a_variant(morning: Morning) -> None:
    """The marks have no fields on its page; a variant has those it began with."""
    with morning.book() as book:
        stands = order(book, NUMBER)
        marked = replace(stands.rings[0].draft, particulars=Particulars(marks=Marks(MarkWish.THOUGH_EXEMPT)))
        change_order(
            book,
            number=NUMBER,
            version=stands.version,
            changes=OrderChanges(rings=(marked,)),
            actor=PROGRAM,
            now=NOW,
        )
    offer(morning, width="5")
    with morning.book() as book:
        (variant,) = order(book, NUMBER).variants
    assert variant.rings[0].design.width_mm == 5.0
    assert variant.rings[0].particulars.marks == Marks(MarkWish.THOUGH_EXEMPT)


def test_a_variant_asks_for_nothing_that_is_the_orders(morning: Morning) -> None:
    """Finger, days and the metals to avoid are changed with the order's own ring; here they only stand."""
    where = offer(morning)
    page = morning.see(where, Role.COUNTER)
    fields = page.form(where).fields
    assert not [name for name in fields if name.startswith("finger.") and name != "finger.from"]
    assert {"avoid", "wanted_on", "fit_mm"}.isdisjoint(fields)
    assert "UK O½, gauge 6 mm wide, warm hands, as the order has it" in page.words
    live = morning.house.browse(
        "POST",
        f"/counter/figures?order={NUMBER}&ring=1&variant=b",
        Role.COUNTER,
        data=page.form(where).filled(width="5"),
    )
    assert "The day it is wanted" not in live.text
    assert "O½" in live.text
    sent = page.form(where).filled(**{"finger.size": "Q", "avoid": "gold", "width": "5", "act": "quote"})
    assert morning.send(where, sent, Role.COUNTER)[0] == 303
    with morning.book() as book:
        found = order(book, NUMBER)
    assert (found.variants[0].rings[0].finger.label, found.terms.avoid) == ("O½", None)


def test_somebody_elses_change_is_shown_beside_what_was_typed_in_a_variant(morning: Morning) -> None:
    where = offer(morning)
    before = morning.see(where, Role.COUNTER).form(where)
    offer(morning, alloy="silver-925")
    status, _, page = morning.send(where, before.filled(width="5", act="quote"), Role.COUNTER)
    assert status == 409
    assert "changed a variant, variant C" in page.words
    told = page.words[page.words.index("Nothing of yours was saved yet") :].partition("Front")[0]
    assert told.count("stands now") == 1, told
    assert "Width" in told


def test_what_is_wrong_in_a_variant_is_told_beside_its_field_and_nothing_is_lost(morning: Morning) -> None:
    where = offer(morning)
    form = morning.see(where, Role.COUNTER).form(where)
    status, _, page = morning.send(where, form.filled(width="four", act="quote"), Role.COUNTER)
    assert status == 422
    assert page.form(where).fields["width"] == "four"
    assert page.by_id("f-width-wrong")


def test_the_read_back_shows_the_variants_side_by_side_and_asks_the_minutes_of_each(
    morning: Morning,
) -> None:
    offer(morning, alloy="silver-925")
    page = morning.see(f"/orders/{NUMBER}/read-back")
    assert "Variant A" in page.words
    assert "Variant B" in page.words
    fields = page.form(f"/orders/{NUMBER}/quotes").fields
    assert {"minutes-1", "minutes-1b"} <= set(fields)
    status, where, _ = morning.send(f"/orders/{NUMBER}/quotes", fields | {"minutes-1b": "333"}, Role.OWNER)
    assert (status, where) == (303, f"/quotes/{NUMBER}-q1")
    paper = text_of(morning.house.ask("GET", f"/quotes/{NUMBER}-q1.pdf").content)
    assert "Variant B" in paper
    assert "Yes, make variant A or B (ring one) as written here" in " ".join(paper.split())


def test_the_yes_says_which_variant(morning: Morning) -> None:
    offer(morning, alloy="silver-925")
    made = quote_of(morning, NUMBER)
    form = morning.see(f"/quotes/{made}", Role.COUNTER).form(f"/quotes/{made}/agreement")
    status, _, page = morning.send(form.action, form.filled(name="Hanne Müller"), Role.COUNTER)
    assert status == 422
    assert page.by_id("f-variant-wrong") == "Which one did they choose?"
    assert page.form(form.action).fields["name"] == "Hanne Müller"
    status, _, _ = morning.send(form.action, form.filled(variant="b"), Role.COUNTER)
    assert status == 303
    assert "said yes to variant B" in morning.see(f"/orders/{NUMBER}").words
    with morning.book() as book:
        found = order(book, NUMBER)
    assert (found.state, found.rings[0].design.alloy) == (State.AGREED, "silver-925")


def test_the_letter_names_every_variant_with_its_price(morning: Morning) -> None:
    with morning.book() as book:
        give_an_address(book)
    offer(morning, alloy="silver-925")
    made = quote_of(morning, NUMBER)
    cookie = {"cookie": f"shankwright={morning.keys[Role.COUNTER]}"}
    answer = morning.house.browse("GET", f"/quotes/{made}/letter.eml", headers=cookie)
    assert answer.status_code == 200, answer.text
    body = message_from_bytes(answer.content, policy=default_policy).get_body()
    assert body is not None
    letter = body.get_content()
    assert "Variant A" in letter
    assert "Variant B" in letter
    assert "say which you choose" in letter


def test_a_variant_is_dropped_from_the_orders_page(morning: Morning) -> None:
    offer(morning, alloy="silver-925")
    end = f"/orders/{NUMBER}/variants/b/end"
    form = morning.see(f"/orders/{NUMBER}", Role.COUNTER).form(end)
    assert morning.send(end, form.fields, Role.COUNTER)[:2] == (303, f"/orders/{NUMBER}#variants")
    with morning.book() as book:
        assert order(book, NUMBER).variants == ()


def test_programs_offer_a_choice_and_say_which_was_chosen(house: House) -> None:
    put_in_rates(house)
    number = house.take_order()
    body = {"version": 1, "rings": [a_told_ring(alloy="silver-925")]}
    told = house.ask("POST", f"/api/orders/{number}/variants", Role.COUNTER, json=body)
    assert told.status_code == 201, told.text
    assert told.json() == {"key": "b", "state": "draft", "version": 2}
    assert [one["key"] for one in shown(house, number)["variants"]] == ["b"]
    quote = ask_for_quote(house, number).json()
    assert [one["key"] for one in quote["variants"]] == ["a", "b"]
    first = dict(quote["variants"][0])
    assert {name: quote[name] for name in first if name != "key"} == {
        name: value for name, value in first.items() if name != "key"
    }
    path = f"/api/quotes/{quote['number']}/agreement"
    refused = house.ask("POST", path, json={"name": "Ottilie"})
    assert refused.status_code == 422
    assert refused.json()["errors"] == [{"field": "variant", "message": "Which one did they choose: A, B?"}]
    unknown = house.ask("POST", path, json={"name": "Ottilie", "variant": "c"})
    assert unknown.status_code == 404
    agreed = house.ask("POST", path, json={"name": "Ottilie", "variant": "b"})
    assert agreed.status_code == 201, agreed.text
    after = shown(house, number)
    assert (after["state"], after["variants"]) == ("agreed", [])
    assert after["rings"][0]["alloy"] == "silver-925"


def test_programs_drop_a_variant(house: House) -> None:
    number = house.take_order()
    body = {"version": 1, "rings": [a_told_ring(width=5)]}
    assert house.ask("POST", f"/api/orders/{number}/variants", json=body).status_code == 201
    path = f"/api/orders/{number}/variants/b"
    assert house.ask("DELETE", path).status_code == 422
    assert house.ask("DELETE", f"{path}?version=1").status_code == 409
    done = house.ask("DELETE", f"{path}?version=2")
    assert (done.status_code, done.json()) == (200, {"state": "draft", "version": 3})
    assert house.ask("DELETE", f"{path}?version=3").status_code == 404
