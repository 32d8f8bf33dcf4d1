"""Anticlastic bands in orders: over the API, at the counter, on the order's page and on its papers."""

import re
from typing import Any

import pytest

from studio.craft.roles import Role
from tests.papers.printed import text_of
from tests.web.asking import change, shown
from tests.web.house import House, a_ring, an_order
from tests.web.priced import say_yes

ANTICLASTIC = {"kind": "anticlastic", "radius": "12.4 mm"}


def a_flaring_ring(**changes: Any) -> dict[str, Any]:
    return a_ring(width=8, thickness=0.8, alloy="silver-925", form=ANTICLASTIC) | changes


@pytest.mark.parametrize(
    ("form", "told"),
    [
        (ANTICLASTIC, {"kind": "anticlastic", "radius": 12.4, "rise": None}),
        (
            {"kind": "anticlastic", "rise": "0.66 mm"},
            {"kind": "anticlastic", "radius": None, "rise": 0.66},
        ),
        ({"kind": "band"}, {"kind": "band", "radius": None, "rise": None}),
        (None, {"kind": "band", "radius": None, "rise": None}),
    ],
)
def test_a_ring_of_an_order_keeps_its_form(
    house: House, form: dict[str, Any] | None, told: dict[str, Any]
) -> None:
    number = house.take_order(rings=[a_flaring_ring(form=form)])
    assert shown(house, number)["rings"][0]["form"] == told


def test_a_form_stays_when_the_rings_are_sent_back_as_they_were_read(house: House) -> None:
    number = house.take_order(rings=[a_flaring_ring()])
    order = shown(house, number)
    rings = [{k: v for k, v in ring.items() if k not in {"ring", "reckoning"}} for ring in order["rings"]]
    assert change(house, number, rings=rings).json()["rings"] == order["rings"]


def test_a_form_on_another_section_is_refused_beside_its_field(house: House) -> None:
    answer = house.ask("POST", "/api/orders", json=an_order(rings=[a_flaring_ring(profile="court")]))
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == ["rings.0.form.kind"]


def test_a_size_by_table_is_kept_in_an_order(house: House) -> None:
    number = house.take_order(rings=[a_ring(finger={"system": "hk", "size": "17", "measured": "gauge"})])
    finger = shown(house, number)["rings"][0]["finger"]
    assert (finger["system"], finger["size"]) == ("hk", "17")


def test_the_sheet_sinks_it_over_the_groove_and_says_it_is_not_to_be_resized(house: House) -> None:
    number = house.take_order(rings=[a_flaring_ring()])
    say_yes(house, number)
    words = text_of(house.browse("GET", f"/orders/{number}/bench-sheet.pdf", Role.OWNER).content)
    for told in ("Make a trial", "Sink over the groove", "radius 12.4", "Not to be resized"):
        assert told in words


def test_the_order_s_page_tells_how_the_band_is_formed(house: House) -> None:
    number = house.take_order(rings=[a_flaring_ring()])
    page = house.browse("GET", f"/orders/{number}", Role.OWNER).text
    for told in ("Anticlastic", "Groove 12.40 mm: formed 7.85 mm wide", "Not to be resized"):
        assert told in page


def test_the_counter_asks_for_the_groove_and_keeps_it(house: House) -> None:
    number = house.take_order(rings=[a_flaring_ring()])
    page = house.browse("GET", f"/orders/{number}/rings/1", Role.OWNER).text
    assert 'value="12.4"' in page
    assert re.search(r'value="radius"\s+selected', page)
    form = {
        "finger.system": "uk", "finger.size": "O½", "finger.measured": "gauge", "profile": "flat",
        "width": "8", "thickness": "0.8", "alloy": "silver-925", "pattern": "plain", "form.by": "rise",
    }  # fmt: skip
    told = house.browse("POST", "/counter/figures", Role.OWNER, data=form).text
    assert "waits for the groove" in told
    whole = house.browse("POST", "/counter/figures", Role.OWNER, data=form | {"form.mm": "0.66"}).text
    assert "formed 7.85 mm wide" in whole
    assert "Make a trial in copper first." in whole
