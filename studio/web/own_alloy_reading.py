"""Reading an alloy of the studio's own as it was typed: its fineness or carat, its parts, its density."""

import re
from collections.abc import Mapping

from studio.craft.alloys import ALLOYS
from studio.craft.own_alloys import (
    DENSITY,
    ELEMENT_NAMES,
    LONGEST_NAME,
    LONGEST_NOTE,
    OwnAlloy,
    Part,
    own_key,
)
from studio.web.errors import FieldError, FieldErrors
from studio.web.reading import Reading, measured, sure
from studio.web.texts import read_text

_PART = re.compile(r"\s*(?P<element>[A-Za-z]+)\s*:?\s*(?P<parts>[0-9]{1,4}(?:[.,][0-9])?)\s*%?\s*")
_SOLD_AS = {14: 585, 22: 916, 24: 999}
_BY_NAME = {name: symbol for symbol, name in ELEMENT_NAMES.items()}


def read_own_alloy(raw: Mapping[str, object], key: str, taken: frozenset[str]) -> OwnAlloy:
    """The alloy as typed; raises `FieldErrors` with all that is to be put right."""
    asked = Reading(raw, "")
    name = asked.needed("name", lambda value, field: read_text(value, field, longest=LONGEST_NAME), "name")
    alike = raw.get("alike") if raw.get("alike") in ALLOYS else None
    if alike is None:
        asked.add("alike", "This is not chosen yet.")
    is_precious = alike is None or ALLOYS[str(alike)].is_precious
    fineness = asked.read("fineness", _read_fineness)
    if is_precious and fineness is None and not asked.is_wrong("fineness"):
        asked.add("fineness", "The fineness is not given yet.")
    parts = asked.read("parts", _read_parts)
    density = asked.number("density", DENSITY, "g/cm³")
    note = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_NOTE))
    is_put_away = asked.yes("is_put_away")
    asked.stop()
    return OwnAlloy(
        key=key or own_key(sure(name), taken),
        name=sure(name),
        alike=str(alike),
        fineness=(fineness or 0) if is_precious else 0,
        parts=parts or (),
        density=density,
        note=note or "",
        is_put_away=bool(is_put_away),
    )


def _read_fineness(value: object, field: str) -> int | None:
    """Parts in 1000: '750', or '18 ct', which is 750."""
    if value is None:
        return None
    text = str(measured(value, field)).strip().lower()
    carat = re.fullmatch(r"([0-9]{1,2})\s*(?:ct|k|kt|carat)", text)
    if carat is not None and 1 <= int(carat[1]) <= 24:
        return _SOLD_AS.get(int(carat[1]), int(carat[1]) * 1000 // 24)
    if not text.isascii() or not text.isdigit() or len(text) > 4:
        raise FieldErrors([FieldError(field, "Type the parts in 1000, 750, or the carat, 18 ct.")])
    return int(text)


def _read_parts(value: object, field: str) -> tuple[Part, ...]:
    """'Au 750, Ag 125, Cu 125', with names or symbols, in 1000 or in percent."""
    text = read_text(value, field, longest=LONGEST_NOTE)
    if not text:
        return ()
    found: list[tuple[str, float]] = []
    for piece in re.split(r"[;,+](?![0-9])", text):
        match = _PART.fullmatch(piece)
        element = "" if match is None else match["element"].lower()
        symbol = _BY_NAME.get(element) or next((one for one in ELEMENT_NAMES if one.lower() == element), None)
        if match is None or symbol is None:
            raise FieldErrors([FieldError(field, "Type each part like Au 750, Ag 125, Cu 125.")])
        found.append((symbol, float(match["parts"].replace(",", "."))))
    times = 10 if abs(sum(parts for _, parts in found) - 100) < 0.05 else 1
    return tuple(Part(symbol, round(parts * times)) for symbol, parts in found)
