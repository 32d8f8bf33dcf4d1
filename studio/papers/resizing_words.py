"""What is said of resizing a ring later, in one line: on the order's page and on the bench sheet."""

from studio.craft.designs import System
from studio.craft.resizing import Resizing
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import figure_words


def resizing_line(found: Resizing, system: System) -> str:
    """Why the ring is not to be resized, or what one step of its system lets in or takes out.

    'One half size, UK, lets in or takes out 0.63 mm of strip, 0.05 g; cut in, not hammered up.' With stones
    also by how much at most, and what is taken out before the torch.
    """
    if not found.is_possible:
        return f"Not to be resized: {', and '.join(found.reasons)}."
    step = next(one for one in found.steps if one.system is system)
    name = f"{step.name[0].upper()}{step.name[1:]}, {SYSTEM_NAMES[system]},"
    line = f"{name} lets in or takes out {step.change_mm:.2f} mm of strip, {step.metal_g:.2f} g"
    if found.most_mm is not None:
        out = (
            f"take out the {' and the '.join(found.out_first)} first"
            if found.out_first
            else "shield the stones"
        )
        return f"{line}; with care, by {figure_words(found.most_mm)} mm at most, cut in at the back; {out}."
    if not found.by_hammer:
        return f"{line}; cut in, not hammered up."
    most = figure_words(found.hammer_most_mm)
    return f"{line}; or hammered up, {most} mm at most."
