"""Who prints for a request, and for how long: until the paper is there, or nobody waits for it any more."""

import asyncio

from starlette.requests import ClientDisconnect, Request

from studio.papers.paper import Paper
from studio.papers.printing import Printer


def printer_of(request: Request) -> Printer:
    """The printer of the app that serves the request."""
    printer: Printer = request.app.state.printer
    return printer


async def printed_while_asked(request: Request, paper: Paper) -> bytes:
    """The paper as PDF, for a request that is read and changes nothing.

    Where its reader goes away the paper is left, and `ClientDisconnect` raised.
    """
    printing = asyncio.ensure_future(printer_of(request).pdf(paper))
    gone = asyncio.ensure_future(_gone(request))
    try:
        await asyncio.wait({printing, gone}, return_when=asyncio.FIRST_COMPLETED)
        if not printing.done():
            raise ClientDisconnect
        return printing.result()
    finally:
        printing.cancel()
        gone.cancel()


async def _gone(request: Request) -> None:
    """Wait until the reader has gone."""
    while (await request.receive())["type"] != "http.disconnect":
        pass
