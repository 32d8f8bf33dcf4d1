"""Handing a letter to the studio's mail server, and what the server says to it."""

import base64
import re
import smtplib
import socket
import ssl
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from enum import StrEnum

LONGEST_ANSWER = 300
"""Signs that are kept of what a server says."""
PATIENCE_S = 30.0
"""How long one answer may take."""
WHOLE_TALK_S = 120.0
"""How long a letter may take from the first word to the last, however often the server says something."""
_FAREWELL_S = 2.0
_UNSAYABLE = "This cannot be said to a mail server."


class Security(StrEnum):
    """How the line to the server is kept from being read."""

    STARTTLS = "starttls"
    TLS = "tls"
    NONE = "none"


PORTS = {Security.STARTTLS: 587, Security.TLS: 465, Security.NONE: 25}


@dataclass(frozen=True, slots=True)
class MailServer:
    """A server that takes letters. `password` is in no text that this value is shown as."""

    host: str
    security: Security = Security.STARTTLS
    port: int | None = None
    user: str = ""
    password: str = field(default="", repr=False)
    patience_s: float = PATIENCE_S
    whole_talk_s: float = WHOLE_TALK_S


class NotHandedOver(Exception):
    """The server did not take the letter. `answer` are its words, or ours where it said none.

    `is_final` is true where another try would be told the same: a 5xx, a certificate that is not trusted.
    """

    def __init__(self, answer: str, *, is_final: bool) -> None:
        super().__init__(answer)
        self.answer = answer
        self.is_final = is_final


class Talk:
    """One talk with a server, which another thread may cut."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._line: smtplib.SMTP | None = None
        self._since = time.monotonic()
        self.is_cut = False

    def must_go_on(self, most_s: float) -> None:
        """Raise TimeoutError where the talk was cut, or is longer than `most_s`."""
        if self.is_cut or time.monotonic() - self._since > most_s:
            raise TimeoutError

    def begin(self, line: smtplib.SMTP) -> None:
        """Remember the line. A talk that was cut before is not begun: raises TimeoutError."""
        with self._lock:
            if self.is_cut:
                raise TimeoutError
            self._line = line

    def cut(self) -> None:
        """End the talk wherever it is: who waits for an answer gets an error instead."""
        with self._lock:
            self.is_cut = True
            sock = None if self._line is None else self._line.sock
        if sock is not None:
            with suppress(OSError):
                sock.shutdown(socket.SHUT_RDWR)


def hand_over(
    server: MailServer,
    letter: bytes,
    *,
    sender: str,
    to: str,
    talk: Talk | None = None,
    hidden: tuple[str, ...] = (),
) -> str:
    """Hand one letter over, and give the server's words to it. Blocks: call it from a thread of its own.

    What is `hidden` (the key of a link that the letter holds) and the password are taken out of those words.

    A line is encrypted as the server's settings say, or nothing is sent: the certificate is checked against
    the authorities the machine trusts. Raises `NotHandedOver`.
    """
    if not (sender + to).isprintable():
        raise NotHandedOver(_UNSAYABLE, is_final=True)
    talk = talk or Talk()
    watch = threading.Timer(server.whole_talk_s, talk.cut)
    watch.daemon = True
    watch.start()
    secrets = (*_spellings(server), *hidden)
    try:
        return _clean(_talked(server, letter, sender, to, talk), secrets)
    except smtplib.SMTPRecipientsRefused as refused:
        code, said = next(iter(refused.recipients.values()))
        raise _answered(code, said, secrets) from None
    except smtplib.SMTPResponseException as refused:
        raise _answered(refused.smtp_code, refused.smtp_error, secrets) from None
    except ssl.SSLCertVerificationError as untrusted:
        why = f"The certificate of {server.host} is not trusted: {untrusted.verify_message}"
        raise NotHandedOver(_clean(why, secrets), is_final=True) from None
    except smtplib.SMTPNotSupportedError as cannot:
        raise NotHandedOver(_clean(str(cannot), secrets), is_final=True) from None
    except ValueError:  # letters that a command has no signs for
        raise NotHandedOver(_UNSAYABLE, is_final=True) from None
    except smtplib.SMTPServerDisconnected as lost:
        was_silent = talk.is_cut or isinstance(lost.__context__, TimeoutError)
        words = "did not answer in time." if was_silent else "ended the talk before it had the letter."
        raise NotHandedOver(f"{server.host} {words}", is_final=False) from None
    except TimeoutError:
        raise NotHandedOver(f"{server.host} did not answer in time.", is_final=False) from None
    except (OSError, smtplib.SMTPException) as error:
        words = "did not answer in time." if talk.is_cut else f"cannot be reached: {_said_by(error)}"
        raise NotHandedOver(_clean(f"{server.host} {words}", secrets), is_final=False) from None
    finally:
        watch.cancel()


def _talked(server: MailServer, letter: bytes, sender: str, to: str, talk: Talk) -> str:
    line = _line(server, talk)
    try:
        options = [f"size={len(letter)}"] if line.has_extn("size") else []
        if not (sender + to).isascii():
            if not line.has_extn("smtputf8"):
                raise smtplib.SMTPNotSupportedError("The mail server takes no address with such letters.")
            line.command_encoding = "utf-8"
            options += ["SMTPUTF8", "BODY=8BITMIME"]
        _must(line.mail(sender, options))
        _must(line.rcpt(to))
        talk.must_go_on(server.whole_talk_s)  # somebody else may be at this letter by now
        code, said = line.data(letter)
        _must((code, said))
        _take_leave(line)
    finally:
        line.close()
    return f"{code} {_text(said)}"


def _take_leave(line: smtplib.SMTP) -> None:
    """Say good-bye. Whatever comes of it, the letter is handed over."""
    with suppress(OSError, smtplib.SMTPException):
        if line.sock is not None:
            line.sock.settimeout(_FAREWELL_S)
        line.quit()


def _line(server: MailServer, talk: Talk) -> smtplib.SMTP:
    """The line, encrypted and signed in, over which nothing of the letter has gone yet."""
    # The name is our own, not asked of a name server, which could keep us waiting.
    ours = socket.gethostname()
    named = ours if "." in ours and ours.isascii() else "[127.0.0.1]"
    trusted = ssl.create_default_context()
    line = (
        smtplib.SMTP_SSL(local_hostname=named, timeout=server.patience_s, context=trusted)
        if server.security is Security.TLS
        else smtplib.SMTP(local_hostname=named, timeout=server.patience_s)
    )
    # The name that a certificate is checked for, which `connect` leaves out.
    line._host = server.host  # type: ignore[attr-defined]  # noqa: SLF001  there is no other way to say it
    try:
        talk.begin(line)
        _must(line.connect(server.host, server.port or PORTS[server.security]))
        line.ehlo_or_helo_if_needed()
        if server.security is Security.STARTTLS:
            _encrypt(line, trusted)
        if server.user:
            line.login(server.user, server.password)
    except BaseException:
        line.close()
        raise
    return line


def _encrypt(line: smtplib.SMTP, trusted: ssl.SSLContext) -> None:
    if not line.has_extn("starttls"):
        raise smtplib.SMTPNotSupportedError("The mail server offers no encryption (STARTTLS).")
    _must(line.starttls(context=trusted))
    line.ehlo_or_helo_if_needed()


def _must(answer: tuple[int, bytes]) -> None:
    code, said = answer
    if not 200 <= code < 300:
        raise smtplib.SMTPResponseException(code, said)


def _answered(code: int, said: bytes | str, secrets: Sequence[str]) -> NotHandedOver:
    """By the first figure of its code (RFC 5321, 4.2.1): 5 is for good, all else for now."""
    return NotHandedOver(_clean(f"{code} {_text(said)}", secrets), is_final=500 <= code < 600)


def _text(said: bytes | str) -> str:
    return said.decode("utf-8", "replace") if isinstance(said, bytes) else said


def _said_by(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or type(error).__name__


def _clean(said: str, secrets: Sequence[str]) -> str:
    """The words in one line, cut, and without what is secret, whoever repeats it in capitals or not."""
    for secret in secrets:
        said = re.sub(re.escape(secret), "…", said, flags=re.IGNORECASE)
    shown = " ".join("".join(sign if sign.isprintable() else " " for sign in said).split())
    return shown if len(shown) <= LONGEST_ANSWER else f"{shown[: LONGEST_ANSWER - 1]}…"


def _spellings(server: MailServer) -> list[str]:
    """The password as it is and as it goes over the line, the longest first."""
    if not server.password:
        return []
    plain = (f"\0{server.user}\0{server.password}", server.password)
    return [*(base64.b64encode(text.encode()).decode() for text in plain), server.password]
