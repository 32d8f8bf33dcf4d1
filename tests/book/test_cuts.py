"""A plan booked as cut: where every milligram goes, what is refused, and that undoing leaves it as it was."""

from dataclasses import replace
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.audit import AuditRow
from studio.book.cuts import BookedCut, PieceToCut, book_cut, cuts_booked, undo_cut
from studio.book.errors import VersionStale
from studio.book.order_tables import RingRow
from studio.book.orders import OrderChanges, change_order, move_order, order
from studio.book.people import PROGRAM
from studio.book.piece_errors import CutKept, CutUnknown, NotToCut, PieceGone, PieceUnknown
from studio.book.piece_reads import Piece, pieces
from studio.book.piece_tables import CutRow
from studio.book.pieces import PieceDraft, put_piece, set_aside
from studio.book.week import week_need
from studio.craft.designs import Pattern, Profile, Stock
from studio.craft.drawer import Measures, PieceKind
from studio.craft.orders import State
from studio.craft.units import to_micrometres
from tests.builders import NOW, TODAY, a_design, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures

SHEET = PieceDraft(
    Measures(PieceKind.SHEET, "silver-925", 198, 24, 1.5), mass_g=73.8, lot="A-77", place="top"
)
PLAIN = a_design(alloy="silver-925", thickness_mm=1.5, pattern=Pattern.PLAIN, pattern_when=None)
KERF = 310


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


def agreed(session: Session, **design: Any) -> str:
    """The number of an order of one ring that has its yes and is due next week."""
    made = a_ring(design=replace(PLAIN, **design))
    return a_yes(session, a_quote(session, an_order(session, rings=[made]))).number


def put(session: Session, draft: PieceDraft = SHEET) -> Piece:
    return put_piece(session, piece=draft, actor=PROGRAM, now=NOW)


def mark_um(session: Session, number: str) -> int:
    return to_micrometres(order(session, number).rings[0].reckoning.mark_mm)


def to_cut(session: Session, piece: Piece, *numbers: str, **changes: Any) -> PieceToCut:
    """One strip 6 mm wide with the blanks of these orders."""
    strip = (6_000, tuple((f"{number}/1", mark_um(session, number)) for number in numbers))
    return replace(PieceToCut(piece.id, piece.version, (strip,)), **changes)


def cut(session: Session, *asked: PieceToCut, kerf_um: int = KERF) -> BookedCut:
    return book_cut(session, cuts=asked, kerf_um=kerf_um, actor=PROGRAM, now=NOW)


def undo(session: Session, cut_id: int) -> BookedCut:
    return undo_cut(session, cut_id=cut_id, actor=PROGRAM, now=NOW)


def totals(session: Session) -> tuple[float, list[tuple[float, float, float]]]:
    """What the drawer weighs, and the measures in it."""
    lying = pieces(session)
    sides = [(one.measures.length_mm, one.measures.width_mm, one.mass_g) for one in lying]
    return round(sum(one.mass_g for one in lying), 3), sorted(sides)


def test_a_cut_uses_up_the_piece_and_puts_its_offcuts_into_the_drawer(session: Session) -> None:
    first, second = agreed(session), agreed(session)
    piece = put(session)
    booked = cut(session, to_cut(session, piece, first, second))
    assert (booked.pieces, booked.rings) == (("S-001",), (f"{first}/1", f"{second}/1"))
    lengths = mark_um(session, first) + mark_um(session, second)
    along, below = sorted(pieces(session), key=lambda one: one.measures.width_mm)
    # by hand: what is left of the strip after two blanks and two kerfs, and of the sheet after one
    assert along.measures.length_mm == pytest.approx((198_000 - lengths - 2 * KERF) / 1000)
    assert along.measures.width_mm == 6.0
    assert below.measures.width_mm == pytest.approx(24 - 6 - 0.31)
    assert (along.is_offcut, along.lot, along.place, along.measures.kind) == (
        True, "A-77", "top", PieceKind.STRIP,
    )  # fmt: skip
    (row,) = session.exec(select(CutRow)).all()
    (told,) = row.told["pieces"]
    parts = [one["mass_mg"] for one in (*told["blanks"], *told["offcuts"])]
    assert sum(parts) + row.lemel_mg == 73_800 == told["mass_mg"]
    # the kerf: along the sheet and twice across the strip, by its share of the area
    sawn = KERF * 198_000 + 2 * KERF * 6_000
    assert row.lemel_mg == pytest.approx(73_800 * sawn / (198_000 * 24_000), abs=3)
    assert len(session.exec(select(AuditRow).where(AuditRow.verb == "book a cut")).all()) == 1


def test_a_ring_booked_as_cut_leaves_the_need_and_comes_back_on_undo(session: Session) -> None:
    number = agreed(session)
    week = order(session, number).terms.bench_on
    assert week is not None
    assert [line.blanks for line in week_need(session, monday=week, today=TODAY).need] == [1]
    booked = cut(session, to_cut(session, put(session), number))
    assert week_need(session, monday=week, today=TODAY).need == ()
    assert undo(session, booked.id).is_undone
    assert [line.blanks for line in week_need(session, monday=week, today=TODAY).need] == [1]


def test_plan_done_undone_and_done_again_leaves_equal_totals(session: Session) -> None:
    number = agreed(session)
    before = put(session)
    start = totals(session)
    first = cut(session, to_cut(session, before, number))
    done = totals(session)
    undo(session, first.id)
    assert totals(session) == start
    (again,) = pieces(session)
    assert (again.id, again.version) == (before.id, before.version + 2)
    second = cut(session, to_cut(session, again, number))
    assert totals(session) == done
    assert (first.lemel_mg, second.lemel_mg) == (second.lemel_mg, first.lemel_mg)
    assert [one.is_undone for one in cuts_booked(session)] == [False, True]


def test_a_cut_stays_once_an_offcut_of_it_was_used(session: Session) -> None:
    number, other = agreed(session), agreed(session)
    booked = cut(session, to_cut(session, put(session), number))
    offcut = pieces(session)[-1]
    set_aside(session, piece_id=offcut.id, order=other, version=1, actor=PROGRAM, now=NOW)
    with pytest.raises(CutKept):
        undo(session, booked.id)
    with pytest.raises(CutUnknown):
        undo(session, 99)


def test_a_cut_is_undone_once(session: Session) -> None:
    booked = cut(session, to_cut(session, put(session), agreed(session)))
    undo(session, booked.id)
    with pytest.raises(CutKept):
        undo(session, booked.id)


def test_wire_is_cut_in_one_dimension(session: Session) -> None:
    number = agreed(session, profile=Profile.HALF_ROUND, width_mm=4.0, thickness_mm=1.7, stock=Stock.WIRE)
    wire = Measures(PieceKind.WIRE, "silver-925", 420, 4.0, 1.7, Profile.HALF_ROUND)
    piece = put(session, PieceDraft(wire))
    strip = (4_000, ((f"{number}/1", mark_um(session, number)),))
    cut(session, PieceToCut(piece.id, 1, (strip,)))
    (left,) = pieces(session)
    assert (left.measures.kind, left.measures.profile) == (PieceKind.WIRE, Profile.HALF_ROUND)
    assert left.measures.length_mm == pytest.approx(420 - mark_um(session, number) / 1000 - 0.31)


def test_nothing_of_a_plan_is_taken_on_trust(session: Session) -> None:
    number, other = agreed(session), agreed(session, alloy="gold-375-yellow")
    thick, early = agreed(session, thickness_mm=2.0), an_order(session, rings=[a_ring(design=PLAIN)]).number
    piece = put(session)
    good = to_cut(session, piece, number)
    mark = mark_um(session, number)
    for wrong in (
        to_cut(session, piece, other),  # another metal
        to_cut(session, piece, thick),  # another thickness
        to_cut(session, piece, early),  # not agreed
        replace(good, strips=((6_000, ((f"{number}/1", mark + 1),)),)),  # another mark
        replace(good, strips=((5_000, ((f"{number}/1", mark),)),)),  # another width
        replace(good, strips=((6_000, ((f"{number}/9", mark),)),)),  # no such ring
        replace(good, strips=((6_000, (("nonsense", mark),)),)),
        replace(good, strips=((6_000, ((f"{number}/1", mark),) * 2),)),  # twice
        replace(good, strips=((6_000, ((f"{number}/1", mark),)),) * 4),  # passes the edge
        replace(good, strips=()),
    ):
        with pytest.raises(NotToCut):
            cut(session, wrong)
    with pytest.raises(NotToCut):
        cut(session)
    with pytest.raises(VersionStale):
        cut(session, replace(good, version=7))
    with pytest.raises(PieceUnknown):
        cut(session, replace(good, piece_id=99))
    assert pieces(session) == (piece,)
    assert session.exec(select(CutRow)).all() == []
    cut(session, good)
    with pytest.raises(PieceGone):
        cut(session, good)
    with pytest.raises(NotToCut):
        cut(session, to_cut(session, put(session), number))  # cut already


def test_metal_kept_for_another_is_not_cut(session: Session) -> None:
    number, other = agreed(session), agreed(session)
    aside = put(session, replace(SHEET, order=other))
    theirs = put(session, replace(SHEET, order=other, is_customers=True))
    for piece in (aside, theirs):
        with pytest.raises(NotToCut):
            cut(session, to_cut(session, piece, number))
    booked = cut(session, to_cut(session, theirs, other))
    owners = {one.owner_id for one in pieces(session) if one.id > theirs.id}
    assert owners == {order(session, other).customer.id}
    assert booked.rings == (f"{other}/1",)


def test_a_ring_that_is_changed_after_its_blank_was_cut_needs_another(session: Session) -> None:
    number = agreed(session)
    week = order(session, number).terms.bench_on
    assert week is not None
    cut(session, to_cut(session, put(session), number))
    stands = order(session, number)
    back = move_order(
        session,
        number=number,
        to=State.QUOTED,
        version=stands.version,
        reason="wider after all",
        actor=PROGRAM,
        now=NOW,
    )
    wider = OrderChanges(rings=(a_ring(design=replace(PLAIN, width_mm=7.0)),))
    change_order(session, number=number, version=back.version, changes=wider, actor=PROGRAM, now=NOW)
    (ring,) = session.exec(select(RingRow)).all()
    assert ring.cut_id is None


def test_a_note_on_an_order_leaves_its_blank_cut(session: Session) -> None:
    number = agreed(session)
    cut(session, to_cut(session, put(session), number))
    stands = order(session, number)
    changes = OrderChanges(note="by the door", rings=tuple(ring.draft for ring in stands.rings))
    change_order(session, number=number, version=stands.version, changes=changes, actor=PROGRAM, now=NOW)
    assert session.exec(select(RingRow)).one().cut_id is not None
