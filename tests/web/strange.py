"""What nobody means to send and a database may choke on, put into every place of a request."""

import json
import re
from collections.abc import Iterator, Mapping
from itertools import cycle
from typing import Any
from urllib.parse import quote

from fastapi.routing import APIRoute

from studio.web.app import ROUTERS
from tests.web.shown import Form

NUMBERS = (2**31, 2**63, -(2**63) - 1, 10**30)
TEXTS = {
    "beyond 32 bits": str(2**31),
    "beyond 64 bits": str(2**63),
    "below all of them": str(-(2**63) - 1),
    "thirty digits": str(10**30),
    "a NUL": "a\0b",
    "half a sign": "a\ud83db",
    "four bytes": "💍𝄞\U0010ffff",
}
QUERIES = {
    "/orders": ("q", "state", "after"),
    "/orders/new": ("customer", "draft"),
    "/orders/{number}/rings/{position}": ("draft",),
    "/customers": ("q", "after"),
    "/counter/customers": ("q",),
    "/week": ("from",),
    "/week/papers.pdf": ("from",),
    "/week/labels.pdf": ("from",),
    "/sign-in": ("next",),
}
"""What the pages read behind the question mark; of the routes for programs it is declared."""


def escaped(text: str) -> str:
    """A text in an address or a form, byte for byte: half a sign goes as the bytes that no UTF-8 has."""
    return quote(text.encode("utf-8", "surrogatepass"), safe="")


def strange_paths(known: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Every route with each part of its path strange, the other parts as `known` has them, or 1."""
    for method, route in _routes():
        parts = re.findall(r"\{(\w+)(?::path)?\}", route.path)
        for strange in parts:
            for text in TEXTS.values():
                yield method, _filled(route.path, {**known, strange: escaped(text)})


def strange_queries(known: Mapping[str, str]) -> Iterator[str]:
    """Every address that reads something behind the question mark, with each of it strange."""
    for method, route in _routes():
        declared = [parameter.alias for parameter in route.dependant.query_params]
        for name in dict.fromkeys([*declared, *QUERIES.get(route.path, ())]) if method == "GET" else ():
            for text in TEXTS.values():
                yield f"{_filled(route.path, known)}?{name}={escaped(text)}"


def strange_fields(form: Form, *, more: tuple[str, ...]) -> Iterator[bytes]:
    """What the form would send with all of its fields strange, then with one after the other."""
    names = [name for name in dict.fromkeys([*form.fields, *more]) if name != "idempotency_key"]
    for text in TEXTS.values():
        yield _sent({**form.fields, **dict.fromkeys(names, text)})
    for name, text in zip(names, cycle(TEXTS.values()), strict=False):
        yield _sent({**form.fields, name: text})


def strange_values(body: Mapping[str, Any]) -> Iterator[str]:
    """The JSON of `body` with each of its values in turn a strange number, and a strange text."""
    numbers, texts = cycle(map(str, NUMBERS)), cycle(json.dumps(text) for text in TEXTS.values())
    for path in _leaves(body):
        for strange in (next(numbers), next(texts)):
            yield json.dumps(_with_mark(body, path)).replace('"@"', strange)


def _filled(path: str, known: Mapping[str, str]) -> str:
    return re.sub(r"\{(\w+)(?::path)?\}", lambda part: known.get(part[1], "1"), path)


def _sent(fields: Mapping[str, str]) -> bytes:
    kept = {name: value for name, value in fields.items() if name != "idempotency_key"}
    return "&".join(f"{escaped(name)}={escaped(value)}" for name, value in kept.items()).encode()


def _routes() -> Iterator[tuple[str, APIRoute]]:
    for router in ROUTERS:
        for route in router.routes:
            if isinstance(route, APIRoute):
                for method in sorted(route.methods or ()):
                    yield method, route


def _leaves(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    inner: Any = value.items() if isinstance(value, dict) else enumerate(value)
    for name, item in inner:
        if isinstance(item, dict | list):
            yield from _leaves(item, (*path, name))
        else:
            yield (*path, name)


def _with_mark(body: Mapping[str, Any], path: tuple[str | int, ...]) -> Any:
    marked = here = json.loads(json.dumps(body))
    for name in path[:-1]:
        here = here[name]
    here[path[-1]] = "@"
    return marked
