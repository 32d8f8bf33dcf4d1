"""A PostgreSQL server of the tests' own, in a folder that goes away with it."""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg

DEBIAN = Path("/usr/lib/postgresql")
SETTINGS = {
    "listen_addresses": "''",  # reached by its socket alone: no port that somebody else may hold
    "fsync": "off",  # nothing of a test outlives the machine
    "synchronous_commit": "off",
    "full_page_writes": "off",
    "autovacuum": "off",
    "max_connections": "200",  # on a busy machine the ends of many tests' connections are still to come
    "shared_buffers": "16MB",
    "wal_level": "minimal",
    "max_wal_senders": "0",
}


class ServerMissing(Exception):
    """These tests stand on a PostgreSQL server, and this machine has none. The text says what to install."""


@dataclass(frozen=True, slots=True)
class Server:
    """A running server: the folder of its socket, who it lets in, and how its programs are called."""

    socket: Path
    user: str
    called: Callable[..., None]
    options: str

    def start(self) -> None:
        """Start it, and wait until it lets people in."""
        self._control("start", "--log", str(self.socket / "log"), "--options", self.options)

    def stop(self) -> None:
        """Stop it at once, as a crash does: nobody is waited for, and nothing is tidied up."""
        self._control("stop", "--mode", "immediate")

    def _control(self, what: str, *more: str) -> None:
        self.called("pg_ctl", what, "--wait", "--pgdata", str(self.socket / "cluster"), *more)

    def url(self, database: str) -> str:
        """The address of a database, as a studio writes it into its settings."""
        return f"postgresql://{self.user}@/{database}?host={self.socket}"

    def make(self, database: str, template: str = "template0") -> str:
        """A new database, a copy of `template`, to which nobody may be connected; gives its address."""
        self.run(f'CREATE DATABASE "{database}" TEMPLATE "{template}" STRATEGY FILE_COPY')
        return self.url(database)

    def close(self, database: str) -> None:
        """Let nobody into a database any more. It is there to be copied, which waits for whoever is in it."""
        self.run(f'ALTER DATABASE "{database}" ALLOW_CONNECTIONS false')
        with self.keeper("postgres") as keeper:
            keeper.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s", [database]
            )

    def drop(self, database: str) -> None:
        """Remove a database, whoever is still connected to it."""
        self.run(f'DROP DATABASE IF EXISTS "{database}" WITH (FORCE)')

    def run(self, statement: str, database: str = "postgres") -> None:
        """Run a statement outside any transaction, as the server's owner."""
        with self.keeper(database) as keeper:
            keeper.execute(statement.encode())

    def keeper(self, database: str) -> psycopg.Connection:
        """A connection of the server's owner; each statement is saved at once."""
        return psycopg.connect(self.url(database), autocommit=True)


def programs(root: Path = DEBIAN) -> Path:
    """The folder of the server's programs: Debian's newest, else where `initdb` is found.

    Raises `ServerMissing`: the tests never pass over what they could not look at.
    """
    versions = sorted(
        (path for path in root.glob("*/bin") if (path / "initdb").exists()),
        key=lambda path: int(path.parent.name) if path.parent.name.isdigit() else 0,
    )
    if versions:
        return versions[-1]
    found = shutil.which("initdb") if root == DEBIAN else None
    if found is None:
        raise ServerMissing(
            "The tests of the book in PostgreSQL need its server; on Debian: apt-get install postgresql"
        )
    return Path(found).resolve().parent


@contextmanager
def a_server(*, keeps_commits: bool = False) -> Iterator[Server]:
    """Make a cluster, start its server, and remove both afterwards.

    `keeps_commits`: what it called saved outlives its own fall, though not the machine's.

    The server refuses to run as root, so there it runs as Debian's user postgres. Its names sort as a
    dictionary does and not by code point, as on a server that a studio finds already made.
    """
    bin_folder = programs()
    folder = Path(tempfile.mkdtemp(prefix="shankwright-pg-", dir="/tmp"))
    as_owner: list[str] = []
    owner = pwd.getpwuid(os.geteuid()).pw_name
    if os.geteuid() == 0:
        owner = "postgres"
        shutil.chown(folder, owner)
        as_owner = ["runuser", "-u", owner, "--"]
    cluster = folder / "cluster"

    def called(program: str, *more: str) -> None:
        done = subprocess.run(
            [*as_owner, bin_folder / program, *more],
            cwd=folder, capture_output=True, text=True, check=False, timeout=120,
        )  # fmt: skip
        log = folder / "log"
        told = log.read_text("utf-8") if done.returncode and log.exists() else ""
        assert done.returncode == 0, f"{program}: {done.stdout}{done.stderr}{told}"

    try:
        called(
            "initdb", "--pgdata", str(cluster), "--username", owner, "--auth", "trust", "--no-sync",
            "--encoding", "UTF8", "--locale", "C", "--locale-provider", "icu", "--icu-locale", "en-GB",
        )  # fmt: skip
        wanted = SETTINGS | ({"synchronous_commit": "on"} if keeps_commits else {})
        options = " ".join(f"-c {name}={value}" for name, value in wanted.items())
        server = Server(folder, owner, called, f"-k {folder} {options}")
        server.start()
        try:
            yield server
        finally:
            server.stop()
    finally:
        shutil.rmtree(folder, ignore_errors=True)
