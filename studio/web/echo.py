"""Saying back what was typed, where that can be done."""

import re

MAX_ECHO = 20
_HARMLESS = re.compile(r"[0-9A-Za-z½¼¾.,:/+\- \"']+")


def echo(typed: str) -> str:
    """What was typed, if it can be said back in a sentence; else nothing.

    Long or strange text is not repeated: it stands in its field, where it can be seen as it is.
    """
    said = typed.strip()
    return said if len(said) <= MAX_ECHO and _HARMLESS.fullmatch(said) else ""
