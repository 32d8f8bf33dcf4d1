"""The postman: takes letters out of the outbox and hands them to the mail server, while the app is served."""

import asyncio
import logging
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from zoneinfo import ZoneInfo

from sqlalchemy import Engine
from starlette.concurrency import run_in_threadpool

from studio import clock
from studio.book.answer_links import link_for_letter, waits_for_answer
from studio.book.engine import session
from studio.book.errors import QuoteAnswered, QuoteExpired, QuoteSuperseded
from studio.book.outbox import is_mail_due, note_handed_over, note_not_handed_over, take_mail
from studio.book.outbox_values import About, MailKind, TakenMail
from studio.book.studio import time_zone
from studio.papers.pool import PaperFailed, PaperNotMade
from studio.papers.printing import Printer
from studio.post import QuoteLetter, ReminderLetter
from studio.smtp import MailServer, NotHandedOver, Talk, hand_over
from studio.web.errors import Declined
from studio.web.letters import answer_address, letter_of, linked, written
from studio.web.papers import kept_or_made
from studio.web.reminder_letters import Wording, reminder_letter

LOOKS_EVERY_S = 20.0
"""How often the outbox is looked into uncalled: for letters of other processes, and for next tries."""
_LEAVES_WITHIN_S = 5.0
_LOG = logging.getLogger(__name__)


class Postman:
    """Hands letters over, one after the other. Any number of processes may have one, each letter goes to one.

    `base_url` is the address that browsers use: what the links in the letters start with.

    The book is asked in threads and for short; nothing of it is held while the server is spoken to.
    """

    def __init__(
        self, engine: Engine, server: MailServer, printer: Callable[[], Printer], *, base_url: str
    ) -> None:
        self._engine = engine
        self._base_url = base_url
        self._server = server
        self._printer = printer
        self._called = asyncio.Event()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._talk: Talk | None = None
        self._leaves = False

    def call(self) -> None:
        """Say that a letter waits, from whatever thread."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._called.set)

    @asynccontextmanager
    async def at_work(self) -> AsyncIterator[None]:
        """Work as long as this is open. At its end a talk has a few seconds, then it is cut."""
        self._loop = asyncio.get_running_loop()
        working = asyncio.create_task(self._work())
        try:
            yield
        finally:
            self._leaves = True
            self._called.set()
            await asyncio.wait({working}, timeout=_LEAVES_WITHIN_S)
            if self._talk is not None:
                self._talk.cut()
            await asyncio.wait({working}, timeout=_LEAVES_WITHIN_S)
            working.cancel()
            self._loop = None

    async def _work(self) -> None:
        while not self._leaves:
            self._called.clear()
            try:
                may_be_more = await self.go_once()
            except Exception as error:  # noqa: BLE001  one letter, or a lost book, must not end all that follow
                _LOG.error("The outbox could not be worked: %s", type(error).__name__)
                may_be_more = False
            if not may_be_more:
                with suppress(TimeoutError):
                    await asyncio.wait_for(self._called.wait(), LOOKS_EVERY_S)

    async def go_once(self) -> bool:
        """Take one letter that is due and note what became of it; False where none was due."""
        taken = await run_in_threadpool(self._taken)
        if taken is None:
            return False
        try:
            answer = await self._handed_over(taken)
        except NotHandedOver as refused:
            await run_in_threadpool(self._note_not, taken, refused)
        else:
            await run_in_threadpool(self._note, taken, answer)
        return True

    async def _handed_over(self, taken: TakenMail) -> str:
        try:
            letter, zone = await run_in_threadpool(self._letter, taken)
            pdf = None
            if taken.about in {None, About.QUOTE}:
                pdf = await kept_or_made(self._engine, self._printer(), taken.quote, now=clock.now())
            there = taken.queued_at.astimezone(ZoneInfo(zone))
            key = await run_in_threadpool(self._key, taken)
            if key:
                letter = linked(letter, answer_address(self._base_url, key))
            mail = written(letter, pdf, now=there, message_id=taken.message_id)
        except (QuoteAnswered, QuoteSuperseded, QuoteExpired) as changed:
            raise NotHandedOver("Not sent: the quote changed in this moment.", is_final=False) from changed
        except Declined as refused:
            raise NotHandedOver(f"Not sent: {refused.errors[0].message}", is_final=True) from refused
        except (PaperNotMade, PaperFailed) as failed:
            raise NotHandedOver("Not sent: the paper could not be made.", is_final=False) from failed
        self._talk = Talk()
        try:
            # In a thread of its own: those that read the book are few, and nobody waits for a mail server.
            return await asyncio.to_thread(
                hand_over,
                self._server,
                mail,
                sender=letter.studio_email,
                to=taken.to,
                talk=self._talk,
                hidden=(key,) if key else (),
            )
        finally:
            self._talk = None

    def _taken(self) -> TakenMail | None:
        now = clock.now()
        with session(self._engine) as book:
            return take_mail(book, now=now) if is_mail_due(book, now=now) else None

    def _letter(self, taken: TakenMail) -> tuple[QuoteLetter | ReminderLetter, str]:
        with session(self._engine) as book:
            if taken.about is not None:
                words = Wording(taken.quote, taken.to, taken.subject, taken.words)
                return reminder_letter(book, words), time_zone(book)
            letter = letter_of(book, taken.quote, to=taken.to, is_test=taken.kind is MailKind.TEST)
            return letter, time_zone(book)

    def _key(self, taken: TakenMail) -> str:
        """The key of the link in this try of the letter, '' where nothing waits for an answer by it.

        Only its hash is kept, so every try has another; it stands in the letter and nowhere else.
        """
        now = clock.now()
        with session(self._engine) as book:
            if not taken.wants_link or not waits_for_answer(book, taken.quote, now):
                return ""
            return link_for_letter(book, number=taken.quote, actor=taken.actor, now=now)

    def _note(self, taken: TakenMail, answer: str) -> None:
        with session(self._engine) as book:
            note_handed_over(book, taken=taken, answer=answer, now=clock.now())

    def _note_not(self, taken: TakenMail, refused: NotHandedOver) -> None:
        with session(self._engine) as book:
            note_not_handed_over(
                book, taken=taken, answer=refused.answer, is_final=refused.is_final, now=clock.now()
            )
