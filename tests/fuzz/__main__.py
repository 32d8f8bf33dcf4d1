"""The long proof: `python -m tests.fuzz --requests 500`, ever new ones, for each operation, role and way."""

import argparse
import logging
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from studio.craft.roles import Role
from tests.fuzz.description import operations, takes_something
from tests.fuzz.playing import Play, Way


def main() -> int:
    """Play, and tell how many requests were answered with which status; what is found ends it."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    asked.add_argument("--requests", type=int, default=200, help="of each kind; a tenth of it for papers")
    most: int = asked.parse_args().requests
    logging.disable(logging.CRITICAL)
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as home, Play(Path(home)) as play:
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
