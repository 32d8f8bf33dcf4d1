"""A process that plans one cutting: it is handed the task, tells every better plan, and ends with the best.

`python -m studio.web.planning` is started by the planner (`planner.py`) and speaks with nobody else. It gives
way to every other program of the machine, has a limit of memory, and ends when nobody listens any more.
"""

import os
import resource
import select
import signal
import sys
import threading
from typing import BinaryIO

from studio.craft.cutting import Plan, plan
from studio.papers.wire import LENGTH_BYTES, framed, read_length, unframed

GIVES_WAY = 10
"""How much later than others it is served by the processor (nice)."""
ALARM_AFTER_S = 5.0
"""How long past its limit it lives at most, should nobody be there any more to end it."""


def main(memory_bytes: int) -> None:
    """Plan what comes in on standard input, and tell (plan, is it the last) on standard output."""
    os.nice(GIVES_WAY)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_IGN)  # the server ends us
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    asked, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # the solver's own words go where errors go
    stock, blanks, kerf_um, seconds = unframed(asked.read(read_length(asked.read(LENGTH_BYTES))))
    threading.Thread(target=_leave_when_alone, args=(asked.fileno(),), daemon=True).start()
    signal.setitimer(signal.ITIMER_REAL, seconds + ALARM_AFTER_S)
    best = plan(stock, blanks, kerf_um, seconds=seconds, progress=lambda found: _tell(answers, found))
    _tell(answers, best, is_last=True)


def _tell(answers: BinaryIO, found: Plan, *, is_last: bool = False) -> None:
    answers.write(framed((found, is_last)))
    answers.flush()


def _leave_when_alone(asked: int) -> None:
    """End the process as soon as the other end of its input is closed, even in the midst of the search."""
    watch = select.poll()
    watch.register(asked, 0)  # a pipe that hung up is told in any case
    watch.poll()
    os._exit(0)


if __name__ == "__main__":
    main(int(sys.argv[1]))
