"""Who prints for a request, and for how long: until the paper is there, or nobody waits for it any more."""

from starlette.requests import Request

from studio.papers.paper import Paper
from studio.papers.printing import Printer
from studio.web.awaited import while_asked


def printer_of(request: Request) -> Printer:
    """The printer of the app that serves the request."""
    printer: Printer = request.app.state.printer
    return printer


async def printed_while_asked(request: Request, paper: Paper) -> bytes:
    """The paper as PDF, for a request that is read and changes nothing.

    Where its reader goes away the paper is left, and `ClientDisconnect` raised.
    """
    return await while_asked(request, printer_of(request).pdf(paper))
