"""What was held at the ends of days, out of the book: the ledger's rows, and receipts for goods."""

from dataclasses import replace
from datetime import timedelta

from sqlmodel import Session

from studio.book.metal_over_time import held_on_days
from studio.book.people import PROGRAM
from studio.book.pieces import PieceDraft, put_piece, take_out
from studio.craft.drawer import Measures, PieceKind
from studio.craft.ledger import Account, Pot
from studio.craft.metal_over_time import own_by_alloy
from tests.amending import LATER
from tests.builders import NOW, TODAY, an_order
from tests.documents import SAPPHIRE, given_back, set_with, taken_in

SILVER = "silver-925"
SHEET = PieceDraft(Measures(PieceKind.SHEET, SILVER, 198, 24, 1.5), mass_g=73.8)
DAY = timedelta(days=1)


def test_every_day_has_what_the_ledger_held_at_its_end_and_none_before_it_began(session: Session) -> None:
    before, first, last = TODAY - 7 * DAY, TODAY, TODAY + 7 * DAY
    assert [one.metal for one in held_on_days(session, [before, first])] == [None, None]
    piece = put_piece(session, piece=SHEET, actor=PROGRAM, now=NOW)
    theirs = an_order(session)
    customers = replace(SHEET, order=theirs.number, is_customers=True)
    put_piece(session, piece=customers, actor=PROGRAM, now=NOW)
    take_out(
        session,
        piece_id=piece.id,
        why="kinked",
        to=Account.SCRAP,
        version=piece.version,
        actor=PROGRAM,
        now=NOW + 5 * DAY,
    )
    held = held_on_days(session, [before, first, last])
    assert [None if one.metal is None else own_by_alloy(one.metal) for one in held] == [
        None, {SILVER: 73_800}, {SILVER: 73_800},
    ]  # fmt: skip
    assert [None if one.metal is None else own_by_alloy(one.metal, [Account.DRAWER]) for one in held] == [
        None, {SILVER: 73_800}, {},
    ]  # fmt: skip
    assert [one.metal and one.metal.get(Pot(Account.DRAWER, SILVER, theirs.customer.id)) for one in held] == [
        None, 73_800, 73_800,
    ]  # fmt: skip


def test_goods_are_held_from_their_receipt_to_the_day_they_are_given_back(session: Session) -> None:
    stands = an_order(session, **set_with(SAPPHIRE))
    taken_in(session, stands.number)
    came = LATER.date()
    days = [came - DAY, came]
    assert [len(one.goods) for one in held_on_days(session, days)] == [0, 1]
    given_back(session, stands.number)
    assert [len(one.goods) for one in held_on_days(session, days)] == [0, 0]
