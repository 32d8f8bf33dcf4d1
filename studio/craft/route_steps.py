"""A step of a ring's way over the bench, with what is measured at it, and the cautions that steps share."""

from dataclasses import dataclass

from studio.craft.alloys import Alloy, Metal
from studio.craft.reckonings import Reckoning

# Short enough that the cautions of one step stand on one line of its sheet.
EYES = "Eyes covered."
ROLLS = "Fingers, hair and sleeves clear of the rolls."
BLOWS = "Eyes and ears covered."
FILINGS = "Dust mask on."
TORCH = "Torch: hair and cuffs back, extraction on."
OXYGEN = "Torch: hair and cuffs back, no grease near oxygen."
HOT = "Hot looks cold."
DARK_GLASSES = "Dark glasses."
PICKLE = "Acid into water, lid on, copper tongs."
FUME = "Fume: extraction on. Solder: no cadmium."
WHEEL = "No wheel on the pattern."
OXIDE = "Oxidising bath: gloves, extraction on."
MOTOR = "Motor: hair and sleeves back, eyes covered, dust drawn off."

INSCRIBE = "inscribe"
"""The key of the step that cuts an inscription; it is priced by the letter, not by the minute."""

SET = "set"
"""The key of the step that sets the stones; it is priced by the stone."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured at a step and written beside it."""

    label: str
    unit: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step: `name` opens the sentence and is set heavy, `text` goes on with it.

    `key` is stable, so that a rule about the order can be stated: `anneal` comes before `bend`.
    """

    key: str
    name: str
    text: str
    cautions: tuple[str, ...] = ()
    measure: Measure | None = None

    @property
    def caution(self) -> str | None:
        """All cautions of the step as one line, or None."""
        return " ".join(self.cautions) or None


def alloy_of(reckoning: Reckoning) -> Alloy:
    """The metal the ring is made of."""
    return reckoning.alloy


def is_pickled(alloy: Alloy) -> bool:
    """Platinum comes clean from the fire: no flux, no pickle. From memory of bench handbooks."""
    return alloy.metal is not Metal.PLATINUM


def after_fire(alloy: Alloy) -> str:
    """Cooling and cleaning: always cooled first, so that nothing hot meets the acid."""
    return f"{alloy.anneal.quench} Pickle, rinse." if is_pickled(alloy) else alloy.anneal.quench
