"""The buying list in a browser: short, ordered, on its way, arrived; the table of what suppliers sell."""

import csv
import io
import json
from dataclasses import replace
from typing import Any

import pytest

from studio.book.people import PROGRAM
from studio.book.piece_reads import pieces
from studio.book.purchase_reads import purchases
from studio.book.supplies import put_supply, supplies
from studio.craft.designs import Pattern
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_ring, an_order
from tests.craft.test_buying import STRIP
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

SUPPLIERS, BUYING = "/metal/suppliers", "/metal/buying"
TYPED = {
    "supplier-new": "=Rill & Daughter",
    "alloy-new": "silver-925",
    "kind-new": "strip",
    "thickness-new": "1.5",
    "least_width-new": "3",
    "width_step-new": "0.5",
    "least_length-new": "5 cm",
    "length_step-new": "5",
    "most_length-new": "500",
    "lead_days-new": "3 days",
    "spare_days-new": "1",
}


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


@pytest.mark.parametrize("role", Role)
def test_what_a_supplier_sells_is_put_in_put_right_and_dropped(morning: Morning, role: Role) -> None:
    form = morning.see(SUPPLIERS, role).form(SUPPLIERS)
    assert morning.send(SUPPLIERS, form.filled(**TYPED), role)[0] == 303
    with morning.book() as book:
        (kept,) = supplies(book)
    assert (kept.supply.width_step_um, kept.supply.lead_days, kept.supply.most_length_um) == (500, 3, 500_000)
    address = f"{SUPPLIERS}/{kept.id}"
    form = morning.see(SUPPLIERS, role).form(address)
    status, _, page = morning.send(address, form.filled(**{f"lead_days-{kept.id}": "soon"}), role)
    assert status == 422
    assert "One thing to put right" in page.words
    assert morning.send(address, form.filled(**{f"lead_days-{kept.id}": "5"}), role)[0] == 303
    form = morning.see(SUPPLIERS, role).form(f"{address}/off")
    assert morning.send(f"{address}/off", form.filled(), role)[0] == 303
    with morning.book() as book:
        assert supplies(book) == ()


@pytest.fixture
def short(morning: Morning) -> Morning:
    """A ring due on Tuesday 1 December that no piece yields, and a supplier of its stock."""
    plain = a_design(alloy="silver-925", thickness_mm=1.5, pattern=Pattern.PLAIN, pattern_when=None)
    with morning.book() as book:
        put_figures(book)
        a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=replace(plain, width_mm=6.0))])))
        sold = replace(STRIP, supplier="=Rill & Daughter", note="+soft")
        put_supply(book, supply=sold, actor=PROGRAM, now=NOW)
    return morning


@pytest.mark.parametrize("role", Role)
def test_what_is_short_is_ordered_and_then_on_its_way_and_not_short(short: Morning, role: Role) -> None:
    shown = short.see(BUYING, role)
    assert "One thing is short" in shown.words
    assert "Order by" in shown.words
    assert ("by the day’s price" in shown.words) is (role is Role.OWNER)
    form = shown.form("/metal/purchases")
    assert short.send("/metal/purchases", form.filled(), role)[0] == 303
    assert short.send("/metal/purchases", form.filled(), role)[0] == 303
    with short.book() as book:
        (made,) = purchases(book)
    (line,) = made.lines
    after = short.see(BUYING, role)
    assert "Nothing is short" in after.words
    assert f"Purchase {made.id}" in after.words
    stale = form.filled() | {"idempotency_key": "another-form-of-the-same-list"}
    assert short.send("/metal/purchases", stale, role)[0] == 409
    address = f"/metal/purchases/{made.id}/lines/{line.id}/arrival"
    arrival = after.form(address)
    status, _, page = short.send(address, arrival.filled(**{f"mass-{line.id}": "1"}), role)
    assert status == 422
    assert "The weight is right" in page.words
    grams = f"{line.mass_g * 1.03:.2f}"
    assert short.send(address, arrival.filled(**{f"mass-{line.id}": grams}), role)[0] == 303
    with short.book() as book:
        (piece,) = pieces(book)
        assert len(purchases(book)) == 1
    assert f"{piece.mass_g:.2f}" == grams
    assert "Nothing is short" in short.see(BUYING, role).words


def test_what_is_called_off_is_short_again(short: Morning) -> None:
    week = "/week?from=2026-12-01"
    assert "To buy: " in short.see(week).words
    form = short.see(BUYING).form("/metal/purchases")
    short.send("/metal/purchases", form.filled())
    ordered = short.see(week).words
    assert "Its metal is on its way." in ordered
    assert "To buy: " not in ordered
    with short.book() as book:
        (made,) = purchases(book)
    address = f"/metal/purchases/{made.id}/off"
    assert short.send(address, short.see(BUYING).form(address).filled())[0] == 303
    assert "One thing is short" in short.see(BUYING).words


def test_the_list_as_csv_runs_no_formula_and_keeps_costs_from_the_maker(short: Morning) -> None:
    def row(role: Role) -> dict[str, str]:
        status, kind, told = short.fetch(f"{BUYING}.csv", role)
        assert (status, kind) == (200, "text/csv; charset=utf-8")
        (only,) = csv.DictReader(io.StringIO(told.decode("utf-8-sig")))
        return only

    line = row(Role.OWNER)
    assert line["supplier"] == "'=Rill & Daughter"
    assert line["note"] == "'+soft"
    assert (line["width mm"], line["thickness mm"], line["gauge"]) == ("6", "1.5", "B&S 15")
    assert line["needed"] == "2026-12-01"
    assert float(line["cost of the line"]) > 0
    assert row(Role.MAKER)["cost of the line"] == ""


def test_what_no_supplier_is_given_for_says_so(short: Morning) -> None:
    with short.book() as book:
        (kept,) = supplies(book)
        put_supply(
            book, supply=replace(kept.supply, thickness_um=900), supply_id=kept.id, version=1,
            actor=PROGRAM, now=NOW,
        )  # fmt: skip
    assert "No supplier given" in short.see(BUYING).words


def test_the_week_tells_a_program_by_when_to_order(short: Morning) -> None:
    answer = short.fetch("/api/week?from=2026-12-01")
    (bought,) = json.loads(answer[2])["buy"]
    assert bought["order_by"] == "2026-11-27"  # four open days before Tuesday 1 December, no day closed
    assert (bought["blanks"], bought["on_its_way"]) == (1, 0)


def as_proposed(short: Morning, **changes: Any) -> dict[str, Any]:
    """What the list proposes, as a program sends it back."""
    told = short.house.ask("GET", "/api/buying").json()
    (line,) = told["items"]
    lines = [
        {"supply": line["supply"], "length": thing["length_mm"], "width": thing["width_mm"]}
        for thing in line["things"]
    ]
    return {"supplier": line["supplier"], "lines": lines, "latest": told["latest"]} | changes


def test_a_program_orders_what_is_proposed_and_takes_it_in_once(short: Morning) -> None:
    ask, wanted = short.house.ask, as_proposed(short)
    made = ask("POST", "/api/purchases", json=wanted)
    assert made.status_code == 201
    purchase = made.json()
    assert ask("GET", made.headers["location"]).json() == purchase
    assert ask("POST", "/api/purchases", json=wanted).status_code == 409
    assert ask("GET", "/api/buying").json()["items"] == []
    (bought,) = ask("GET", "/api/week?from=2026-12-01").json()["buy"]
    assert (bought["blanks"], bought["on_its_way"]) == (1, 1)
    (line,) = purchase["lines"]
    address = f"/api/purchases/{purchase['id']}/lines/{line['id']}/arrival"
    arrived = ask("POST", address, json={"lot": "B-9", "paid_minor": 880})
    assert arrived.status_code == 201
    assert arrived.json()["lines"][0]["state"] == "arrived"
    assert ask("POST", address, json={}).status_code == 409
    with short.book() as book:
        (piece,) = pieces(book)
    assert (piece.lot, piece.paid_minor) == ("B-9", 880)
    off = f"/api/purchases/{purchase['id']}/calling-off"
    assert ask("POST", off, json={"version": arrived.json()["version"]}).status_code == 409


def test_a_program_is_told_what_is_wrong_at_its_field(short: Morning) -> None:
    wrong = as_proposed(short)
    wrong["lines"] = [wrong["lines"][0] | {"length": 61.5}, {"supply": 1, "width": "narrow"}]
    answer = short.house.ask("POST", "/api/purchases", json=wrong)
    fields = [one["field"] for one in answer.json()["errors"]]
    assert (answer.status_code, fields) == (422, ["lines.1.length", "lines.1.width"])
    wrong["lines"] = wrong["lines"][:1]
    told = short.house.ask("POST", "/api/purchases", json=wrong).json()["errors"]
    assert told == [{"field": "lines.0.length", "message": "61.5 mm is not cut by this supplier; 70 mm is."}]
    assert short.house.ask("GET", "/api/purchases").json()["items"] == []


def test_costs_are_told_to_who_may_see_them(short: Morning) -> None:
    def costs(role: Role) -> list[Any]:
        buying = short.house.ask("GET", "/api/buying", role).json()["items"]
        sold = short.house.ask("GET", "/api/supplies", role).json()["items"]
        return [buying[0].get("cost_minor"), sold[0].get("least_charge_minor")]

    assert None not in costs(Role.OWNER)
    assert costs(Role.MAKER) == [None, None]
    (line,) = short.house.ask("POST", "/api/purchases", json=as_proposed(short)).json()["lines"]
    paid = {"paid_minor": 900}
    answer = short.house.ask("POST", f"/api/purchases/1/lines/{line['id']}/arrival", Role.MAKER, json=paid)
    assert [one["field"] for one in answer.json()["errors"]] == ["paid_minor"]


def test_the_order_on_paper_names_no_customer(short: Morning) -> None:
    number = short.house.ask("POST", "/api/purchases", json=as_proposed(short)).json()["id"]
    status, kind, pdf = short.fetch(f"/metal/purchases/{number}.pdf")
    assert (status, kind) == (200, "application/pdf")
    told = text_of(pdf)
    assert "925 silver strip" in told
    assert "2026-" not in told, "neither an order nor its ring"
    assert short.fetch("/metal/purchases/99.pdf")[0] == 404
