"""What a step at the bench may do to whoever works, in the short words of a sheet and in full sentences.

Common bench practice and what is taught with it; where a sentence has a source it is named beside it. None of
them takes the place of `LOCAL_RULES`.
"""

from collections.abc import Mapping
from enum import StrEnum

LOCAL_RULES = "Local rules and trained supervision come first."


class Caution(StrEnum):
    """One caution, as short as a sheet has room for: those of one step stand on one line."""

    EYES = "Eyes covered."
    GRAVER = "Hand behind the point."
    ROLLS = "Fingers, hair and sleeves clear of the rolls."
    BLOWS = "Eyes and ears covered."
    FILINGS = "Dust mask on."
    TORCH = "Torch: hair and cuffs back, extraction on."
    OXYGEN = "Torch: hair and cuffs back, no grease near oxygen."
    HOT = "Hot looks cold."
    DARK_GLASSES = "Dark glasses."
    NO_PICKLE = "No flux, no pickle."
    PICKLE = "Acid into water, lid on, copper tongs."
    FUME = "Fume: extraction on. Solder: no cadmium."
    WHEEL = "No wheel on the pattern."
    OXIDE = "Oxidising bath: gloves, extraction on."
    MOTOR = "Motor: hair and sleeves back, eyes covered, dust drawn off."
    BATH = "Plating bath: gloves, eyes covered, extraction on."
    DELICATE = "Delicate stone: no heat, no acid, no ultrasonic."


SENTENCES: Mapping[Caution, str] = {
    Caution.EYES: "Cover the eyes: blades, drills and punches break and fly.",
    Caution.GRAVER: "Keep the hand that holds the ring behind the graver's point: it slips.",
    Caution.ROLLS: "Keep fingers, hair, sleeves and gloves away from the rolls: they draw in and do not"
    " let go.",
    Caution.BLOWS: "Cover eyes and ears: steel on steel chips and deafens. Strike with faces free of cracks.",
    Caution.FILINGS: "Wear a dust mask and draw the dust off: filings of nickel and copper alloys harm"
    " the lungs.",
    Caution.TORCH: "Tie hair and cuffs back, clear what burns away from the hearth, and turn the"
    " extraction on.",
    Caution.OXYGEN: "Tie hair and cuffs back and draw the air off. Keep oil and grease, fingerprints"
    " too, from oxygen fittings: they catch fire. Look at hoses and flashback arrestors before lighting"
    " up.",
    Caution.HOT: "Metal that no longer glows still burns. Hold it with tongs and quench it away from the"
    " face: steam scalds, and a hollow piece spits.",
    Caution.DARK_GLASSES: "Wear dark glasses: the glow of platinum and palladium at this heat harms the"
    " eyes.",
    Caution.NO_PICKLE: "No flux and no pickle: the metal comes clean from an oxidising flame, and copper"
    " from a used pickle, soot or an old brick spoils it.",
    Caution.PICKLE: "Mix acid into water, never water into acid. Quench first, never hot metal into the"
    " pickle. Keep the lid on and use copper, plastic or wooden tongs: steel plates copper onto the work.",
    Caution.FUME: "Draw the flux fume off: it holds fluorides, more of them when overheated. Use solder"
    " free of cadmium only, and do not overheat solder with zinc.",
    Caution.WHEEL: "Keep every wheel off the pattern: what it takes does not come back.",
    Caution.OXIDE: "Wear gloves and draw the air off: the oxidising bath gives off poisonous gas, with"
    " acid most of all.",
    Caution.MOTOR: "Tie hair back, sleeves up, no gloves at a turning wheel. Cover the eyes and draw the"
    " dust off.",
    Caution.BATH: "Wear gloves and cover the eyes: plating baths are acid or poisonous. Draw the air off.",
    Caution.DELICATE: "This stone stands no fire, no acid, no steam and no ultrasonic bath, and bruises"
    " under the pusher.",
}  # fmt: skip
"""Each caution in full. Oxygen: HSE leaflet INDG297 and a goldsmiths' article on gas; acid into water and the
tongs: a school technology sheet on cleaning after annealing; cadmium: a brazing supplier's safety sheet, and
REACH XVII entry 23; fluorides: safety data sheet of a brazing flux; dark glasses: an alloy maker's note on
palladium; the others common practice, no source."""


def in_full(cautions: tuple[Caution, ...]) -> tuple[str, ...]:
    """The sentences of these cautions, each once, and that local rules come first; none for none."""
    if not cautions:
        return ()
    return (*(SENTENCES[one] for one in dict.fromkeys(cautions)), LOCAL_RULES)
