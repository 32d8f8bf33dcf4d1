"""Who prints for a request, and for how long: until the paper is there, or nobody waits for it any more."""

from starlette.requests import Request
from starlette.responses import Response

from studio.papers.paper import Paper
from studio.papers.printing import Printer
from studio.settings import Settings
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


def pdf_answer(paper: bytes, name: str) -> Response:
    """The paper, shown in the browser under a name to keep it by: 'bench-sheet-2026-118.pdf'."""
    return Response(
        paper, media_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'}
    )


def app_address(request: Request) -> str:
    """Where a phone at the bench finds the app, by the settings: whoever asks may call it what they like."""
    settings: Settings = request.app.state.settings
    return settings.base_url
