"""The metal ledger is fed here, by the verbs that move metal and in their transactions.

A piece of the drawer is never written down by hand: what the ledger says of it is brought to what lies there
(`fit_piece`), so that nothing is counted twice, whatever became of the piece.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.chaining import add_chained
from studio.book.document_reads import documents_of
from studio.book.ledger_tables import LedgerRow
from studio.book.making_tables import AsMadeRow
from studio.book.order_tables import OrderRow, RingRow
from studio.book.piece_tables import CutRow, PieceRow
from studio.book.studio import time_zone
from studio.clock import day_of
from studio.craft.ledger import Account, MetalMove
from studio.craft.orders import AMENDABLE, State


@dataclass(frozen=True, slots=True)
class Hand:
    """Who moves metal, and when."""

    actor: Actor
    now: datetime


def enter(
    session: Session, hand: Hand, what: MetalMove, source: Account, target: Account, **told: Any
) -> LedgerRow:
    """Write one movement, inside a transaction; `told` are the other columns of its row."""
    return add_chained(
        session,
        LedgerRow,
        at=hand.now,
        on_day=day_of(hand.now, time_zone(session)),
        what=what,
        source=source,
        target=target,
        user_id=hand.actor.id,
        actor=hand.actor.name,
        **told,
    )


def open_ledger(session: Session, hand: Hand) -> None:
    """Before the first movement of all: carry in what lies in the drawer and at the bench already."""
    if session.exec(select(LedgerRow.id).limit(1)).first() is not None:
        return
    for piece in session.exec(select(PieceRow).where(col(PieceRow.gone) == "").order_by(col(PieceRow.id))):
        fit_piece(session, hand, piece, MetalMove.CARRIED_IN, Account.BEFORE)
    blanks = session.exec(
        select(RingRow, OrderRow, CutRow)
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .join(CutRow, col(CutRow.id) == col(RingRow.cut_id))
        .where(col(OrderRow.state).in_(sorted(AMENDABLE)))
        .order_by(col(OrderRow.id), col(RingRow.position))
    ).all()
    for ring, order, cut in blanks:
        name = f"{order.number}/{ring.position}"
        for told in cut.told.get("pieces", ()):
            owner = session.get_one(PieceRow, told["piece"]).owner_id
            for blank in told["blanks"]:
                if blank["ring"] == name:
                    enter(session, hand, MetalMove.CARRIED_IN, Account.BEFORE, Account.BENCH,
                          alloy=ring.alloy, mass_mg=blank["mass_mg"], owner_id=owner, ring=name,
                          cut_id=cut.id)  # fmt: skip


def fit_piece(
    session: Session, hand: Hand, piece: PieceRow, what: MetalMove, beyond: Account, **told: Any
) -> None:
    """Bring the ledger to what lies in the drawer of a piece; `beyond` is where metal came from or went.

    Another alloy or another owner is metal that went and metal that came. Nothing is written where it says
    so already.
    """
    wanted = {} if piece.gone else {(piece.alloy, piece.owner_id): piece.mass_mg}
    stands = piece_balances(session, piece.id)
    for key in sorted({*stands, *wanted}, key=str):
        more = wanted.get(key, 0) - stands.get(key, 0)
        of = told | {"alloy": key[0], "owner_id": key[1], "mass_mg": abs(more)}
        if more > 0:
            enter(session, hand, what, beyond, Account.DRAWER, to_piece_id=piece.id, **of)
        elif more < 0:
            enter(session, hand, what, Account.DRAWER, beyond, from_piece_id=piece.id, **of)


def piece_balances(session: Session, piece_id: int) -> dict[tuple[str, int | None], int]:
    """What the ledger says lies in the drawer of a piece, in mg, by alloy and owner."""
    found: dict[tuple[str, int | None], int] = {}
    for column, sign in ((LedgerRow.to_piece_id, 1), (LedgerRow.from_piece_id, -1)):
        sums = (
            pick(col(LedgerRow.alloy), col(LedgerRow.owner_id), func.sum(col(LedgerRow.mass_mg)))
            .where(col(column) == piece_id)
            .group_by(col(LedgerRow.alloy), col(LedgerRow.owner_id))
        )
        for alloy, owner_id, mass in session.connection().execute(sums):
            found[alloy, owner_id] = found.get((alloy, owner_id), 0) + sign * int(mass)
    return {key: mass for key, mass in found.items() if mass}


def ledger_cut(session: Session, hand: Hand, piece: PieceRow, told: dict[str, Any], cut_id: int) -> None:
    """A piece was sawn: its blanks to the bench, its offcuts into the drawer, the rest to the lemel."""
    of: dict[str, Any] = {
        "alloy": piece.alloy, "owner_id": piece.owner_id, "from_piece_id": piece.id, "cut_id": cut_id,
    }  # fmt: skip
    for blank in told["blanks"]:
        if blank["mass_mg"]:
            enter(session, hand, MetalMove.ISSUED, Account.DRAWER, Account.BENCH,
                  mass_mg=blank["mass_mg"], ring=blank["ring"], **of)  # fmt: skip
    for offcut in told["offcuts"]:
        enter(session, hand, MetalMove.OFFCUT, Account.DRAWER, Account.DRAWER,
              mass_mg=offcut["mass_mg"], to_piece_id=offcut["piece"], **of)  # fmt: skip
    lemel = told["lemel_mg"]
    if lemel > 0:
        enter(session, hand, MetalMove.SAWN, Account.DRAWER, Account.LEMEL,
              mass_mg=lemel, operation="saw", **of)  # fmt: skip
    fit_piece(session, hand, piece, MetalMove.SAWN, Account.DIFFERENCE, cut_id=cut_id)


def ledger_uncut(session: Session, hand: Hand, cut_id: int, pieces: Iterable[PieceRow]) -> None:
    """A cut was undone: each of its movements that stands is taken back, and the drawer is as it lies.

    What was cut before the ledger began comes out of what was before it.
    """
    take_back(session, hand, select(LedgerRow).where(col(LedgerRow.cut_id) == cut_id), "cut undone")
    for piece in pieces:
        fit_piece(session, hand, piece, MetalMove.PUT_RIGHT, Account.BEFORE, cut_id=cut_id)


def take_back(session: Session, hand: Hand, wanted: Any, why: str) -> int:
    """Correct every movement among `wanted` that stands: the same the other way round. Gives how many."""
    corrected = select(LedgerRow.corrects_id).where(col(LedgerRow.corrects_id).is_not(None))
    rows = session.exec(
        wanted.where(
            col(LedgerRow.what) != MetalMove.CORRECTION, col(LedgerRow.id).not_in(corrected)
        ).order_by(col(LedgerRow.id))
    ).all()
    for row in rows:
        correct(session, hand, row, why)
    return len(rows)


def correct(session: Session, hand: Hand, row: LedgerRow, why: str) -> LedgerRow:
    """Write the movement that takes another back, and names it."""
    return enter(
        session,
        hand,
        MetalMove.CORRECTION,
        Account(row.target),
        Account(row.source),
        alloy=row.alloy,
        mass_mg=row.mass_mg,
        owner_id=row.owner_id,
        ring=row.ring,
        operation=row.operation,
        from_piece_id=row.to_piece_id,
        to_piece_id=row.from_piece_id,
        cut_id=row.cut_id,
        lot_id=row.lot_id,
        corrects_id=row.id,
        note=why,
    )


def ledger_moved(session: Session, hand: Hand, order: OrderRow, start: State, to: State) -> None:
    """An order moves: a hand-over takes the metal of its rings along, one taken back brings it again.

    Of a hand-over, what its rings were made as and the goods used for them have to be written before.
    """
    if to is State.HANDED_OVER:
        ledger_handed_over(session, hand, order)
    elif start is State.HANDED_OVER:
        ledger_taken_back_in(session, hand, order)


def ledger_handed_over(session: Session, hand: Hand, order: OrderRow) -> None:
    """The rings of an order leave with the customer: what each weighs, and the rest of its metal as filings.

    It weighs what it was made as, less what of the customer's goods went into it, else what was reckoned.
    Metal of several alloys or owners goes by its share. A ring that no metal was issued for moves nothing.
    """
    rings = session.exec(select(RingRow).where(col(RingRow.order_id) == order.id)).all()
    open_ledger(session, hand)
    weights = _ring_weights(session, order, rings)
    for ring in sorted(rings, key=lambda one: one.position):
        name = f"{order.number}/{ring.position}"
        stands = {key: mass for key, mass in ring_balances(session, name).items() if mass > 0}
        whole, ring_mg = sum(stands.values()), weights[ring.position]
        if whole and ring_mg > whole:
            (alloy, owner), _ = max(stands.items(), key=lambda item: item[1])
            enter(session, hand, MetalMove.GAINED, Account.DIFFERENCE, Account.BENCH,
                  alloy=alloy, owner_id=owner, mass_mg=ring_mg - whole, ring=name)  # fmt: skip
            stands[alloy, owner] += ring_mg - whole
            whole = ring_mg
        left = ring_mg
        for place, ((alloy, owner), mass) in enumerate(sorted(stands.items(), key=str), 1):
            part = left if place == len(stands) else min(left, ring_mg * mass // whole)
            part = min(part, mass)
            left -= part
            of: dict[str, Any] = {"alloy": alloy, "owner_id": owner, "ring": name}
            to = Account.SOLD if owner is None else Account.CUSTOMER
            if part:
                enter(session, hand, MetalMove.IN_A_RING, Account.BENCH, to, mass_mg=part, **of)
            if mass > part:
                enter(session, hand, MetalMove.FILINGS, Account.BENCH, Account.LEMEL,
                      mass_mg=mass - part, operation="making", **of)  # fmt: skip


def ledger_taken_back_in(session: Session, hand: Hand, order: OrderRow) -> None:
    """A hand-over is taken back: the rings are at the bench again, by the ledger."""
    wanted = select(LedgerRow).where(
        col(LedgerRow.ring).startswith(f"{order.number}/", autoescape=True),
        col(LedgerRow.what).in_([MetalMove.IN_A_RING, MetalMove.FILINGS, MetalMove.GAINED]),
    )
    take_back(session, hand, wanted, "taken back in")


def ring_balances(session: Session, ring: str) -> dict[tuple[str, int | None], int]:
    """What is at the bench for a ring, in mg, by alloy and owner."""
    found: dict[tuple[str, int | None], int] = {}
    for column, sign in ((LedgerRow.target, 1), (LedgerRow.source, -1)):
        sums = (
            pick(col(LedgerRow.alloy), col(LedgerRow.owner_id), func.sum(col(LedgerRow.mass_mg)))
            .where(col(LedgerRow.ring) == ring, col(column) == Account.BENCH)
            .group_by(col(LedgerRow.alloy), col(LedgerRow.owner_id))
        )
        for alloy, owner_id, mass in session.connection().execute(sums):
            found[alloy, owner_id] = found.get((alloy, owner_id), 0) + sign * int(mass)
    return found


def _ring_weights(session: Session, order: OrderRow, rings: Iterable[RingRow]) -> dict[int, int]:
    """The metal of each ring by its place, in mg, without what of the customer's goods is in it.

    Stones are of their ring; goods that name none are of all by what they weigh.
    """
    made = session.exec(select(AsMadeRow).where(col(AsMadeRow.order_id) == order.id)).all()
    weighed = {one.position: one.finished_mg for one in made if one.finished_mg is not None}
    ends = [end for row in documents_of(session, order.id) for end in row.given_back if end.is_used]
    whole = sum(weighed.values())
    found: dict[int, int] = {}
    for ring in rings:
        mass = weighed.get(ring.position)
        if mass is None:
            found[ring.position] = ring.finished_mg
            continue
        own = sum(end.used_mg or 0 for end in ends if end.good.ring == ring.position)
        shared = sum(end.used_mg or 0 for end in ends if end.good.ring is None)
        found[ring.position] = max(0, mass - own - shared * mass // whole)
    return found
