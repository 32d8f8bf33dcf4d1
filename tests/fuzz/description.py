"""What the app says of itself to programs."""

from collections.abc import Mapping
from itertools import chain
from typing import Any

from studio.web.app import ROUTERS
from studio.web.description import describe

Operation = tuple[str, str]
"""A path and a method, as the description names them."""


def closed() -> dict[str, Any]:
    """The app's description with every answer closed: a field that it does not name is a finding."""
    document = describe(list(chain.from_iterable(router.routes for router in ROUTERS)))
    for name, schema in document["components"]["schemas"].items():
        is_sent = name.endswith("In") or name == "OrderPatch"
        if not is_sent and "properties" in schema:
            schema["additionalProperties"] = False
    return document


def operations() -> list[Operation]:
    """Every operation the app describes, but /health, which takes nothing and tells nothing."""
    paths = closed()["paths"]
    return [(path, method) for path in paths for method in paths[path] if path != "/health"]


def rights(document: Mapping[str, Any], operation: Operation) -> set[str]:
    """The rights an operation asks for, by the description."""
    path, method = operation
    return set(document["paths"][path][method]["x-right"])


def takes_something(document: Mapping[str, Any], operation: Operation) -> bool:
    """Whether anything of an operation can be sent otherwise than described; any text fits into a path."""
    path, method = operation
    told = document["paths"][path][method]
    asked = [parameter for parameter in told.get("parameters", []) if parameter["in"] != "path"]
    return bool(asked or told.get("requestBody"))
