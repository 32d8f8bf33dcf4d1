"""Metals the customer wants to avoid, and which alloys hold one of them.

It is what the ring is to be made without and no record of anybody's health. Solder and plating are the
maker's to choose: the sheet says what to avoid.
"""

import re

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.metals import Alloy
from studio.craft.own_alloys import ELEMENT_NAMES
from studio.craft.units import checked_text

_SYMBOLS = {name: symbol for symbol, name in ELEMENT_NAMES.items()}
LONGEST = 120


def read_avoid(typed: str, field: str = "avoid") -> str | None:
    """The metals meant, in one order and way of writing: 'Nickel and co' gives 'nickel, cobalt'; '' None.

    Names and symbols are read, with commas, 'and' or spaces between. Raises `Refused` for a word that is no
    metal of an alloy here.
    """
    text = checked_text(typed, field) if typed.strip() else ""
    if len(text) > LONGEST:
        raise Refused(Refusal(field, Why.TOO_LONG, high=LONGEST, unit="characters"))
    found = set()
    for word in re.split(r"[\s,;+&]+|\band\b", text):
        if word:
            symbol = _SYMBOLS.get(word) or next((s for s in ELEMENT_NAMES if s.lower() == word), None)
            if symbol is None:
                raise Refused(Refusal(field, Why.UNKNOWN_CHOICE, word, suggestion=", ".join(_SYMBOLS)))
            found.add(symbol)
    return ", ".join(name for symbol, name in ELEMENT_NAMES.items() if symbol in found) or None


def check_avoided(alloy: Alloy, avoid: str | None, field: str = "alloy") -> None:
    """Raises `Refused` where the alloy holds a metal to avoid, or where nobody knows what it holds.

    White gold with nickel for somebody who avoids nickel is refused; platinum is not.
    """
    for name in (avoid or "").split(", "):
        if not name:
            continue
        if alloy.composition.get(_SYMBOLS[name], 0) > 0:
            raise Refused(Refusal(field, Why.AVOIDED, alloy.name, unit=name))
        if not alloy.knows_parts:
            raise Refused(Refusal(field, Why.PARTS_UNKNOWN, alloy.name, unit=name))
