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
from studio.book.bench_devices import at_device
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
    "/bench/hands",
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
    with a bearer token asks, not a person at a screen; `is_bench` that somebody works at the bench by their
    PIN.
    """

    actor: Actor
    engine: Engine
    now: datetime
    today: date
    zone: str
    rule: HallmarkRule
    has_token: bool = False
    is_bench: bool = False

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

    Answers 401 without sign-in (a page sends to /sign-in instead), 403 without the right, and 403 to a PIN
    anywhere but at `is_bench_work`.
    """

    right: Right
    is_bench_work: bool = False

    def __call__(self, request: Request) -> Seat:
        """The seat of who asks; `request.state.seat` keeps it, for the masthead and a second look."""
        seat: Seat | None = getattr(request.state, "seat", None) or seat_of(request)
        if seat is None:
            request.state.asks_for_pin = self.is_bench_work and is_bench_device(request)
            raise Declined(401, "Sign in first.", headers={"WWW-Authenticate": "Bearer"})
        request.state.is_at_bench = seat.is_bench
        if seat.is_bench and not self.is_bench_work:
            raise Declined(403, "A PIN opens the work at the bench alone. For this, sign in by passphrase.")
        request.state.seat = seat
        seat.must(self.right)
        return seat


def requires(right: Right, *, is_bench_work: bool = False) -> DependsMark:
    """The dependency that guards a route and gives its `Seat`; `is_bench_work` lets a PIN open it.

    `def week(request: Request, seat: Annotated[Seat, requires(Right.SEE_WEEK)]) -> Response`
    """
    mark: DependsMark = Depends(Guard(right, is_bench_work))
    return mark


def seat_of(request: Request) -> Seat | None:
    """Who is signed in: by a bearer token where one is sent, else by the cookie, else by a PIN at the bench.

    None for a stranger. Reads the book, so call it from a thread.
    """
    engine: Engine = request.app.state.engine
    token, key, device = bearer_token(request), cookie_key(request), bench_key(request)
    if token is None and key is None and device is None:
        return None
    now, is_bench = clock.now(), False
    with session(engine) as book:
        if token is not None:
            actor = actor_by_token(book, token=token)
        else:
            actor = None if key is None else who(book, key=key, now=now)
            if actor is None and device is not None:
                found = at_device(book, key=device, now=now)
                actor, is_bench = (None, False) if found is None else (found.maker, True)
        if actor is None:
            return None
        zone, rule = zone_and_rule(book)
    today = clock.day_of(now, zone)
    return Seat(actor, engine, now, today, zone, rule, has_token=token is not None, is_bench=is_bench)


def is_bench_device(request: Request) -> bool:
    """Whether the browser is that of a device of the bench, whoever works on it."""
    key = bench_key(request)
    if key is None:
        return False
    with session(request.app.state.engine) as book:
        return at_device(book, key=key, now=clock.now()) is not None


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
    return _key_in(request, _cookie_name(request))


def bench_key(request: Request) -> str | None:
    """The key of the device of the bench that the cookie carries, None without one of ours."""
    return _key_in(request, _cookie_name(request, is_bench=True))


def _key_in(request: Request, cookie: str) -> str | None:
    key, _, signature = request.cookies.get(cookie, "").partition(".")
    signed = hmac.compare_digest(signature.encode(), _signature(request, key).encode())
    return key if key and signed else None


def set_cookie(
    request: Request, response: Response, key: str, *, seconds: int, is_bench: bool = False
) -> None:
    """Give the browser the cookie of a fresh sign-in, or that of a device of the bench."""
    signature = _signature(request, key)
    response.set_cookie(
        _cookie_name(request, is_bench=is_bench),
        f"{key}.{signature}" if signature else key,
        max_age=seconds,
        path="/",
        secure=_has_tls(request),
        httponly=True,
        samesite="lax",
    )


def take_cookie(request: Request, response: Response) -> None:
    """Take the cookie of a sign-in back."""
    response.delete_cookie(
        _cookie_name(request), path="/", secure=_has_tls(request), httponly=True, samesite="lax"
    )


def _has_tls(request: Request) -> bool:
    settings: Settings = request.app.state.settings
    return settings.tls is not None


def _cookie_name(request: Request, *, is_bench: bool = False) -> str:
    # The prefix binds the cookie to this very host, but browsers take it only with TLS.
    name = "shankwright-bench" if is_bench else "shankwright"
    return f"__Host-{name}" if _has_tls(request) else name


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
