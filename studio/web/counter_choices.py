"""The lists of the counter's page, in the order they are read."""

from collections.abc import Sequence

from studio.craft.alloys import ALLOYS
from studio.craft.designs import FingerName, Hand, Measured, Pattern, PatternWhen, Profile, Stock, System
from studio.craft.drawing import section_icon
from studio.craft.metals import Metal
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.sizes import SYSTEM_NAMES
from studio.web.counter_page import Choice, ChoiceGroup, Choices, DrawnChoice

_NOT_SAID = Choice("", "–")
_FINGERS = (FingerName.RING, FingerName.LITTLE, FingerName.MIDDLE, FingerName.INDEX, FingerName.THUMB)


def choices(people: Sequence[str], taken_by: str) -> Choices:
    """Everything there is to choose from. `taken_by` stands in the list even if they left since."""
    names = tuple(dict.fromkeys((*people, taken_by) if taken_by else people))
    return Choices(
        places=(_NOT_SAID, *_places()),
        systems=tuple(Choice(system, SYSTEM_NAMES[system]) for system in System),
        measured=(
            Choice(Measured.GAUGE, "Gauge"),
            Choice(Measured.RING, "A ring"),
            Choice(Measured.TOLD, "Told"),
        ),
        hands=(_NOT_SAID, Choice("yes", "Warm"), Choice("no", "Cold")),
        people=(_NOT_SAID, *(Choice(name, name) for name in names)),
        profiles=tuple(
            DrawnChoice(profile, PROFILE_NAMES[profile], section_icon(profile)) for profile in Profile
        ),
        stocks=(Choice("", "As usual"), Choice(Stock.STRIP, "Strip"), Choice(Stock.WIRE, "Wire")),
        no_alloy=Choice("", "Not chosen yet"),
        alloys=tuple(_group(metal) for metal in Metal if _group(metal).choices),
        patterns=tuple(Choice(pattern, pattern.capitalize()) for pattern in Pattern),
        moments=(Choice(PatternWhen.FLAT, "The flat strip"), Choice(PatternWhen.CLOSED, "The closed ring")),
    )


def _places() -> list[Choice]:
    return [
        Choice(f"{hand} {finger}", f"{hand.capitalize()}, {finger}") for hand in Hand for finger in _FINGERS
    ]


def _group(metal: Metal) -> ChoiceGroup:
    of_metal = tuple(Choice(alloy.key, alloy.name) for alloy in ALLOYS.values() if alloy.metal is metal)
    return ChoiceGroup(metal.capitalize(), of_metal)
