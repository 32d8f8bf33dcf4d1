"""Reading words: names, phone numbers, addresses and notes, as they are typed."""

import re
import unicodedata
from collections.abc import Sequence

from studio.papers.fonts import unprintable
from studio.web.errors import FieldError, FieldErrors
from studio.web.wording import joined

LONGEST_NAME = 120
LONGEST_ADDRESS = 500
MOST_LINES = 5
_MOST_NAMED = 5
_TURNING = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""The signs that embed or override a direction of writing (Unicode Bidirectional Algorithm, UAX #9).

With them a name could read one way on paper and another in the book.
"""
_PHONE = re.compile(r"\+?[0-9 ()./-]+(?: ?(?:x|ext\.?) ?[0-9]+)?", re.IGNORECASE)
_EMAIL = re.compile(r"[^\s@,;<>]+@[^\s@,;<>]+\.[^\s@,;<>.]+")


def is_given(value: object) -> bool:
    """Whether anything was typed: an empty or blank text counts as left out, like null."""
    return value is not None and not (isinstance(value, str) and not value.strip())


def read_text(
    value: object, field: str, *, longest: int, has_lines: bool = False, is_printed: bool = True
) -> str:
    """The text as typed, trimmed and in one form of Unicode; '' where nothing was given.

    Signs that no paper can show are refused: control signs, signs that turn the direction of what follows,
    and, named in the sentence, what no font of this machine has. Only a text with lines may hold line ends
    and tabs. What is not `is_printed` ever may hold signs without a font.
    """
    if value is None:
        return ""
    if not isinstance(value, str):
        raise _asks(field, "This has to be text.")
    text = unicodedata.normalize("NFC", value).replace("\r\n", "\n").replace("\r", "\n").strip()
    if len(text) > longest:
        raise _asks(field, f"This is too long: {len(text)} signs where {longest} have room.")
    if any(not _is_printable(sign, has_lines=has_lines) for sign in text):
        raise _asks(field, "There is a sign in this that cannot be printed. Type it again.")
    if is_printed and not text.isascii() and (missing := unprintable(text)):
        raise _asks(
            field, f"No font here has {_named(missing)}, so no paper could show it. Write it otherwise."
        )
    return text


def read_word(value: object, field: str) -> str:
    """A word of a list, or words to find something by: at most 120 signs, which stand on no paper."""
    return read_text(value, field, longest=LONGEST_NAME, is_printed=False)


def read_name(value: object, field: str) -> str:
    """The name of a person, at least one sign long."""
    name = " ".join(read_text(value, field, longest=LONGEST_NAME).split())
    if not name:
        raise _asks(field, "The name is not given yet.")
    return name


def read_phone(value: object, field: str) -> str | None:
    """A phone number as it was told, with at least three digits; None where nothing was given."""
    text = unicodedata.normalize("NFKC", read_text(value, field, longest=40, is_printed=False))
    if not text:
        return None
    if not _PHONE.fullmatch(text) or sum(sign.isdigit() for sign in text) < 3:
        raise _asks(field, "A phone number is made of digits, such as 01632 960 123.")
    return text


def read_email(value: object, field: str) -> str | None:
    """An e-mail address, only as far as one can tell by looking; None where nothing was given."""
    text = read_text(value, field, longest=254)
    if not text:
        return None
    if not _EMAIL.fullmatch(text):
        raise _asks(field, "An e-mail address looks like name@place.example.")
    return text


def read_address(value: object, field: str) -> str:
    """A postal address: up to five lines, blank ones left out; '' where nothing was given."""
    text = read_text(value, field, longest=LONGEST_ADDRESS, has_lines=True)
    lines = [" ".join(line.split()) for line in text.splitlines() if line.strip()]
    if len(lines) > MOST_LINES:
        raise _asks(field, f"An address has up to {MOST_LINES} lines; here are {len(lines)}.")
    return "\n".join(lines)


def _is_printable(sign: str, *, has_lines: bool) -> bool:
    if sign in "\n\t":
        return has_lines
    if unicodedata.bidirectional(sign) in _TURNING:
        return False
    return unicodedata.category(sign) not in {"Cc", "Cs", "Zl", "Zp"}


def _named(signs: Sequence[str]) -> str:
    """Signs as a sentence names them, the first few: '漢 and 字'. What has no shape goes by its number."""
    shown = [
        sign if unicodedata.category(sign)[0] in "LNPS" else f"U+{ord(sign):04X}"
        for sign in signs[:_MOST_NAMED]
    ]
    return joined([*shown, "more"] if len(signs) > _MOST_NAMED else shown)


def _asks(field: str, message: str) -> FieldErrors:
    return FieldErrors([FieldError(field, message)])
