"""The initials of a name: what tells two envelopes apart without saying whose they are."""

import re
import unicodedata

from studio.craft.inscriptions import letters_of

MOST = 4
"""Letters of initials, at most: of a longer name the first three and the last."""
_PARTS = re.compile(r"[\s\-\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}/.]+")
_SMALL_BEFORE_A_NAME = re.compile(r"(?<!\w)([^\W\d_])['’](?=\w)")
_VOWELS_BEFORE = "เแโใไເແໂໃໄ"
"""Thai and Lao vowels that are written before the consonant they belong to; it is the initial."""
_BARE = re.compile(r"[\u0e00-\u0eff]")
"""Thai and Lao, where an initial stands without the vowels and tones over and under it."""
_VIRAMA = 9
"""The combining class of the sign that ties a consonant to the next (Unicode Character Database)."""


def initials(name: str) -> str:
    """The first letter of each part of a name, a blank between them: 'Jorun Müller' gives 'J M'.

    Four letters at most, an accent with its letter. A particle keeps its small letter ('Ludwig van
    Beethoven': 'L v B'); a name without any capital is taken for one that was typed in haste ('ines radley':
    'I R'). The letters stand in the order they are read, also from right to left. Where they would be the
    whole name, as in '李 明', only the first is given; a name of a single letter has no other. Nothing for
    a name without a letter or a figure.
    """
    name = unicodedata.normalize("NFC", name)
    apart = _SMALL_BEFORE_A_NAME.sub(lambda one: f"{one[1]} " if one[1].islower() else one[0], name)
    parts = _PARTS.split(apart)
    found = [first for part in parts if (first := _first_letter(part))]
    if not any(letter.isupper() for letter in name):
        found = [_as_a_capital(letter) for letter in found]
    if len(found) > 1 and len("".join(found)) >= len(_PARTS.sub("", name)):
        del found[1:]
    if len(found) > MOST:
        found[MOST - 1 :] = found[-1:]
    return " ".join(found)


def _first_letter(part: str) -> str:
    """The first letter or figure of a word with all that belongs to it, '' where there is none."""
    signs = letters_of("".join(sign for sign in part if sign not in _VOWELS_BEFORE))
    for at, sign in enumerate(signs):
        if sign[0].isalnum():
            if _BARE.match(sign):
                return sign[0]
            return sign + signs[at + 1] if _is_tied(sign) and at + 1 < len(signs) else sign
    return ""


def _is_tied(sign: str) -> bool:
    return unicodedata.combining(sign[-1]) == _VIRAMA


def _as_a_capital(sign: str) -> str:
    """'é' as 'É'. A letter whose capital is more than one, as 'ß' is, stays as it is."""
    capital = sign[0].title()
    return capital + sign[1:] if len(capital) == 1 else sign
