"""What the demo's suppliers sell, and one purchase on its way."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.purchases import Wanted, order_metal
from studio.book.supplies import put_supply
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.craft.supplies import Supply

_SOLD: tuple[tuple[str, str, PieceKind, int, int, int, int], ...] = (
    ("Rill & Daughter Metals", "platinum-950-ru", PieceKind.STRIP, 1600, 3000, 5, 2),
    ("Rill & Daughter Metals", "platinum-950-ru", PieceKind.STRIP, 1800, 3000, 5, 2),
    ("Rill & Daughter Metals", "gold-750-yellow", PieceKind.STRIP, 1600, 3000, 4, 2),
    ("Rill & Daughter Metals", "gold-585-yellow", PieceKind.STRIP, 1800, 3000, 4, 2),
    ("Ostler Silver", "silver-925", PieceKind.SHEET, 1500, 20_000, 3, 1),
    ("Ostler Silver", "silver-925", PieceKind.SHEET, 2000, 20_000, 3, 1),
)
"""Supplier, alloy, kind, thickness and least width in µm, lead and spare days."""


def supplies_in_demo(session: Session, *, actor: Actor, opened: datetime, now: datetime) -> None:
    """Put in what is sold, a wire among it, and order one sheet."""
    kept = []
    for supplier, alloy, kind, thickness, width, lead, spare in _SOLD:
        sold = Supply(
            supplier=supplier,
            alloy=alloy,
            kind=kind,
            thickness_um=thickness,
            least_width_um=width,
            width_step_um=500 if kind is PieceKind.STRIP else 10_000,
            length_step_um=5000 if kind is PieceKind.STRIP else 10_000,
            least_length_um=50_000,
            most_length_um=500_000,
            lead_days=lead,
            spare_days=spare,
            note="cut to width" if kind is PieceKind.STRIP else "",
        )
        kept.append(put_supply(session, supply=sold, actor=actor, now=opened))
    wire = Supply(
        supplier="Ostler Silver",
        alloy="silver-925",
        kind=PieceKind.WIRE,
        thickness_um=1700,
        least_width_um=4000,
        length_step_um=100_000,
        least_length_um=500_000,
        most_length_um=2_000_000,
        lead_days=3,
        spare_days=1,
        profile=Profile.HALF_ROUND,
    )
    put_supply(session, supply=wire, actor=actor, now=opened)
    sheet = Wanted(kept[-1].id, 100_000, 30_000)
    order_metal(session, supplier="Ostler Silver", wanted=[sheet], actor=actor, now=now)
