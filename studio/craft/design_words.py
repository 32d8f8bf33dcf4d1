"""A ring but for its size, in a few words: on screen, and on a slip that leaves the house."""

from studio.craft.designs import Pattern, Profile
from studio.craft.own_alloys import short_name
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.units import figure_words


def stock_words(profile: Profile, width_mm: float, thickness_mm: float) -> str:
    """The section with its measures: 'flat 6 × 1.6', 'square wire 2'."""
    name = PROFILE_NAMES[profile].lower()
    if profile in {Profile.ROUND, Profile.SQUARE}:
        return f"{name} {figure_words(width_mm)}"
    return f"{name} {figure_words(width_mm)} × {figure_words(thickness_mm)}"


def design_words(profile: Profile, width_mm: float, thickness_mm: float, pattern: Pattern, alloy: str) -> str:
    """A ring but for its size: 'flat 6 × 1.6, hammered, 750 yellow'; a plain face is not named."""
    worked = () if pattern is Pattern.PLAIN else (str(pattern),)
    return ", ".join((stock_words(profile, width_mm, thickness_mm), *worked, short_name(alloy)))
