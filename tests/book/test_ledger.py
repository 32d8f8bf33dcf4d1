"""The metal ledger through the book: what feeds it, what it says, and that a changed row is found."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from random import Random
from threading import Barrier

import pytest
from sqlalchemy import Engine, text
from sqlmodel import Session, col, select

from studio import checks
from studio.book import engine as engines
from studio.book.chaining import text_of_row
from studio.book.cuts import PieceToCut, book_cut, undo_cut
from studio.book.errors import BookBusy
from studio.book.hand_over import hand_over
from studio.book.ledger_entries import ByHand, Counted, correct_movement, enter_by_hand, take_stock
from studio.book.ledger_errors import LotSettled, LotUnknown, MovementKept, MovementUnknown
from studio.book.ledger_reads import ledger_amiss, ledger_balances, ledger_head, ledger_lines, lots
from studio.book.ledger_tables import LedgerRow
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver, RingGiven
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.piece_errors import CutKept
from studio.book.piece_reads import pieces
from studio.book.pieces import PieceDraft, put_piece, take_out
from studio.book.refiners import LotDraft, Outcome, send_lot, settle_lot
from studio.craft.calling_off import MetalTo
from studio.craft.chain import GENESIS, chained
from studio.craft.designs import Pattern
from studio.craft.drawer import Measures, PieceKind
from studio.craft.errors import Refused
from studio.craft.ledger import Account, LotKind, MetalMove, Pot, jobs
from studio.craft.orders import State
from studio.craft.units import to_micrometres
from tests.builders import NOW, TODAY, a_design, a_ring, an_order
from tests.documents import taken_in
from tests.quoting import a_quote, a_yes, put_figures

SILVER = "silver-925"
SHEET = PieceDraft(Measures(PieceKind.SHEET, SILVER, 198, 24, 1.5), mass_g=73.8)
PLAIN = a_design(alloy=SILVER, thickness_mm=1.5, pattern=Pattern.PLAIN, pattern_when=None)


def put(session: Session, draft: PieceDraft = SHEET) -> int:
    return put_piece(session, piece=draft, actor=PROGRAM, now=NOW).id


def agreed(session: Session) -> str:
    put_figures(session)
    made = a_ring(design=replace(PLAIN))
    return a_yes(session, a_quote(session, an_order(session, rings=[made]))).number


def cut(session: Session, piece_id: int, number: str) -> int:
    (piece,) = pieces(session, ids=[piece_id])
    mark_um = to_micrometres(order(session, number).rings[0].reckoning.mark_mm)
    asked = PieceToCut(piece.id, piece.version, ((6_000, ((f"{number}/1", mark_um),)),))
    return book_cut(session, cuts=[asked], kerf_um=310, actor=PROGRAM, now=NOW).id


def move(session: Session, number: str, to: State, why: str | None = None) -> None:
    version = order(session, number).version
    move_order(session, number=number, to=to, version=version, reason=why, actor=PROGRAM, now=NOW)


def held(session: Session, account: Account, owner: int = 0) -> int:
    return ledger_balances(session).get(Pot(account, SILVER, owner), 0)


def closes(session: Session) -> bool:
    return sum(ledger_balances(session).values()) == 0 and ledger_amiss(session) == []


def by_hand(session: Session, what: MetalMove, mass_mg: int, ring: str = "", work: str = "") -> int:
    asked = ByHand(what, SILVER, mass_mg, ring=ring, operation=work)
    return enter_by_hand(session, asked=asked, actor=PROGRAM, now=NOW)


def test_a_ring_from_the_sheet_to_the_customer_and_back(session: Session) -> None:
    number, sheet = agreed(session), put(session)
    cut(session, sheet, number)
    issued = held(session, Account.BENCH)
    assert issued + held(session, Account.DRAWER) + held(session, Account.LEMEL) == 73_800
    move(session, number, State.AT_THE_BENCH)
    ring = f"{number}/1"
    by_hand(session, MetalMove.LOSS, 30, ring, "polish")
    move(session, number, State.READY)
    move(session, number, State.HANDED_OVER)
    finished = held(session, Account.SOLD)
    (job,) = jobs(line.moved for line in ledger_lines(session))
    assert (job.ring, job.issued_mg, job.lost_mg, job.at_bench_mg) == (ring, issued, 30, 0)
    assert job.lemel_mg == issued - 30 - finished > 0
    assert held(session, Account.BENCH) == 0
    assert closes(session)
    with pytest.raises(CutKept, match="handed over"):
        undo_cut(session, cut_id=1, actor=PROGRAM, now=NOW)
    move(session, number, State.READY, "the wrong box")
    assert (held(session, Account.SOLD), held(session, Account.BENCH)) == (0, issued - 30)
    assert closes(session)


def test_a_hand_over_with_its_sheet_feeds_the_ledger_once_and_without_the_customers_goods(
    session: Session,
) -> None:
    number, sheet = agreed(session), put(session)
    cut(session, sheet, number)
    issued = held(session, Account.BENCH)
    gold = taken_in(session, number, words="an old ring", weight_mg=2_140)
    taken_in(session, number, words="its case", weight_mg=20_000)
    for to in (State.AT_THE_BENCH, State.READY):
        move(session, number, to)
    weight_mg = issued + 1_540 - 200
    asked = HandingOver(
        {1: RingGiven(55.0, "O", weight_mg / 1000, "")},
        {f"{gold.number}/1": GoodGiven(GoodEnd.USED, 600), f"{number}-r2/1": GoodGiven(GoodEnd.BACK)},
    )
    version = order(session, number).version
    hand_over(session, number=number, version=version, asked=asked, actor=PROGRAM, now=NOW)
    assert held(session, Account.SOLD) == issued - 200
    assert (held(session, Account.BENCH), held(session, Account.DIFFERENCE)) == (0, 0)
    out = [line for line in ledger_lines(session) if line.moved.source is Account.BENCH]
    assert [(line.moved.what, line.moved.mass_mg) for line in out] == [
        (MetalMove.IN_A_RING, issued - 200),
        (MetalMove.FILINGS, 200),
    ]
    move(session, number, State.READY, "the wrong box")
    move(session, number, State.HANDED_OVER)
    assert held(session, Account.SOLD) == round(order(session, number).rings[0].reckoning.finished_g * 1000)
    assert (held(session, Account.BENCH), held(session, Account.DIFFERENCE)) == (0, 0)
    assert closes(session)


def test_what_is_a_customers_is_in_no_sum_of_the_studios(session: Session) -> None:
    number = agreed(session)
    sheet = put(session, replace(SHEET, order=number, is_customers=True))
    owner = order(session, number).customer.id
    cut(session, sheet, number)
    assert not any(pot.owner_id == 0 for pot in ledger_balances(session))
    for to in (State.AT_THE_BENCH, State.READY, State.HANDED_OVER):
        move(session, number, to)
    assert held(session, Account.SOLD) == held(session, Account.LOSS) == 0
    assert held(session, Account.CUSTOMER, owner) < 0
    assert closes(session)


def test_a_random_history_closes_at_every_step(session: Session) -> None:
    chance, number = Random(7), agreed(session)  # noqa: S311  the same walk again
    booked: int | None = None
    for _ in range(14):
        lying = pieces(session)
        step = chance.choice(["put", "put", "out", "cut", "undo", "count", "change"])
        if step == "put" or not lying:
            put(session)
        elif step == "out":
            to = chance.choice([Account.SOLD, Account.SCRAP, Account.LOSS])
            one = chance.choice([piece for piece in lying if piece.version == 1] or lying)
            with suppress(Refused):
                take_out(
                    session, piece_id=one.id, why="gone", to=to, version=one.version, actor=PROGRAM, now=NOW
                )
        elif step == "cut" and booked is None:
            whole = [piece for piece in lying if piece.measures == SHEET.measures]
            booked = cut(session, whole[0].id, number) if whole else None
        elif step == "undo" and booked is not None:
            with suppress(CutKept):
                undo_cut(session, cut_id=booked, actor=PROGRAM, now=NOW)
                booked = None
        elif step == "count":
            counted = Counted(chance.choice([0, 70_000]), lying[0].id, reason="weighed")
            take_stock(session, counted=[counted], actor=PROGRAM, now=NOW)
        else:
            draft = replace(SHEET, mass_g=chance.uniform(71, 76))
            one = lying[0]
            put_piece(session, piece=draft, piece_id=one.id, version=one.version, actor=PROGRAM, now=NOW)
        assert closes(session), step


def test_called_off_metal_goes_to_scrap_and_a_lot_of_it_is_settled(session: Session) -> None:
    number, sheet = agreed(session), put(session)
    cut(session, sheet, number)
    issued = held(session, Account.BENCH)
    version = order(session, number).version
    move_order(session, number=number, to=State.CALLED_OFF, version=version, reason="moved away",
               metal={1: MetalTo.SCRAP}, actor=PROGRAM, now=NOW)  # fmt: skip
    assert (held(session, Account.BENCH), held(session, Account.SCRAP)) == (0, issued)
    draft = LotDraft("Crucible and Sons", LotKind.SCRAP, SILVER, issued, 9_700)
    with pytest.raises(Refused):
        send_lot(session, lot=replace(draft, mass_mg=issued + 1, refiner=""), actor=PROGRAM, now=NOW)
    sent = send_lot(session, lot=draft, actor=PROGRAM, now=NOW)
    assert (held(session, Account.REFINER), sent.lot.fine_mg) == (issued, issued * 925 // 1000)
    outcome = Outcome(921, sent.lot.expected_mg - 50, 150, 1_000, returned_mg=100)
    settled = settle_lot(session, lot_id=sent.id, outcome=outcome, actor=PROGRAM, now=NOW)
    assert settled.settled is not None
    assert settled.settled.difference_mg == -50
    assert held(session, Account.SCRAP) == 100
    for lot_id, error in ((sent.id, LotSettled), (99, LotUnknown)):
        with pytest.raises(error):
            settle_lot(session, lot_id=lot_id, outcome=outcome, actor=PROGRAM, now=NOW)
    assert lots(session) == (settled,)
    assert closes(session)


def test_by_hand_no_more_than_is_there_and_a_correction_names_its_row(session: Session) -> None:
    number, sheet = agreed(session), put(session)
    cut(session, sheet, number)
    ring, issued = f"{number}/1", held(session, Account.BENCH)
    with pytest.raises(Refused) as refused:
        by_hand(session, MetalMove.LEMEL, issued + 1, ring)
    assert [one.field for one in refused.value.refusals] == ["mass"]
    row = by_hand(session, MetalMove.LEMEL, 120, ring, "file")
    correct_movement(session, number=row, why="the wrong jar", actor=PROGRAM, now=NOW)
    last = ledger_lines(session)[-1]
    assert (last.corrects, last.note, held(session, Account.BENCH)) == (row, "the wrong jar", issued)
    for kept in (row, last.number, 1):
        with pytest.raises(MovementKept):
            correct_movement(session, number=kept, why="again", actor=PROGRAM, now=NOW)
    with pytest.raises(MovementUnknown):
        correct_movement(session, number=10**12, why="none", actor=PROGRAM, now=NOW)


def test_a_stock_take_wants_a_reason_for_each_difference_and_keeps_none_without(session: Session) -> None:
    first, second = put(session), put(session)
    said = [Counted(73_500, first, reason="weighed on new scales"), Counted(0, second)]
    with pytest.raises(Refused):
        take_stock(session, counted=said, actor=PROGRAM, now=NOW)
    assert held(session, Account.DIFFERENCE) == 0
    said[1] = Counted(0, second, reason="not in its place")
    assert take_stock(session, counted=[*said], actor=PROGRAM, now=NOW) == 2
    assert take_stock(session, counted=said[:1], actor=PROGRAM, now=NOW) == 0
    assert held(session, Account.DIFFERENCE) == 300 + 73_800
    assert closes(session)


def test_a_book_of_before_is_carried_in_when_metal_moves_next(session: Session) -> None:
    number, sheet = agreed(session), put(session)
    booked = cut(session, sheet, number)
    session.execute(text("DELETE FROM metal_ledger"))
    session.commit()
    put(session)
    carried = [line for line in ledger_lines(session) if line.moved.what is MetalMove.CARRIED_IN]
    assert held(session, Account.BEFORE) == -sum(line.moved.mass_mg for line in carried) < 0
    assert held(session, Account.BENCH) > 0
    undo_cut(session, cut_id=booked, actor=PROGRAM, now=NOW)
    assert (held(session, Account.BENCH), held(session, Account.DRAWER)) == (0, 2 * 73_800)
    assert closes(session)


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
