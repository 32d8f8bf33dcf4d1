"""What the studio keeps of the price of an order called off after the yes, as typed and as shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from studio.book.studio import Studio
from studio.web.amounts import read_percent, shown_percent
from studio.web.reading import Reading

KEPT_WORDS = {
    "kept_agreed": "Nothing cut yet",
    "kept_cut": "A blank is cut",
    "kept_bench": "At the bench",
    "kept_ready": "Ready",
}
"""The fields and their words, by how far the work had come."""


def kept_texts(facts: Studio) -> dict[str, str]:
    """What stands, as the form's fields show it: '12.5', '' where nothing is said."""
    found: dict[str, str] = {}
    for name in KEPT_WORDS:
        bp = getattr(facts, f"{name}_bp")
        found[name] = "" if bp is None else shown_percent(_percent(bp))
    return found


@dataclass(frozen=True, slots=True)
class KeptTyped:
    """The percentages as they are kept, in hundredths; None where nothing is said."""

    kept_agreed_bp: int | None
    kept_cut_bp: int | None
    kept_bench_bp: int | None
    kept_ready_bp: int | None


def read_kept(raw: Mapping[str, object]) -> KeptTyped:
    """The percentages as typed; raises `FieldErrors` for what is none."""
    asked = Reading(raw, "")
    read = {name: asked.read(name, read_percent(100)) if asked.has(name) else None for name in KEPT_WORDS}
    asked.stop()
    return KeptTyped(**{f"{name}_bp": _bp(value) for name, value in read.items()})


def _bp(percent: Decimal | None) -> int | None:
    return None if percent is None else int(percent * 100)


def _percent(bp: int) -> Decimal:
    return Decimal(bp) / 100
