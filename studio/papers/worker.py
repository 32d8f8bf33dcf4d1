"""A process that prints: it is handed a job, gives back what came of it, and waits for the next.

`python -m studio.papers.worker` is started by the pool (`pool.py`) and speaks with nobody else: jobs come in
on its standard input, answers go out on its standard output (`wire.py`). It gives way to every other program
of the machine, has a limit of memory, and an alarm that the system itself rings when a job has outlived its
time, whatever the process is stuck in. It ends when the other end of its input is gone, so nobody leaves one
behind.

Whatever goes wrong in a job ends the worker with a last answer that says where, never with what: a name on a
paper does not belong in a log.
"""

import os
import resource
import select
import signal
import sys
import threading
import traceback
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

from studio.papers.wire import LENGTH_BYTES, Outcome, framed, read_length, unframed

GIVES_WAY = 10
"""How much later than others it is served by the processor (nice)."""
ALARM_AFTER_S = 2.0
"""How long past its limit a job lives at most, should nobody be there any more to end it."""


def main(memory_bytes: int) -> None:
    """Print until nobody is there to print for."""
    os.nice(GIVES_WAY)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_IGN)  # the server finishes what is asked of it, then ends us
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    jobs, answers = _own_pipes()
    threading.Thread(target=_leave_when_alone, args=(jobs.fileno(),), daemon=True).start()

    def last_words(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        with suppress(OSError):  # nobody is there to be told
            _answer(answers, *_said_of(kind, error, trace))

    sys.excepthook = last_words

    from studio.papers.render import make_ready  # noqa: PLC0415  it loads for a second: first the limits

    make_ready()
    _answer(answers, Outcome.READY)
    while length := jobs.read(LENGTH_BYTES):
        seconds, job = _read(jobs, length)
        signal.setitimer(signal.ITIMER_REAL, seconds + ALARM_AFTER_S)
        made = job()
        signal.setitimer(signal.ITIMER_REAL, 0)
        _answer(answers, Outcome.MADE, made)


def _own_pipes() -> tuple[BinaryIO, BinaryIO]:
    """Jobs and answers on pipes of their own, so that no library reads from or writes into them."""
    jobs, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    os.close(nothing)
    os.dup2(2, 1)
    return jobs, answers


def _leave_when_alone(jobs: int) -> None:
    """End the process as soon as the other end of the pipe of jobs is closed, even in the midst of a job."""
    watch = select.poll()
    watch.register(jobs, 0)  # a pipe that hung up is told in any case
    watch.poll()
    os._exit(0)


def _read(jobs: BinaryIO, length: bytes) -> tuple[float, Callable[[], object]]:
    seconds, job = unframed(jobs.read(read_length(length)))
    return seconds, job


def _answer(answers: BinaryIO, outcome: Outcome, *more: object) -> None:
    answers.write(framed((outcome, *more)))
    answers.flush()


def _said_of(
    kind: type[BaseException], error: BaseException, trace: TracebackType | None
) -> tuple[Outcome, str, str]:
    if isinstance(error, MemoryError):
        return Outcome.TOO_BIG, "", ""
    steps = traceback.extract_tb(trace)
    where = " < ".join(
        f"{Path(step.filename).name}:{step.lineno} {step.name}" for step in reversed(steps[-12:])
    )
    return Outcome.FAILED, kind.__name__, where


if __name__ == "__main__":
    main(int(sys.argv[1]))
