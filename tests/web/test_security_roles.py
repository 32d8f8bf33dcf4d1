"""Who may open what."""

import pytest
from fastapi import APIRouter, FastAPI
from fastapi.routing import APIRoute

from studio.craft.roles import Right, Role
from studio.web.app import add_routers
from studio.web.security import OPEN_ROUTES, rights_of, unguarded
from tests.web.house import House
from tests.web.routes import ALL_ROUTES, GUARDED, address

EVERYONE = frozenset(Role)
THE_OWNER = frozenset({Role.OWNER})
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
    ("POST", "/api/orders/{number}/quotes"): AT_THE_COUNTER,
    ("POST", "/api/quotes/{number}/agreement"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/settlement"): AT_THE_COUNTER,
    ("GET", "/metal/moves"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/link"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/requote"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/settlement"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/amendments"): AT_THE_COUNTER,
    ("POST", "/api/quotes/{number}/withdrawal"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/amendment"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/amendment"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/amendment/terms"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/amendment/end"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/amendments"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/amendment/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/amendment/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/withdrawal"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/variants"): AT_THE_COUNTER,
    ("DELETE", "/api/orders/{number}/variants/{key}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/variants"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/variants/{key}/end"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/variants/{key}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/variants/{key}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/api/metal-prices"): THE_OWNER,
    ("GET", "/api/week"): EVERYONE,
    ("GET", "/quotes/{number}.pdf"): AT_THE_COUNTER,
    ("GET", "/documents/{number}.pdf"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/documents/confirmation"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/documents/receipt"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/documents/return"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/documents"): AT_THE_COUNTER,
    ("GET", "/invoices/{number}.pdf"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/invoices"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/credit-notes"): AT_THE_COUNTER,
    ("GET", "/api/orders/{number}/invoices"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/invoices"): AT_THE_COUNTER,
    ("POST", "/api/invoices/{number}/credit-notes"): AT_THE_COUNTER,
    ("GET", "/studio/months/{month}.csv"): THE_OWNER,
    ("GET", "/studio/months/{month}"): THE_OWNER,
    ("GET", "/orders/{number}/bench-sheet.pdf"): EVERYONE,
    ("GET", "/week/papers.pdf"): EVERYONE,
    ("GET", "/orders/{number}/label.pdf"): EVERYONE,
    ("GET", "/week/labels.pdf"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/inscription.pdf"): EVERYONE,
    ("POST", "/orders/{number}/rings/{position}/proof"): AT_THE_COUNTER,
    ("POST", "/bench/{number}/{position}/proof"): EVERYONE,
    ("GET", "/orders/{number}/hand-over"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/hand-over"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/fit"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/fit"): AT_THE_COUNTER,
    ("GET", "/studio/practice/fit"): THE_OWNER,
    ("GET", "/"): EVERYONE,
    ("GET", "/orders/new"): AT_THE_COUNTER,
    ("POST", "/orders"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/rings/{position}"): AT_THE_COUNTER,
    ("POST", "/counter/figures"): EVERYONE,
    ("POST", "/counter/drafts"): AT_THE_COUNTER,
    ("POST", "/counter/drafts/{key}/end"): AT_THE_COUNTER,
    ("GET", "/counter/customers"): AT_THE_COUNTER,
    ("GET", "/orders/{number}"): EVERYONE,
    ("POST", "/orders/{number}/deposit"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/payments"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/refunds"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/payments/{payment}/undoing"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/payments"): AT_THE_COUNTER,
    ("POST", "/api/payments/{number}/undoing"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/read-back"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/quotes"): AT_THE_COUNTER,
    ("GET", "/quotes/{number}"): AT_THE_COUNTER,
    ("GET", "/quotes/{number}/letter.eml"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/letter.eml"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/letter"): AT_THE_COUNTER,
    ("GET", "/reminders"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/reminders/{kind}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/reminders/{kind}"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/reminders/{kind}/text"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/reminders/{kind}/letter.eml"): AT_THE_COUNTER,
    ("GET", "/api/reminders"): AT_THE_COUNTER,
    ("POST", "/api/orders/{number}/reminders"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/sendings"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/mails"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/mails/test"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/mails/{mail_id}/again"): AT_THE_COUNTER,
    ("POST", "/api/quotes/{number}/mails"): AT_THE_COUNTER,
    ("POST", "/quotes/{number}/agreement"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/moves"): EVERYONE,
    ("POST", "/orders/{number}/rings/{position}/reasons"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/rings/{position}/read-back"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/rings/{position}/size"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/rings/{position}/thickness"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/metals"): EVERYONE,
    ("GET", "/counter/metals"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/came-about"): EVERYONE,
    ("GET", "/counter/came-about"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/bench-record"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/route"): EVERYONE,
    ("POST", "/orders/{number}/rings/{position}/route"): EVERYONE,
    ("POST", "/orders/{number}/rings/{position}/bench-record"): EVERYONE,
    ("POST", "/orders/{number}/pictures"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/pictures/{picture}/away"): AT_THE_COUNTER,
    ("GET", "/orders/{number}/pictures/{picture}.jpg"): EVERYONE,
    ("GET", "/orders/{number}/pictures/{picture}/small.jpg"): EVERYONE,
    ("GET", "/bench"): EVERYONE,
    ("GET", "/bench/{number}/{position}"): EVERYONE,
    ("POST", "/bench/{number}/{position}"): EVERYONE,
    ("POST", "/bench/{number}/{position}/moves"): EVERYONE,
    ("POST", "/bench/{number}/{position}/pictures"): EVERYONE,
    ("GET", "/bench/people"): EVERYONE,
    ("POST", "/bench/people/own-pin"): EVERYONE,
    ("POST", "/bench/people/pins"): THE_OWNER,
    ("POST", "/bench/devices"): EVERYONE,
    ("POST", "/bench/devices/{device_id}/end"): THE_OWNER,
    ("GET", "/bench-records"): EVERYONE,
    ("GET", "/week/plan"): EVERYONE,
    ("GET", "/week/cutting.pdf"): EVERYONE,
    ("POST", "/week/plan/stop"): EVERYONE,
    ("POST", "/week/cuts"): EVERYONE,
    ("POST", "/week/cuts/{cut_id}/undo"): EVERYONE,
    ("GET", "/metal/buying"): EVERYONE,
    ("GET", "/metal/buying.csv"): EVERYONE,
    ("POST", "/metal/purchases"): EVERYONE,
    ("POST", "/metal/purchases/{purchase_id}/lines/{line_id}/arrival"): EVERYONE,
    ("POST", "/metal/purchases/{purchase_id}/off"): EVERYONE,
    ("GET", "/metal/suppliers"): EVERYONE,
    ("POST", "/metal/suppliers"): EVERYONE,
    ("POST", "/metal/suppliers/{supply_id}"): EVERYONE,
    ("POST", "/metal/suppliers/{supply_id}/off"): EVERYONE,
    ("GET", "/metal"): EVERYONE,
    ("POST", "/metal"): EVERYONE,
    ("POST", "/metal/{piece_id}"): EVERYONE,
    ("POST", "/metal/{piece_id}/aside"): EVERYONE,
    ("POST", "/metal/{piece_id}/out"): EVERYONE,
    ("POST", "/api/cutting-plans"): EVERYONE,
    ("GET", "/alloying"): EVERYONE,
    ("GET", "/studio/alloys"): THE_OWNER,
    ("POST", "/studio/alloys"): THE_OWNER,
    ("POST", "/studio/alloys/{key}"): THE_OWNER,
    ("GET", "/bench-records.csv"): EVERYONE,
    ("POST", "/orders/{number}/plan"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/mends"): AT_THE_COUNTER,
    ("POST", "/orders/{number}/rings/{position}/marks"): AT_THE_COUNTER,
    ("GET", "/orders"): EVERYONE,
    ("GET", "/customers"): AT_THE_COUNTER,
    ("GET", "/customers/{customer_id}"): AT_THE_COUNTER,
    ("POST", "/customers/{customer_id}"): AT_THE_COUNTER,
    ("GET", "/week"): EVERYONE,
    ("GET", "/studio"): THE_OWNER,
    ("POST", "/studio/prices"): THE_OWNER,
    ("POST", "/studio/prices/list"): THE_OWNER,
    ("POST", "/studio/rates"): THE_OWNER,
    ("POST", "/studio/facts"): THE_OWNER,
    ("GET", "/studio/practice"): THE_OWNER,
    ("POST", "/studio/practice"): THE_OWNER,
    ("GET", "/orders/{number}/rings/{position}/repeats"): EVERYONE,
    ("GET", "/orders/{number}/rings/{position}/repeats.pdf"): EVERYONE,
    ("GET", "/printers"): EVERYONE,
    ("POST", "/printers"): EVERYONE,
    ("POST", "/printers/{printer_id}"): EVERYONE,
    ("GET", "/printers/check-sheet.pdf"): EVERYONE,
    ("GET", "/studio/gauges"): THE_OWNER,
    ("POST", "/studio/gauges"): THE_OWNER,
    ("POST", "/studio/gauges/{gauge_id}"): THE_OWNER,
    ("GET", "/api/gauges"): EVERYONE,
}


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


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize(("method", "path"), GUARDED)
def test_a_person_opens_by_browser_what_a_program_of_the_role_opens(
    house: House, method: str, path: str, role: Role
) -> None:
    answer = house.browse(method, address(path), role)
    if role in WHO_OPENS_WHAT[method, path]:
        assert answer.status_code not in {401, 403}, answer.text
        assert not answer.headers.get("location", "").startswith("/sign-in?")
    else:
        assert answer.status_code == 403
        assert "Your role does not" in answer.text


@pytest.mark.parametrize("role", [None, *Role])
@pytest.mark.parametrize(("method", "path"), [route for route in ALL_ROUTES if route not in GUARDED])
def test_what_is_open_opens_for_everybody(house: House, method: str, path: str, role: Role | None) -> None:
    for ask in (house.ask, house.browse):
        answer = ask(method, address(path), role)
        assert answer.status_code not in {403, 405}, answer.text
        assert "Sign in first." not in answer.text  # a passphrase that is none of ours is told otherwise


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


@pytest.mark.parametrize(("method", "path"), GUARDED)
def test_a_key_or_a_token_that_is_none_of_ours_opens_no_route(house: House, method: str, path: str) -> None:
    by_token = house.ask(method, address(path), None, headers={"authorization": "Bearer made-up"})
    by_cookie = house.browse(method, address(path), None, headers={"cookie": "shankwright=made-up"})
    assert by_token.status_code in {401, 303}
    assert by_cookie.status_code in {401, 303}


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
