"""The metal ledger as values: its rows, its balances, the head of its chain, and what is amiss in it."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Select, func
from sqlalchemy import select as pick
from sqlalchemy.orm import aliased
from sqlmodel import Session, col, select

from studio.book.chaining import HeadRow, head_row, unfit_row
from studio.book.customer_tables import CustomerRow
from studio.book.ledger import piece_balances
from studio.book.ledger_tables import LedgerRow, RefinerLotRow, RefinerSettlementRow
from studio.book.piece_reads import mark_of
from studio.book.piece_tables import PieceRow
from studio.craft.ledger import Account, LotKind, MetalMove, Movement, Pot
from studio.craft.metals import Metal
from studio.craft.refining import RefinerLot, Settled

_FROM, _TO, _LATER = aliased(PieceRow), aliased(PieceRow), aliased(LedgerRow)


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One row as it is read: `moved` is what went where, marks are those of the pieces it left and became.

    `corrects` is the number of the row it takes back, `corrected_by` that of the row that took it back.
    """

    number: int
    on: date
    moved: Movement
    owner: str
    from_mark: str
    to_mark: str
    lot_id: int | None
    corrects: int | None
    corrected_by: int | None
    note: str
    actor: str
    hash: str


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot of the refiner's with what it should bring, and beside it what it brought, once that is known."""

    id: int
    refiner: str
    sent_on: date
    kind: LotKind
    alloy: str
    lot: RefinerLot
    settled_on: date | None
    settled: Settled | None
    currency: str
    note: str


def ledger_lines(
    session: Session, *, first: date | None = None, last: date | None = None, piece_id: int | None = None
) -> tuple[LedgerLine, ...]:
    """The rows from day to day, or those that tell the way of a piece, the oldest first."""
    wanted: Select[*tuple[Any, ...]] = (
        pick(LedgerRow, col(CustomerRow.name), _FROM, _TO, col(_LATER.id))
        .outerjoin(CustomerRow, col(CustomerRow.id) == col(LedgerRow.owner_id))
        .outerjoin(_FROM, col(_FROM.id) == col(LedgerRow.from_piece_id))
        .outerjoin(_TO, col(_TO.id) == col(LedgerRow.to_piece_id))
        .outerjoin(_LATER, col(_LATER.corrects_id) == col(LedgerRow.id))
        .order_by(col(LedgerRow.id))
    )
    if first is not None and last is not None:
        wanted = wanted.where(col(LedgerRow.on_day) >= first, col(LedgerRow.on_day) <= last)
    if piece_id is not None:
        wanted = wanted.where(
            (col(LedgerRow.from_piece_id) == piece_id) | (col(LedgerRow.to_piece_id) == piece_id)
        )
    return tuple(_line(*row) for row in session.execute(wanted).all())


def ledger_balances(session: Session, *, until: date | None = None) -> dict[Pot, int]:
    """What every account holds at the end of a day, or now, in mg; accounts outside are below 0."""
    found: dict[Pot, int] = defaultdict(int)
    for column, sign in ((LedgerRow.target, 1), (LedgerRow.source, -1)):
        pot = col(column), col(LedgerRow.alloy), col(LedgerRow.owner_id)
        sums = pick(*pot, func.sum(col(LedgerRow.mass_mg)))
        if until is not None:
            sums = sums.where(col(LedgerRow.on_day) <= until)
        for account, alloy, owner_id, mass in session.connection().execute(sums.group_by(*pot)):
            found[Pot(Account(account), alloy, owner_id or 0)] += sign * int(mass)
    return {pot: mass for pot, mass in sorted(found.items()) if mass}


def ledger_head(session: Session, *, until: date | None = None) -> tuple[int, str] | None:
    """The number and hash of the last row, or of the last of a day or before it; None before there is one."""
    head = ledger_head_row(session, until=until)
    return None if head is None else (head.number, head.hash)


def ledger_head_row(session: Session, *, until: date | None = None) -> HeadRow | None:
    """The head with the moment it was written at; `until` is the day at whose end it is asked for."""
    return head_row(session, LedgerRow, until=until)


def ledger_amiss(session: Session) -> list[str]:
    """What is wrong with the ledger, in sentences: the first row that breaks its chain, pieces it misses."""
    unfit = unfit_row(session, LedgerRow)
    found = [] if unfit is None else [f"row {unfit} of the metal ledger is not as it was written"]
    if ledger_head(session) is None:
        return found
    for piece in session.exec(select(PieceRow).order_by(col(PieceRow.id))):
        lies = {} if piece.gone else {(piece.alloy, piece.owner_id): piece.mass_mg}
        if piece_balances(session, piece.id) != lies:
            mark = mark_of(piece.id, Metal(piece.metal))
            found.append(f"{mark} lies in the drawer otherwise than the metal ledger says")
    return found


def lots(session: Session, *, lot_id: int | None = None) -> tuple[Lot, ...]:
    """The lots sent to refiners, the latest first; or the one of `lot_id`."""
    wanted = (
        select(RefinerLotRow, RefinerSettlementRow)
        .outerjoin(RefinerSettlementRow, col(RefinerSettlementRow.lot_id) == col(RefinerLotRow.id))
        .order_by(col(RefinerLotRow.id).desc())
    )
    if lot_id is not None:
        wanted = wanted.where(col(RefinerLotRow.id) == lot_id)
    return tuple(_lot(row, settled) for row, settled in session.exec(wanted).all())


def _lot(row: RefinerLotRow, said: RefinerSettlementRow | None) -> Lot:
    lot = RefinerLot(row.mass_mg, row.fineness, row.credited_bp)
    settled = None
    if said is not None:
        settled = Settled(lot, said.assay_fineness, said.paid_fine_mg, said.charges_minor, said.paid_minor)
    return Lot(
        row.id,
        row.refiner,
        row.sent_on,
        LotKind(row.kind),
        row.alloy,
        lot,
        None if said is None else said.settled_on,
        settled,
        "" if said is None else said.currency,
        "" if said is None else said.note,
    )


def _line(
    row: LedgerRow, owner: str | None, left: PieceRow | None, became: PieceRow | None, later: int | None
) -> LedgerLine:
    moved = Movement(
        MetalMove(row.what),
        Account(row.source),
        Account(row.target),
        row.alloy,
        row.mass_mg,
        row.owner_id,
        row.ring,
        row.operation,
    )
    return LedgerLine(
        row.id, row.on_day, moved, owner or "", _mark(left), _mark(became), row.lot_id, row.corrects_id,
        later, row.note, row.actor, row.hash,
    )  # fmt: skip


def _mark(piece: PieceRow | None) -> str:
    return "" if piece is None else mark_of(piece.id, Metal(piece.metal))
