"""What is typed wrongly is answered with a sentence beside its field, and never with a fault of ours."""

import json
from typing import Any

import httpx
import pytest

from tests.web.house import House, a_ring, an_order, put

LONG = "9" * 10_000
TYPED: dict[str, Any] = {
    "empty": "",
    "blank": "   ",
    "negative": "-3",
    "zero": "0",
    "huge": "1e12",
    "a million": 1_000_000,
    "not a number": "NaN",
    "beyond all floats": "1e309",
    "ambiguous comma": "1,234",
    "full-width digits": "６０",
    "emoji": "💍",
    "ten thousand signs": LONG,
    "a script": "<script>alert(1)</script>",
    "a template": "{{7*7}}",
    "31 February": "31 Feb 2027",
    "a bell": "\x07",
    "truth": True,
    "a list": [],
    "an object": {"a": 1},
    "minus three": -3,
    "nothing at all": 0,
    "huge number": 1e299,
}
MEASURES = {"finger.gauge_width_mm", "fit_mm", "width", "thickness", "stretch_percent"}
SIZES = {"finger.size", "finger.knuckle", "finger.size_to"}
CHOICES = {
    "finger.system",
    "finger.measured",
    "finger.hand",
    "finger.name",
    "profile",
    "from",
    "pattern",
    "pattern_when",
}
WORDS = {"finger.taken_by", "alloy", "form.kind", "reasons.narrow-gauge"}
DAYS = {"wanted_on", "promised_at", "bench_on"}
OF_A_RING = sorted(MEASURES | SIZES | CHOICES | WORDS | {"finger.warm", "finger.taken_at"})
OF_AN_ORDER = sorted(
    DAYS | {"wanted_hard", "note", "customer.name", "customer.phone", "customer.email", "customer.id"}
)
TAKEN_AS_TYPED = {"customer.name", "note", "finger.taken_by", "reasons.narrow-gauge"}
"""Words of the studio's own; what is no wrong sign is kept, and escaped wherever it is shown."""


def assert_is_told(answer: httpx.Response, field: str) -> None:
    """The answer names the field in a sentence of ours and repeats nothing that could do harm."""
    assert answer.status_code == 422, answer.text
    told = {error["field"]: error["message"] for error in answer.json()["errors"]}
    near = [
        message for path, message in told.items() if path and (path == field or path.startswith(f"{field}."))
    ]
    assert near, (field, told)
    for message in told.values():
        assert message[0].isupper() or message[0].isdigit() or message[0] == "-", message
        assert message.endswith((".", "?")), message
        assert "input" not in message.lower()
        assert "invalid" not in message.lower()
    for harm in ("<script", "{{7", "\x07", LONG[:60]):
        assert harm not in answer.text


@pytest.mark.parametrize("field", OF_A_RING)
def test_a_field_of_a_ring_is_read_or_told(house: House, field: str) -> None:
    for name, typed in TYPED.items():
        order = put(an_order(), f"rings.0.{field}", typed)
        answer = house.ask("POST", "/api/orders", json=order)
        if answer.status_code != 201:
            assert_is_told(answer, f"rings.0.{field}")
            continue
        is_left_out = isinstance(typed, str) and not typed.strip()
        is_measure = field in MEASURES | SIZES and typed in {"0", 0, "-3", -3, "６０"}
        is_warm = field == "finger.warm" and typed is True
        assert is_left_out or is_measure or field in TAKEN_AS_TYPED or is_warm, name


@pytest.mark.parametrize("field", OF_AN_ORDER)
def test_a_field_of_an_order_is_read_or_told(house: House, field: str) -> None:
    for name, typed in TYPED.items():
        order = an_order()
        if field == "customer.id":
            order["customer"] = {}
        answer = house.ask("POST", "/api/orders", json=put(order, field, typed))
        if answer.status_code != 201:
            assert_is_told(answer, field if field != "customer.id" else "customer")
            continue
        is_left_out = isinstance(typed, str) and not typed.strip()
        is_hard = field == "wanted_hard" and typed is True
        assert is_left_out or field in TAKEN_AS_TYPED or is_hard, name


@pytest.mark.parametrize("field", sorted(MEASURES | {"finger.size"}))
def test_a_number_that_is_none_is_told_at_its_field(house: House, field: str) -> None:
    for number in ("NaN", "Infinity", "-Infinity", "1e309", "-1e309", "9" * 5000):
        body = json.dumps(put(a_ring(), field, "HERE")).replace('"HERE"', number)
        headers = {"content-type": "application/json"}
        assert_is_told(house.ask("POST", "/api/reckonings", content=body, headers=headers), field)


BODIES = {
    "cut short": (b'{"profile": "flat"', "The body is not well-formed JSON."),
    "nothing": (b"", "The body is empty. Send JSON."),
    "one word": (b"flat", "The body is not well-formed JSON."),
    "a list": (b"[]", "Send one JSON object, with the content type application/json."),
    "a text": (b'"flat"', "Send one JSON object, with the content type application/json."),
    "null": (b"null", "Send one JSON object, with the content type application/json."),
    "not UTF-8": (b'{"profile": "\xff"}', "The body is not text in UTF-8."),
    "UTF-16": ('{"profile": "flat"}'.encode("utf-16"), "The body is not text in UTF-8."),
    "deep": (b"[" * 200_000 + b"]" * 200_000, "The body is nested too deeply."),
    "deep objects": (b'{"a":' * 40 + b"1" + b"}" * 40, "The body is nested too deeply."),
    "twice": (b'{"width": 6, "width": 60}', "This is given twice. Which one is meant?"),
    "half a sign": (
        rb'{"alloy": "\ud83d"}',
        "There is a sign in this that cannot be printed. Type it again.",
    ),
    "a nul": (rb'{"alloy": "a\u0000b"}', "There is a sign in this that cannot be printed. Type it again."),
    "an unknown field": (b'{"colour": "red"}', "We do not know this field."),
    "a field with a script for a name": (b'{"<script>": 1}', "We do not know this field."),
}


@pytest.mark.parametrize(("body", "sentence"), BODIES.values(), ids=BODIES)
@pytest.mark.parametrize("path", ["/api/reckonings", "/api/orders"])
def test_a_malformed_body_is_told_so(house: House, path: str, body: bytes, sentence: str) -> None:
    answer = house.ask("POST", path, content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    messages = [error["message"] for error in answer.json()["errors"]]
    assert sentence in messages or (path == "/api/orders" and "We do not know this field." in messages)
    assert "<script" not in answer.text


def test_a_body_of_another_kind_is_told_what_to_send(house: House) -> None:
    answer = house.ask(
        "POST", "/api/reckonings", content=b"profile=flat", headers={"content-type": "text/plain"}
    )
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] is None


def test_everything_wrong_is_told_at_once(house: House) -> None:
    ring = a_ring(
        finger={"size": "XX", "gauge_width_mm": "wide"}, width=60, thickness="no", alloy="cheese", fit_mm=99
    )
    ring |= {"pattern": "rolled", "pattern_when": "closed"}
    order = an_order(rings=[a_ring(), ring], wanted_on="31 Feb 2027", customer={"name": "", "phone": "none"})
    told = {error["field"] for error in house.ask("POST", "/api/orders", json=order).json()["errors"]}
    assert told == {
        "customer.name",
        "customer.phone",
        "wanted_on",
        "rings.1.finger.size",
        "rings.1.finger.gauge_width_mm",
        "rings.1.width",
        "rings.1.thickness",
        "rings.1.alloy",
        "rings.1.fit_mm",
        "rings.1.pattern_when",
    }


ADDRESSES = [
    "/api/sizes?system=uk&size=54",
    "/api/sizes?system=xx&size=N",
    "/api/sizes",
    "/api/sizes?system=us&size=-1",
    f"/api/sizes?system=uk&size={LONG}",
    "/api/sizes?system=uk&size=%3Cscript%3E",
    "/api/sizes?system=uk&size=N&colour=red",
    "/api/orders?limit=0",
    "/api/orders?limit=201",
    "/api/orders?limit=1e309",
    "/api/orders?limit=many",
    "/api/orders?after=yesterday",
    "/api/orders?after=2026-",
    "/api/orders?after=%3Cscript%3E",
    "/api/alloys?limit=201",
    "/api/orders?state=lost",
    "/api/orders?q=%07",
    f"/api/orders?q={LONG}",
    "/api/week?from=31%20Feb%202027",
    "/api/week?from=never",
    "/api/week?form=2026-11-25",
    "/api/week?from=9999-99-99",
]


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_wrong_question_is_told_so(house: House, address: str) -> None:
    answer = house.ask("GET", address)
    assert answer.status_code == 422, answer.text
    for error in answer.json()["errors"]:
        assert error["field"]
        assert error["message"].endswith((".", "?"))
    assert "<script" not in answer.text


@pytest.mark.parametrize(
    "number", ["2026-999", "nothing", "%3Cscript%3E", "2026-1%2F1", "%F0%9F%92%8D", "1" * 500]
)
def test_an_order_that_is_not_there_is_told_so(house: House, number: str) -> None:
    for method, path in (("GET", ""), ("PATCH", ""), ("POST", "/moves")):
        body = {"version": 1, "to": "agreed"} if path else {"version": 1}
        answer = house.ask(method, f"/api/orders/{number}{path}", json=None if method == "GET" else body)
        assert answer.status_code == 404, answer.text
        assert "<script" not in answer.text


def test_what_is_kept_as_typed_is_escaped_where_it_is_shown(house: House) -> None:
    name = "<script>alert(1)</script> {{7*7}} Óðinn"
    number = house.take_order(customer={"name": name}, note="</textarea><script>alert(2)</script>")
    assert house.ask("GET", f"/api/orders/{number}").json()["customer"]["name"] == name
    for path in (f"/orders/{number}", "/orders", "/customers", f"/orders/{number}/rings/1"):
        page = house.browse("GET", path)
        assert page.status_code == 200
        assert "<script>alert" not in page.text
        assert "{{7*7}}" in page.text


@pytest.mark.parametrize(
    "body", [b"\xff", b"name=%ff", b"a=1&" * 5000, b"a.b=1&a=2", b"a=1&a.b=2", b"a.0.b.c.d.e.f=1"]
)
def test_a_form_that_no_page_of_ours_sends_is_told_so(house: House, body: bytes) -> None:
    headers = {"content-type": "application/x-www-form-urlencoded"}
    answer = house.browse("POST", "/orders", content=body, headers=headers)
    assert answer.status_code == 422


def test_a_form_of_another_kind_is_told_so(house: House) -> None:
    answer = house.browse("POST", "/orders", files={"name": b"x"})
    assert answer.status_code == 422


@pytest.mark.parametrize("number", [2**31 - 1, 2**31, 10**12 - 1])
def test_a_customer_with_a_number_greater_than_any_is_not_there(house: House, number: int) -> None:
    for path in (f"/customers/{number}", f"/customers?after={number}"):
        assert house.browse("GET", path).status_code == 404
    answer = house.ask("POST", "/api/orders", json=an_order(customer={"id": number}))
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "customer.id")
