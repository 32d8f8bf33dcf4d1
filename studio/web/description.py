"""The description of the API and the papers for programs, as OpenAPI."""

from collections.abc import Iterable
from typing import Any

from fastapi.openapi.utils import get_openapi
from fastapi.routing import APIRoute
from starlette.routing import BaseRoute

from studio.web.api_error_models import ErrorsOut
from studio.web.security import OPEN_ROUTES, rights_of

_VERSION = "1"
_ABOUT = (
    "Orders, reckonings and papers of a goldsmith's studio. Lengths are mm, masses g, rounded to 0.001; "
    "days are YYYY-MM-DD, moments UTC with Z. Sign in with `Authorization: Bearer …`. Every POST takes an "
    "Idempotency-Key: the same key with the same body gives the same answer, with another body 409."
)
_STATUSES = {
    "401": "Not signed in",
    "403": "Not open to this role, or sent from another site's page",
    "404": "Not in the book",
    "409": "It stands otherwise by now, see `current`",
    "413": "More than can be taken at once",
    "422": "Fields to put right",
    "429": "Too often; wait as Retry-After says",
}
_KEY = {
    "name": "Idempotency-Key",
    "in": "header",
    "required": False,
    "description": "1 to 64 visible characters; what is sent twice under one key is done once.",
    "schema": {"type": "string", "minLength": 1, "maxLength": 64, "pattern": "^[!-~]+$"},
}


def describe(routes: Iterable[BaseRoute]) -> dict[str, Any]:
    """The OpenAPI document of every route that is meant for programs: /api/, the papers, /health."""
    told = [route for route in routes if isinstance(route, APIRoute) and is_for_programs(route)]
    document = get_openapi(title="Shankwright", version=_VERSION, description=_ABOUT, routes=told)
    components = document.setdefault("components", {})
    schemas = components.setdefault("schemas", {})
    for stock in ("HTTPValidationError", "ValidationError"):  # errors here have their own form
        schemas.pop(stock, None)
    errors = ErrorsOut.model_json_schema(ref_template="#/components/schemas/{model}")
    schemas |= errors.pop("$defs", {})
    schemas["ErrorsOut"] = errors
    components["securitySchemes"] = {"bearer": {"type": "http", "scheme": "bearer"}}
    for route in told:
        for method in sorted(route.methods or ()):
            _complete(document["paths"][route.path_format][method.lower()], route, method)
    return document


def is_for_programs(route: APIRoute) -> bool:
    """Whether a program may want this route."""
    is_paper = route.path.endswith(".pdf") and route.path not in OPEN_ROUTES
    return route.path.startswith("/api/") or is_paper or route.path == "/health"


def _complete(operation: dict[str, Any], route: APIRoute, method: str) -> None:
    """Add to one operation what stands outside its signature: errors, sign-in, papers, the key."""
    if route.path in OPEN_ROUTES:
        return
    answers = operation["responses"]
    for status, meaning in _STATUSES.items():
        schema = {"$ref": "#/components/schemas/ErrorsOut"}
        answers[status] = {"description": meaning, "content": {"application/json": {"schema": schema}}}
    operation["security"] = [{"bearer": []}]
    operation["x-right"] = sorted(rights_of(route))
    if route.path.endswith(".pdf"):
        answers["200"] = {"description": "The paper, as pdf/ua-1", "content": {"application/pdf": {}}}
    if method == "POST":
        operation.setdefault("parameters", []).append(_KEY)
