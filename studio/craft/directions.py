"""Words of either direction of writing in one sentence."""

import unicodedata

_FROM_RIGHT = frozenset({"R", "AL", "AN"})
_APART, _END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


def apart(words: str) -> str:
    """The words as they go into a sentence: kept apart where they are written from right to left.

    Without it a day or a number behind an Arabic name is read on its other side (Unicode Bidirectional
    Algorithm, UAX #9). Nothing that is typed may hold the signs that do it, so they always pair.
    """
    if words.isascii() or not any(unicodedata.bidirectional(sign) in _FROM_RIGHT for sign in words):
        return words
    return f"{_APART}{words}{_END}"
