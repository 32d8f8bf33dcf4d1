"""The long proof: `python -m tests.fuzz --requests 500`, ever new ones, for each operation, role and way."""

import argparse
import logging
import sys
import tempfile
import time
from collections import Counter
from contextlib import ExitStack
from pathlib import Path

from studio.craft.roles import Role
from tests.fuzz.description import operations, takes_something
from tests.fuzz.playing import Play, Way
from tests.postgresql.both import POSTGRESQL, SQLITE
from tests.postgresql.server import a_server


def main() -> int:
    """Play, and tell how many requests were answered with which status; what is found ends it."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    asked.add_argument("--requests", type=int, default=200, help="of each kind; a tenth of it for papers")
    asked.add_argument("--database", choices=(SQLITE, POSTGRESQL), default=SQLITE, help="where the book lies")
    given = asked.parse_args()
    most: int = given.requests
    logging.disable(logging.CRITICAL)
    started = time.monotonic()
    with ExitStack() as ends:
        home = ends.enter_context(tempfile.TemporaryDirectory())
        server = ends.enter_context(a_server()) if given.database == POSTGRESQL else None
        play = ends.enter_context(Play(Path(home), server))
        for operation in operations():
            here = most if operation[0].startswith("/api/") else max(1, most // 10)
            for role in [*Role, None]:
                for way in Way:
                    if way is not Way.NOT_AS_DESCRIBED or takes_something(play.document, operation):
                        play.play(operation, role, way, most=here, is_ever_new=True)
            print(operation[1].upper(), operation[0], *_told(play, operation))  # noqa: T201  a command's report
        sent = sum(play.seen.values())
    print(f"{sent} requests in {time.monotonic() - started:.0f} s, nothing found")  # noqa: T201  as above
    return 0


def _told(play: Play, operation: tuple[str, str]) -> list[str]:
    by_status = Counter[int]()
    for (asked, _, status), times in play.seen.items():
        by_status[status] += times if asked == operation else 0
    return [f"{status}: {times}" for status, times in sorted(by_status.items()) if times]


sys.exit(main())
