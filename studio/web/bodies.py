"""Reading the body of a request: a page's form, or JSON read strictly."""

import hashlib
import json
from collections.abc import Callable, Coroutine
from typing import Annotated, Any
from urllib.parse import parse_qsl

from fastapi import Depends
from fastapi.routing import APIRoute
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.web.errors import Declined, FieldError, under
from studio.web.forms import nested
from studio.web.security import Guard

MOST_FIELDS = 1_000
DEEPEST = 16
_LONGEST_WHOLE_NUMBER = 15
"""Digits: longer ones are not exact as a float, and no measure, id or version needs them."""


class _NoNumber(str):
    """What stands where a JSON number should, and is none: NaN, Infinity, 1e309, a thousand digits."""

    __slots__ = ()


class _Twice(dict[str, object]):
    """An object in which a name stands twice; the first such name is kept."""

    name = ""


class StrictRequest(Request):
    """A request whose JSON is read to the letter."""

    async def json(self) -> object:
        """The body as JSON; 422 for what is not well-formed, or would be read differently by two readers."""
        read = read_json(await self.body())
        canonical = json.dumps(read, sort_keys=True, ensure_ascii=True)
        self.state.fingerprint = fingerprint(self.method, self.url.path, canonical)
        return read


class ApiRoute(APIRoute):
    """A route that asks who comes before it reads, reads JSON strictly, and knows its query parameters."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The handler behind the strict reading."""
        handle = super().get_route_handler()
        known = {parameter.alias for parameter in self.dependant.query_params}
        guards = [need.call for need in self.dependant.dependencies if isinstance(need.call, Guard)]

        async def strictly(request: Request) -> Response:
            for guard in guards:
                await run_in_threadpool(guard, request)
            unknown = [name for name in request.query_params if name not in known]
            if unknown:
                raise Declined(422, "We do not know this field.", field=_shown(unknown[0]))
            return await handle(StrictRequest(request.scope, request.receive))

        return strictly


def read_json(body: bytes) -> object:
    """`body` as JSON in UTF-8, without NaN, endless numbers, a name given twice, or unprintable text."""
    try:
        read = json.loads(
            body.decode("utf-8"),
            parse_constant=_NoNumber,
            parse_float=_parse_float,
            parse_int=_parse_int,
            object_pairs_hook=_object,
        )
    except UnicodeDecodeError:
        raise Declined(422, "The body is not text in UTF-8.") from None
    except json.JSONDecodeError:
        raise Declined(422, "The body is not well-formed JSON.") from None
    except RecursionError:
        raise _too_deep() from None
    found = list(_faults(read, "", 0))
    if found:
        raise Declined(422, found[0].message, field=found[0].field, more=found[1:50])
    return read


def fingerprint(method: str, path: str, body: str) -> str:
    """A hash that is the same for the same request, to tell a repetition from another request."""
    return hashlib.sha256(f"{method} {path}\n{body}".encode()).hexdigest()


async def typed_fields(request: Request) -> dict[str, object]:
    """The fields of a page's form in groups, see `forms.nested`."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind not in {"", "application/x-www-form-urlencoded"}:
        raise Declined(422, "We could not read what was sent.")
    body = await request.body()
    try:
        pairs = parse_qsl(
            body.decode("utf-8"), keep_blank_values=True, errors="strict", max_num_fields=MOST_FIELDS
        )
    except ValueError:  # not UTF-8, or more fields than any form of ours has
        raise Declined(422, "We could not read what was sent.") from None
    fields = {name: value.replace("\0", "") for name, value in pairs}
    kept = {name: value for name, value in sorted(fields.items()) if name != "idempotency_key"}
    request.state.fingerprint = fingerprint(request.method, request.url.path, json.dumps(kept))
    return nested(fields)


Typed = Annotated[dict[str, object], Depends(typed_fields)]
"""The parameter of a page's route that takes what was typed into its form."""


def _parse_float(text: str) -> float | _NoNumber:
    number = float(text)
    return number if abs(number) < 1e300 else _NoNumber(text)


def _parse_int(text: str) -> int | _NoNumber:
    return int(text) if len(text) <= _LONGEST_WHOLE_NUMBER else _NoNumber(text[:_LONGEST_WHOLE_NUMBER])


def _object(pairs: list[tuple[str, object]]) -> dict[str, object]:
    names = [name for name, _ in pairs]
    if len(set(names)) == len(names):
        return dict(pairs)
    twice = _Twice(pairs)
    twice.name = next(name for place, name in enumerate(names) if name in names[:place])
    return twice


def _faults(value: object, path: str, depth: int) -> "list[FieldError]":
    if depth > DEEPEST:
        raise _too_deep()
    if isinstance(value, _NoNumber):
        return [FieldError(path or None, "This is not a number we can reckon with.")]
    if isinstance(value, str) and not _is_text(value):
        return [FieldError(path or None, "There is a sign in this that cannot be printed. Type it again.")]
    if isinstance(value, list):
        return [
            fault for n, item in enumerate(value) for fault in _faults(item, under(path, str(n)), depth + 1)
        ]
    if not isinstance(value, dict):
        return []
    found = [
        fault for name, item in value.items() for fault in _faults(item, under(path, _shown(name)), depth + 1)
    ]
    if isinstance(value, _Twice):
        found.append(FieldError(under(path, _shown(value.name)), "This is given twice. Which one is meant?"))
    if not all(_is_text(name) for name in value):
        found.append(FieldError(path or None, "We do not know this field."))
    return found


def _is_text(text: str) -> bool:
    return "\0" not in text and not any("\ud800" <= sign <= "\udfff" for sign in text)


def _shown(name: str) -> str:
    """A field's name as sent, as far as it looks like one."""
    return "".join(sign for sign in name if sign.isascii() and (sign.isalnum() or sign in "_-"))[:40] or "?"


def _too_deep() -> Declined:
    return Declined(422, "The body is nested too deeply.")
