"""What the process is given from outside: the variables STUDIO_… of its environment."""

import difflib
import ipaddress
import os
import re
from pathlib import Path
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from pydantic import Field, SecretStr, ValidationError, field_validator
from pydantic_settings import BaseSettings, SettingsConfigDict

from studio.smtp import MailServer, Security

PREFIX = "STUDIO_"
SHORTEST_SECRET = 32
FEWEST_DISTINCT = 8
"""Signs of a secret that differ. One of chance has more: of 32 hexadecimal digits on average 14."""
BOOK_FILE = "book.db"
_STAND_INS = (
    "changeme", "change-me", "change_me", "change me", "replaceme", "secret", "password", "passphrase",
    "letmein", "placeholder", "example", "qwerty", "12345678", "abcdefgh",
)  # fmt: skip
_ADDRESS = re.compile(r"https?://[^\s/?#@]+/?")
_IN_WORDS = {
    "port": "A port is a whole number from 0 to 65535, such as 8321.",
    "paper_workers": "This is how many processes print papers, a whole number from 1 to 32.",
    "tls": "There are 'proxy' and 'files'.",
    "smtp_port": "A port is a whole number from 1 to 65535, such as 587.",
    "smtp_security": "There are 'starttls', 'tls', and for a server on this machine 'none'.",
}
_TO_MAKE_ONE = "python3 -c 'import secrets; print(secrets.token_urlsafe(32))' makes a good one"
_ADDRESS_WANTED = "STUDIO_ADDRESS, how browsers reach the app, such as https://book.wrenfold.example"
_UNREAD = "This cannot be read."


class SettingsWrong(Exception):
    """The settings do not let the program start. The text says what to put right."""


class Settings(BaseSettings):
    """The settings of one process; each can be given as STUDIO_ and its name in capitals.

    `home` is the folder that holds the book. `database_url` takes the place of the file in it. `host` and
    `port` are where the app listens. Listening wider than this machine asks for `secret` (mixed into the
    cookies) and `tls`: 'proxy' where a reverse proxy speaks TLS, 'files' for a certificate of one's own
    (`tls_certificate`, `tls_key`). `address` is how browsers reach the app from outside, such as
    'https://book.wrenfold.example'. `time_zone` decides which day it is. `paper_workers` is how many
    processes print papers. `smtp_host` is the mail server that letters are handed to; without one they are
    files to download. `smtp_port` is by default the one that goes with `smtp_security`.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, extra="ignore", frozen=True, env_ignore_empty=True)

    home: Path = Path.home() / "shankwright"
    database_url: str | None = None
    host: str = "127.0.0.1"
    port: int = Field(default=8321, ge=0, le=65_535)
    secret: SecretStr | None = None
    tls: Literal["proxy", "files"] | None = None
    tls_certificate: Path | None = None
    tls_key: Path | None = None
    address: str | None = None
    time_zone: str = "Europe/London"
    paper_workers: int = Field(default=2, ge=1, le=32)
    smtp_host: str | None = None
    smtp_port: int | None = Field(default=None, ge=1, le=65_535)
    smtp_security: Security = Security.STARTTLS
    smtp_user: str | None = None
    smtp_password: SecretStr | None = None

    @field_validator("time_zone")
    @classmethod
    def _must_be_a_zone(cls, zone: str) -> str:
        try:
            ZoneInfo(zone)
        except (ZoneInfoNotFoundError, ValueError, OSError) as error:
            known = {name.casefold(): name for name in sorted(available_timezones())}
            near = difflib.get_close_matches(zone.casefold(), known, n=1, cutoff=0.6)
            meant = f"Did you mean {known[near[0]]}?" if near else "One is Europe/London."
            raise ValueError(f"There is no time zone of this name. {meant}") from error
        return zone

    @field_validator("address")
    @classmethod
    def _must_be_an_address(cls, address: str | None) -> str | None:
        if address is not None and not _ADDRESS.fullmatch(address):
            raise ValueError("This is no whole address, such as https://book.wrenfold.example.")
        return address

    @property
    def mail_server(self) -> MailServer | None:
        """The server that letters are handed to, None where they are files to download."""
        if self.smtp_host is None:
            return None
        password = self.smtp_password.get_secret_value() if self.smtp_password else ""
        return MailServer(self.smtp_host, self.smtp_security, self.smtp_port, self.smtp_user or "", password)

    @property
    def book_file(self) -> Path | None:
        """The file of the book, or None where the book lies in a database server."""
        return None if self.database_url else self.home / BOOK_FILE

    @property
    def book_url(self) -> str:
        """The address of the book for `open_book`."""
        return self.database_url or f"sqlite:///{self.home.absolute() / BOOK_FILE}"

    @property
    def base_url(self) -> str:
        """The address that browsers use, without a slash at its end: what links and QR codes start with."""
        if self.address:
            return self.address.rstrip("/")
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"{'https' if self.tls else 'http'}://{host}:{self.port}"


def read_settings(**given: object) -> Settings:
    """The settings of this process's environment, but where `given` says otherwise (None says nothing).

    Raises `SettingsWrong` for a STUDIO_ name that is none, with the nearest right one, and for a value that
    cannot be read.
    """
    known = sorted(name.upper() for name in Settings.model_fields)
    for name in sorted(name.removeprefix(PREFIX) for name in os.environ if name.startswith(PREFIX)):
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1, cutoff=0.5)
            others = ", ".join(f"{PREFIX}{other}" for other in known)
            meant = f"Did you mean {PREFIX}{near[0]}?" if near else f"There are {others}."
            raise SettingsWrong(f"There is no setting {PREFIX}{name}. {meant}")
    said: dict[str, Any] = {name: value for name, value in given.items() if value is not None}
    try:
        return Settings(**said)
    except ValidationError as error:
        first = error.errors(include_input=False, include_url=False)[0]
        name = f"{PREFIX}{'_'.join(str(part) for part in first['loc']).upper()}"
        own = first.get("ctx", {}).get("error")
        raise SettingsWrong(f"{name}: {own or _IN_WORDS.get(str(first['loc'][0]), _UNREAD)}") from error


def demo_settings(home: Path, port: int | None) -> Settings:
    """The settings of a demo: a fresh file in `home`, on this machine only, whatever else is set."""
    own = read_settings(home=home, port=port)
    alone = {"host": "127.0.0.1", "database_url": None, "secret": None, "tls": None, "address": None}
    alone["smtp_host"] = None  # its customers are invented: a letter would go to strangers
    return own.model_copy(update=alone)


def check_reach(settings: Settings) -> None:
    """Raise `SettingsWrong` where the app would be reached from other machines without secret and TLS.

    On loopback ('127.0.0.1', '::1', 'localhost') neither is asked for. A secret that is given is a good one
    everywhere, and where browsers come by a reverse proxy, or `host` is every address of the machine, only
    `address` can say what they call us. What is said of the mail server has to fit together as well.
    """
    _check_given(settings)
    _check_mail(settings)
    if is_loopback(settings.host):
        return
    missing = []
    if len(_secret(settings)) < SHORTEST_SECRET:
        missing.append(f"STUDIO_SECRET, at least {SHORTEST_SECRET} signs ({_TO_MAKE_ONE})")
    if settings.tls is None:
        missing.append("STUDIO_TLS: 'proxy' where a reverse proxy speaks TLS, or 'files' with "
                       "STUDIO_TLS_CERTIFICATE and STUDIO_TLS_KEY")  # fmt: skip
    if settings.address is None and _is_everywhere(settings.host):
        missing.append(_ADDRESS_WANTED)
    if missing:
        raise SettingsWrong(
            f"Listening on {settings.host} lets other machines reach the book. Still missing: "
            f"{'; '.join(missing)}. Leave STUDIO_HOST away to stay on this machine."
        )


def _check_given(settings: Settings) -> None:
    """Raise `SettingsWrong` where what is given cannot do what it is given for."""
    if is_guessable(_secret(settings)):
        raise SettingsWrong(
            "STUDIO_SECRET can be guessed: it is too much alike, or holds a word that stands in for one. "
            f"Take another; {_TO_MAKE_ONE}."
        )
    if settings.tls == "files":
        for name, path in (("CERTIFICATE", settings.tls_certificate), ("KEY", settings.tls_key)):
            if path is None or not path.is_file():
                raise SettingsWrong(f"STUDIO_TLS=files needs STUDIO_TLS_{name}, the path of a file.")
    if settings.tls == "proxy" and settings.address is None:
        raise SettingsWrong(f"STUDIO_TLS=proxy needs {_ADDRESS_WANTED}.")


def _check_mail(settings: Settings) -> None:
    """Raise `SettingsWrong` where the mail server cannot be spoken to, or would be so in the open."""
    named = {name for name in settings.model_fields_set if name.startswith("smtp_")}
    if settings.smtp_host is None and named - {"smtp_host"}:
        raise SettingsWrong(f"STUDIO_{min(named - {'smtp_host'}).upper()} needs STUDIO_SMTP_HOST.")
    if settings.smtp_security is Security.NONE and not is_loopback(settings.smtp_host or "localhost"):
        raise SettingsWrong(
            "STUDIO_SMTP_SECURITY=none sends letters and the password in the open, so it is for a server on "
            "this machine only. Take 'starttls' or 'tls'."
        )
    password = settings.smtp_password.get_secret_value() if settings.smtp_password else ""
    if bool(settings.smtp_user) != bool(password):
        raise SettingsWrong("STUDIO_SMTP_USER and STUDIO_SMTP_PASSWORD are given together, or neither is.")
    if not f"{settings.smtp_host or ''}{settings.smtp_user or ''}{password}".isascii():
        raise SettingsWrong("STUDIO_SMTP_HOST, STUDIO_SMTP_USER and STUDIO_SMTP_PASSWORD are in plain ASCII.")


def _secret(settings: Settings) -> str:
    return settings.secret.get_secret_value() if settings.secret else ""


def is_guessable(secret: str) -> bool:
    """Whether a secret holds a word of those that stand in for one, few signs, or one piece again and again.

    'changeme, it is only a trial for now' is guessable, 32 hexadecimal digits of chance are not; no
    secret at all is nothing to guess.
    """
    if not secret:
        return False
    small = secret.casefold()
    is_repeated = secret in (secret + secret)[1:-1]
    return is_repeated or len(set(secret)) < FEWEST_DISTINCT or any(word in small for word in _STAND_INS)


def _is_everywhere(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_unspecified
    except ValueError:
        return False


def is_loopback(host: str) -> bool:
    """Whether `host` is this machine only: '127.0.0.1', '::1' or 'localhost', but not '0.0.0.0'."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
