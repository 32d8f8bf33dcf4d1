"""Who may open what, and what every answer carries."""

import asyncio
from collections.abc import AsyncIterator, MutableMapping
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import APIRouter, FastAPI
from fastapi.routing import APIRoute

from studio.book.engine import open_book
from studio.craft.roles import Right, Role
from studio.web.app import ROUTERS, add_routers, create_app
from studio.web.security import OPEN_ROUTES, rights_of, unguarded
from tests.web.house import BASE_URL, House, settings

EVERYONE = frozenset(Role)
AT_THE_COUNTER = frozenset({Role.OWNER, Role.COUNTER})
WHO_OPENS_WHAT = {
    ("POST", "/sign-out"): EVERYONE,
    ("GET", "/api/sizes"): EVERYONE,
    ("GET", "/api/alloys"): EVERYONE,
    ("POST", "/api/reckonings"): EVERYONE,
    ("GET", "/api/openapi.json"): EVERYONE,
    ("POST", "/api/orders"): AT_THE_COUNTER,
    ("GET", "/api/orders"): EVERYONE,
    ("GET", "/api/orders/{number}"): EVERYONE,
    ("PATCH", "/api/orders/{number}"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/moves"): EVERYONE,
    ("GET", "/api/week"): EVERYONE,
    ("GET", "/orders/{number}/bench-sheet.pdf"): EVERYONE,
    ("GET", "/week/papers.pdf"): EVERYONE,
    ("GET", "/"): EVERYONE,
    ("GET", "/orders/new"): AT_THE_COUNTER,
    ("POST", "/orders"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/counter/figures"): EVERYONE,
    ("GET", "/counter/customers"): AT_THE_COUNTER,
    ("GET", "/orders/{number}"): EVERYONE,
    ("POST", "/orders/{number}/agreement"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/moves"): EVERYONE,
    ("POST", "/orders/{number}/plan"): AT_THE_COUNTER,
    ("GET", "/orders"): EVERYONE,
    ("GET", "/customers"): AT_THE_COUNTER,
    ("GET", "/customers/{customer_id}"): AT_THE_COUNTER,
    ("POST", "/customers/{customer_id}"): AT_THE_COUNTER,
    ("GET", "/week"): EVERYONE,
}
ALL_ROUTES = sorted(
    {
        (method, route.path)
        for router in ROUTERS
        for route in router.routes
        if isinstance(route, APIRoute)
        for method in route.methods or ()
    }
)
GUARDED = [route for route in ALL_ROUTES if route[1] not in OPEN_ROUTES]


def address(path: str) -> str:
    """An address of a route, for an order that is not in the book."""
    filled = {
        "{number}": "2026-999",
        "{position}": "1",
        "{customer_id}": "999",
        "{key}": "nothing",
        "{path:path}": "x",
    }
    for name, value in filled.items():
        path = path.replace(name, value)
    return path


def test_every_route_stands_in_the_table_of_who_opens_what() -> None:
    assert set(WHO_OPENS_WHAT) == set(GUARDED)


def test_what_opens_without_sign_in_is_a_short_list() -> None:
    opened = {path for _, path in ALL_ROUTES if path in OPEN_ROUTES}
    assert opened == {"/health", "/static/{path:path}", "/sign-in", "/enter/{key}"}


def test_the_app_does_not_start_with_a_route_that_names_no_right() -> None:
    router = APIRouter()
    router.add_api_route("/unguarded", lambda: None)
    with pytest.raises(ValueError, match="/unguarded"):
        add_routers(FastAPI(openapi_url=None, docs_url=None, redoc_url=None), [router])


def test_the_running_app_has_no_unguarded_route(house: House) -> None:
    assert unguarded(house.app.router.routes) == []
    assert {right for route in house.app.router.routes for right in rights_of(route)} <= set(Right)


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize(("method", "path"), GUARDED)
def test_a_role_opens_what_is_its_own_and_nothing_else(
    house: House, method: str, path: str, role: Role
) -> None:
    body: dict[str, object] | None = {} if path.startswith("/api/") and method != "GET" else None
    answer = house.ask(method, address(path), role, json=body)
    if role in WHO_OPENS_WHAT[method, path]:
        assert answer.status_code not in {401, 403}, answer.text
    else:
        assert answer.status_code == 403
        assert answer.json()["errors"][0]["message"].startswith("Your role does not")


@pytest.mark.parametrize(("method", "path"), GUARDED)
def test_a_stranger_is_led_to_the_sign_in_page_and_a_program_told_so(
    house: House, method: str, path: str
) -> None:
    answer = house.browse(method, address(path), role=None)
    if path.startswith("/api/"):
        assert answer.status_code == 401
        assert answer.headers["www-authenticate"] == "Bearer"
        assert answer.json() == {"errors": [{"field": None, "message": "Sign in first."}]}
    else:
        assert answer.status_code == 303
        assert answer.headers["location"].startswith("/sign-in")


def test_a_token_that_is_none_of_ours_opens_nothing(house: House) -> None:
    headers = {"authorization": "Bearer made-up", "cookie": f"shankwright={house.keys[Role.OWNER]}"}
    for path in ("/api/alloys", "/week/papers.pdf"):
        assert house.ask("GET", path, None, headers=headers).status_code == 401
    basic = {"authorization": f"Basic {house.tokens[Role.OWNER]}"}
    assert house.ask("GET", "/api/alloys", None, headers=basic).status_code == 401


def test_a_malformed_body_of_a_stranger_is_not_even_read(house: House) -> None:
    answer = house.ask(
        "POST", "/api/orders", None, content=b"{", headers={"content-type": "application/json"}
    )
    assert answer.status_code == 401


def assert_is_dressed(answer: httpx.Response) -> None:
    policy = dict(part.strip().split(" ", 1) for part in answer.headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert (
        policy["script-src"] == policy["style-src"] == policy["font-src"] == policy["form-action"] == "'self'"
    )
    assert policy["base-uri"] == policy["frame-ancestors"] == policy["object-src"] == "'none'"
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "same-origin"
    assert answer.headers["cache-control"] == "no-store"


@pytest.mark.parametrize(("method", "path"), ALL_ROUTES)
def test_every_answer_carries_the_strict_headers(house: House, method: str, path: str) -> None:
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


def test_a_static_file_under_its_hash_is_kept_for_good_and_no_other(house: House) -> None:
    marked = house.app.state.static.url("css/base.css")
    kept = house.send("GET", marked)
    assert kept.status_code == 200
    assert kept.headers["cache-control"] == "public, max-age=31536000, immutable"
    assert kept.headers["content-type"].startswith("text/css")
    assert house.send("GET", "/static/css/base.css").headers["cache-control"] == "no-store"
    assert house.send("GET", "/static/0123456789abcdef/css/base.css").status_code == 404


@pytest.mark.parametrize(
    "path", ["../studio/settings.py", "%2e%2e/pyproject.toml", "css/%2e%2e/%2e%2e/README.md", ""]
)
def test_nothing_beside_the_static_files_is_served(house: House, path: str) -> None:
    assert house.send("GET", f"/static/{path}").status_code == 404


def test_the_address_of_a_static_file_changes_with_any_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from studio.web import static_files

    monkeypatch.setattr(static_files, "static_dir", lambda: tmp_path)
    (tmp_path / "a.css").write_text("p { margin: 0 }")
    before = static_files.read_static_files().url("a.css")
    (tmp_path / "b.js").write_text("let a;")
    (tmp_path / "notes.md").write_text("not served")
    after = static_files.read_static_files()
    assert after.url("a.css") != before
    assert "notes.md" not in after.contents


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
    app = create_app(settings(house.home, tls="proxy"), open_book(f"sqlite:///{house.home / 'book.db'}"))
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
