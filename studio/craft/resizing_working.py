"""How the figures of resizing came about: the strip, the metal and the thickness left, of each step."""

from collections.abc import Sequence

from studio.craft.particulars import NOT_ASKED, Particulars, Stone
from studio.craft.profiles import neutral_mm
from studio.craft.reckonings import Reckoning
from studio.craft.resizing import SizeStep, resizing
from studio.craft.resizing_stones import length_mm, run_percent, size_mm
from studio.craft.working import Input, Notes, Working

_COUNTS = "how the system counts its sizes"
_VOLUME = "plane geometry: width and volume are kept, the neutral line rises with the thickness"


def resizing_workings(reckoning: Reckoning, particulars: Particulars = NOT_ASKED) -> tuple[Working, ...]:
    """The workings of how far round the stones run, and of every step; no step where it is not to be resized.

    `resizing.uk.1.metal_g` is the metal of the first step of the UK's sizes: density x section x change.
    """
    found, notes = resizing(reckoning, particulars), Notes()
    _note_stones(reckoning, particulars.stones or (), notes)
    if found.is_possible:
        places: dict[str, int] = {}
        for step in found.steps:
            places[step.system] = places.get(step.system, 0) + 1
            _note(reckoning, step, f"resizing.{step.system}.{places[step.system]}", notes)
    return notes.working


def _note(reckoning: Reckoning, step: SizeStep, path: str, notes: Notes) -> None:
    design = reckoning.design
    thick = Input("thickness", design.thickness_mm, "mm")
    change = Input(f"one step, {step.name}", step.change_mm, "mm")
    notes.note(f"{path}.change_mm", step.change_mm, "mm", change.name, change, source=_COUNTS)
    notes.note(
        f"{path}.metal_g",
        step.metal_g,
        "g",
        f"density × section × {change.name} ÷ 1000",
        Input("density", reckoning.density_g_cm3, "g/cm³"),
        Input("section", reckoning.section_mm2, "mm²"),
        change,
        source="plane geometry",
    )
    rise = Input(
        "rise of the neutral line", neutral_mm(design.profile, design.width_mm, design.thickness_mm), "mm"
    )
    around = Input("circumference", reckoning.circumference_mm, "mm")
    larger = f"(circumference + {change.name})"
    share = "(2 × π × rise of the neutral line ÷ thickness)"
    notes.note(
        f"{path}.hammered_mm",
        step.hammered_mm,
        "mm",
        f"(√({larger}² + 4 × {share} × thickness × (circumference + {share} × thickness)) − {larger})"
        f" ÷ (2 × {share})",
        around,
        change,
        rise,
        thick,
        source=_VOLUME,
    )


def _note_stones(reckoning: Reckoning, stones: Sequence[Stone], notes: Notes) -> None:
    """How far round the stones run, against the studio's limit; nothing where a size is not known."""
    length = length_mm(stones)
    run = run_percent(stones, reckoning.design, reckoning.circumference_mm)
    if length is None or run is None:
        return
    kinds = range(1, len(stones) + 1)
    notes.note(
        "resizing.stones.length_mm",
        length,
        "mm",
        " + ".join(f"count of kind {at} × size of kind {at}" for at in kinds),
        *(Input(f"count of kind {at}", one.count) for at, one in enumerate(stones, 1)),
        *(Input(f"size of kind {at}", size_mm(one) or 0.0, "mm") for at, one in enumerate(stones, 1)),
        source="as the stones were told",
    )
    limit = reckoning.practice.resizing.stones_percent
    own = reckoning.practice.source_of("resizing.stones_percent")
    notes.note(
        "resizing.stones.run_percent",
        run,
        "%",
        "100 × stones side by side ÷ (circumference + 2 × π × thickness)",
        Input("stones side by side", length, "mm"),
        Input("circumference", reckoning.circumference_mm, "mm"),
        Input("thickness", reckoning.design.thickness_mm, "mm"),
        source=f"plane geometry; not resized above {limit:g} %: {own}",
    )
