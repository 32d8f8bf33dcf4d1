"""Reading what a supplier sells as it was typed."""

from collections.abc import Mapping

from studio.book.supplies import LONGEST_SUPPLIER, LONGEST_SUPPLY_NOTE
from studio.craft.designs import Limits, Profile
from studio.craft.drawer import LENGTH_MM, MASS_G, THICKNESS_MM, WIDTH_MM, PieceKind
from studio.craft.open_days import MOST_DAYS
from studio.craft.practice import Practice
from studio.craft.supplies import STEP_MM, Supply
from studio.craft.units import to_micrometres, to_milligrams
from studio.web.amounts import read_amount, read_count
from studio.web.reading import Reading, sure
from studio.web.texts import read_text

WORDS = {
    "supplier": "Supplier",
    "alloy": "Metal",
    "kind": "Kind",
    "profile": "Section of a wire",
    "thickness": "Thickness",
    "least_width": "Least width",
    "width_step": "Step of the width",
    "least_length": "Least length",
    "length_step": "Step of the length",
    "most_length": "Greatest length",
    "least_mass": "Least weight",
    "least_charge": "Least charge",
    "lead_days": "Lead",
    "spare_days": "Spare",
    "note": "Note",
}
"""The form's fields and their words."""
_STEP = Limits(STEP_MM, LENGTH_MM.high)


def read_supply(
    raw: Mapping[str, object], practice: Practice, currency: str, known: Supply | None, *, sees_cost: bool
) -> Supply:
    """The supply as typed; raises `FieldErrors` with all that is to be put right.

    Who does not see a cost keeps the least charge that stands in the `known` one.
    """
    asked = Reading(raw, "")
    supplier = asked.read("supplier", lambda value, field: read_text(value, field, longest=LONGEST_SUPPLIER))
    if not supplier and not asked.is_wrong("supplier"):
        asked.add("supplier", "The supplier is not given yet.")
    alloy = raw.get("alloy")
    if alloy not in practice.alloys:
        asked.add("alloy", "The metal is not chosen yet.")
    kind, profile = asked.choice("kind", PieceKind), asked.choice("profile", Profile)
    if kind is PieceKind.WIRE and profile is None and not asked.is_wrong("profile"):
        asked.add("profile", "The section of the wire is not chosen yet.")
    limits = {
        "thickness": THICKNESS_MM,
        "least_width": WIDTH_MM,
        "least_length": LENGTH_MM,
        "length_step": _STEP,
        "most_length": LENGTH_MM,
    }
    gauge = practice.reading.gauge
    lengths = {
        name: asked.length(name, its, gauge=gauge if name == "thickness" else None)
        for name, its in limits.items()
    }
    for name, value in lengths.items():
        if value is None and not asked.is_wrong(name):
            asked.add(name, f"The {WORDS[name].lower()} is not given yet.")
    width_step = asked.length("width_step", Limits(STEP_MM, WIDTH_MM.high), gauge=None)
    mass = asked.number("least_mass", MASS_G, "g")
    charge = None if known is None else known.least_charge_minor
    if sees_cost:
        amount = read_amount(currency)
        charge = asked.read(
            "least_charge", lambda value, field: None if value is None else amount(value, field)
        )
    count = read_count(0, MOST_DAYS, "day", "days")
    lead = asked.needed("lead_days", count, "lead")
    spare = asked.needed("spare_days", count, "spare")
    note = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_SUPPLY_NOTE))
    asked.stop()
    um = {f"{name}_um": to_micrometres(sure(value)) for name, value in lengths.items()}
    is_wire = kind is PieceKind.WIRE
    return Supply(
        supplier=sure(supplier),
        alloy=str(alloy),
        kind=sure(kind),
        profile=profile if is_wire else None,
        width_step_um=0 if is_wire or width_step is None else to_micrometres(width_step),
        least_mass_mg=0 if mass is None else to_milligrams(mass),
        least_charge_minor=charge or 0,
        lead_days=sure(lead),
        spare_days=sure(spare),
        note=note or "",
        **um,
    )
