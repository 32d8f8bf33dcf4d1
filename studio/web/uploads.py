"""Reading a form that brings a file along: a few short fields and one file, counted while they come."""

import asyncio
import hashlib
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from studio.web.bodies import fingerprint
from studio.web.errors import Declined

AT_ONCE = 3
"""How many are read and decoded at the same time; who comes later waits before their file is read."""
_READ_S = 120.0
_MOST_FIELDS = 10
_LONGEST_FIELD = 10_000


@dataclass(frozen=True, slots=True)
class Upload:
    """What a form sent: its fields as typed, and the bytes of its file, b'' where none was chosen."""

    typed: dict[str, str]
    file: bytes


class Uploads:
    """The places at which files are read, so that many at once fill neither memory nor disk."""

    def __init__(self) -> None:
        self._places = asyncio.Semaphore(AT_ONCE)

    @asynccontextmanager
    async def reading(self, request: Request, name: str, most: int) -> AsyncIterator[Upload]:
        """The form of the request with its file `name`, as long as its place is held.

        At most one byte more than `most` of the file is read into memory, so that whoever takes it sees that
        it is too large. Raises `Declined`: 422 for a body that is no such form, 408 where it takes more than
        two minutes, 507 where there is no room to lay it down.
        """
        async with self._places:
            yield await _read(request, name, most)


async def _read(request: Request, name: str, most: int) -> Upload:
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != "multipart/form-data":
        raise _unreadable()
    try:
        async with (
            asyncio.timeout(_READ_S),
            request.form(max_files=1, max_fields=_MOST_FIELDS, max_part_size=_LONGEST_FIELD) as form,
        ):
            sent = form.get(name)
            file = await sent.read(most + 1) if isinstance(sent, UploadFile) else b""
            typed = {key: value for key, value in form.multi_items() if isinstance(value, str)}
    except TimeoutError:
        raise Declined(408, "The picture took too long to arrive. Send it again, or a smaller one.") from None
    except HTTPException as error:
        if isinstance(error, Declined):
            raise
        raise _unreadable() from None
    except UnicodeDecodeError:
        raise _unreadable() from None
    except OSError:
        raise Declined(507, "There is no room to lay the picture down, so nothing was saved.") from None
    typed = {key: value.replace("\0", "") for key, value in typed.items()}
    kept = {key: value for key, value in sorted(typed.items()) if key != "idempotency_key"}
    told = json.dumps([kept, hashlib.sha256(file).hexdigest()])
    request.state.fingerprint = fingerprint(request.method, request.url.path, told)
    return Upload(typed, file)


def _unreadable() -> Declined:
    return Declined(422, "We could not read what was sent.")
