"""Looking at other processes."""

import subprocess
import time
from collections.abc import Callable


def is_there(process: int) -> bool:
    """Whether the process runs; one that has ended and waits to be noticed does not."""
    state = _told("-o", "stat=", "-p", str(process))
    return bool(state) and not state.startswith("Z")


def workers_of(server: int) -> list[int]:
    """The processes that print for a server."""
    lines = _told("-o", "pid=,args=", "--ppid", str(server)).splitlines()
    return [int(line.split()[0]) for line in lines if "studio.papers.worker" in line]


def wait_until(is_so: Callable[[], bool], seconds: float = 120.0) -> None:
    """Wait for something that other processes bring about."""
    until = time.monotonic() + seconds
    while not is_so():
        assert time.monotonic() < until, "it did not come about"
        time.sleep(0.02)


def _told(*asked: str) -> str:
    return subprocess.run(["ps", *asked], check=False, capture_output=True, text=True).stdout.strip()
