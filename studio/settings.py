"""What the process is given from outside: the variables STUDIO_… of its environment."""

import difflib
import ipaddress
import os
from pathlib import Path
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from pydantic import SecretStr, ValidationError, field_validator
from pydantic_settings import BaseSettings, SettingsConfigDict

PREFIX = "STUDIO_"
SHORTEST_SECRET = 32
BOOK_FILE = "book.db"


class SettingsWrong(Exception):
    """The settings do not let the program start. The text says what to put right."""


class Settings(BaseSettings):
    """The settings of one process; each can be given as STUDIO_ and its name in capitals.

    `home` is the folder that holds the book. `database_url` takes the place of the file in it. `host` and
    `port` are where the app listens. Listening wider than this machine asks for `secret` (mixed into the
    cookies) and `tls`: 'proxy' where a reverse proxy speaks TLS, 'files' for a certificate of one's own
    (`tls_certificate`, `tls_key`). `address` is how browsers reach the app from outside, such as
    'https://book.wrenfold.example'. `time_zone` decides which day it is.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, extra="ignore", frozen=True, env_ignore_empty=True)

    home: Path = Path.home() / "shankwright"
    database_url: str | None = None
    host: str = "127.0.0.1"
    port: int = 8321
    secret: SecretStr | None = None
    tls: Literal["proxy", "files"] | None = None
    tls_certificate: Path | None = None
    tls_key: Path | None = None
    address: str | None = None
    time_zone: str = "Europe/London"

    @field_validator("time_zone")
    @classmethod
    def _must_be_a_zone(cls, zone: str) -> str:
        try:
            ZoneInfo(zone)
        except (ZoneInfoNotFoundError, ValueError) as error:
            raise ValueError(f"there is no time zone {zone}; one is Europe/London") from error
        return zone

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
        raise SettingsWrong(f"{name}: {first['msg']}") from error


def demo_settings(home: Path, port: int | None) -> Settings:
    """The settings of a demo: a fresh file in `home`, on this machine only, whatever else is set."""
    own = read_settings(home=home, port=port)
    alone = {"host": "127.0.0.1", "database_url": None, "secret": None, "tls": None, "address": None}
    return own.model_copy(update=alone)


def check_reach(settings: Settings) -> None:
    """Raise `SettingsWrong` where the app would be reached from other machines without secret and TLS.

    On loopback ('127.0.0.1', '::1', 'localhost') nothing is asked for.
    """
    if settings.tls == "files":
        for name, path in (("CERTIFICATE", settings.tls_certificate), ("KEY", settings.tls_key)):
            if path is None or not path.is_file():
                raise SettingsWrong(f"STUDIO_TLS=files needs STUDIO_TLS_{name}, the path of a file.")
    if is_loopback(settings.host):
        return
    missing = []
    secret = settings.secret.get_secret_value() if settings.secret else ""
    if len(secret) < SHORTEST_SECRET:
        missing.append(f"STUDIO_SECRET, at least {SHORTEST_SECRET} signs (python3 -c 'import secrets; "
                       "print(secrets.token_urlsafe(32))' makes one)")  # fmt: skip
    if settings.tls is None:
        missing.append("STUDIO_TLS: 'proxy' where a reverse proxy speaks TLS, or 'files' with "
                       "STUDIO_TLS_CERTIFICATE and STUDIO_TLS_KEY")  # fmt: skip
    if missing:
        raise SettingsWrong(
            f"Listening on {settings.host} lets other machines reach the book. Still missing: "
            f"{'; '.join(missing)}. Leave STUDIO_HOST away to stay on this machine."
        )


def is_loopback(host: str) -> bool:
    """Whether `host` is this machine only: '127.0.0.1', '::1' or 'localhost', but not '0.0.0.0'."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
