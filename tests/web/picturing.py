"""A picture sent to an order as the page's form sends it, and what came of it."""

from typing import Any

import httpx

from studio.craft.roles import Role
from tests.photos import a_photo
from tests.web.asking import shown
from tests.web.house import House
from tests.web.shown import Shown

NOTE = "The twig we copy, from her garden"


def send(
    house: House, number: str, raw: bytes | None = None, role: Role = Role.COUNTER, **typed: Any
) -> httpx.Response:
    """What the page's form sends: the file, what was typed beside it, and the form's key."""
    fields = {"picture_note": NOTE} | typed
    file = a_photo() if raw is None else raw
    files = {"picture": ("twig.jpg", file, "image/jpeg")}  # whatever it is, it is called a JPEG
    return house.browse("POST", f"/orders/{number}/pictures", role, data=fields, files=files)


def added(house: House, number: str, raw: bytes | None = None, **typed: Any) -> dict[str, Any]:
    """The picture that was added last, as the API tells of it."""
    answer = send(house, number, raw, **typed)
    assert answer.status_code == 303, answer.text
    assert answer.headers["location"] == f"/orders/{number}#pictures"
    told: dict[str, Any] = shown(house, number)["pictures"][-1]
    return told


def page_of(house: House, number: str, role: Role = Role.COUNTER) -> Shown:
    return Shown(house.browse("GET", f"/orders/{number}", role))
