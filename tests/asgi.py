"""Speaking to the app without a network: httpx in front, the app behind, both in this process."""

from contextlib import ExitStack
from types import TracebackType

import anyio.from_thread
import httpx
from fastapi import FastAPI


class InProcess(httpx.BaseTransport):
    """Hands each request of an `httpx.Client` to the app, on an event loop in a thread of its own."""

    def __init__(self, app: FastAPI) -> None:
        self._open = ExitStack()
        self._portal = self._open.enter_context(anyio.from_thread.start_blocking_portal())
        self._inner = httpx.ASGITransport(app, raise_app_exceptions=False)

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        """The app's answer, read whole."""
        return self._portal.call(self._answer, request)

    async def _answer(self, request: httpx.Request) -> httpx.Response:
        answer = await self._inner.handle_async_request(
            httpx.Request(request.method, request.url, headers=request.headers, content=request.read())
        )
        body = await answer.aread()
        return httpx.Response(answer.status_code, headers=answer.headers.raw, content=body)

    def __exit__(
        self,
        exc_type: type[BaseException] | None = None,
        exc_value: BaseException | None = None,
        traceback: TracebackType | None = None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """End the loop and its thread."""
        self._open.close()
