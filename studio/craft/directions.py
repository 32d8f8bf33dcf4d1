"""Words of either direction of writing in one sentence."""

import unicodedata

_FROM_RIGHT = frozenset({"R", "AL", "AN"})
_APART, _END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


def runs_from_right(words: str) -> bool:
    """Whether the words are written from right to left: their first letter says so (UAX #9, rule P2)."""
    kinds = (unicodedata.bidirectional(sign) for sign in words)
    return next((kind for kind in kinds if kind in {"L", "R", "AL"}), "L") != "L"


def apart(words: str) -> str:
    """The words as they go into a sentence: kept apart where they are written from right to left.

    Without it a day or a number behind an Arabic name is read on its other side (Unicode Bidirectional
    Algorithm, UAX #9). Nothing that is typed may hold the signs that do it, so they always pair.
    """
    if words.isascii() or not any(unicodedata.bidirectional(sign) in _FROM_RIGHT for sign in words):
        return words
    return f"{_APART}{words}{_END}"
