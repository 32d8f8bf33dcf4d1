"""The chain of the metal ledger: what was changed is found, and many at once lose nothing."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from threading import Barrier

from sqlalchemy import Engine, text
from sqlmodel import Session, col, select

from studio import checks
from studio.book import engine as engines
from studio.book.chaining import text_of_row
from studio.book.errors import BookBusy
from studio.book.ledger_reads import ledger_amiss, ledger_head, ledger_lines
from studio.book.ledger_tables import LedgerRow
from studio.book.people import PROGRAM
from studio.book.pieces import take_out
from studio.craft.chain import GENESIS, chained
from studio.craft.ledger import Account
from tests.builders import NOW, TODAY
from tests.metal import agreed, closes, held, put


def test_a_changed_row_is_named_and_a_chain_written_anew_has_another_head(
    session: Session, engine: Engine, tmp_path: Path
) -> None:
    for _ in range(3):
        put(session)
    printed = ledger_head(session, until=TODAY)
    session.execute(text("UPDATE metal_ledger SET note = 'of old' WHERE id = 2"))
    session.commit()
    assert ledger_amiss(session) == ["row 2 of the metal ledger is not as it was written"]
    says = [finding.says for finding in checks.book(engine, tmp_path) if not finding.is_well]
    assert "row 2 of the metal ledger is not as it was written" in says
    previous = GENESIS
    wanted = select(LedgerRow).order_by(col(LedgerRow.id)).execution_options(populate_existing=True)
    for row in session.exec(wanted).all():
        previous = chained(previous, text_of_row(row))
        session.execute(text("UPDATE metal_ledger SET hash = :h WHERE id = :i"), {"h": previous, "i": row.id})
    session.commit()
    assert ledger_amiss(session) == []
    assert ledger_head(session, until=TODAY) != printed


def test_arrivals_and_issues_at_once_lose_nothing_and_the_chain_holds(engine: Engine) -> None:
    at_once, each = 4, 3
    barrier = Barrier(at_once)
    with engines.session(engine) as session:
        ring = f"{agreed(session)}/1"
        to_issue = [put(session) for _ in range(2 * each)]

    def arrive(session: Session, _: int) -> None:
        put(session)

    def issue(session: Session, piece_id: int) -> None:
        take_out(session, piece_id=piece_id, why="to forge", to=Account.BENCH, ring=ring, version=1,
                 actor=PROGRAM, now=NOW)  # fmt: skip

    def work(turn: int) -> int:
        barrier.wait()
        done, verb = 0, (arrive, issue)[turn % 2]
        while done < each:
            with suppress(BookBusy), engines.session(engine) as session:
                verb(session, to_issue[turn // 2 * each + done])
                done += 1
        return done

    with ThreadPoolExecutor(at_once) as pool:
        assert sum(pool.map(work, range(at_once))) == at_once * each
    with engines.session(engine) as session:
        assert (held(session, Account.DRAWER), held(session, Account.BENCH)) == (6 * 73_800, 6 * 73_800)
        assert [line.number for line in ledger_lines(session)] == list(range(1, 6 + at_once * each + 1))
        assert closes(session)
