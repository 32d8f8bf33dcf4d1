"""Metal that moves through the book: a sheet put in, a ring of it agreed and cut, what accounts hold."""

from dataclasses import replace

from sqlmodel import Session

from studio.book.cuts import PieceToCut, book_cut
from studio.book.ledger_entries import ByHand, enter_by_hand
from studio.book.ledger_reads import ledger_amiss, ledger_balances
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.piece_reads import pieces
from studio.book.pieces import PieceDraft, put_piece
from studio.craft.designs import Pattern
from studio.craft.drawer import Measures, PieceKind
from studio.craft.ledger import Account, MetalMove, Pot
from studio.craft.orders import State
from studio.craft.units import to_micrometres
from tests.builders import NOW, a_design, a_ring, an_order
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
