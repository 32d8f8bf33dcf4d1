"""What lies in the demo's drawer: sheet, strip and wire for most of its rings, odds and ends, one short."""

from datetime import date, datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.order_values import Order
from studio.book.orders import order, orders_page
from studio.book.pieces import PieceDraft, put_piece
from studio.book.quote_reads import quote_breakdowns
from studio.book.variants import FIRST
from studio.craft.designs import Profile, Stock
from studio.craft.drawer import Measures, PieceKind
from studio.craft.orders import State

_SHEETS: tuple[tuple[str, float, float, float, bool], ...] = (
    ("gold-750-yellow", 132, 11, 1.6, True),
    ("silver-925", 198, 24, 1.5, False),
    ("silver-925", 150, 30, 1.5, False),
    ("silver-925", 75.3, 5, 1.5, True),
    ("silver-925", 160, 40, 2.0, False),
    ("silver-925", 120, 20, 0.9, False),
    ("silver-958", 140, 22, 1.2, False),
    ("gold-585-rose", 100, 12, 1.6, False),
    ("gold-375-yellow", 130, 10, 1.5, False),
    ("gold-750-rose", 120, 9, 1.6, False),
    ("gold-750-white-pd", 90, 6, 2.0, True),
    ("palladium-950-ru", 130, 9, 1.5, False),
    ("platinum-950-ru", 48, 8, 1.6, True),
    ("platinum-950-ru", 140, 14, 1.8, False),
    ("gold-585-yellow", 135, 11, 1.8, False),
    ("copper", 300, 60, 1.4, False),
)
"""Alloy, length, width, thickness in mm, and whether it is an offcut."""
_WIRES: tuple[tuple[str, Profile, float, float, float], ...] = (
    ("silver-925", Profile.HALF_ROUND, 420, 4, 1.7),
    ("gold-750-yellow", Profile.HALF_ROUND, 190, 3, 1.5),
    ("silver-935", Profile.ROUND, 500, 2, 2),
    ("gold-375-yellow", Profile.SQUARE, 260, 2, 2),
)
_PLACES = ("top drawer", "second drawer", "safe")


def pieces_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Put the pieces into the drawer. They are weighed by their measures."""
    for number, (alloy, length, width, thickness, is_offcut) in enumerate(_SHEETS):
        kind = PieceKind.STRIP if width <= 12 else PieceKind.SHEET
        measures = Measures(kind, alloy, length, width, thickness)
        _put(session, measures, number, is_offcut=is_offcut, actor=actor, now=now)
    for number, (alloy, profile, length, width, thickness) in enumerate(_WIRES, len(_SHEETS)):
        measures = Measures(PieceKind.WIRE, alloy, length, width, thickness, profile)
        _put(session, measures, number, is_offcut=False, actor=actor, now=now)


def pieces_aside_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Strip for the two agreed orders that come to the bench last, one bought dearer than it was quoted."""
    lines = orders_page(session, state=State.AGREED, limit=200, now=now).items
    agreed = [order(session, line.number) for line in lines]
    of_strip = [
        found
        for found in agreed
        if found.terms.bench_on is not None and found.rings[0].design.stock is Stock.STRIP
    ]
    of_strip.sort(key=lambda found: (found.terms.bench_on or date.max, found.number), reverse=True)
    for found, percent in zip(of_strip, (94, 105), strict=False):
        ring, quoted = found.rings[0], _metal_minor(session, found)
        length_mm = round(ring.reckoning.mark_mm + 20)
        width_mm, thickness_mm = ring.design.width_mm, ring.design.thickness_mm
        measures = Measures(PieceKind.STRIP, ring.design.alloy, length_mm, width_mm, thickness_mm)
        times = length_mm / ring.reckoning.mark_mm
        paid = None if quoted is None else round(quoted * times * percent / 100)
        piece = PieceDraft(measures, place="safe", order=found.number, paid_minor=paid)
        put_piece(session, piece=piece, actor=actor, now=now)


def _metal_minor(session: Session, found: Order) -> int | None:
    """What the metal of the first ring was reckoned at in the price that was agreed."""
    if found.agreement is None:
        return None
    ways = quote_breakdowns(session, found.agreement.quote_number)
    return ways[found.agreement.variant or FIRST].rings[0].metal_minor


def _put(
    session: Session, measures: Measures, number: int, *, is_offcut: bool, actor: Actor, now: datetime
) -> None:
    place = _PLACES[2 if measures.alloy.startswith(("gold", "platinum", "palladium")) else number % 2]
    lot = "" if is_offcut else f"{now:%y}-{100 + 7 * number}"
    piece = PieceDraft(measures, lot=lot, place=place, is_offcut=is_offcut)
    put_piece(session, piece=piece, actor=actor, now=now)
