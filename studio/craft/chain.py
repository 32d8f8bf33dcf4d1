"""Rows chained by their hashes: each carries the hash of its own text and of the row before it.

Whoever changes, drops or slips in a row breaks every hash from there on. Who rewrites all of them has a whole
chain again, but another head than the one that was printed.
"""

import json
from collections.abc import Iterable, Mapping
from hashlib import sha256

GENESIS = "0" * 64
"""What stands before the first row."""


def row_text(values: Mapping[str, object]) -> str:
    """A row as one text, the same on every machine: JSON, its keys in order, no spaces, letters as they are.

    {'mass_mg': 5600, 'alloy': 'silver-925'} gives '{"alloy":"silver-925","mass_mg":5600}'. What is None is
    left out, so that a field added later changes no row of before. Raises `TypeError` for a value that is
    neither text nor a whole number.
    """
    for name, value in values.items():
        if value is not None and not isinstance(value, str | int):
            raise TypeError(f"{name} is neither text nor a whole number")
    given = {name: value for name, value in values.items() if value is not None}
    return json.dumps(given, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def chained(previous: str, text: str) -> str:
    """The hash of a row: SHA-256 over the hash before it, a line feed and the row's text, in hex.

    chained('0' * 64, '{"alloy":"silver-925","mass_mg":5600}') begins with 'df96f5db'.
    """
    return sha256(f"{previous}\n{text}".encode()).hexdigest()


def first_unfit(rows: Iterable[tuple[int, str, str]]) -> int | None:
    """The number of the first row that does not fit, None where all do.

    Each row is its number, its text and the hash it carries; numbers count from 1 on without a gap.
    """
    previous = GENESIS
    for place, (number, text, carried) in enumerate(rows, 1):
        if number != place or chained(previous, text) != carried:
            return min(number, place)
        previous = carried
    return None


def head_words(hashed: str) -> str:
    """A hash as it is printed, in groups of eight, so that an eye can follow it."""
    return " ".join(hashed[at : at + 8] for at in range(0, len(hashed), 8))
