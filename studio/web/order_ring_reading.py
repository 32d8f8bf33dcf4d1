"""What is typed about a ring on its order's page: why its warnings are let through."""

from collections.abc import Mapping
from dataclasses import replace

from studio.book.order_values import Order, RingDraft
from studio.web.errors import Declined, FieldError
from studio.web.forms import LONGEST_REASON
from studio.web.order_ring import warning_field
from studio.web.reading import Reading
from studio.web.texts import read_text


def read_reasons(raw: Mapping[str, object], order: Order, position: int) -> tuple[RingDraft, ...]:
    """The rings of the order, the one at `position` with the reasons that were typed for its warnings.

    Raises `FieldErrors` at 'reason-ring-1-narrow-gauge' where none was given at all, or one cannot be read,
    and `Declined` where there is no such ring.
    """
    check_is_there(order, position)
    asked = Reading(raw, "")
    rings = []
    for ring in order.rings:
        given = dict(ring.reasons)
        if ring.position == position:
            given |= _typed(asked, ring.position, [one.code for one in ring.reckoning.caveats])
        rings.append(replace(ring.draft, reasons=given))
    asked.stop()
    return tuple(rings)


def read_back_rings(order: Order, position: int) -> tuple[RingDraft, ...]:
    """The rings of the order, the inscription of the one at `position` read back.

    Raises `Declined` where there is no such ring, or nothing to cut on it.
    """
    check_is_there(order, position)
    rings = []
    for ring in order.rings:
        draft, words = ring.draft, ring.particulars.words_to_cut
        if ring.position == position:
            if words is None:
                raise Declined(409, f"Ring {position} of {order.number} has no inscription.")
            told = replace(ring.particulars, inscription=replace(words, is_read_back=True))
            draft = replace(draft, particulars=told)
        rings.append(draft)
    return tuple(rings)


def check_is_there(order: Order, position: int) -> None:
    """Raises `Declined` (404) where the order has no ring at this place."""
    if position not in {ring.position for ring in order.rings}:
        raise Declined(404, f"{order.number} has no ring {position}.")


def _typed(asked: Reading, position: int, codes: list[str]) -> dict[str, str]:
    fields = {code: name for code in codes if (name := warning_field(position, code)) in asked.raw}
    found = {
        code: text
        for code, name in fields.items()
        if (text := asked.read(name, lambda value, field: read_text(value, field, longest=LONGEST_REASON)))
    }
    if not found and not asked.found.errors:
        asked.found.errors += [FieldError(name, "Say why, in a few words.") for name in fields.values()]
    return found
