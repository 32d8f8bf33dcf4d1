"""Several devices at one ring at the same moment: one press is written, and the others are told of it."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from time import monotonic, sleep

from sqlalchemy import Engine
from sqlmodel import select

from studio.book import engine as engines
from studio.book.audit import AuditRow
from studio.book.bench_work import Deed, do_at_bench, ring_at_bench
from studio.book.bench_work_errors import BenchStale
from studio.book.errors import BookBusy
from studio.book.people import PROGRAM
from studio.craft.bench_work import What
from studio.craft.orders import State
from tests.builders import NOW, an_order

AT_ONCE = 6
PATIENCE_SECONDS = 60


def test_of_presses_at_once_one_is_written_and_the_others_are_told(engine: Engine) -> None:
    with engines.session(engine) as session:
        number = an_order(session, state=State.AT_THE_BENCH).number
    barrier = Barrier(AT_ONCE)

    def press(turn: int) -> int:
        """How many things others had done by then: none for the one that was first."""
        barrier.wait()
        until = monotonic() + PATIENCE_SECONDS
        deed = Deed(What.DONE, "weigh", 9.0 + turn / 100)
        while monotonic() < until:
            try:
                with engines.session(engine) as session:
                    do_at_bench(
                        session, number=number, position=1, deed=deed, version=0, actor=PROGRAM, now=NOW
                    )
            except BookBusy:
                sleep(0.002)
            except BenchStale as stale:
                return len(stale.meanwhile)
            else:
                return 0
        raise AssertionError("the book never came free")

    with ThreadPoolExecutor(AT_ONCE) as pool:
        assert sorted(pool.map(press, range(AT_ONCE))) == [0] + [1] * (AT_ONCE - 1)
    with engines.session(engine) as session:
        assert ring_at_bench(session, number, 1).work.version == 1
        entries = session.exec(select(AuditRow).where(AuditRow.verb == "tick a step off")).all()
        assert len(entries) == 1
