"""The metal ledger through the book: what feeds it, and what it says."""

from contextlib import suppress
from dataclasses import replace
from random import Random

import pytest
from sqlalchemy import text
from sqlmodel import Session

from studio.book.cuts import undo_cut
from studio.book.hand_over import hand_over
from studio.book.ledger_entries import Counted, correct_movement, take_stock
from studio.book.ledger_errors import LotSettled, LotUnknown, MovementKept, MovementUnknown
from studio.book.ledger_reads import ledger_balances, ledger_lines, lots
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver, RingGiven
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.piece_errors import CutKept
from studio.book.piece_reads import pieces
from studio.book.pieces import put_piece, take_out
from studio.book.refiners import LotDraft, Outcome, send_lot, settle_lot
from studio.craft.calling_off import MetalTo
from studio.craft.errors import Refused
from studio.craft.ledger import Account, LotKind, MetalMove, jobs
from studio.craft.orders import State
from tests.builders import NOW
from tests.documents import taken_in
from tests.metal import SHEET, SILVER, agreed, by_hand, closes, cut, held, move, put


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
