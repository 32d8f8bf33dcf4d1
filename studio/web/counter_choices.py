"""The lists of the counter's page, in the order they are read."""

from collections.abc import Sequence
from dataclasses import dataclass

from studio.craft.designs import (
    FingerName,
    Gauge,
    GaugeKind,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
)
from studio.craft.drawing import section_icon
from studio.craft.drawing.svg import Svg
from studio.craft.metals import Alloy, Metal
from studio.craft.particulars import Face, Lettering, Risk, Setting, Surface, Whose
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import figure_words


@dataclass(frozen=True, slots=True)
class Choice:
    """One entry of a list."""

    value: str
    name: str


@dataclass(frozen=True, slots=True)
class ChoiceGroup:
    """Entries under one heading."""

    name: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class DrawnChoice:
    """One of a row of drawings."""

    value: str
    name: str
    drawing: Svg


@dataclass(frozen=True, slots=True)
class Choices:
    """Everything that is chosen from a list."""

    places: tuple[Choice, ...]
    systems: tuple[Choice, ...]
    measured: tuple[Choice, ...]
    hands: tuple[Choice, ...]
    people: tuple[Choice, ...]
    profiles: tuple[DrawnChoice, ...]
    stocks: tuple[Choice, ...]
    no_alloy: Choice
    alloys: tuple[ChoiceGroup, ...]
    patterns: tuple[Choice, ...]
    moments: tuple[Choice, ...]
    forms: tuple[Choice, ...]
    surfaces: tuple[Choice, ...]
    faces: tuple[Choice, ...]
    letterings: tuple[Choice, ...]
    stones_asked: tuple[Choice, ...]
    settings: tuple[Choice, ...]
    whose: tuple[Choice, ...]
    risks: tuple[Choice, ...]
    has_gauges: bool = False


NO_INSCRIPTION = "none"
"""What the list of faces says where no inscription is wanted."""
SOME_STONES = "some"
"""What the list says where the stones stand below it."""
_SETTINGS = {Setting.PAVE: "Pavé"}
_NOT_SAID = Choice("", "–")
_FINGERS = (FingerName.RING, FingerName.LITTLE, FingerName.MIDDLE, FingerName.INDEX, FingerName.THUMB)


def choices(
    people: Sequence[str], taken_by: str, gauges: Sequence[Gauge], alloys: Sequence[Alloy]
) -> Choices:
    """Everything there is to choose from. `taken_by` stands in the list even if they left since.

    `gauges` are the studio's; with them a gauge that is none of them is 'another'. `alloys` are those a ring
    may be made of.
    """
    names = tuple(dict.fromkeys((*people, taken_by) if taken_by else people))
    return Choices(
        places=(_NOT_SAID, *_places()),
        systems=tuple(Choice(system, SYSTEM_NAMES[system]) for system in System),
        measured=(
            *(Choice(gauge_choice(gauge), _gauge_words(gauge)) for gauge in gauges),
            Choice(Measured.GAUGE, "Gauge, another" if gauges else "Gauge"),
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
        alloys=alloy_groups(alloys),
        patterns=tuple(Choice(pattern, pattern.capitalize()) for pattern in Pattern),
        moments=(Choice(PatternWhen.FLAT, "The flat strip"), Choice(PatternWhen.CLOSED, "The closed ring")),
        forms=(
            Choice("band", "Band"),
            Choice("radius", "Anticlastic, by its groove"),
            Choice("rise", "Anticlastic, by its rise"),
        ),
        surfaces=(_NOT_SAID, *(Choice(surface, surface.capitalize()) for surface in Surface)),
        faces=(
            _NOT_SAID,
            Choice(NO_INSCRIPTION, "None"),
            *(Choice(face, face.capitalize()) for face in Face),
        ),
        letterings=tuple(Choice(lettering, lettering.capitalize()) for lettering in Lettering),
        stones_asked=(_NOT_SAID, Choice(NO_INSCRIPTION, "None"), Choice(SOME_STONES, "As below")),
        settings=(
            _NOT_SAID,
            *(Choice(setting, _SETTINGS.get(setting, setting.capitalize())) for setting in Setting),
        ),
        whose=(Choice(Whose.STUDIO, "Ours"), Choice(Whose.CUSTOMER, "The customer’s")),
        risks=(_NOT_SAID, Choice(Risk.CUSTOMER, "The customer’s"), Choice(Risk.STUDIO, "Ours")),
        has_gauges=bool(gauges),
    )


def gauge_choice(gauge: Gauge) -> str:
    """A gauge as the list of ways to measure names it: how it measures, and its number, 'gauge 3'."""
    return f"{Measured.GAUGE if gauge.kind is GaugeKind.SET else Measured.RING} {gauge.id}"


def _gauge_words(gauge: Gauge) -> str:
    """'Wide set, 6 mm', 'Brass stick, a ring'."""
    if gauge.kind is GaugeKind.STICK:
        return f"{gauge.name}, a ring"
    return gauge.name if gauge.width_mm is None else f"{gauge.name}, {figure_words(gauge.width_mm)} mm"


def _places() -> list[Choice]:
    return [
        Choice(f"{hand} {finger}", f"{hand.capitalize()}, {finger}") for hand in Hand for finger in _FINGERS
    ]


def alloy_groups(alloys: Sequence[Alloy]) -> tuple[ChoiceGroup, ...]:
    """Alloys by metal, as a list shows them."""
    return tuple(group for metal in Metal if (group := _group(metal, alloys)).choices)


def _group(metal: Metal, alloys: Sequence[Alloy]) -> ChoiceGroup:
    of_metal = tuple(Choice(alloy.key, alloy.name) for alloy in alloys if alloy.metal is metal)
    return ChoiceGroup(metal.capitalize(), of_metal)
