"""The command line: starting the app, and what is done without it."""

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path

from fastapi import FastAPI
from sqlalchemy import Engine
from sqlalchemy.exc import SQLAlchemyError
from sqlmodel import Session

from studio import checks, clock
from studio.book.backups import backup
from studio.book.engine import open_book, session
from studio.book.errors import BookError
from studio.book.first_start import prepare
from studio.book.leaving import end_user
from studio.book.links import make_link
from studio.book.people import PROGRAM, add_user, user_named
from studio.book.restoring import in_use, restore
from studio.book.schema import bring_up_to_date, head_revision, revision
from studio.book.tokens import make_token
from studio.craft.roles import Role
from studio.serving import PortTaken, listening, run, served_at
from studio.settings import Settings, SettingsWrong, check_reach, demo_settings, read_settings


class Declined(Exception):
    """The command cannot be done. The text says why, and what would help."""


def main(argv: Sequence[str] | None = None) -> None:
    """Run one command; leave with 2 and a sentence on standard error where it cannot be done."""
    asked = build_parser().parse_args(argv)
    os.umask(0o077)  # the book is for those who keep it: no other account of the machine reads it
    try:
        asked.run(asked)
    except (Declined, SettingsWrong, PortTaken, BookError) as error:
        sys.exit(_refusal(str(error)))
    except SQLAlchemyError as error:
        sys.exit(_refusal(f"The book cannot be opened: {getattr(error, 'orig', None) or error}"))


def build_parser() -> argparse.ArgumentParser:
    """The commands with what each of them may be given."""
    parser = argparse.ArgumentParser(
        prog="shankwright", description="The order book of a goldsmith's studio."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    home = argparse.ArgumentParser(add_help=False)
    home.add_argument("--home", type=Path, help="the folder that holds the book (STUDIO_HOME)")
    port = argparse.ArgumentParser(add_help=False)
    port.add_argument("--port", type=_port, help="where to listen (STUDIO_PORT)")
    role = argparse.ArgumentParser(add_help=False)
    role.add_argument("--role", type=Role, choices=list(Role), required=True, help="what may be done")

    demo = commands.add_parser("demo", parents=[home, port], help="show an invented studio with its orders")
    demo.set_defaults(run=_demo)
    serve = commands.add_parser("serve", parents=[home, port], help="run the studio's own book")
    serve.set_defaults(run=_serve)
    migrate = commands.add_parser("migrate", parents=[home], help="bring the book to this version")
    migrate.set_defaults(run=_migrate)
    user = commands.add_parser("user", help="let people in")
    verbs = user.add_subparsers(required=True, metavar="VERB")
    add = verbs.add_parser("add", parents=[home, role], help="add somebody, and print their one-time link")
    add.add_argument("name")
    add.set_defaults(run=_add_user)
    enter = verbs.add_parser("enter", parents=[home], help="print another one-time link for somebody")
    enter.add_argument("name")
    enter.set_defaults(run=_enter_user)
    end = verbs.add_parser("end", parents=[home], help="somebody leaves: close every way in they had")
    end.add_argument("name")
    end.set_defaults(run=_end_user)
    token = commands.add_parser("token", parents=[home, role], help="print a bearer token for the API")
    token.add_argument("name")
    token.set_defaults(run=_token)
    copy = commands.add_parser("backup", parents=[home], help="copy the book while it is in use")
    copy.add_argument("file", type=Path)
    copy.set_defaults(run=_backup)
    back = commands.add_parser(
        "restore", parents=[home], help="put a copy in the book's place, or in an empty folder to try it"
    )
    back.add_argument("file", type=Path)
    back.set_defaults(run=_restore)
    check = commands.add_parser("check", parents=[home], help="look at the machine and the book")
    check.set_defaults(run=_check)
    return parser


def _demo(asked: argparse.Namespace) -> None:
    create_app = _app_maker()  # before anything is written: a program that cannot serve makes no book
    from studio.book.demo import OWNER, write_demo  # noqa: PLC0415  its quotes bring the papers with them

    with ExitStack() as tidy:
        home = asked.home
        if home is None:
            home = Path(tempfile.mkdtemp(prefix="shankwright-demo-"))
            tidy.callback(shutil.rmtree, home, ignore_errors=True)
        settings = demo_settings(home, asked.port)
        if settings.book_file is not None and settings.book_file.exists():
            raise Declined(f"{home} holds a book already; a demo wants a folder without one.")
        home.mkdir(parents=True, exist_ok=True)
        tidy.enter_context(in_use(home))
        bound = tidy.enter_context(listening(settings.host, settings.port, may_move=asked.port is None))
        settings = settings.model_copy(update={"port": bound.getsockname()[1]})
        engine = tidy.enter_context(_opened(settings))
        now = clock.now()
        bring_up_to_date(engine, now=now)
        with session(engine) as book:
            write_demo(book, now=now)
            key = make_link(book, user_name=OWNER, actor=PROGRAM, now=now)
        app = create_app(settings, engine, links_open_at_once=True)
        run(app, settings, bound, lambda: print(f"Open {settings.base_url}/enter/{key}", flush=True))


def _serve(asked: argparse.Namespace) -> None:
    create_app = _app_maker()
    settings = read_settings(home=asked.home, port=asked.port)
    check_reach(settings)
    settings.home.mkdir(parents=True, exist_ok=True)
    with listening(settings.host, settings.port) as bound, in_use(settings.home), _opened(settings) as engine:
        settings = settings.model_copy(update={"port": bound.getsockname()[1]})
        _migrated(engine)
        with session(engine) as book:
            key = prepare(book, time_zone=settings.time_zone, now=clock.now())
        said = f"Listening on {settings.base_url}"
        if key is not None:
            said = (
                "This book has no owner yet. The link sets the owner's passphrase; it works once, for 24 "
                f"hours.\nOpen {settings.base_url}/enter/{key}"
            )
        run(create_app(settings, engine), settings, bound, lambda: print(said, flush=True))


def _app_maker() -> Callable[..., FastAPI]:
    from studio.web.app import create_app  # noqa: PLC0415  the other commands start faster without it

    return create_app


def _migrate(asked: argparse.Namespace) -> None:
    with _existing(read_settings(home=asked.home)) as engine:
        before = revision(engine)
        _migrated(engine)
        print(f"The book was at revision {before or 'none'} and is at {head_revision()}.")


def _add_user(asked: argparse.Namespace) -> None:
    settings = read_settings(home=asked.home)
    with _current(settings) as book:
        user = add_user(book, name=asked.name, role=asked.role, actor=PROGRAM, now=clock.now())
        key = make_link(book, user_name=user.name, actor=PROGRAM, now=clock.now())
    _print_link(settings, user.name, key)


def _enter_user(asked: argparse.Namespace) -> None:
    settings = read_settings(home=asked.home)
    with _current(settings) as book:
        user = user_named(book, asked.name)
        key = make_link(book, user_name=user.name, actor=PROGRAM, now=clock.now())
    _print_link(settings, user.name, key)


def _end_user(asked: argparse.Namespace) -> None:
    settings = read_settings(home=asked.home)
    with _current(settings) as book:
        user = user_named(book, asked.name)
        end_user(book, user_id=user.id, actor=PROGRAM, now=clock.now())
    print(f"{user.name} signs in no more.")


def _print_link(settings: Settings, name: str, key: str) -> None:
    print(f"For {name}. It works once, for 24 hours; older links no longer do.")
    print(f"{settings.address or served_at(settings.home) or settings.base_url}/enter/{key}")


def _token(asked: argparse.Namespace) -> None:
    with _current(read_settings(home=asked.home)) as book:
        token = make_token(book, name=asked.name, role=asked.role, actor=PROGRAM, now=clock.now())
    print(f"A token for {asked.name}, with the rights of {asked.role}. It is shown this once.")
    print(token)


def _backup(asked: argparse.Namespace) -> None:
    with _existing(read_settings(home=asked.home)) as engine:
        backup(engine, asked.file)
    print(f"{asked.file}: {asked.file.stat().st_size / 1_000_000:.1f} MB")


def _restore(asked: argparse.Namespace) -> None:
    settings = read_settings(home=asked.home)
    if settings.book_file is None:
        raise Declined("A book in a database server is restored with that server's tool, such as pg_restore.")
    told = restore(asked.file, settings.book_file, now=clock.now())
    print(
        f"{settings.book_file} holds {told.customers} customers, {told.orders} orders, {told.quotes} quotes "
        f"and {told.papers} papers as they were issued."
    )
    if told.kept is not None:
        print(f"The book as it was before is kept in {told.kept}")


def _check(asked: argparse.Namespace) -> None:
    settings = read_settings(home=asked.home)
    found = checks.machine()
    if settings.book_file is not None and not settings.book_file.exists():
        found.append(checks.Finding(is_well=True, says=f"no book in {settings.home} yet", must=False))
    else:
        with _opened(settings) as engine:
            found += checks.book(engine, settings.home)
    for finding in found:
        print(f"{'well ' if finding.is_well else 'WRONG' if finding.must else 'note '} {finding.says}")
    if not all(finding.is_well for finding in found if finding.must):
        sys.exit(1)


@contextmanager
def _opened(settings: Settings) -> Iterator[Engine]:
    engine = open_book(settings.book_url)
    try:
        yield engine
    finally:
        engine.dispose()


@contextmanager
def _existing(settings: Settings) -> Iterator[Engine]:
    """The engine of a book that is there already."""
    if settings.book_file is not None and not settings.book_file.exists():
        raise Declined(f"There is no book in {settings.home}. --home names another folder.")
    with _opened(settings) as engine:
        yield engine


@contextmanager
def _current(settings: Settings) -> Iterator[Session]:
    """A session with a book that is at this program's revision."""
    with _existing(settings) as engine:
        if revision(engine) != head_revision():
            raise Declined("The book is at another revision than this program; `shankwright migrate` helps.")
        with session(engine) as book:
            yield book


def _migrated(engine: Engine) -> None:
    copy = bring_up_to_date(engine, now=clock.now())
    if copy is not None:
        print(f"The book as it was before is kept in {copy}", flush=True)


def _port(text: str) -> int:
    number = int(text)
    if not 0 <= number <= 65_535:
        raise argparse.ArgumentTypeError(f"a port is a number up to 65535, not {text}")
    return number


def _refusal(sentence: str) -> int:
    ended = sentence if sentence.endswith((".", "?")) else f"{sentence}."
    print(f"{ended[:1].upper()}{ended[1:]}", file=sys.stderr)
    return 2
