"""Reading which earlier ring an order mends: over the API, on its page, in the counter's hidden field."""

import re
from collections.abc import Mapping

from studio.book.order_numbers import read_number
from studio.craft.mends import LONGEST_WORDS, Cause, MendKind, Mends, PaidBy
from studio.web.amounts import read_count
from studio.web.errors import FieldError, FieldErrors
from studio.web.reading import Reading, sure
from studio.web.texts import read_text

MOST_RINGS = 100
FIELDS = ("mends_ring", "mends_kind", "mends_cause", "mends_words", "mends_paid_by")
"""The fields on the order's page: the ring as '2026-118/1', then the rest."""
_ON_THE_PAGE = {"mends.order": "mends_ring", "mends.ring": "mends_ring"}
_RING = re.compile(r"\s*([0-9]{4}-[0-9]{1,9})\s*(?:/\s*([0-9]{1,3})\s*)?")
_HIDDEN = re.compile(r"([0-9]{4}-[0-9]{1,9})/([0-9]{1,3}) ([a-z]{1,10})")


def read_mends(raw: object, path: str = "mends") -> Mends | None:
    """The earlier ring an order mends; None where nothing is given. Raises `FieldErrors`."""
    if raw is None:
        return None
    asked = Reading(raw, path)
    number = asked.needed("order", _number, "order it mends")
    ring = asked.read("ring", read_count(1, MOST_RINGS, "ring", "rings")) if asked.has("ring") else 1
    kind = asked.choice("kind", MendKind)
    cause, paid_by = asked.choice("cause", Cause), asked.choice("paid_by", PaidBy)
    words = asked.read("words", lambda value, field: read_text(value, field, longest=LONGEST_WORDS))
    if cause is Cause.OTHER and not words and not asked.is_wrong("words"):
        asked.add("words", "Say what it was, in a few words.")
    asked.stop()
    return Mends(sure(number), ring or 1, kind or MendKind.REMAKE, cause, words or "", paid_by)


def read_mends_typed(texts: Mapping[str, str]) -> Mends | None:
    """What was typed in `FIELDS`; without a ring, none is mended. Raises `FieldErrors` at those fields."""
    typed = texts["mends_ring"]
    if not typed.strip():
        return None
    ring = _RING.fullmatch(typed)
    if ring is None:
        raise FieldErrors([FieldError("mends_ring", "Write the ring it mends like 2026-118/1.")])
    raw = {name.removeprefix("mends_"): texts[name] for name in FIELDS[1:]}
    try:
        return read_mends({**raw, "order": ring[1], "ring": ring[2] or "1"})
    except FieldErrors as found:
        raise FieldErrors(
            FieldError(on_the_page(error.field), error.message) for error in found.errors
        ) from None


def on_the_page(field: str | None) -> str:
    """The field of the order's page for one of the API's: 'mends.cause' gives 'mends_cause'."""
    return _ON_THE_PAGE.get(field or "", (field or "").replace(".", "_"))


def hidden_mends(ring: str, kind: MendKind) -> str:
    """What the counter carries along: '2026-118/1 remake'."""
    return f"{ring} {kind}"


def read_hidden_mends(line: str) -> Mends | None:
    """What such a line means; None for an empty one. Raises `FieldErrors` for what is no such line."""
    if not line:
        return None
    found = _HIDDEN.fullmatch(line)
    if found is None or found[3] not in set(MendKind):
        raise FieldErrors(
            [FieldError(None, "We could not read which ring this mends. Begin from that ring.")]
        )
    return Mends(found[1], int(found[2]), MendKind(found[3]))


def mended_words(line: str) -> str:
    """Such a line as it is said: 'remake of 2026-118/1'; '' for what is no such line."""
    found = _HIDDEN.fullmatch(line)
    return "" if found is None else f"{found[3]} of {found[1]}/{found[2]}"


def _number(value: object, field: str) -> str:
    number = read_number(value.strip()) if isinstance(value, str) else None
    if number is None:
        raise FieldErrors([FieldError(field, "This is not the number of an order, such as 2026-118.")])
    return str(number)
