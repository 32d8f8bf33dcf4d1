"""An order called off after the yes: settled by the studio's table, its metal back, nothing left waiting."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from sqlmodel import Session

from studio.book.agreed_errors import NothingToSettleUp
from studio.book.calling_off import settle_up
from studio.book.cuts import PieceToCut, book_cut, undo_cut
from studio.book.errors import MoveRefused, QuoteSuperseded, VersionStale
from studio.book.order_values import Order
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.piece_reads import Piece, pieces
from studio.book.pieces import put_piece, set_aside
from studio.book.quotes import QuoteState, agree, quote
from studio.book.studio import change_studio, studio
from studio.book.variants import add_variant
from studio.book.week import week_need
from studio.clock import monday_of
from studio.craft.calling_off import MetalTo, Stage
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.units import to_micrometres
from tests.amending import NARROWER, agreed, changing, issued
from tests.book.test_cuts import SHEET
from tests.builders import NOW, TODAY, a_design, a_ring, an_order, one_step
from tests.quoting import a_quote, a_yes, put_figures

LATER = NOW + timedelta(hours=2)
SILVER = a_design(alloy="silver-925", thickness_mm=1.5)


def with_table(session: Session) -> None:
    """Let the studio say what it keeps."""
    facts = replace(
        studio(session), kept_agreed_bp=1000, kept_cut_bp=2550, kept_bench_bp=6000, kept_ready_bp=10_000
    )
    change_studio(session, facts=facts, actor=PROGRAM, now=NOW)


def called_off(session: Session, stands: Order, **facts: object) -> Order:
    return move_order(
        session,
        number=stands.number,
        to=State.CALLED_OFF,
        version=order(session, stands.number).version,
        reason="The wedding is put off.",
        actor=PROGRAM,
        now=LATER,
        **facts,  # type: ignore[arg-type]  # a test names what it means
    )


def cut(session: Session, stands: Order) -> tuple[Piece, int]:
    """The blank of the order's only ring cut from a sheet: the piece it was, and the cut."""
    piece = put_piece(session, piece=SHEET, actor=PROGRAM, now=NOW)
    (ring,) = stands.rings
    blank = (f"{stands.number}/1", to_micrometres(ring.reckoning.mark_mm))
    width = to_micrometres(ring.design.width_mm)
    asked = PieceToCut(piece.id, piece.version, ((width, (blank,)),))
    return piece, book_cut(session, cuts=[asked], kerf_um=300, actor=PROGRAM, now=NOW).id


@pytest.mark.parametrize(
    ("ways", "stage", "percent"),
    [
        ((), Stage.AGREED, Decimal(10)),
        ((State.AT_THE_BENCH,), Stage.AT_THE_BENCH, Decimal(60)),
        ((State.AT_THE_BENCH, State.READY), Stage.READY, Decimal(100)),
    ],
)
def test_what_is_owed_is_as_the_table_says_for_its_stage(
    session: Session, ways: tuple[State, ...], stage: Stage, percent: Decimal
) -> None:
    with_table(session)
    stands = agreed(session)
    for way in ways:
        stands = one_step(session, stands, way, now=NOW)
    done = called_off(session, stands)
    found = done.calling_off
    assert found is not None
    assert found.settlement is not None
    assert stands.agreement is not None
    total = stands.agreement.total_minor
    assert (found.stage, found.percent, found.total_minor) == (stage, percent, total)
    assert found.settlement.owed_minor == round(total * percent / 100)
    assert found.settlement.paid_minor == stands.agreement.paid_minor
    assert done.history[-1].verb == "call it off"
    assert done.history[-1].reason == "The wedding is put off."


def test_a_studio_that_has_not_said_leaves_it_open_until_somebody_does(session: Session) -> None:
    done = called_off(session, agreed(session))
    assert done.calling_off is not None
    assert done.calling_off.settlement is None
    found = settle_up(
        session, number=done.number, owed_minor=20_000, version=done.version, actor=PROGRAM, now=LATER
    )
    assert found.settlement is not None
    assert (found.settlement.owed_minor, found.percent) == (20_000, None)
    with pytest.raises(VersionStale):
        settle_up(session, number=done.number, owed_minor=1, version=done.version, actor=PROGRAM, now=LATER)


@pytest.mark.parametrize("owed", [-1, 10**9])
def test_no_more_is_owed_than_was_agreed(session: Session, owed: int) -> None:
    done = called_off(session, agreed(session))
    with pytest.raises(Refused) as refused:
        settle_up(
            session, number=done.number, owed_minor=owed, version=done.version, actor=PROGRAM, now=LATER
        )
    assert refused.value.refusals[0].field == "owed"


def test_an_order_that_nobody_agreed_to_owes_nothing(session: Session) -> None:
    put_figures(session)
    stands = a_quote(session)
    done = called_off(session, order(session, stands.order_number))
    assert done.calling_off is None
    with pytest.raises(NothingToSettleUp):
        settle_up(session, number=done.number, owed_minor=1, version=done.version, actor=PROGRAM, now=LATER)


def test_of_a_chosen_variant_its_own_price_counts(session: Session) -> None:
    put_figures(session)
    with_table(session)
    stands = an_order(session)
    silver = a_ring(design=a_design(alloy="silver-925"))
    stands = add_variant(
        session, number=stands.number, version=stands.version, rings=[silver], actor=PROGRAM, now=NOW
    )
    found = a_quote(session, stands)
    done = agree(session, quote=found.number, name="Jorun Müller", variant="b", actor=PROGRAM, now=NOW)
    off = called_off(session, done).calling_off
    assert off is not None
    assert off.total_minor == found.variants[1].total_minor


def test_a_cut_blank_lies_in_the_drawer_again_as_a_piece_of_its_own_size(session: Session) -> None:
    with_table(session)
    stands = agreed(session, rings=(a_ring(design=SILVER),), bench_on=TODAY)
    cut(session, stands)
    before = {piece.id for piece in pieces(session)}
    done = called_off(session, stands)
    found = done.calling_off
    assert found is not None
    assert (found.stage, found.metal[0].to) == (Stage.CUT, MetalTo.DRAWER)
    (piece,) = [piece for piece in pieces(session) if piece.id not in before]
    ring = stands.rings[0]
    assert piece.measures.width_mm == ring.design.width_mm
    assert piece.measures.length_mm == pytest.approx(ring.reckoning.mark_mm, abs=0.0006)
    assert round(piece.mass_g * 1000) == found.metal[0].mass_mg
    assert found.metal[0].mass_mg == pytest.approx(ring.reckoning.blank_g * 1000, rel=0.03)
    assert not done.rings[0].is_cut


def test_a_cut_that_is_undone_takes_the_blank_out_of_the_drawer_too(session: Session) -> None:
    stands = agreed(session, rings=(a_ring(design=SILVER),), bench_on=TODAY)
    sheet, cut_id = cut(session, stands)
    called_off(session, stands)
    undo_cut(session, cut_id=cut_id, actor=PROGRAM, now=LATER)
    assert [piece.id for piece in pieces(session)] == [sheet.id]


@pytest.mark.parametrize("to", list(MetalTo))
def test_somebody_says_where_the_metal_goes(session: Session, to: MetalTo) -> None:
    stands = agreed(session, rings=(a_ring(design=SILVER),), bench_on=TODAY)
    cut(session, stands)
    count = len(pieces(session))
    stands = one_step(session, order(session, stands.number), State.AT_THE_BENCH, now=NOW)
    found = called_off(session, stands, metal={1: to}).calling_off
    assert found is not None
    assert found.metal[0].to is to
    assert len(pieces(session)) == count + (to is MetalTo.DRAWER)
    assert (found.metal[0].piece is None) is (to is MetalTo.SCRAP)


def test_metal_that_was_set_aside_is_free_again(session: Session) -> None:
    stands = agreed(session)
    piece = put_piece(session, piece=SHEET, actor=PROGRAM, now=NOW)
    set_aside(session, piece_id=piece.id, order=stands.number, version=piece.version, actor=PROGRAM, now=NOW)
    called_off(session, stands)
    (after,) = pieces(session)
    assert after.order is None


def test_an_amendment_that_waits_no_longer_does(session: Session) -> None:
    stands = agreed(session)
    asked = issued(session, stands, changing(stands, **NARROWER))
    done = called_off(session, stands)
    assert quote(session, asked.number).state is QuoteState.SUPERSEDED
    assert (done.open_amendment, done.amending) == (None, None)
    with pytest.raises(QuoteSuperseded):
        agree(session, quote=asked.number, name="Jorun Müller", actor=PROGRAM, now=LATER)


def test_the_week_needs_no_metal_for_it(session: Session) -> None:
    stands = agreed(session, bench_on=TODAY)
    called_off(session, stands)
    assert week_need(session, monday=monday_of(TODAY)).need == ()


def test_taken_up_again_it_is_a_draft_and_the_settlement_holds_no_more(session: Session) -> None:
    with_table(session)
    done = called_off(session, agreed(session))
    again = move_order(
        session, number=done.number, to=State.DRAFT, version=done.version, actor=PROGRAM, now=LATER
    )
    assert (again.state, again.calling_off, again.agreement) == (State.DRAFT, None, None)
    second = a_yes(session, a_quote(session, again, now=LATER), now=LATER)
    off = called_off(session, second)
    assert off.calling_off is not None


def test_calling_off_wants_a_reason(session: Session) -> None:
    stands = agreed(session)
    with pytest.raises(MoveRefused):
        move_order(
            session,
            number=stands.number,
            to=State.CALLED_OFF,
            version=stands.version,
            actor=PROGRAM,
            now=LATER,
        )


@pytest.mark.parametrize("at_the_bench", [False, True])
def test_an_amended_ring_that_needs_another_blank_gives_the_cut_one_back(
    session: Session, *, at_the_bench: bool
) -> None:
    stands = agreed(session, rings=(a_ring(design=SILVER),), bench_on=TODAY)
    cut(session, stands)
    stands = order(session, stands.number)
    if at_the_bench:
        stands = one_step(session, stands, State.AT_THE_BENCH, now=NOW)
    count = len(pieces(session))
    asked = issued(session, stands, changing(stands, **NARROWER))
    done = agree(session, quote=asked.number, name="Jorun Müller", actor=PROGRAM, now=LATER)
    assert not done.rings[0].is_cut
    assert len(pieces(session)) == count + (not at_the_bench)
    (back,) = done.history[-1].new["metal"]
    assert back["to"] == (MetalTo.SCRAP if at_the_bench else MetalTo.DRAWER)


def test_an_amendment_that_leaves_the_blank_as_it_is_leaves_it_cut(session: Session) -> None:
    stands = agreed(session, rings=(a_ring(design=SILVER),), bench_on=TODAY)
    cut(session, stands)
    stands = order(session, stands.number)
    worded = replace(changing(stands), words="Collected by their sister.")
    asked = issued(session, stands, worded)
    done = agree(session, quote=asked.number, name="Jorun Müller", actor=PROGRAM, now=LATER)
    assert done.rings[0].is_cut
