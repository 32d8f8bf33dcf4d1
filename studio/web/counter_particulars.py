"""The counter's fields of what a ring is beyond its metal, as their reader takes them."""

from collections.abc import Mapping

from studio.craft.particulars import Whose
from studio.web.counter_choices import NO_INSCRIPTION

MOST_STONES = 4
"""Kinds of stones with fields on the page; a ring with more came from elsewhere, and keeps its first."""
STONE_FIELDS = {
    "count": "Stones",
    "shape": "Shape",
    "size": "Size of the stone",
    "setting": "Setting",
    "whose": "Whose",
    "stated": "Said to be",
    "tested": "Tested",
    "condition": "Condition",
    "value": "Declared value",
    "risk": "Risk of setting",
}
OF_PARTICULARS = ("finish.", "inscription.", "stones.")
"""How the names of these fields begin."""


def particulars_object(told: Mapping[str, str]) -> dict[str, object]:
    """The finish and the inscription as their reader takes them; a face not chosen is not asked yet."""
    finish, words, stones = (
        {name.removeprefix(start): value for name, value in told.items() if name.startswith(start)}
        for start in OF_PARTICULARS
    )
    found: dict[str, object] = {"finish": finish, "stones": _stones(stones)}
    face = words.get("face", "")
    if face == NO_INSCRIPTION:
        return found | {"inscription": {"text": ""}}
    is_asked = bool(words.get("text") or face)
    return found | {"inscription": words if is_asked else None}


def says_something(stone: Mapping[str, object]) -> bool:
    """Whether the fields of a stone's place hold more than its list of whose it is always does."""
    return any(value for name, value in stone.items() if (name, value) != ("whose", Whose.STUDIO))


def _stones(told: Mapping[str, str]) -> list[object] | None:
    """The stones in the order of their places, None for an empty one."""
    if told.get("asked") == NO_INSCRIPTION:
        return []
    places: dict[str, dict[str, object]] = {}
    for name, value in told.items():
        place, _, field = name.partition(".")
        if field:
            places.setdefault(place, {})[field] = value
    filled = {place: one for place, one in places.items() if says_something(one)}
    kept: list[object] = [filled.get(str(at)) for at in range(MOST_STONES)]
    return kept if filled else None
