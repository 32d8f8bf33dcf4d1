"""What every answer carries, and what the threshold turns away."""

import asyncio
from collections.abc import AsyncIterator, MutableMapping
from typing import Any

import httpx
import pytest

from studio.book.engine import open_book
from studio.craft.roles import Role
from studio.web.app import create_app
from tests.web.house import BASE_URL, House, settings
from tests.web.routes import ALL_ROUTES, address


def assert_is_dressed(answer: httpx.Response) -> None:
    policy = dict(part.strip().split(" ", 1) for part in answer.headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert (
        policy["script-src"] == policy["style-src"] == policy["font-src"] == policy["form-action"] == "'self'"
    )
    assert policy["base-uri"] == policy["frame-ancestors"] == policy["object-src"] == "'none'"
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    is_a_customers = answer.request.url.path.startswith("/answer/")  # whose address is its key
    assert answer.headers["referrer-policy"] == ("no-referrer" if is_a_customers else "same-origin")
    assert answer.headers["cache-control"] == "no-store"


def test_every_answer_carries_the_strict_headers(house: House) -> None:
    for method, path in sorted(ALL_ROUTES, key=lambda route: route[1] == "/sign-out"):
        assert_is_dressed(house.browse(method, address(path)))
        assert_is_dressed(house.browse(method, address(path), role=None))


def test_answers_of_the_threshold_and_the_framework_carry_them_too(house: House) -> None:
    for answer in (
        house.browse("POST", "/orders", headers={"sec-fetch-site": "cross-site"}),
        house.browse("POST", "/orders", headers={"content-length": "99999999"}),
        house.browse("GET", "/no-such-place"),
        house.browse("DELETE", "/orders"),
    ):
        assert answer.status_code in {403, 404, 405, 413}
        assert_is_dressed(answer)


CROSS_SITE = [
    {"sec-fetch-site": "cross-site"},
    {"sec-fetch-site": "same-site"},
    {"sec-fetch-site": "cross-site", "origin": BASE_URL},
    {"origin": "http://elsewhere.example"},
    {"origin": "null"},
    {"origin": "http://127.0.0.1:9999"},
]
SAME_SITE = [{"sec-fetch-site": "same-origin"}, {"sec-fetch-site": "none"}, {"origin": BASE_URL}, {}]


@pytest.mark.parametrize("headers", CROSS_SITE)
def test_another_sites_page_changes_nothing_and_its_body_is_not_read(
    house: House, headers: dict[str, str]
) -> None:
    sent: list[str] = []

    async def unread() -> dict[str, object]:
        sent.append("body")
        return {"type": "http.request", "body": b"", "more_body": False}

    async def answered(message: MutableMapping[str, Any]) -> None:
        sent.append(f"{message['type']} {message.get('status', '')}".strip())

    scope: dict[str, Any] = {
        "type": "http", "method": "POST", "path": "/api/orders", "raw_path": b"/api/orders",
        "query_string": b"", "root_path": "", "scheme": "http", "http_version": "1.1", "server": None,
        "headers": [(b"host", b"127.0.0.1:8321"), *((n.encode(), v.encode()) for n, v in headers.items())],
    }  # fmt: skip
    asyncio.run(house.app(scope, unread, answered))
    assert sent == ["http.response.start 403", "http.response.body"]


@pytest.mark.parametrize("headers", SAME_SITE)
def test_our_own_page_and_a_program_are_let_in(house: House, headers: dict[str, str]) -> None:
    assert house.ask("POST", "/api/reckonings", json={}, headers=headers).status_code == 422


@pytest.mark.parametrize("headers", CROSS_SITE)
def test_looking_is_allowed_from_anywhere(house: House, headers: dict[str, str]) -> None:
    assert house.ask("GET", "/api/alloys", headers=headers).status_code == 200


def test_a_body_that_says_it_is_too_big_is_refused(house: House) -> None:
    answer = house.ask("POST", "/api/orders", content=b"x" * 1_000_001)
    assert answer.status_code == 413
    assert answer.json()["errors"][0]["field"] is None


def test_a_body_that_does_not_say_how_big_it_is_is_refused_on_the_way(house: House) -> None:
    async def endless() -> AsyncIterator[bytes]:
        for _ in range(30):
            yield b"[" + b" " * 50_000

    for path in ("/api/orders", "/orders"):
        answer = house.ask(
            "POST",
            path,
            content=endless(),
            headers={"content-type": "application/json" if "api" in path else ""},
        )
        assert answer.status_code == 413


@pytest.mark.parametrize("length", ["-1", "many", "9" * 30])
def test_a_length_that_is_no_length_is_refused(house: House, length: str) -> None:
    assert house.ask("POST", "/api/orders", headers={"content-length": length}).status_code == 413


@pytest.mark.parametrize("path", ["/health", "/", "/customers", "/api/alloys", "/sign-in", "/no-such-place"])
def test_a_head_request_is_a_get_without_its_body(house: House, path: str) -> None:
    full, head = house.ask("GET", path), house.ask("HEAD", path)
    assert head.status_code == full.status_code
    assert head.content == b""
    assert head.headers.get("content-type") == full.headers.get("content-type")
    assert head.headers["content-length"] == full.headers["content-length"]


def test_health_says_nothing_but_that_it_is_well(house: House) -> None:
    answer = house.ask("GET", "/health", None)
    assert (answer.status_code, answer.json()) == (200, {"status": "ok"})


@pytest.mark.parametrize("path", ["/api/orders/%00", "/orders/%00", "/%00"])
def test_an_address_with_a_nul_is_nowhere(house: House, path: str) -> None:
    assert house.ask("GET", path).status_code == 404


def test_with_tls_the_cookie_is_bound_to_the_host_and_browsers_stay_on_tls(house: House) -> None:
    app = create_app(settings(house.home, tls="proxy"), open_book(house.url))
    over_tls = House(house.engine, app, house.tokens, house.keys, house.home)
    answer = over_tls.send("POST", "/sign-in", data={"name": "Maren", "passphrase": "four rings in a drawer"})
    assert answer.headers["strict-transport-security"] == "max-age=31536000"
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("__Host-shankwright=")
    assert {"Secure", "HttpOnly", "Path=/", "SameSite=lax"} <= {part.strip() for part in cookie.split(";")}
    assert "domain" not in cookie.lower()
    plain = {"cookie": f"shankwright={house.keys[Role.OWNER]}"}
    assert over_tls.send("GET", "/", headers=plain).status_code == 303
    app.state.engine.dispose()


def test_a_fault_of_ours_shows_a_reference_and_logs_no_data(
    new_house: House, caplog: pytest.LogCaptureFixture
) -> None:
    def falls_over() -> None:
        raise KeyError("Ottilie Marchbanks 01632 960 411")

    for path in ("/falls-over", "/api/falls-over"):
        new_house.app.router.add_api_route(path, falls_over)
    shown = new_house.browse("GET", "/falls-over")
    assert shown.status_code == 500
    assert_is_dressed(shown)
    (record,) = caplog.records
    reference = record.getMessage().split()[1].rstrip(":")
    assert f"The reference is {reference}." in shown.text
    assert "falls_over" in record.getMessage()
    for words in (shown.text, caplog.text):
        assert "Marchbanks" not in words
        assert "Traceback" not in words
    answer = new_house.ask("GET", "/api/falls-over")
    assert answer.status_code == 500
    assert answer.json()["errors"][0]["field"] is None


def test_an_error_page_says_what_is_wrong_in_plain_words(house: House) -> None:
    page = house.browse("GET", "/orders/2026-999")
    assert page.status_code == 404
    assert "There is no order 2026-999." in page.text
    assert "<script>" not in house.browse("GET", "/orders/<script>alert(1)").text
