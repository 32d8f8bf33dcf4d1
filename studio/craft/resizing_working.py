"""How the figures of resizing came about: the strip, the metal and the thickness left, of each step."""

from studio.craft.profiles import neutral_mm
from studio.craft.reckonings import Reckoning
from studio.craft.resizing import SizeStep, resizing
from studio.craft.working import Input, Notes, Working

_COUNTS = "how the system counts its sizes"
_VOLUME = "plane geometry: width and volume are kept, the neutral line rises with the thickness"


def resizing_workings(reckoning: Reckoning) -> tuple[Working, ...]:
    """The workings of every step; () where the ring is not to be resized.

    `resizing.uk.1.metal_g` is the metal of the first step of the UK's sizes: density x section x change.
    """
    found, notes = resizing(reckoning), Notes()
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
