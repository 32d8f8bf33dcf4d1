"""Questions to the API about orders that several tests ask."""

from typing import Any

from studio.craft.roles import Role
from tests.web.house import House
from tests.web.priced import say_yes


def shown(house: House, number: str, role: Role = Role.OWNER) -> dict[str, Any]:
    answer = house.ask("GET", f"/api/orders/{number}", role)
    assert answer.status_code == 200, answer.text
    order: dict[str, Any] = answer.json()
    return order


def change(house: House, number: str, role: Role = Role.OWNER, **changes: Any) -> Any:
    changes.setdefault("version", shown(house, number)["version"])
    return house.ask("PATCH", f"/api/orders/{number}", role, json=changes)


def move(house: House, number: str, to: str, role: Role = Role.OWNER, **more: Any) -> Any:
    body = {"to": to, "version": shown(house, number)["version"]} | more
    return house.ask("POST", f"/api/orders/{number}/moves", role, json=body)


def an_agreed_order(house: House, **changes: Any) -> str:
    number = house.take_order(**changes)
    say_yes(house, number)
    return number
