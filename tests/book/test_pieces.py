"""The drawer: what lies in it, whose it is, and that nobody takes what another has."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from threading import Barrier

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select

from studio.book import engine as engines
from studio.book.audit import AuditRow
from studio.book.errors import BookBusy, OrderUnknown, VersionStale
from studio.book.people import PROGRAM
from studio.book.piece_errors import PieceGone, PieceTaken, PieceUnknown
from studio.book.piece_reads import Piece, pieces
from studio.book.pieces import PieceDraft, put_piece, set_aside, take_out
from studio.craft.drawer import Measures, PieceKind
from studio.craft.errors import Refused, Why
from tests.builders import NOW, an_order

SHEET = Measures(PieceKind.SHEET, "silver-925", 198, 24, 1.5)
DRAFT = PieceDraft(SHEET, mass_g=73.8, lot="A-77", paid_minor=9500, place="top drawer")


def put(session: Session, draft: PieceDraft = DRAFT, **known: int) -> Piece:
    return put_piece(session, piece=draft, reason=None, actor=PROGRAM, now=NOW, **known)


def test_a_piece_lies_in_the_drawer_as_it_was_put_in(session: Session) -> None:
    made = put(session)
    assert pieces(session) == (made,)
    assert (made.mark, made.measures, made.mass_g, made.is_weighed) == ("S-001", SHEET, 73.8, True)
    assert (made.lot, made.paid_minor, made.place, made.version) == ("A-77", 9500, "top drawer", 1)
    (line,) = session.exec(select(AuditRow).where(AuditRow.verb == "put in a piece")).all()
    assert line.new["length_mm"] == 198


def test_without_a_weight_the_measures_tell_it(session: Session) -> None:
    made = put(session, replace(DRAFT, mass_g=None))
    assert (made.mass_g, made.is_weighed) == (73.846, False)


def test_a_weight_far_from_the_measures_is_asked_about_and_taken_when_it_is_right(session: Session) -> None:
    with pytest.raises(Refused) as refused:
        put(session, replace(DRAFT, mass_g=60.0))
    assert [(one.field, one.why) for one in refused.value.refusals] == [("mass", Why.WEIGHT_DIFFERS)]
    assert put(session, replace(DRAFT, mass_g=60.0, is_sure=True)).mass_g == 60.0


def test_saying_again_what_stands_writes_nothing(session: Session) -> None:
    made = put(session)
    assert put(session, piece_id=made.id, version=1).version == 1
    assert put(session, replace(DRAFT, place="safe"), piece_id=made.id, version=1).version == 2
    with pytest.raises(VersionStale):
        put(session, replace(DRAFT, place="bench"), piece_id=made.id, version=1)


def test_a_customers_metal_is_theirs_and_kept_for_their_orders(session: Session) -> None:
    mine, other = an_order(session), an_order(session)
    theirs = put(session, replace(DRAFT, order=mine.number, is_customers=True))
    assert (theirs.owner_id, theirs.order) == (mine.customer.id, mine.number)
    with pytest.raises(PieceTaken):
        set_aside(session, piece_id=theirs.id, order=other.number, version=1, actor=PROGRAM, now=NOW)
    with pytest.raises(PieceTaken):
        set_aside(session, piece_id=theirs.id, order=None, version=1, actor=PROGRAM, now=NOW)
    with pytest.raises(Refused):
        put(session, replace(DRAFT, is_customers=True))


def test_a_piece_set_aside_is_not_taken_by_another_order_until_it_is_freed(session: Session) -> None:
    mine, other = an_order(session), an_order(session)
    made = put(session)
    aside = set_aside(session, piece_id=made.id, order=mine.number, version=1, actor=PROGRAM, now=NOW)
    assert aside.order == mine.number
    for version in (1, 2):
        with pytest.raises(PieceTaken):
            set_aside(session, piece_id=made.id, order=other.number, version=version, actor=PROGRAM, now=NOW)
    set_aside(session, piece_id=made.id, order=None, version=2, actor=PROGRAM, now=NOW)
    taken = set_aside(session, piece_id=made.id, order=other.number, version=3, actor=PROGRAM, now=NOW)
    assert taken.order == other.number
    with pytest.raises(OrderUnknown):
        set_aside(session, piece_id=made.id, order="2026-999", version=4, actor=PROGRAM, now=NOW)


def test_of_two_people_who_take_one_piece_one_gets_it(engine: Engine) -> None:
    with engines.session(engine) as session:
        orders = [an_order(session).number for _ in range(4)]
        piece = put(session)
    barrier = Barrier(4)

    def take(order: str) -> str:
        barrier.wait()
        for _ in range(40):
            with suppress(BookBusy), engines.session(engine) as session:
                try:
                    return (
                        set_aside(
                            session, piece_id=piece.id, order=order, version=1, actor=PROGRAM, now=NOW
                        ).order
                        or ""
                    )
                except (PieceTaken, VersionStale):
                    return ""
        raise AssertionError("the book never came free")

    with ThreadPoolExecutor(4) as pool:
        told = list(pool.map(take, orders))
    with engines.session(engine) as session:
        (after,) = pieces(session)
    assert sorted(told) == ["", "", "", after.order]
    assert after.version == 2


def test_what_is_taken_out_is_gone_with_the_reason(session: Session) -> None:
    made = put(session)
    with pytest.raises(Refused):
        take_out(session, piece_id=made.id, why=" ", version=1, actor=PROGRAM, now=NOW)
    assert take_out(session, piece_id=made.id, why="sold", version=1, actor=PROGRAM, now=NOW).gone == "sold"
    assert pieces(session) == ()
    with pytest.raises(PieceGone):
        put(session, piece_id=made.id, version=2)
    with pytest.raises(PieceUnknown):
        put(session, piece_id=999, version=1)


@pytest.mark.parametrize(
    ("draft", "field"),
    [
        (replace(DRAFT, measures=replace(SHEET, alloy="cheese")), "alloy"),
        (replace(DRAFT, measures=replace(SHEET, width_mm=0.0)), "width"),
        (replace(DRAFT, lot="x" * 41), "lot"),
        (replace(DRAFT, mass_g=0.001), "mass"),
    ],
)
def test_what_is_no_piece_is_refused(session: Session, draft: PieceDraft, field: str) -> None:
    with pytest.raises(Refused) as refused:
        put(session, draft)
    assert field in {one.field for one in refused.value.refusals}
    assert pieces(session) == ()
