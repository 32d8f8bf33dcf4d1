"""What is written into the metal ledger by hand: lemel, loss, returns, corrections, and the stock-take."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.ledger import Hand, correct, enter, fit_piece, open_ledger, ring_balances
from studio.book.ledger_errors import MovementKept, MovementUnknown
from studio.book.ledger_reads import ledger_balances
from studio.book.ledger_tables import LedgerRow
from studio.book.piece_errors import PieceGone, PieceUnknown
from studio.book.piece_reads import locked, mark_of
from studio.book.piece_tables import PieceRow
from studio.book.ring_names import checked_ring
from studio.book.row_ids import row_by_id
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.ledger import BY_HAND, INSIDE, OPERATIONS, Account, MetalMove, Pot
from studio.craft.metals import Metal
from studio.craft.units import from_milligrams

LONGEST_NOTE = 200
_BY_THEIR_OWN = frozenset({MetalMove.IN_A_RING, MetalMove.FILINGS, MetalMove.GAINED})


@dataclass(frozen=True, slots=True)
class ByHand:
    """A movement as it is written down; `ring` and `operation` say for what and in which work."""

    what: MetalMove
    alloy: str
    mass_mg: int
    ring: str = ""
    operation: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Counted:
    """What was weighed at a stock-take: a piece, or the studio's own of one alloy in a box; with the reason.

    A piece of 0 mg was not found. `field` is what comes before '.reason' in the name of what is refused.
    """

    mass_mg: int
    piece_id: int | None = None
    account: Account = Account.DRAWER
    alloy: str = ""
    reason: str = ""
    field: str = "counted"


def enter_by_hand(session: Session, *, asked: ByHand, actor: Actor, now: datetime) -> int:
    """Write a movement down; gives its number.

    Metal of a ring is the customer's where more of it is theirs. Raises `Refused`: 'what', 'alloy', 'ring',
    'operation', 'note', and 'mass' for more than is there.
    """
    with transaction(session):
        hand = Hand(actor, now)
        open_ledger(session, hand)
        found: list[Refusal] = []
        if asked.what not in BY_HAND:
            raise Refused(Refusal("what", Why.UNKNOWN_CHOICE, asked.what))
        source, target = BY_HAND[asked.what]
        if asked.operation and asked.operation not in OPERATIONS:
            found.append(Refusal("operation", Why.UNKNOWN_CHOICE, asked.operation[:24]))
        if len(asked.note) > LONGEST_NOTE:
            found.append(Refusal("note", Why.TOO_LONG, high=LONGEST_NOTE, unit="characters"))
        if found:
            raise Refused(*found)
        ring = checked_ring(session, asked.ring, "ring")
        owner, there = _there(session, source, asked.alloy, ring)
        if source in INSIDE and not 0 < asked.mass_mg <= there:
            _refuse_mass(asked.mass_mg, there, "mass")
        row = enter(
            session,
            hand,
            asked.what,
            source,
            target,
            alloy=asked.alloy,
            mass_mg=asked.mass_mg,
            owner_id=owner,
            ring=ring,
            operation=asked.operation,
            note=asked.note,
        )
        told = {"movement": row.id, "what": asked.what, "alloy": asked.alloy, "mass_mg": asked.mass_mg}
        note(session, actor=actor, now=now, verb="enter metal", new=told)
        return row.id


def correct_movement(session: Session, *, number: int, why: str, actor: Actor, now: datetime) -> int:
    """Take a movement back by one the other way, which names it; gives its number.

    Raises `MovementUnknown`, `MovementKept` for one that was taken back, or that another page puts right, and
    `Refused` naming `why`.
    """
    with transaction(session):
        why = " ".join(why.split())
        if not why or len(why) > LONGEST_NOTE:
            raise Refused(
                Refusal("why", Why.TOO_LONG if why else Why.EMPTY, high=LONGEST_NOTE, unit="characters")
            )
        row = row_by_id(session, LedgerRow, number)
        if row is None:
            raise MovementUnknown(number)
        if session.exec(select(LedgerRow).where(col(LedgerRow.corrects_id) == number)).first():
            raise MovementKept(number, "it is corrected already")
        kept = kept_because(MetalMove(row.what), has_piece=bool(row.from_piece_id or row.to_piece_id))
        if kept:
            raise MovementKept(number, kept)
        made = correct(session, Hand(actor, now), row, why)
        note(session, actor=actor, now=now, verb="correct metal", new={"movement": number}, reason=why)
        return made.id


def kept_because(what: MetalMove, *, has_piece: bool) -> str:
    """Why a movement is not corrected by hand, '' for one that is."""
    if what is MetalMove.CORRECTION:
        return "it is a correction itself"
    if has_piece:
        return "its piece is put right in the drawer"
    if what in _BY_THEIR_OWN:
        return "it goes with the hand-over of its order"
    if what is MetalMove.OLD_GOLD:
        return "it goes with the register of old gold"
    if what in {MetalMove.TO_REFINER, MetalMove.FROM_REFINER}:
        return "it goes with the lot of the refiner"
    return ""


def take_stock(session: Session, *, counted: Sequence[Counted], actor: Actor, now: datetime) -> int:
    """Write down what was weighed where it differs from the book; gives how many differences there were.

    Every difference needs its reason. Raises `PieceUnknown`, `PieceGone`, and `Refused` naming the field of
    what is wrong.
    """
    with transaction(session):
        hand = Hand(actor, now)
        open_ledger(session, hand)
        told = [one for one in (_counted(session, hand, each) for each in counted) if one]
        if told:
            note(session, actor=actor, now=now, verb="take stock", new={"differences": told})
        return len(told)


def _counted(session: Session, hand: Hand, one: Counted) -> dict[str, Any] | None:
    reason = " ".join(one.reason.split())
    if one.piece_id is not None:
        piece = locked(session, PieceRow, one.piece_id)
        if piece is None:
            raise PieceUnknown(one.piece_id)
        if piece.gone:
            raise PieceGone(piece.id, piece.gone)
        stands = piece.mass_mg
    else:
        stands = ledger_balances(session).get(Pot(one.account, one.alloy), 0)
    if one.mass_mg == stands:
        return None
    if not reason or len(reason) > LONGEST_NOTE:
        why = Why.TOO_LONG if reason else Why.EMPTY
        raise Refused(Refusal(f"{one.field}.reason", why, high=LONGEST_NOTE, unit="characters"))
    if one.piece_id is None or piece is None:
        more = one.mass_mg - stands
        ways = (Account.DIFFERENCE, one.account) if more > 0 else (one.account, Account.DIFFERENCE)
        enter(session, hand, MetalMove.COUNTED, *ways, alloy=one.alloy, mass_mg=abs(more), note=reason)
        return {"what": one.account, "alloy": one.alloy, "was_mg": stands, "is_mg": one.mass_mg}
    if one.mass_mg:
        piece.mass_mg, piece.is_weighed = one.mass_mg, True
    else:
        piece.gone = f"not found: {reason}"
    piece.version += 1
    piece.changed_at, piece.user_id = hand.now, hand.actor.id
    session.add(piece)
    session.flush()
    fit_piece(session, hand, piece, MetalMove.COUNTED, Account.DIFFERENCE, note=reason)
    mark = mark_of(piece.id, Metal(piece.metal))
    return {"what": mark, "alloy": piece.alloy, "was_mg": stands, "is_mg": one.mass_mg}


def _there(session: Session, source: Account, alloy: str, ring: str) -> tuple[int | None, int]:
    """Whose metal it is, and how much of it is there."""
    if not ring or source is not Account.BENCH:
        return None, ledger_balances(session).get(Pot(source, alloy), 0)
    stands = {
        owner: mass for (of, owner), mass in ring_balances(session, ring).items() if of == alloy and mass > 0
    }
    return max(stands.items(), key=lambda item: item[1], default=(None, 0))


def _refuse_mass(mass_mg: int, there_mg: int, field: str) -> None:
    why = Why.TOO_LARGE if mass_mg > 0 else Why.NOT_ABOVE_ZERO
    raise Refused(Refusal(field, why, f"{from_milligrams(mass_mg):g}", 0.001, from_milligrams(there_mg), "g"))
