"""Who sits at the desk, and what each route asks of them. What strangers may open is a short list."""

import hashlib
import hmac
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from fastapi import Depends
from fastapi.params import Depends as DependsMark
from fastapi.routing import APIRoute
from sqlalchemy import Engine
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute

from studio import clock
from studio.book.actor import Actor
from studio.book.engine import session
from studio.book.sign_in import who
from studio.book.studio import zone_and_rule
from studio.book.tokens import actor_by_token
from studio.craft.hallmark import HallmarkRule
from studio.craft.roles import Right, may
from studio.settings import Settings
from studio.web.errors import Declined

OPEN_ROUTES = frozenset({
    "/health", "/static/{path:path}", "/sign-in", "/enter/{key}", "/answer/{key}", "/answer/{key}/quote.pdf",
})  # fmt: skip
"""What opens without sign-in. Every other route names a right, or the app does not start."""

_NOT_YOURS = {
    Right.SEE_ORDERS: "Your role does not open the orders.",
    Right.SEE_CONTACT: "Your role does not open the customers' pages.",
    Right.TAKE_ORDERS: "Your role does not take or change orders.",
    Right.QUOTE: "Your role does not make quotes.",
    Right.AGREE: "Your role does not note a customer's yes.",
    Right.SEE_PRICE: "Your role does not see prices.",
    Right.SEE_COST: "Your role does not see what a ring costs the studio.",
    Right.KEEP_RATES: "Your role does not keep the studio's figures.",
    Right.MOVE_ORDERS: "Your role does not move orders.",
    Right.HAND_OVER: "Your role does not hand orders over.",
    Right.SEE_WEEK: "Your role does not open the week.",
    Right.PRINT_BENCH_SHEETS: "Your role does not print bench sheets.",
    Right.RECKON: "Your role does not reckon rings.",
    Right.KEEP_BOOKS: "Your role does not keep the studio's books.",
    Right.KEEP_PEOPLE: "Your role does not look after people.",
}


@dataclass(frozen=True, slots=True)
class Seat:
    """Who asks, and what a route works with; made anew for each request.

    `now` is UTC, `today`, `zone` and the hallmark's `rule` are the studio's. `has_token` says that a program
    with a bearer token asks, not a person at a screen.
    """

    actor: Actor
    engine: Engine
    now: datetime
    today: date
    zone: str
    rule: HallmarkRule
    has_token: bool = False

    def may(self, right: Right) -> bool:
        """Whether this person's role carries `right`."""
        return may(self.actor.role, right)

    def must(self, right: Right) -> None:
        """Answer 403 unless the role carries `right`: for a right that hangs on what is asked."""
        if not self.may(right):
            raise Declined(403, _NOT_YOURS[right])


@dataclass(frozen=True, slots=True)
class Guard:
    """Lets in whoever is signed in and carries the right, and gives their `Seat`.

    Answers 401 without sign-in (a page sends to /sign-in instead), 403 without the right.
    """

    right: Right

    def __call__(self, request: Request) -> Seat:
        """The seat of who asks; `request.state.seat` keeps it, for the masthead and a second look."""
        seat: Seat | None = getattr(request.state, "seat", None) or seat_of(request)
        if seat is None:
            raise Declined(401, "Sign in first.", headers={"WWW-Authenticate": "Bearer"})
        request.state.seat = seat
        seat.must(self.right)
        return seat


def requires(right: Right) -> DependsMark:
    """The dependency that guards a route and gives its `Seat`.

    `def week(request: Request, seat: Annotated[Seat, requires(Right.SEE_WEEK)]) -> Response`
    """
    mark: DependsMark = Depends(Guard(right))
    return mark


def seat_of(request: Request) -> Seat | None:
    """Who is signed in: by a bearer token where one is sent, else by the cookie; None for a stranger.

    Reads the book, so call it from a thread.
    """
    engine: Engine = request.app.state.engine
    token, key = bearer_token(request), cookie_key(request)
    if token is None and key is None:
        return None
    now = clock.now()
    with session(engine) as book:
        actor = actor_by_token(book, token=token) if token is not None else who(book, key=key or "", now=now)
        if actor is None:
            return None
        zone, rule = zone_and_rule(book)
    return Seat(actor, engine, now, clock.day_of(now, zone), zone, rule, has_token=token is not None)


def bearer_token(request: Request) -> str | None:
    """The token of `Authorization: Bearer …`, '' for any other such header, None without one."""
    header = request.headers.get("authorization")
    if header is None:
        return None
    scheme, _, token = header.partition(" ")
    return token.strip() if scheme.lower() == "bearer" else ""


def cookie_key(request: Request) -> str | None:
    """The key of the sign-in that the cookie carries, None without a cookie of ours.

    With a secret set the cookie is signed by it, so a change of the secret ends every sign-in.
    """
    key, _, signature = request.cookies.get(_cookie_name(request), "").partition(".")
    signed = hmac.compare_digest(signature.encode(), _signature(request, key).encode())
    return key if key and signed else None


def set_cookie(request: Request, response: Response, key: str, *, seconds: int) -> None:
    """Give the browser the cookie of a fresh sign-in."""
    signature = _signature(request, key)
    response.set_cookie(
        _cookie_name(request),
        f"{key}.{signature}" if signature else key,
        max_age=seconds,
        path="/",
        secure=_has_tls(request),
        httponly=True,
        samesite="lax",
    )


def take_cookie(request: Request, response: Response) -> None:
    """Take the cookie back."""
    response.delete_cookie(
        _cookie_name(request), path="/", secure=_has_tls(request), httponly=True, samesite="lax"
    )


def _has_tls(request: Request) -> bool:
    settings: Settings = request.app.state.settings
    return settings.tls is not None


def _cookie_name(request: Request) -> str:
    # The prefix binds the cookie to this very host, but browsers take it only with TLS.
    return "__Host-shankwright" if _has_tls(request) else "shankwright"


def _signature(request: Request, key: str) -> str:
    settings: Settings = request.app.state.settings
    if settings.secret is None:
        return ""
    secret = settings.secret.get_secret_value().encode()
    return hmac.new(secret, key.encode(), hashlib.sha256).hexdigest()[:32]


def rights_of(route: BaseRoute) -> frozenset[Right]:
    """The rights a route asks for."""
    if not isinstance(route, APIRoute):
        return frozenset()
    return frozenset(need.call.right for need in route.dependant.dependencies if isinstance(need.call, Guard))


def unguarded(routes: Iterable[BaseRoute]) -> list[str]:
    """The paths that neither name a right nor stand among the open ones: always none in a running app."""
    return [
        path
        for route in routes
        if (path := getattr(route, "path", "")) not in OPEN_ROUTES and not rights_of(route)
    ]
