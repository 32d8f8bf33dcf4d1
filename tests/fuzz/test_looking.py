"""The looking itself: an answer that tells too much, or is not as described, is found."""

import json
from collections.abc import Iterator

import httpx
import pytest
from schemathesis.core.failures import FailureGroup
from starlette.responses import JSONResponse, Response

from studio.book.engine import session
from studio.book.quotes import quote_breakdown
from studio.craft.roles import Role
from studio.web import api_orders
from studio.web.api_answers import as_json
from studio.web.api_order_list_models import OrdersOut
from studio.web.security import OPEN_ROUTES
from tests.fuzz.answers import told_too_much
from tests.fuzz.book import EMAIL, PHONE
from tests.fuzz.description import operations
from tests.fuzz.playing import Play, Way
from tests.web.routes import ALL_ROUTES

LIST = ("/api/orders", "get")


@pytest.fixture(scope="module")
def play(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Play]:
    with Play(tmp_path_factory.mktemp("looked-at")) as opened:
        yield opened


def test_every_route_for_programs_is_played() -> None:
    of_programs = {
        (path, method.lower())
        for method, path in ALL_ROUTES
        if path.startswith("/api/") or (path.endswith(".pdf") and path not in OPEN_ROUTES)
    }
    assert set(operations()) == of_programs


def an_answer(told: object) -> httpx.Response:
    return httpx.Response(200, json=told, request=httpx.Request("GET", "http://127.0.0.1/api/orders"))


def test_an_empty_contact_is_a_finding_for_the_maker_by_its_name_alone(play: Play) -> None:
    told = an_answer({"customer": {"name": "Ned", "phone": None}})
    assert told_too_much(told, Role.MAKER, play.studio.known) == {"phone"}
    assert told_too_much(told, Role.COUNTER, play.studio.known) == set()


def test_a_contact_or_an_amount_inside_a_sentence_is_found(play: Play) -> None:
    with session(play.studio.engine) as book:
        price = quote_breakdown(book, play.studio.known.quotes[0])
    said = an_answer({"message": f"Ask {PHONE} or {EMAIL}: {price.total_minor} of which {price.cost_minor}."})
    found = {PHONE, EMAIL, str(price.total_minor), str(price.cost_minor)}
    assert told_too_much(said, Role.MAKER, play.studio.known) == found
    assert told_too_much(said, Role.COUNTER, play.studio.known) == {str(price.cost_minor)}
    assert told_too_much(said, Role.OWNER, play.studio.known) == set()


def test_a_field_that_the_description_does_not_name_is_found(
    play: Play, monkeypatch: pytest.MonkeyPatch
) -> None:
    def with_one_more(model: OrdersOut) -> Response:
        answer = as_json(model)
        return JSONResponse(json.loads(bytes(answer.body)) | {"shelf": 3})

    monkeypatch.setattr(api_orders, "as_json", with_one_more)
    with pytest.raises(FailureGroup, match="shelf"):
        play.play(LIST, Role.OWNER, Way.NEARLY_AS_MEANT, most=1)


def test_a_fault_of_ours_is_found(play: Play, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(api_orders, "orders_page")
    with pytest.raises(FailureGroup, match="Server error"):
        play.play(LIST, Role.OWNER, Way.NEARLY_AS_MEANT, most=1)
