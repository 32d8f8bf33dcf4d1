"""Where a ring would cross the limit of the hallmark: how much thicker, thinner, wider or narrower.

Solved on the reckoning itself, so whatever a change of the strip brings with it (fit, length, loss) is in it.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from studio.craft.designs import WIRE_PROFILES, Design, thickness_limits, width_limits
from studio.craft.errors import Refused
from studio.craft.hallmark import Foresight
from studio.craft.reckonings import Reckoning, finished_g
from studio.craft.working import Input, Notes, Working

FINEST_MM = 0.0005
"""How closely a crossing is found: below what a strip can be measured to."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """The thickness, width or diameter at which the finished mass is just the limit.

    `at_mm` is None where nothing that can be made crosses it.
    """

    side: str
    now_mm: float
    at_mm: float | None

    @property
    def change_mm(self) -> float | None:
        """How much more of it, below nothing how much less."""
        return None if self.at_mm is None else self.at_mm - self.now_mm


def crossings(reckoning: Reckoning, foreseen: Foresight) -> tuple[Crossing, ...]:
    """Where the ring crosses the limit by its thickness alone and by its width alone; a wire by its diameter.

    Silver 925, flat 6 mm closed on 57 mm, 1.4 thick: 2.04 mm thick reaches the 7.78 g of the UK. None of
    them where there is no mass that is exempt.
    """
    if foreseen.limit_g <= 0:
        return ()
    design = reckoning.design
    if design.profile in WIRE_PROFILES:
        low, high = width_limits(design.profile).low, width_limits(design.profile).high
        sides: tuple[tuple[str, float, float, float, Callable[[float], Design]], ...] = (
            ("thick", design.width_mm, low, high, lambda mm: replace(design, width_mm=mm, thickness_mm=mm)),
        )
    else:
        thick, wide = thickness_limits(design.profile), width_limits(design.profile)
        sides = (
            (
                "thick",
                design.thickness_mm,
                thick.low,
                thick.high,
                lambda mm: replace(design, thickness_mm=mm),
            ),
            ("wide", design.width_mm, wide.low, wide.high, lambda mm: replace(design, width_mm=mm)),
        )
    found = []
    for side, now_mm, low, high, changed in sides:

        def over(mm: float, changed: Callable[[float], Design] = changed) -> float | None:
            """What the ring weighs over the limit, in g; None where it cannot be made."""
            try:
                made_g = finished_g(reckoning.finger, changed(mm), reckoning.practice)
            except Refused:
                return None
            return made_g - foreseen.limit_g

        now_g = reckoning.finished_g - foreseen.limit_g
        found.append(Crossing(side, now_mm, crossed_at(over, now_mm, now_g, high if now_g < 0 else low)))
    return tuple(found)


def crossing_workings(reckoning: Reckoning, foreseen: Foresight) -> tuple[Working, ...]:
    """How each crossing came about. It is sought, not put into a formula; the words say what is sought."""
    notes = Notes()
    for found in crossings(reckoning, foreseen):
        if found.at_mm is not None:
            side = "thickness" if found.side == "thick" else "width"
            notes.note(
                f"hallmark.{found.side}_mm",
                found.at_mm,
                "mm",
                f"the {side} at which the finished ring weighs the limit, sought to {FINEST_MM} mm",
                Input("limit", foreseen.limit_g, "g"),
                Input("finished ring", foreseen.finished_g, "g"),
                Input(side, found.now_mm, "mm"),
                Input("away from it", abs(found.at_mm - found.now_mm), "mm"),
                source="the whole reckoning, made again for every thickness and width tried",
            )
    return notes.working


def crossed_at(
    over: Callable[[float], float | None], now_mm: float, now_g: float, end_mm: float
) -> float | None:
    """Where `over` changes its sign between `now_mm`, where it is `now_g`, and `end_mm`; else None.

    `over` gives None for what cannot be made; the way is walked to the last that can. Halving the bracket,
    or by the straight line through its ends where that comes quicker (Illinois), to half a micrometre; a
    step in `over`, as a fit rule makes it, is found as well as a root.
    """
    end_g = over(end_mm)
    last_mm = now_mm
    while end_g is None and abs(end_mm - last_mm) > FINEST_MM:
        middle = (last_mm + end_mm) / 2
        middle_g = over(middle)
        if middle_g is None:
            end_mm = middle
        else:
            last_mm = middle
            if (middle_g < 0) != (now_g < 0):
                end_mm, end_g = middle, middle_g
    if end_g is None or (end_g < 0) == (now_g < 0):
        return None
    near, near_g, far, far_g = now_mm, now_g, end_mm, end_g
    is_halving = False
    while abs(far - near) > FINEST_MM:
        middle = (near + far) / 2 if is_halving else far - far_g * (far - near) / (far_g - near_g)
        least = FINEST_MM / 2
        low, high = min(near, far) + least, max(near, far) - least
        middle = min(max(middle, low), high)
        width = abs(far - near)
        middle_g = over(middle)
        if middle_g is None:
            return None
        if (middle_g < 0) == (near_g < 0):
            near, near_g = middle, middle_g
        else:
            far, far_g = middle, middle_g
        is_halving = abs(far - near) > width / 2
    return far
