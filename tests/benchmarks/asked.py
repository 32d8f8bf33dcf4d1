"""What is asked of the app and of its floor, word for word."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

TYPED: Mapping[str, str] = {
    "customer.name": "Oda Wrenlow",
    "customer.phone": "01632 960 417",
    "finger.place": "left ring",
    "finger.system": "uk",
    "finger.size": "O½",
    "finger.measured": "gauge",
    "finger.gauge_width_mm": "6",
    "profile": "flat",
    "width": "6",
    "thickness": "1.6",
    "alloy": "gold-750-yellow",
    "pattern": "hammered",
    "pattern_when": "flat",
    "wanted_on": "19 Dec 2099",
}
RING: Mapping[str, object] = {
    "finger": {"system": "uk", "size": "O½", "measured": "gauge", "gauge_width_mm": 6},
    "profile": "flat",
    "width": 6,
    "thickness": 1.6,
    "alloy": "gold-750-yellow",
    "pattern": "hammered",
}


@dataclass(frozen=True, slots=True)
class Asked:
    """One request, repeated by the load: the name of its row in the table, and what is sent."""

    name: str
    path: str
    method: str = "GET"
    body: str = ""
    kind: str = ""

    @property
    def is_live(self) -> bool:
        """Whether it is asked while somebody types."""
        return self.method == "POST"


def asked_of(order_number: str, name: str) -> tuple[Asked, ...]:
    """The requests of the table, for a book that holds this order and a customer whose name holds `name`."""
    return (
        Asked("list page", "/orders"),
        Asked("search", f"/orders?{urlencode({'q': name})}"),
        Asked("order's page", f"/orders/{order_number}"),
        Asked(
            "counter figures",
            "/counter/figures",
            "POST",
            urlencode(TYPED),
            "application/x-www-form-urlencoded",
        ),
        Asked("API reckoning", "/api/reckonings", "POST", json.dumps(RING), "application/json"),
    )
