"""Printing: in this process, one paper after the other, and the steps that a worker is asked for."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import Protocol

from studio.papers.joining import Sheaf, joined
from studio.papers.paper import Paper
from studio.papers.pictures import TakenIn, take_in, taken_in

_THREAD = ThreadPoolExecutor(max_workers=1, thread_name_prefix="papers")


class Printer(Protocol):
    """Whoever prints papers for the app."""

    async def pdf(self, paper: Paper) -> bytes:
        """The paper as PDF, the same bytes whoever prints it. Await it without holding a database session."""
        ...

    async def picture(self, raw: bytes) -> TakenIn:
        """A picture that somebody sent, written anew. Raises `PictureRefused`. Await it as above."""
        ...


class HousePrinter:
    """Prints in a thread of this process, without a limit of time or memory."""

    async def pdf(self, paper: Paper) -> bytes:
        """As `printed`, in the papers' own thread."""
        return await asyncio.get_running_loop().run_in_executor(_THREAD, printed, paper)

    async def picture(self, raw: bytes) -> TakenIn:
        """As `take_in`, in the papers' own thread. Raises `PictureRefused`."""
        return taken_in(await asyncio.get_running_loop().run_in_executor(_THREAD, take_in, raw))


def printed(paper: Paper) -> bytes:
    """The paper as PDF. Up to ten parts are printed at once; more are printed in tens and joined."""
    goes = paper.goes
    return at_once(paper) if len(goes) == 1 else joined([to_join(go) for go in goes])


def at_once(paper: Paper) -> bytes:
    """The paper as PDF, printed in one go."""
    from studio.papers.render import print_at_once  # noqa: PLC0415  a second to load: only who prints waits

    return print_at_once(paper)


def to_join(paper: Paper) -> Sheaf:
    """The paper printed in one go, to be joined with others."""
    from studio.papers.render import print_to_join  # noqa: PLC0415  as above

    return print_to_join(paper)
