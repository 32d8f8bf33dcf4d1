"""A cutting plan booked as cut, and undone: pieces used up, offcuts put into the drawer, blanks to rings."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import VersionStale
from studio.book.ledger import Hand, ledger_cut, ledger_uncut, open_ledger
from studio.book.order_tables import OrderRow, RingRow
from studio.book.piece_errors import CutKept, CutUnknown, NotToCut, PieceGone, PieceUnknown
from studio.book.piece_reads import CUT, UNDONE, locked, mark_of
from studio.book.piece_tables import CutRow, PieceRow
from studio.book.transaction import transaction
from studio.craft.cutting import CutsOverlap, Offcut, Opened, sawn
from studio.craft.cutting import Stock as CutStock
from studio.craft.designs import Stock
from studio.craft.drawer import ALIKE_MM, PieceKind, is_kept
from studio.craft.metals import Metal
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.units import to_micrometres

_ALIKE_UM = to_micrometres(ALIKE_MM)


@dataclass(frozen=True, slots=True)
class PieceToCut:
    """A piece as it is sawn: its strips, each its width and its blanks (ring '2026-118/1', length), in µm.

    `version` is the piece's when the plan was made.
    """

    piece_id: int
    version: int
    strips: tuple[tuple[int, tuple[tuple[str, int], ...]], ...]


@dataclass(frozen=True, slots=True)
class BookedCut:
    """A booking as it stands: what was cut from which piece in words of marks and rings, and its lemel."""

    id: int
    booked_at: datetime
    actor: str
    pieces: tuple[str, ...]
    rings: tuple[str, ...]
    lemel_mg: int
    is_undone: bool


def cuts_booked(session: Session, *, latest: int = 10) -> tuple[BookedCut, ...]:
    """The latest bookings, the newest first, undone ones among them: by their numbers, at most so many."""
    newest = select(func.coalesce(func.max(col(CutRow.id)), 0)).scalar_subquery()
    wanted = select(CutRow).where(col(CutRow.id) > newest - latest).order_by(col(CutRow.id).desc())
    return tuple(_booked(row) for row in session.exec(wanted).all())


def book_cut(
    session: Session, *, cuts: Sequence[PieceToCut], kerf_um: int, actor: Actor, now: datetime
) -> BookedCut:
    """Book pieces as cut, in one transaction: their blanks, their offcuts, the lemel.

    Every piece's mass goes to its blanks and offcuts by their share of its area, the rest is lemel: the saw's
    kerf and what is too small to keep. Nothing of a plan is taken on trust: raises `PieceUnknown`,
    `PieceGone`, `VersionStale` where a piece changed, and `NotToCut` for a ring that is not waiting for its
    blank, blanks that do not go into the piece, other metal or thickness, and metal kept for others.
    """
    if not cuts:
        raise NotToCut("", "nothing is cut")
    with transaction(session):
        open_ledger(session, Hand(actor, now))
        row = CutRow(booked_at=now, actor=actor.name, user_id=actor.id, kerf_um=kerf_um, lemel_mg=0, told={})
        session.add(row)
        session.flush()
        told = [_cut(session, row, one, now=now, actor=actor) for one in cuts]
        rings = [blank["ring"] for one in told for blank in one["blanks"]]
        if len(set(rings)) < len(rings):
            raise NotToCut(next(ring for ring in rings if rings.count(ring) > 1), "it would be cut twice")
        row.told, row.lemel_mg = {"pieces": told}, sum(one["lemel_mg"] for one in told)
        session.add(row)
        session.flush()
        note(session, actor=actor, now=now, verb="book a cut", new={"cut": row.id, **row.told})
        return _booked(row)


def undo_cut(session: Session, *, cut_id: int, actor: Actor, now: datetime) -> BookedCut:
    """Take a booking back: its pieces lie in the drawer again, its offcuts do not, its rings wait for blanks.

    Raises `CutUnknown` and `CutKept` where it is undone already, an offcut of it was touched since, or a ring
    of it is handed over.
    """
    with transaction(session):
        row = locked(session, CutRow, cut_id)
        if row is None:
            raise CutUnknown(cut_id)
        if row.undone_at is not None:
            raise CutKept(cut_id, "it is undone already")
        open_ledger(session, Hand(actor, now))
        _check_rings_are_here(session, cut_id)
        offcuts = session.exec(select(PieceRow).where(col(PieceRow.cut_id) == cut_id)).all()
        for offcut in offcuts:
            if offcut.gone or offcut.version != 1:
                raise CutKept(cut_id, f"{_mark(offcut)} has been used or changed since")
            offcut.gone, offcut.version, offcut.changed_at = UNDONE, 2, now
            session.add(offcut)
        sawn_up = session.exec(select(PieceRow).where(col(PieceRow.used_in_id) == cut_id)).all()
        for piece in sawn_up:
            piece.gone, piece.used_in_id, piece.changed_at = "", None, now
            piece.version += 1
            session.add(piece)
        for ring in session.exec(select(RingRow).where(col(RingRow.cut_id) == cut_id)).all():
            ring.cut_id = None
            session.add(ring)
        row.undone_at, row.undone_by = now, actor.name
        session.add(row)
        session.flush()
        ledger_uncut(session, Hand(actor, now), cut_id, [*offcuts, *sawn_up])
        note(session, actor=actor, now=now, verb="undo a cut", new={"cut": row.id})
        return _booked(row)


def _check_rings_are_here(session: Session, cut_id: int) -> None:
    """Raises `CutKept` where a ring of the cut was handed over: its metal is not here to be put back."""
    gone = session.exec(
        select(OrderRow.number, RingRow.position)
        .join(RingRow, col(RingRow.order_id) == col(OrderRow.id))
        .where(col(RingRow.cut_id) == cut_id, col(OrderRow.state) == State.HANDED_OVER)
    ).first()
    if gone is not None:
        raise CutKept(cut_id, f"ring {gone[0]}/{gone[1]} is handed over")


def _cut(session: Session, row: CutRow, asked: PieceToCut, *, now: datetime, actor: Actor) -> dict[str, Any]:
    """Cut one piece: give it up, put its offcuts into the drawer, and its blanks to their rings."""
    piece = locked(session, PieceRow, asked.piece_id)
    if piece is None:
        raise PieceUnknown(asked.piece_id)
    if piece.gone:
        raise PieceGone(piece.id, piece.gone)
    if piece.version != asked.version:
        raise VersionStale(f"piece {piece.id}", asked.version, piece.version)
    opened = _opened(piece, asked, row.kerf_um)
    area = opened.area_um2
    masses = [
        (name, round(piece.mass_mg * length * width / area))
        for width, lying in asked.strips
        for name, length in lying
    ]
    for width, lying in asked.strips:
        for name, length in lying:
            _give(session, row, piece, name, sides_um=(width, length))
    offcuts: list[dict[str, int]] = []
    for rest in opened.offcuts:
        if is_kept(PieceKind(piece.kind), rest.length_um, rest.width_um):
            mass = round(piece.mass_mg * rest.area_um2 / area)
            made = _offcut(piece, rest, mass, now)
            made.cut_id, made.user_id = row.id, actor.id
            session.add(made)
            session.flush()
            offcuts.append({"piece": made.id, "mass_mg": mass})
    piece.gone, piece.used_in_id, piece.changed_at = CUT, row.id, now
    piece.version += 1
    session.add(piece)
    given = sum(mass for _, mass in masses) + sum(one["mass_mg"] for one in offcuts)
    told = {
        "piece": piece.id,
        "mark": _mark(piece),
        "mass_mg": piece.mass_mg,
        "blanks": [{"ring": name, "mass_mg": mass} for name, mass in masses],
        "offcuts": offcuts,
        "lemel_mg": piece.mass_mg - given,
    }
    ledger_cut(session, Hand(actor, now), piece, told, row.id)
    return told


def _opened(piece: PieceRow, asked: PieceToCut, kerf_um: int) -> Opened:
    stock = CutStock(_mark(piece), piece.length_um, piece.width_um, is_offcut=piece.is_offcut)
    try:
        return sawn(stock, asked.strips, kerf_um)
    except CutsOverlap:
        raise NotToCut(_mark(piece), "the blanks do not go into it") from None


def _give(session: Session, row: CutRow, piece: PieceRow, name: str, *, sides_um: tuple[int, int]) -> None:
    """Give a blank to its ring. Raises `NotToCut` where the ring does not wait for this one."""
    width_um, length_um = sides_um
    number, _, position = name.partition("/")
    found = session.exec(
        select(RingRow, OrderRow)
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .where(col(OrderRow.number) == number, col(RingRow.position) == _place(position))
        .with_for_update()
    ).one_or_none()
    if found is None:
        raise NotToCut(name, "there is no such ring")
    ring, order = found
    if State(order.state) not in COUNTED_FOR_THE_WEEK:
        raise NotToCut(name, f"its order is {order.state}")
    if ring.cut_id is not None:
        raise NotToCut(name, "its blank is cut already")
    is_wire = Stock(ring.stock) is Stock.WIRE
    measures = [(ring.thickness_um, piece.thickness_um)]
    if is_wire:
        measures.append((ring.width_um, piece.width_um))
    is_alike = all(abs(one - other) <= _ALIKE_UM for one, other in measures)
    is_kind = (piece.kind == PieceKind.WIRE) == is_wire and (not is_wire or piece.profile == ring.profile)
    if piece.alloy != ring.alloy or not is_alike or not is_kind:
        raise NotToCut(name, f"{_mark(piece)} is not its stock")
    if ring.mark_um != length_um or (not is_wire and ring.width_um != width_um):
        raise NotToCut(name, "its blank has other measures by now")
    if is_wire and width_um != piece.width_um:
        raise NotToCut(name, f"{_mark(piece)} is not its stock")
    if piece.order_id not in {None, order.id} or piece.owner_id not in {None, order.customer_id}:
        raise NotToCut(name, f"{_mark(piece)} is kept for another")
    ring.cut_id = row.id
    session.add(ring)


def _place(position: str) -> int:
    return int(position) if position.isascii() and position.isdigit() and len(position) < 4 else 0


def _offcut(piece: PieceRow, rest: Offcut, mass_mg: int, now: datetime) -> PieceRow:
    """What is left of a piece, as a piece of its own: the same metal, owner, lot and place."""
    is_flat = piece.kind != PieceKind.WIRE
    return PieceRow(
        kind=PieceKind.STRIP if is_flat else PieceKind.WIRE,
        alloy=piece.alloy,
        metal=piece.metal,
        profile=piece.profile,
        length_um=rest.length_um,
        width_um=rest.width_um,
        thickness_um=piece.thickness_um,
        mass_mg=mass_mg,
        lot=piece.lot,
        place=piece.place,
        owner_id=piece.owner_id,
        order_id=piece.order_id if piece.owner_id is not None else None,
        is_offcut=True,
        changed_at=now,
    )


def _mark(piece: PieceRow) -> str:
    return mark_of(piece.id, Metal(piece.metal))


def _booked(row: CutRow) -> BookedCut:
    told = row.told["pieces"]
    return BookedCut(
        id=row.id,
        booked_at=row.booked_at,
        actor=row.actor,
        pieces=tuple(one["mark"] for one in told),
        rings=tuple(blank["ring"] for one in told for blank in one["blanks"]),
        lemel_mg=row.lemel_mg,
        is_undone=row.undone_at is not None,
    )
