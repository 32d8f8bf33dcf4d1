"""Standing at the counter in a test: a form as the page sends it, and reading what comes back."""

import re
from collections.abc import Mapping
from html import unescape
from typing import Any

import httpx

from studio.craft.roles import Role
from tests.web.house import House

TYPED: Mapping[str, str] = {
    "act": "save",
    "idempotency_key": "a-first-try",
    "customer.name": "Oda Wrenlow",
    "customer.phone": "01632 960 417",
    "customer.email": "oda@wrenlow.example",
    "finger.place": "left ring",
    "finger.system": "uk",
    "finger.size": "O½",
    "finger.measured": "gauge",
    "finger.gauge_width_mm": "6",
    "finger.warm": "yes",
    "finger.taken_by": "Ivo",
    "profile": "flat",
    "width": "6",
    "thickness": "1.6",
    "from": "",
    "alloy": "gold-750-yellow",
    "pattern": "hammered",
    "pattern_when": "flat",
    "wanted_on": "19 Dec 2099",
    "note": "",
}
"""A page with all that an order asks for: gauge as wide as the ring."""


def typed(**changed: str) -> dict[str, str]:
    """The form with some fields otherwise; `finger__size` stands for 'finger.size'."""
    return {**TYPED, **{name.replace("__", "."): value for name, value in changed.items()}}


def send(house: House, form: Mapping[str, str], path: str = "/orders", **given: Any) -> httpx.Response:
    """What the app answers when Ivo presses the button."""
    return house.browse("POST", path, Role.COUNTER, data=dict(form), **given)


def figures(house: House, form: Mapping[str, str]) -> httpx.Response:
    """What is sent while Ivo types."""
    return send(house, form, "/counter/figures")


def words(html: str) -> str:
    """The text a reader sees, white space closed up."""
    bare = re.sub(r"<(script|svg|noscript)\b.*?</\1>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", bare)).split())


def part(html: str, element_id: str) -> str:
    """The `div` of this id, whole."""
    start = html.rindex("<div", 0, html.index(f'id="{element_id}"'))
    depth = 0
    for tag in re.finditer(r"<(/?)div\b", html[start:]):
        depth += -1 if tag.group(1) else 1
        if depth == 0:
            return html[start : start + tag.end() + 1]
    raise AssertionError(f"{element_id} has no end")


def value_of(html: str, name: str) -> str:
    """What stands in the text field `name`."""
    found = re.search(rf'<input[^>]*\bname="{re.escape(name)}"[^>]*>', html)
    assert found is not None, name
    value = re.search(r'\bvalue="([^"]*)"', found.group())
    return unescape(value.group(1)) if value else ""


def chosen(html: str, name: str) -> str:
    """The chosen entry of the list `name`."""
    listed = re.search(rf'<select[^>]*\bname="{re.escape(name)}".*?</select>', html, flags=re.DOTALL)
    assert listed is not None, name
    found = re.search(r'<option value="([^"]*)"\s+selected', listed.group())
    return found.group(1) if found else ""


def key_figures(html: str) -> dict[str, str]:
    """The large figures by their key, as they are read: {'mark': 'Mark 61.3 mm true length 60.65'}."""
    row = html[html.index('class="figures"') : html.index('<dl class="sizes"')]
    row = re.sub(r'<section class="working".*?</section>', " ", row, flags=re.DOTALL)
    cells = re.split(r'<div class="figure figure-', row)[1:]
    return {
        cell.partition('"')[0]: words(cell.partition(">")[2]).replace(" : how this came about", "")
        for cell in cells
    }
