"""The steps of an anticlastic band alone: a trial in copper, annealing again, sinking over the groove."""

from studio.craft.reckonings import Reckoning
from studio.craft.route_steps import (
    BLOWS,
    HOT,
    PICKLE,
    TORCH,
    Measure,
    Step,
    after_fire,
    alloy_of,
    is_pickled,
)


def trial(reckoning: Reckoning) -> Step | None:
    """Where nobody can say closely enough how far the waist draws in, a piece of copper can."""
    formed = reckoning.form
    if formed is None or not formed.wants_copper_trial:
        return None
    text = (
        f"in copper, same strip and groove: its waist may come out up to {formed.shift_mm:.2f} smaller round."
    )
    return Step("trial", "Make a trial", text, (), Measure("its waist", "mm"))


def anneal_again(reckoning: Reckoning) -> Step | None:
    """Closing and rounding up harden the metal, and sinking the edges stretches it."""
    if reckoning.form is None:
        return None
    alloy = alloy_of(reckoning)
    text = f"{alloy.anneal.sign}, away from the seam. {after_fire(alloy)}"
    return Step("anneal-form", "Anneal again,", text, (TORCH, HOT, *((PICKLE,) if is_pickled(alloy) else ())))


def form(reckoning: Reckoning) -> Step | None:
    """Sunk over a groove from both edges by turns, so that the waist stays in the middle."""
    formed = reckoning.form
    if formed is None:
        return None
    groove = formed.groove
    text = (
        f"radius {groove.radius_mm:.1f}, from both edges by turns and all round, until they stand "
        f"{groove.rise_mm:.2f} over the waist, {groove.finished_width_mm:.2f} wide. Hard? Anneal."
    )
    return Step("form", "Sink over the groove,", text, (BLOWS,), Measure("waist", "mm"))
