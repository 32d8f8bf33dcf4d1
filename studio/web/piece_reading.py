"""Reading a piece of stock as it was typed."""

from collections.abc import Mapping

from studio.book.piece_reads import Piece
from studio.book.pieces import LONGEST_LOT, LONGEST_PLACE, PieceDraft
from studio.craft.designs import Profile
from studio.craft.drawer import LENGTH_MM, MASS_G, THICKNESS_MM, WIDTH_MM, Measures, PieceKind
from studio.craft.practice import Practice
from studio.web.amounts import read_amount
from studio.web.reading import Reading, sure
from studio.web.texts import read_text

WORDS = {
    "kind": "Kind",
    "alloy": "Metal",
    "profile": "Section of a wire",
    "length": "Length",
    "width": "Width",
    "thickness": "Thickness",
    "mass": "Weight",
    "is_sure": "The weight is right",
    "lot": "Lot",
    "paid": "Paid",
    "place": "Place",
    "order": "Set aside for order",
    "aside": "Set aside for order",
    "is_customers": "The customer's own metal",
    "is_offcut": "An offcut",
    "from_ring": "Back from the bench of ring",
    "why": "Why it is taken out",
    "to": "Where it went",
    "ring": "For ring",
}
"""The form's fields and their words."""


def read_piece(
    raw: Mapping[str, object], practice: Practice, currency: str, known: Piece | None, *, sees_paid: bool
) -> PieceDraft:
    """The piece as typed; raises `FieldErrors` with all that is to be put right.

    Who does not see what was paid keeps what stands in the `known` piece, and does not say it of a new one.
    """
    asked = Reading(raw, "")
    kind = asked.choice("kind", PieceKind)
    alloy = raw.get("alloy")
    if alloy not in practice.alloys:
        asked.add("alloy", "The metal is not chosen yet.")
    profile = asked.choice("profile", Profile)
    if kind is PieceKind.WIRE and profile is None and not asked.is_wrong("profile"):
        asked.add("profile", "The section of the wire is not chosen yet.")
    gauge = practice.reading.gauge
    length = asked.length("length", LENGTH_MM, gauge=None)
    width, thickness = asked.length("width", WIDTH_MM), asked.length("thickness", THICKNESS_MM, gauge=gauge)
    if profile in {Profile.ROUND, Profile.SQUARE} and kind is PieceKind.WIRE:
        width = thickness = width or thickness  # a wire of equal sides has one size
    for name, value in (("length", length), ("width", width), ("thickness", thickness)):
        if value is None and not asked.is_wrong(name):
            asked.add(name, f"The {name} is not given yet.")
    mass = asked.number("mass", MASS_G, "g")
    lot = asked.read("lot", lambda value, field: read_text(value, field, longest=LONGEST_LOT))
    place = asked.read("place", lambda value, field: read_text(value, field, longest=LONGEST_PLACE))
    order = asked.read("order", lambda value, field: read_text(value, field, longest=20))
    paid = None if known is None else known.paid_minor
    if sees_paid:
        paid = asked.read(
            "paid", lambda value, field: None if value is None else read_amount(currency)(value, field)
        )
    flags = {name: bool(asked.yes(name)) for name in ("is_customers", "is_offcut", "is_sure")}
    from_ring = asked.read("from_ring", lambda value, field: read_text(value, field, longest=24))
    asked.stop()
    return PieceDraft(
        measures=Measures(
            sure(kind),
            str(alloy),
            sure(length),
            sure(width),
            sure(thickness),
            profile if kind is PieceKind.WIRE else None,
        ),
        mass_g=mass,
        lot=lot or "",
        paid_minor=paid,
        place=place or "",
        order=order or None,
        from_ring=from_ring or "",
        is_customers=flags["is_customers"],
        is_offcut=flags["is_offcut"],
        is_sure=flags["is_sure"],
    )
