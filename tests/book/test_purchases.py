"""Metal ordered of a supplier: counted while it is on its way, in the drawer once, called off."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from threading import Barrier

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select

from studio.book import engine as engines
from studio.book.audit import AuditRow
from studio.book.buying_errors import BoughtMeanwhile, NotOnItsWay, PurchaseUnknown, SupplyUnknown
from studio.book.buying_tables import LineState
from studio.book.errors import BookBusy, VersionStale
from studio.book.people import PROGRAM
from studio.book.piece_reads import pieces
from studio.book.purchase_reads import ordered_pieces, purchases
from studio.book.purchases import Wanted, call_off_metal, order_metal, receive_metal
from studio.book.supplies import drop_supply, supplies
from studio.craft.errors import Refused, Why
from tests.builders import NOW
from tests.buying import a_purchase, a_supply
from tests.craft.test_buying import STRIP


def test_what_is_ordered_is_on_its_way_until_it_arrives(session: Session) -> None:
    made = a_purchase(session)
    first, second = made.lines
    assert [one.mark for one in ordered_pieces(session)] == [first.name, second.name]
    piece = receive_metal(
        session, purchase_id=made.id, line_id=first.id, mass_g=12.0, lot="B-9", paid_minor=880,
        actor=PROGRAM, now=NOW,
    )  # fmt: skip
    assert (piece.mass_g, piece.lot, piece.paid_minor, piece.measures.length_mm) == (12.0, "B-9", 880, 130)
    assert [one.mark for one in ordered_pieces(session)] == [second.name]
    (after,) = purchases(session)
    assert [line.state for line in after.lines] == [LineState.ARRIVED, LineState.ORDERED]
    assert (after.lines[0].piece_id, after.lines[0].arrived_g) == (piece.id, 12.0)
    assert after.is_late(date(2100, 1, 1))
    assert not after.is_late(after.expected_on)
    entries = session.exec(select(AuditRow).where(AuditRow.verb == "put in a piece")).all()
    assert [one.reason for one in entries] == [f"purchase {first.name}"]


def test_it_arrives_once_and_what_is_called_off_does_not_arrive(session: Session) -> None:
    made = a_purchase(session)
    first, second = made.lines
    receive_metal(session, purchase_id=made.id, line_id=first.id, actor=PROGRAM, now=NOW)
    with pytest.raises(NotOnItsWay):
        receive_metal(session, purchase_id=made.id, line_id=first.id, actor=PROGRAM, now=NOW)
    with pytest.raises(VersionStale):
        call_off_metal(session, purchase_id=made.id, version=1, actor=PROGRAM, now=NOW)
    after = call_off_metal(session, purchase_id=made.id, version=2, actor=PROGRAM, now=NOW)
    assert [line.state for line in after.lines] == [LineState.ARRIVED, LineState.CALLED_OFF]
    assert ordered_pieces(session) == ()
    with pytest.raises(NotOnItsWay):
        receive_metal(session, purchase_id=made.id, line_id=second.id, actor=PROGRAM, now=NOW)
    with pytest.raises(PurchaseUnknown):
        receive_metal(session, purchase_id=99, line_id=second.id, actor=PROGRAM, now=NOW)


def test_a_weight_far_from_what_was_ordered_is_asked_about(session: Session) -> None:
    made = a_purchase(session, 1)
    line = made.lines[0]
    with pytest.raises(Refused):
        receive_metal(session, purchase_id=made.id, line_id=line.id, mass_g=6, actor=PROGRAM, now=NOW)
    assert pieces(session) == ()
    piece = receive_metal(
        session, purchase_id=made.id, line_id=line.id, mass_g=6, length_mm=64, actor=PROGRAM, now=NOW
    )
    assert (piece.mass_g, piece.measures.length_mm) == (6, 64)


def test_a_list_read_before_another_order_orders_nothing(session: Session) -> None:
    made = a_purchase(session)
    sold = supplies(session)[0]
    with pytest.raises(BoughtMeanwhile):
        order_metal(
            session, supplier=STRIP.supplier, wanted=[Wanted(sold.id, 130_000, 6000)], seen=made.id - 1,
            actor=PROGRAM, now=NOW,
        )  # fmt: skip
    drop_supply(session, supply_id=sold.id, version=1, actor=PROGRAM, now=NOW)
    with pytest.raises(SupplyUnknown):
        order_metal(
            session, supplier=STRIP.supplier, wanted=[Wanted(sold.id, 130_000, 6000)], actor=PROGRAM, now=NOW
        )
    assert len(purchases(session)) == 1


def test_what_arrives_in_two_hands_at_once_is_one_piece(engine: Engine) -> None:
    with engines.session(engine) as book:
        made = a_purchase(book, 1)
    start = Barrier(4)

    def arrive(_: int) -> bool:
        start.wait()
        with engines.session(engine) as book:
            try:
                receive_metal(book, purchase_id=made.id, line_id=made.lines[0].id, actor=PROGRAM, now=NOW)
            except (NotOnItsWay, BookBusy):
                return False
            return True

    with ThreadPoolExecutor(4) as pool:
        assert sum(pool.map(arrive, range(4))) == 1
    with engines.session(engine) as book:
        assert len(pieces(book)) == 1
        assert ordered_pieces(book) == ()


def test_a_size_the_supplier_does_not_cut_to_is_not_ordered(session: Session) -> None:
    sold = a_supply(session)
    with pytest.raises(Refused) as refused:
        order_metal(
            session, supplier=STRIP.supplier, wanted=[Wanted(sold.id, 135_000, 6500)], actor=PROGRAM, now=NOW
        )
    told = [(one.field, one.why, one.high) for one in refused.value.refusals]
    assert told == [("lines.0.length", Why.NOT_SOLD, 140), ("lines.0.width", Why.NOT_SOLD, 7)]
    assert purchases(session) == ()
