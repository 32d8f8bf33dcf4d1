"""Work that is awaited for a request, for as long as somebody waits for the answer."""

import asyncio
from collections.abc import Coroutine
from typing import Any, TypeVar

from starlette.requests import ClientDisconnect, Request

T = TypeVar("T")


async def while_asked(request: Request, work: Coroutine[Any, Any, T]) -> T:
    """What `work` gives, for a request that is read.

    Where its reader goes away the work is cancelled, and `ClientDisconnect` raised.
    """
    working = asyncio.ensure_future(work)
    gone = asyncio.ensure_future(_gone(request))
    try:
        await asyncio.wait({working, gone}, return_when=asyncio.FIRST_COMPLETED)
        if not working.done():
            raise ClientDisconnect
        return working.result()
    finally:
        working.cancel()
        gone.cancel()


async def _gone(request: Request) -> None:
    """Wait until the reader has gone."""
    while (await request.receive())["type"] != "http.disconnect":
        pass
