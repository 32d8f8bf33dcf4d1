"""Who may open what."""

import pytest
from fastapi import APIRouter, FastAPI
from fastapi.routing import APIRoute

from studio.craft.roles import Right, Role
from studio.web.app import add_routers
from studio.web.security import OPEN_ROUTES, rights_of, unguarded
from tests.web.allowed import WHO_OPENS_WHAT
from tests.web.house import House
from tests.web.routes import ALL_ROUTES, GUARDED, address


def test_every_route_stands_in_the_table_of_who_opens_what() -> None:
    assert set(WHO_OPENS_WHAT) == set(GUARDED)


def test_the_table_holds_all_that_the_running_app_answers(house: House) -> None:
    """No route comes in by another way than the routers: not mounted, not a socket, not added to the app."""
    running = {
        (method, route.path)
        for route in house.app.router.routes
        if isinstance(route, APIRoute)
        for method in route.methods or ()
    }
    assert running == set(ALL_ROUTES)
    assert [route for route in house.app.router.routes if not isinstance(route, APIRoute)] == []


def test_what_opens_without_sign_in_is_a_short_list() -> None:
    opened = {path for _, path in ALL_ROUTES if path in OPEN_ROUTES}
    assert opened == {
        "/health",
        "/static/{path:path}",
        "/sign-in",
        "/enter/{key}",
        "/answer/{key}",
        "/answer/{key}/quote.pdf",
        "/bench/hands",
    }


def test_the_app_does_not_start_with_a_route_that_names_no_right() -> None:
    router = APIRouter()
    router.add_api_route("/unguarded", lambda: None)
    with pytest.raises(ValueError, match="/unguarded"):
        add_routers(FastAPI(openapi_url=None, docs_url=None, redoc_url=None), [router])


def test_the_running_app_has_no_unguarded_route(house: House) -> None:
    assert unguarded(house.app.router.routes) == []
    assert {right for route in house.app.router.routes for right in rights_of(route)} <= set(Right)


@pytest.mark.parametrize("role", list(Role))
def test_a_role_opens_what_is_its_own_and_nothing_else(house: House, role: Role) -> None:
    for method, path in GUARDED:
        body: dict[str, object] | None = {} if path.startswith("/api/") and method != "GET" else None
        answer = house.ask(method, address(path), role, json=body)
        if role in WHO_OPENS_WHAT[method, path]:
            assert answer.status_code not in {401, 403}, (method, path, answer.text)
        else:
            assert answer.status_code == 403, (method, path)
            assert answer.json()["errors"][0]["message"].startswith("Your role does not"), (method, path)


@pytest.mark.parametrize("role", list(Role))
def test_a_person_opens_by_browser_what_a_program_of_the_role_opens(house: House, role: Role) -> None:
    for method, path in sorted(GUARDED, key=lambda route: route[1] == "/sign-out"):
        answer = house.browse(method, address(path), role)
        if role in WHO_OPENS_WHAT[method, path]:
            assert answer.status_code not in {401, 403}, (method, path, answer.text)
            assert not answer.headers.get("location", "").startswith("/sign-in?"), (method, path)
        else:
            assert answer.status_code == 403, (method, path)
            assert "Your role does not" in answer.text, (method, path)


@pytest.mark.parametrize("role", [None, *Role])
@pytest.mark.parametrize(("method", "path"), [route for route in ALL_ROUTES if route not in GUARDED])
def test_what_is_open_opens_for_everybody(house: House, method: str, path: str, role: Role | None) -> None:
    for ask in (house.ask, house.browse):
        answer = ask(method, address(path), role)
        assert answer.status_code not in {403, 405}, answer.text
        assert "Sign in first." not in answer.text  # a passphrase that is none of ours is told otherwise


def test_a_stranger_is_led_to_the_sign_in_page_and_a_program_told_so(house: House) -> None:
    for method, path in GUARDED:
        answer = house.browse(method, address(path), role=None)
        if path.startswith("/api/"):
            assert answer.status_code == 401, (method, path)
            assert answer.headers["www-authenticate"] == "Bearer"
            assert answer.json() == {"errors": [{"field": None, "message": "Sign in first."}]}
        else:
            assert answer.status_code == 303, (method, path)
            assert answer.headers["location"].startswith("/sign-in"), (method, path)


def test_a_key_or_a_token_that_is_none_of_ours_opens_no_route(house: House) -> None:
    for method, path in GUARDED:
        by_token = house.ask(method, address(path), None, headers={"authorization": "Bearer made-up"})
        by_cookie = house.browse(method, address(path), None, headers={"cookie": "shankwright=made-up"})
        assert by_token.status_code in {401, 303}, (method, path)
        assert by_cookie.status_code in {401, 303}, (method, path)


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
