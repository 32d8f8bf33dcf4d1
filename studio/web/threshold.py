"""What every request passes before a route sees it, and what every answer carries."""

import re
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect, Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from studio.web.answers import answer, host_of, on_unforeseen
from studio.web.errors import Declined

MAX_BODY_BYTES = 1_000_000
"""An order of two hundred rings stays far below."""
PICTURE_BODY_BYTES = 25_000_000
"""Where a picture is sent: twice the largest that is read, so that words beside one too large come back."""
_PICTURES = re.compile(r"/(orders/[^/]+|bench/[^/]+/[^/]+)/pictures")

CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; "
    "object-src 'none'"
)
SEALED_POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox"
"""The one stricter policy a route may set: of a file that somebody sent, shown as nothing but a picture."""
_ANSWERS = "/answer/"
"""Where the customer's page begins: its address is its key, so no other page may learn it."""
_ON_ANSWERS = {
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
}
"""On everything said there, whatever it is: the page, the paper, and each refusal."""
_SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
_ON_EVERY_ANSWER = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
_ONE_YEAR = "max-age=31536000"
# As they are sent, put together once.
_SENT = [(name.lower().encode(), value.encode()) for name, value in _ON_EVERY_ANSWER.items()]
_OURS = frozenset(name for name, _ in _SENT)
_SEAL = (b"content-security-policy", SEALED_POLICY.encode())
_SEALED = [_SEAL, *(header for header in _SENT if header[0] != _SEAL[0])]


def is_from_elsewhere(method: str, headers: Headers, *, may_hide: bool = False) -> bool:
    """Whether another site's page sent this request to change something.

    By `Sec-Fetch-Site` where the browser says it, else by `Origin` against `Host`. A request with neither
    comes from no browser, and so carries nobody's cookie unawares. `may_hide` lets an origin called null
    pass: that is what a browser says of a page that told it not to say where it comes from.
    """
    if method in _SAFE_METHODS:
        return False
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site not in {"same-origin", "none"}
    origin = headers.get("origin")
    if may_hide and origin == "null":
        return False
    return origin is not None and host_of(origin) != headers.get("host", "").lower()


@dataclass(frozen=True, slots=True)
class Threshold:
    """The outermost door: refuses what comes from another site or is too big, and puts on the headers.

    Whatever fails inside is answered with a reference, and logged without the data it failed on. Nowhere
    else is every exception of a request caught.

    A HEAD request is answered like its GET, without the body; `scope["is_head"]` says so to a route that
    must not do anything for it. The server keeps its own scope as it is: it reads from it how the answer to
    a HEAD ends, and would wait for the body of a GET.
    """

    app: ASGIApp
    has_tls: bool

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass one request through."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        is_head = scope["method"] == "HEAD"
        scope = {**scope, "is_head": is_head, "method": "GET" if is_head else scope["method"]}
        is_answer = scope["path"].startswith(_ANSWERS)
        sender = self._with_headers(send, is_head=is_head, is_answer=is_answer)
        headers = Headers(scope=scope)
        if (turned_away := _turned_away(scope, headers)) is not None:
            refused = answer(Request(scope), turned_away.status_code, turned_away.errors)
            await refused(scope, receive, sender)
            return
        await self._pass(scope, _counted(receive, most_bytes(scope)), sender)

    async def _pass(self, scope: Scope, receive: Receive, send: Send) -> None:
        has_started = False

        async def sender(message: Message) -> None:
            nonlocal has_started
            has_started = True
            await send(message)

        try:
            await self.app(scope, receive, sender)
        except (
            ClientDisconnect
        ):  # gone before its body was here, as a page does that is typed into: no answer
            return
        except Exception as error:  # noqa: BLE001  the last door: beyond it the server logs the data in the message
            refused = on_unforeseen(Request(scope), error)
            if not has_started:
                await refused(scope, receive, send)

    def _with_headers(self, send: Send, *, is_head: bool, is_answer: bool) -> Send:
        async def sender(message: Message) -> None:
            if message["type"] == "http.response.start":
                given = message["headers"]
                kept = [header for header in given if header[0] not in _OURS]
                message = {**message, "headers": [*kept, *(_SEALED if _SEAL in given else _SENT)]}
                headers = MutableHeaders(scope=message)
                if is_answer:
                    headers.update(_ON_ANSWERS)
                headers.setdefault("Cache-Control", "no-store")
                if self.has_tls:
                    headers["Strict-Transport-Security"] = _ONE_YEAR
            elif is_head and message["type"] == "http.response.body":
                if message.get("more_body", False):
                    return
                message = {**message, "body": b""}
            await send(message)

        return sender


def _turned_away(scope: Scope, headers: Headers) -> Declined | None:
    """Why a request is not let in, if it is not; decided before any of its body is read."""
    if is_from_elsewhere(scope["method"], headers, may_hide=scope["path"].startswith(_ANSWERS)):
        return Declined(
            403, "This came from another site's page, so nothing was done. Open our own page for it."
        )
    if _says_too_big(headers, most := most_bytes(scope)):
        return _too_big(most)
    if "\0" in scope["path"]:  # no address of ours holds it, and no database takes it
        return Declined(404, "There is nothing at this address.")
    return None


def most_bytes(scope: Scope) -> int:
    """How much the body of a request may hold, by its method and its address alone."""
    takes_pictures = scope["method"] == "POST" and _PICTURES.fullmatch(scope["path"])
    return PICTURE_BODY_BYTES if takes_pictures else MAX_BODY_BYTES


def _says_too_big(headers: Headers, most: int) -> bool:
    length = headers.get("content-length", "0")
    return not length.isascii() or not length.isdigit() or len(length) > 12 or int(length) > most


def _counted(receive: Receive, most: int) -> Receive:
    """`receive`, stopped with a 413 as soon as more has come than a body may hold."""
    seen = 0

    async def counting() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > most:
            raise _too_big(most)
        return message

    return counting


def _too_big(most: int) -> Declined:
    if most > MAX_BODY_BYTES:
        return Declined(413, "A picture may have 12 megabytes at most. Send it smaller, or a photo of it.")
    return Declined(413, "This is more than we can take at once. A megabyte is the most.")
