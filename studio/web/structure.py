"""Words for a body or an address that is not built as it should be; what was sent is never repeated."""

from collections.abc import Iterable, Mapping
from typing import Any

from studio.web.errors import FieldError

_OUTER = frozenset({"body", "query", "path", "header", "cookie"})
_WORDS = {
    "missing": "This is not given yet.",
    "extra_forbidden": "We do not know this field.",
    "list_type": "This has to be a list.",
    "string_type": "This has to be text.",
    "bool_type": "This has to be true or false.",
    "bool_parsing": "This has to be true or false.",
    "int_type": "This has to be a whole number.",
    "int_parsing": "This has to be a whole number.",
    "int_from_float": "This has to be a whole number.",
    "int_parsing_size": "This number is too large.",
    "date_from_datetime_parsing": "Which day is meant? Write it like 2027-03-27.",
    "date_parsing": "Which day is meant? Write it like 2027-03-27.",
    "model_type": "This has to be an object with fields.",
    "model_attributes_type": "This has to be an object with fields.",
    "dict_type": "This has to be an object with fields.",
    "json_invalid": "This is not well-formed JSON.",
    "enum": "This is not one of the choices.",
    "literal_error": "This is not one of the choices.",
    "string_too_long": "This is too long.",
}
_BOUNDS = {
    "greater_than_equal": "at least",
    "less_than_equal": "at most",
    "greater_than": "above",
    "less_than": "below",
}
_BODY_WORDS = {
    "missing": "The body is empty. Send JSON.",
    "model_attributes_type": "Send one JSON object, with the content type application/json.",
    "model_type": "Send one JSON object, with the content type application/json.",
}


def structure_errors(errors: Iterable[Mapping[str, Any]]) -> list[FieldError]:
    """Each of pydantic's findings with its path and our sentence."""
    found = [_in_words(error) for error in errors]
    return list(dict.fromkeys(found))


def _in_words(error: Mapping[str, Any]) -> FieldError:
    kind = error["type"]
    steps = [str(step) for step in error["loc"]]
    if steps and steps[0] in _OUTER:
        steps = steps[1:]
    if not steps or kind == "json_invalid":
        return FieldError(None, _BODY_WORDS.get(kind, _WORDS.get(kind, "We could not read what was sent.")))
    if kind == "extra_forbidden":  # the name itself is the sender's own text
        steps = [tame(step) for step in steps]
    words = _WORDS.get(kind) or _bounds(kind, error.get("ctx", {})) or "We could not read this."
    return FieldError(".".join(steps), words)


def _bounds(kind: str, facts: Mapping[str, Any]) -> str:
    words = _BOUNDS.get(kind)
    return f"This has to be {words} {next(iter(facts.values()))}." if words and facts else ""


def tame(name: str) -> str:
    """A field's name as sent, as far as it is one: letters, digits, _ and - up to forty signs."""
    kept = "".join(sign for sign in name if sign.isascii() and (sign.isalnum() or sign in "_-"))
    return kept[:40] or "?"
