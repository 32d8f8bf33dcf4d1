"""Endless numbers and signs that are none, in every place of a request: told, and never a fault of ours."""

from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import pytest

from studio.book.engine import session
from studio.craft.roles import Role
from tests.asgi import InProcess
from tests.fuzz.book import fill
from tests.fuzz.description import operations
from tests.fuzz.meant import meant
from tests.web.house import BASE_URL, House, a_ring, an_order
from tests.web.priced import a_quote, say_yes
from tests.web.shown import Shown
from tests.web.strange import strange_fields, strange_paths, strange_queries, strange_values

KINDS_OF_FIELDS = ("version", "customer.id", "draft", "act", "q", "reason")
"""Fields that come by a button or a script; every form is sent with them, whether it has them or not."""


@contextmanager
def speaking(house: House) -> Iterator[httpx.Client]:
    with (
        InProcess(house.app) as transport,
        httpx.Client(
            transport=transport, base_url=BASE_URL, headers={"sec-fetch-site": "same-origin"}
        ) as client,
    ):
        yield client


def signed(house: House, path: str, role: Role) -> dict[str, str]:
    if path.startswith("/api/"):
        return {"authorization": f"Bearer {house.tokens[role]}"}
    return {"cookie": f"shankwright={house.keys[role]}"}


@pytest.mark.parametrize("role", [*Role, None], ids=lambda role: str(role or "nobody"))
def test_no_address_however_strange_is_a_fault_of_ours(house: House, role: Role | None) -> None:
    number = house.take_order()
    known = {"number": number, "position": "1", "customer_id": "1", "key": "k", "path": "x"}
    faults = []
    with speaking(house) as client:
        asked = [*strange_paths(known)]
        if role is Role.OWNER:
            asked += [("GET", path) for path in strange_queries(known)]
        for method, path in asked:
            body = {"version": 1} if method != "GET" and path.startswith("/api/") else None
            headers = {} if role is None else signed(house, path, role)
            answer = client.request(method, path, headers=headers, json=body)
            if answer.status_code >= 500:
                faults.append(f"{answer.status_code} {method} {path}")
    assert faults == []
    assert len(asked) > 150


def test_no_form_however_strange_is_a_fault_of_ours(house: House) -> None:
    draft, quoted, agreed = (house.take_order() for _ in range(3))
    quote = a_quote(house, quoted).number
    say_yes(house, agreed)
    pages = [
        "/orders/new",
        "/customers/1",
        "/studio",
        "/printers",
        "/studio/gauges",
        "/studio/practice",
        "/sign-in",
        f"/orders/{draft}",
        f"/orders/{draft}/rings/1",
    ]
    pages += [f"/orders/{draft}/read-back", f"/orders/{quoted}", f"/quotes/{quote}", f"/orders/{agreed}"]
    faults: list[str] = []
    actions: set[str] = set()
    with speaking(house) as client:
        for path in pages:
            signs = {} if path == "/sign-in" else signed(house, path, Role.OWNER)
            for form in Shown(client.get(path, headers=signs)).forms:
                if not form.action or form.action in {"/sign-out", *actions}:
                    continue
                actions.add(form.action)
                headers = signs | {"content-type": "application/x-www-form-urlencoded"}
                for body in strange_fields(form, more=KINDS_OF_FIELDS):
                    answer = client.post(form.action, content=body, headers=headers)
                    if answer.status_code >= 500:
                        faults.append(f"{answer.status_code} {form.action} {body[:300]!r}")
    assert faults == []
    assert len(actions) > 10, actions


def test_no_body_however_strange_is_a_fault_of_ours(house: House) -> None:
    with session(house.engine) as book:
        known = fill(book)
    whole = an_order(
        customer={"id": known.customers[0]}, rings=[a_ring(stretch_percent=1, fit_mm=0.1)], note="n",
        promised_at="2027-01-01T12:00:00Z", bench_on="2027-01-01", wanted_hard=True,
    )  # fmt: skip
    faults, sent = [], 0
    with speaking(house) as client:
        for path, method in operations():
            first = next((one for one in meant((path, method), known) if one.body), None)
            if first is None or first.body is None:
                continue
            body = {**first.body} | (whole if path == "/api/orders" else {})
            address = path.format_map(first.path)
            for strange in strange_values(body):
                headers = signed(house, address, Role.OWNER) | {"content-type": "application/json"}
                answer = client.request(method.upper(), address, content=strange, headers=headers)
                sent += 1
                if answer.status_code >= 500:
                    faults.append(f"{answer.status_code} {path} {strange}")
    assert faults == []
    assert sent > 80
