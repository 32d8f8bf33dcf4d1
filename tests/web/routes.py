"""Every route of the app, and an address to try it at."""

from fastapi.routing import APIRoute

from studio.web.app import ROUTERS
from studio.web.security import OPEN_ROUTES

ALL_ROUTES = sorted(
    {
        (method, route.path)
        for router in ROUTERS
        for route in router.routes
        if isinstance(route, APIRoute)
        for method in route.methods or ()
    }
)
GUARDED = [route for route in ALL_ROUTES if route[1] not in OPEN_ROUTES]


def address(path: str) -> str:
    """An address of a route, for an order that is not in the book."""
    filled = {
        "{number}": "2026-999",
        "{position}": "1",
        "{kind}": "quote",
        "{picture}": "1",
        "{customer_id}": "999",
        "{gauge_id}": "999",
        "{key}": "nothing",
        "{place_id}": "999",
        "{worker_id}": "999",
        "{path:path}": "x",
    }
    for name, value in filled.items():
        path = path.replace(name, value)
    return path
