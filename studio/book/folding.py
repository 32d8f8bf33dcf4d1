"""How names and telephone numbers are compared: 'muller' finds 'Müller', '0715' finds '01632 960 715'."""

import unicodedata

_BETWEEN = "+-()/.\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}"
_ENOUGH = 9
_WHOLE_NUMBER = 7
"""From so many digits on it is a whole number, not the end of one: noughts before it are only dialled."""
_SPELLED_OUT = str.maketrans(
    dict(zip("øđłħı", "odlhi", strict=True)) | {"æ": "ae", "œ": "oe", "þ": "th", "ð": "d"}
)


def folded(text: str) -> str:
    """`text` without accents and without case, spaces single: ' MÜLLER  Åsa' gives 'muller asa'.

    Unicode NFKD with the combining marks left out, then casefold ('ß' becomes 'ss'); the few letters that
    have no parts in Unicode ('ø', 'ł') are named here.
    """
    parts = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in parts if not unicodedata.combining(sign))
    return " ".join(bare.translate(_SPELLED_OUT).split())


def words_of(folded_name: str) -> set[str]:
    """The words by which a folded name is found: those between spaces, and those between the signs in them.

    'jorun smythe-dahl' is found by the beginning of 'jorun', 'smythe-dahl', 'smythe' and 'dahl'.
    """
    return {*folded_name.split(), *"".join(sign if sign.isalnum() else " " for sign in folded_name).split()}


def digits(text: str) -> str:
    """The digits of `text`, those of other scripts as 0 to 9: '+44 (1632) 960-715' gives '441632960715'."""
    return "".join(str(unicodedata.digit(sign)) for sign in text if sign.isdecimal())


def phone_endings(text: str) -> tuple[str, ...]:
    """The digits that a telephone number ends in if it is the one typed, however it is spelled.

    '+44 (0)1632 960 715', '0044 1632 960715', '01632-960715' and '960715' each give an ending of '01632 960
    715'. Nine digits at most are enough to tell numbers apart and leave out what is dialled before them. Of a
    short number typed with its country there is one ending for each length the country's code may have.
    """
    bare = digits(text.replace("(0)", ""))
    if len(bare) < _WHOLE_NUMBER:
        return (bare,)
    is_abroad = text.strip().startswith("+") or bare.startswith("00")
    national = bare.lstrip("0")
    found = [national[-_ENOUGH:]]
    if is_abroad:
        rest = [national[code:].lstrip("0") for code in (1, 2, 3)]
        found += [one for one in rest if _WHOLE_NUMBER <= len(one) < _ENOUGH]
    return tuple(dict.fromkeys(found))


def looks_like_phone(text: str) -> bool:
    """Whether `text` is at least four digits with nothing but the signs people put between them."""
    return len(digits(text)) >= 4 and all(
        sign.isdecimal() or sign.isspace() or sign in _BETWEEN for sign in text.strip()
    )
