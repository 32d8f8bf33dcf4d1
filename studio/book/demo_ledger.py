"""Metal that went its ways in the demo: a ring's over the bench, scrap to the refiner, one lot paid."""

from datetime import datetime, timedelta

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.ledger_entries import ByHand, Counted, enter_by_hand, take_stock
from studio.book.orders import order, orders_page
from studio.book.pieces import PieceDraft, put_piece, take_out
from studio.book.refiners import LotDraft, Outcome, send_lot, settle_lot
from studio.craft.designs import Profile
from studio.craft.drawer import Measures, PieceKind
from studio.craft.ledger import Account, LotKind, MetalMove
from studio.craft.orders import State

_REFINER = "Crucible and Sons"
_OLD = Measures(PieceKind.WIRE, "silver-925", 1200, 2.4, 2.4, Profile.ROUND)


def metal_in_demo(session: Session, *, owner: Actor, maker: Actor, now: datetime) -> None:
    """Let a ring that is ready have had its metal, and a lot of scrap be refined; another waits."""

    def back(days: int) -> datetime:
        return now - timedelta(days=days)

    number = orders_page(session, state=State.READY, limit=1, now=now).items[0].number
    ring, name = order(session, number).rings[0], f"{number}/1"
    alloy, issued_mg = ring.design.alloy, round(ring.reckoning.issue_g * 1000)
    length_mm, design = round(ring.reckoning.mark_mm + 4), ring.design
    measures = Measures(PieceKind.STRIP, alloy, length_mm, design.width_mm, design.thickness_mm)
    strip = PieceDraft(measures, mass_g=issued_mg / 1000, lot="W-12", is_sure=True)
    made = put_piece(session, piece=strip, actor=owner, now=back(12))
    take_out(
        session,
        piece_id=made.id,
        why="cut to length",
        to=Account.BENCH,
        ring=name,
        version=made.version,
        actor=maker,
        now=back(11),
    )
    for days, what, share, work in (
        (11, MetalMove.RETURNED, 25, ""),
        (9, MetalMove.LEMEL, 60, "file"),
        (8, MetalMove.LOSS, 400, "polish"),
    ):
        asked = ByHand(what, alloy, max(1, issued_mg // share), ring=name, operation=work)
        enter_by_hand(session, asked=asked, actor=maker, now=back(days))
    old = put_piece(session, piece=PieceDraft(_OLD, place="scrap tin"), actor=owner, now=back(7))
    take_out(
        session,
        piece_id=old.id,
        why="kinked, not to be drawn again",
        to=Account.SCRAP,
        version=old.version,
        actor=owner,
        now=back(7),
    )
    draft = LotDraft(_REFINER, LotKind.SCRAP, "silver-925", 40_000, 97_00)
    sent = send_lot(session, lot=draft, actor=owner, now=back(6))
    outcome = Outcome(921, 35_520, 450, 26_10, note="assay by fire")
    settle_lot(session, lot_id=sent.id, outcome=outcome, actor=owner, now=back(2))
    waiting = LotDraft(_REFINER, LotKind.SCRAP, "silver-925", 12_000, 97_00)
    send_lot(session, lot=waiting, actor=owner, now=back(1))
    count = Counted(
        4_100, account=Account.SCRAP, alloy="silver-925", reason="the tin held less than was written down"
    )
    take_stock(session, counted=[count], actor=owner, now=now)
