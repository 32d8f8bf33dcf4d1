"""The page of the studio's gauges, the counter that measures with them, and the API that names them."""

import re
from typing import Any

import pytest

from studio.book.gauges import GaugeDraft, StudioGauge, gauges, put_gauge
from studio.book.order_reads import order
from studio.book.people import PROGRAM
from studio.craft.designs import GaugeKind, Measured, System
from studio.craft.roles import Role
from tests.builders import NOW
from tests.web.counter_desk import typed, words
from tests.web.house import House, an_order
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

ADDRESS = "/studio/gauges"
WIDE = GaugeDraft("Wide set", GaugeKind.SET, System.UK, 6.0, 1.25, 0.12, NOW.date())
STICK = GaugeDraft("Brass stick", GaugeKind.STICK, System.UK, None, 0.625, -0.05)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def put(morning: Morning, draft: GaugeDraft = WIDE, **given: Any) -> int:
    with morning.book() as book:
        return put_gauge(book, gauge=draft, actor=PROGRAM, now=NOW, **given).gauge.id


def stands(morning: Morning) -> tuple[StudioGauge, ...]:
    with morning.book() as book:
        return gauges(book)


def send(morning: Morning, number: int = 0, **fields: str) -> tuple[int, str, Shown]:
    """The form of a gauge as its page sends it, some fields otherwise."""
    address = f"{ADDRESS}/{number}" if number else ADDRESS
    form = morning.see(ADDRESS).form(address).fields
    chosen = {"kind": "set", "system": "uk"} | fields
    return morning.send(address, form | {f"{name}-{number}": value for name, value in chosen.items()})


def test_a_gauge_is_put_in_and_changed_on_its_page(morning: Morning) -> None:
    assert "No gauge is put in yet." in morning.see(ADDRESS).words
    assert send(morning, name="Wide set", width_mm="6 mm", correction_mm="-0.1", is_usual="yes")[:2] == (
        303, ADDRESS,
    )  # fmt: skip
    page = morning.see(ADDRESS)
    told = "Wide set set, UK, 6 mm wide, corrected by −0.10 mm, not calibrated yet; the usual one"
    assert told in page.words
    (found,) = stands(morning)
    assert (found.gauge.step_mm, found.gauge.correction_mm, found.is_usual) == (0.625, -0.1, True)
    assert send(morning, 1, correction_mm="0.12", calibrated_on="24 Nov 2026", step_mm="1.25")[0] == 303
    assert "corrected by +0.12 mm, calibrated on Tue 24 Nov 2026" in morning.see(ADDRESS).words
    assert stands(morning)[0].gauge.step_mm == 1.25
    assert ("Gauges", ADDRESS) in morning.see("/studio").links


def test_what_is_to_be_put_right_stands_beside_its_field_and_nothing_typed_is_lost(morning: Morning) -> None:
    put(morning)
    status, _, page = send(
        morning, name="wide SET", width_mm="x", correction_mm="9", calibrated_on="soon", note="kept"
    )
    assert status == 422
    fields = page.form(ADDRESS).fields
    assert (fields["name-0"], fields["width_mm-0"], fields["note-0"]) == ("wide SET", "x", "kept")
    assert page.title.startswith("Three things to put right: Gauges")
    assert page.by_id("f-correction-mm-0-wrong").startswith("9 mm is more than we can use")
    assert page.by_id("f-calibrated-on-0-wrong").startswith("Which day is meant?")
    assert any(href == "#f-width-mm-0" for _, href in page.links)
    status, _, page = send(morning, name="wide SET")
    assert (status, page.by_id("f-name-0-wrong")) == (
        422, "There is another called wide SET. Give each its own name.",
    )  # fmt: skip


def test_two_owners_at_once_see_both_versions(morning: Morning) -> None:
    number = put(morning)
    mine = morning.see(ADDRESS).form(f"{ADDRESS}/{number}").fields | {"kind-1": "set", "system-1": "uk"}
    assert send(morning, number, note="theirs")[0] == 303
    status, _, page = morning.send(f"{ADDRESS}/{number}", mine | {"note-1": "mine"})
    assert status == 409
    assert "Note you typed mine stands now theirs" in page.words


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_the_gauges_are_the_owners_to_change(morning: Morning, role: Role) -> None:
    assert morning.see(ADDRESS, role).status == 403
    assert morning.send(ADDRESS, {}, role)[0] == 403
    assert morning.send(f"{ADDRESS}/7", {}, Role.OWNER)[0] == 422


def test_without_gauges_the_counter_is_as_it_was(morning: Morning) -> None:
    html = morning.house.browse("GET", "/orders/new", headers=morning._cookie(Role.OWNER)).text
    assert re.search(r'<option value="gauge"\s+selected>Gauge</option>', html)
    assert "Gauge, another" not in html


def counter(morning: Morning, **fields: str) -> str:
    """What the counter says while this is typed."""
    form = typed(finger__gauge_width_mm="", **fields)
    answer = morning.house.browse(
        "POST", "/counter/figures", Role.COUNTER, headers=morning._cookie(Role.COUNTER), data=form
    )
    return answer.text


def test_the_counter_begins_with_the_usual_gauge_and_offers_the_others(morning: Morning) -> None:
    put(morning, STICK)
    put(morning, GaugeDraft("US set", GaugeKind.SET, System.US, 2.5, 1.277, is_usual=True))
    html = morning.house.browse("GET", "/orders/new", headers=morning._cookie(Role.OWNER)).text
    options = re.findall(r'<option value="([^"]*)"\s*(selected)?>([^<]*)</option>', html)
    assert options[options.index(("gauge 2", "selected", "US set, 2.5 mm")) :][:4] == [
        ("gauge 2", "selected", "US set, 2.5 mm"),
        ("ring 1", "", "Brass stick, a ring"),
        ("gauge", "", "Gauge, another"),
        ("ring", "", "A ring"),
    ]
    assert ("us", "selected", "US") in options


def test_the_gauge_that_was_chosen_corrects_the_size_and_tells_its_width(morning: Morning) -> None:
    put(morning)
    told = words(counter(morning, finger__measured="gauge 1"))
    assert "55.7 mm" in told
    assert "Fit 0.0: the gauge is as wide as the ring. Wide set +0.12." in told
    assert "correction of the gauge" in told
    assert "Wide set, calibrated on 25 Nov 2026" in told


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"finger__system": "us", "finger__size": "7"}, "This gauge reads UK sizes."),
        ({"finger__measured": "gauge 9"}, "We have no gauge called 9. Choose one from the list."),
    ],
)
def test_a_gauge_that_cannot_have_measured_it_is_told_beside_the_way_of_measuring(
    morning: Morning, fields: dict[str, str], sentence: str
) -> None:
    put(morning)
    form = typed(**{"finger__measured": "gauge 1", "finger__gauge_width_mm": ""} | fields)
    status, _, page = morning.send("/orders", form, Role.COUNTER)
    assert status == 422
    assert page.by_id("f-finger-measured-wrong").startswith(sentence)


def test_a_width_typed_beside_a_gauge_of_another_is_told(morning: Morning) -> None:
    put(morning)
    status, _, page = morning.send("/orders", typed(finger__measured="gauge 1", finger__gauge_width_mm="3"))
    assert (status, page.by_id("f-finger-gauge-width-mm-wrong")) == (
        422, "This gauge is 6 mm wide. Leave the width empty.",
    )  # fmt: skip


def test_an_order_keeps_the_gauge_it_was_taken_with_when_it_is_calibrated_anew(morning: Morning) -> None:
    number = put(morning)
    form = typed(finger__measured="gauge 1", finger__gauge_width_mm="")
    assert morning.send("/orders", form, Role.COUNTER)[0] == 303
    with morning.book() as book:
        before = order(book, "2026-1").rings[0]
    assert (before.finger.measured, before.finger.gauge_width_mm) == (Measured.GAUGE, 6.0)
    page = morning.see("/orders/2026-1").words
    assert "gauge Wide set, 6 mm wide, corrected by +0.12 mm" in page
    anew = GaugeDraft("Wide set", GaugeKind.SET, System.UK, 6.1, 1.25, -0.4, NOW.date())
    put(morning, anew, gauge_id=number, version=stands(morning)[0].version)
    assert morning.see("/orders/2026-1").words == page
    ring = morning.see("/orders/2026-1/rings/1", Role.COUNTER).form("/orders/2026-1/rings/1").fields
    again = {**form, "version": ring["version"], "idempotency_key": "again", "note": "only a note"}
    assert morning.send("/orders/2026-1/rings/1", again, Role.COUNTER)[0] == 303
    with morning.book() as book:
        assert order(book, "2026-1").rings[0] == before
        assert order(book, "2026-1").terms.note == "only a note"
    assert "O 55.2 mm" in words(counter(morning, finger__measured="gauge 1"))


def api(morning: Morning, **finger: Any) -> Any:
    ring = {
        "finger": {"system": "uk", "size": "O½", **finger},
        "profile": "flat", "width": 6, "thickness": 1.6, "alloy": "silver-925",
    }  # fmt: skip
    return morning.house.ask("POST", "/api/reckonings", Role.MAKER, json=ring)


@pytest.mark.parametrize("gauge", [1, "1", "Wide set", " WIDE  set "])
def test_a_program_names_the_gauge_by_id_or_name(morning: Morning, gauge: object) -> None:
    put(morning)
    told = api(morning, gauge=gauge).json()
    assert told["ring"]["circumference_mm"] == 55.745
    step = next(one for one in told["working"] if one["figure"] == "ring.circumference_mm")
    assert {"name": "correction of the gauge", "value": 0.12, "unit": "mm"} in step["inputs"]
    assert told["warnings"] == [one for one in told["warnings"] if one["code"] != "gauge-unknown"]


@pytest.mark.parametrize(
    ("finger", "field"),
    [
        ({"gauge": 9}, "finger.gauge"),
        ({"gauge": True}, "finger.gauge"),
        ({"gauge": ["Wide set"]}, "finger.gauge"),
        ({"gauge": 10**30}, "finger.gauge"),
        ({"gauge": 1, "measured": "told"}, "finger.gauge"),
        ({"gauge": 1, "measured": "ring"}, "finger.gauge"),
        ({"gauge": 2, "measured": "gauge"}, "finger.gauge"),
        ({"gauge": 1, "system": "us", "size": "7"}, "finger.gauge"),
        ({"gauge": 1, "gauge_width_mm": 3}, "finger.gauge_width_mm"),
    ],
)
def test_a_gauge_that_does_not_fit_the_rest_is_told_where(
    morning: Morning, finger: dict[str, Any], field: str
) -> None:
    put(morning)
    put(morning, STICK)
    answer = api(morning, **finger)
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_a_stick_reads_a_ring_of_a_width_of_its_own(morning: Morning) -> None:
    put(morning, STICK)
    told = api(morning, gauge="Brass stick", gauge_width_mm=3).json()
    assert told["ring"]["circumference_mm"] == pytest.approx(55.625 - 0.05 + 0.5)  # by the rule, 6 less 3 mm


def test_the_gauges_in_use_are_told_and_an_order_says_which_measured(morning: Morning) -> None:
    put(morning, WIDE)
    put(morning, GaugeDraft("Old", GaugeKind.SET, System.UK, 2.0, 0.625, is_put_away=True))
    told = morning.house.ask("GET", "/api/gauges", Role.MAKER).json()
    assert told == {
        "items": [
            {
                "id": 1, "name": "Wide set", "kind": "set", "system": "uk", "width_mm": 6.0, "step_mm": 1.25,
                "correction_mm": 0.12, "calibrated_on": "2026-11-25", "usual": False,
            }
        ],
        "next": None,
    }  # fmt: skip
    taken = an_order()
    taken["rings"][0]["finger"] = {"system": "uk", "size": "O½", "gauge": "wide set"}
    number = morning.house.ask("POST", "/api/orders", json=taken).json()["number"]
    finger = morning.house.ask("GET", f"/api/orders/{number}").json()["rings"][0]["finger"]
    assert (finger["gauge"], finger["measured"], finger["gauge_width_mm"]) == (1, "gauge", 6.0)


def test_a_wide_ring_from_a_narrow_set_wants_a_reason(morning: Morning) -> None:
    put(morning, GaugeDraft("Narrow set", GaugeKind.SET, System.UK, 2.5, 0.625))
    (warning,) = api(morning, gauge=1).json()["warnings"]
    assert (warning["code"], warning["needs_reason"]) == ("narrow-gauge", True)
