"""Mail servers on this machine: one that takes letters, and one that says what is written down."""

import asyncio
import contextlib
import quopri
import re
import socket
import ssl
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import trustme
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, LoginPassword, Session

from studio.smtp import MailServer, Security

USER, PASSWORD = "book@wrenfold.example", "heron-under-the-weir"
OK = "250 OK"
SIGN_OF_REST = 0.2
"""Seconds: how long a try waits for a server that says nothing."""


@dataclass
class Box:
    """What came to the server, and what it answers: `to_rcpt` to an address, `to_data` to a letter.

    With `repeats` what that finds in the letter stands in the answer where it has `{key}` and `{KEY}`.
    """

    to_rcpt: str = OK
    to_data: str = "250 queued as 4711"
    letters: list[bytes] = field(default_factory=list)
    senders: list[str] = field(default_factory=list)
    addresses: list[str] = field(default_factory=list)
    were_encrypted: list[bool] = field(default_factory=list)
    signed_in: list[str] = field(default_factory=list)
    repeats: re.Pattern[bytes] | None = None
    host: str = "127.0.0.1"
    port: int = 0

    async def handle_RCPT(  # noqa: N802  as the server calls it
        self, _server: SMTP, _session: Session, envelope: Envelope, address: str, _options: list[str]
    ) -> str:
        if self.to_rcpt == OK:
            envelope.rcpt_tos.append(address)
        return self.to_rcpt

    async def handle_DATA(self, _server: SMTP, session: Session, envelope: Envelope) -> str:  # noqa: N802  as above
        content = envelope.content
        assert isinstance(content, bytes)
        self.letters.append(content)
        self.senders.append(envelope.mail_from or "")
        self.addresses += envelope.rcpt_tos
        self.were_encrypted.append(session.ssl is not None)
        if self.repeats is None:
            return self.to_data
        found = self.repeats.search(quopri.decodestring(content))
        assert found is not None
        key = found[1].decode()
        return self.to_data.format(key=key, KEY=key.upper())

    def sign_in(
        self, _server: SMTP, _session: Session, _envelope: Envelope, _how: str, told: Any
    ) -> AuthResult:
        is_right = isinstance(told, LoginPassword) and (told.login, told.password) == (
            USER.encode(),
            PASSWORD.encode(),
        )
        self.signed_in.append("yes" if is_right else "no")
        return AuthResult(success=is_right, handled=False)

    def server(self, security: Security = Security.NONE, **more: Any) -> MailServer:
        """How the app is told of it."""
        return MailServer(self.host, security, self.port, **more)


@contextmanager
def a_mail_server(box: Box, authority: trustme.CA | None = None, *, asks_who: bool = False) -> Iterator[Box]:
    """A server that puts what comes into `box`; with an authority it speaks STARTTLS, and nothing without."""
    given: dict[str, Any] = {"hostname": "127.0.0.1", "port": 0, "enable_SMTPUTF8": True}
    if authority is not None:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        authority.issue_cert("localhost", "127.0.0.1").configure_cert(context)
        given |= {"tls_context": context, "require_starttls": True}
    if asks_who:
        has_tls = authority is not None
        given |= {"authenticator": box.sign_in, "auth_required": has_tls, "auth_require_tls": has_tls}
    controller = _Anywhere(box, **given)
    controller.start()
    box.port = controller.port
    try:
        yield box
    finally:
        controller.stop()


class _Anywhere(Controller):
    """A controller on a free port: the stock one tries the port it was asked for, which is none."""

    def _trigger_server(self) -> None:
        assert isinstance(self.server, asyncio.Server)
        self.port = self.server.sockets[0].getsockname()[1]
        super()._trigger_server()  # type: ignore[no-untyped-call]  # as it is in there


@contextmanager
def a_scripted_server(
    script: Sequence[str], *, then: str = "cut", to_letter: str = ""
) -> Iterator[MailServer]:
    """Says one line of `script` at once and one more for each line it hears, then cuts the line or waits.

    `to_letter` is said to the lone point that ends a letter. `then` is 'cut', 'silence', or 'dribble': a sign
    now and then, and never the end of a line.
    """
    listening = socket.create_server(("127.0.0.1", 0))
    is_over = threading.Event()

    def serve() -> None:
        with contextlib.suppress(OSError):
            while not is_over.is_set():
                line, _ = listening.accept()
                with line, contextlib.suppress(OSError):
                    _speak(line, script, then, to_letter, is_over)

    speaking = threading.Thread(target=serve)
    speaking.start()
    try:
        port = listening.getsockname()[1]
        yield MailServer("127.0.0.1", Security.NONE, port, patience_s=SIGN_OF_REST)
    finally:
        is_over.set()
        with contextlib.suppress(OSError):
            listening.shutdown(socket.SHUT_RDWR)
        listening.close()
        speaking.join()


def _speak(
    line: socket.socket, script: Sequence[str], then: str, to_letter: str, is_over: threading.Event
) -> None:
    with line.makefile("rb") as heard:
        for place, said in enumerate(script):
            if place:
                heard.readline()
            line.sendall(f"{said}\r\n".encode())
        if to_letter:
            while heard.readline() != b".\r\n":
                pass
            line.sendall(f"{to_letter}\r\n".encode())
        if then == "silence":
            is_over.wait(5)
        while then == "dribble" and not is_over.is_set():
            line.sendall(b"2")
            time.sleep(SIGN_OF_REST / 4)
