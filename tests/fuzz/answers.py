"""What every answer must hold, whoever asks."""

import io
import json
import re
from collections.abc import Iterator
from typing import Any

import httpx
from pypdf import PdfReader

from studio.craft.roles import RIGHTS, Right, Role
from tests.fuzz.book import Known

_INNER_WORDS = frozenset({"margin", "overhead", "labour", "consumables", "premium", "cost", "waste"})
"""Parts of a field's name that tell what a ring costs and earns."""
_MONEY_WORDS = frozenset({"minor", "currency", "price", "total", "net", "tax"})
_CONTACT_WORDS = frozenset({"phone", "email"})


def rights_of(role: Role | None) -> frozenset[Right]:
    """What a role may; nothing for somebody nobody knows."""
    return frozenset() if role is None else RIGHTS[role]


def told_too_much(answer: httpx.Response, role: Role | None, known: Known) -> set[str]:
    """The names and the values in an answer that the role has no right to see; empty where all is well."""
    rights = rights_of(role)
    hidden_words, hidden = set[str](), set[str]()
    if Right.SEE_CONTACT not in rights:
        hidden_words |= _CONTACT_WORDS
        hidden |= known.contact
    if Right.SEE_PRICE not in rights:
        hidden_words |= _MONEY_WORDS
        hidden |= known.charged
    if Right.SEE_COST not in rights:
        hidden_words |= _INNER_WORDS
        hidden |= known.earned
    text = readable(answer)
    found = {value for value in hidden if re.search(rf"(?<![\d.,]){re.escape(value)}(?!\d)", text)}
    return found | {name for name in _names(answer) if hidden_words & set(name.split("_"))}


def readable(answer: httpx.Response) -> str:
    """An answer as text: its head and its body; of a paper what a reader finds in it."""
    head = " ".join(f"{name}: {value}" for name, value in answer.headers.items() if name != "content-length")
    if answer.headers.get("content-type", "").startswith("application/pdf") and _is_paper(answer):
        reader = PdfReader(io.BytesIO(answer.content))
        return " ".join([head, str(reader.metadata), *(page.extract_text() for page in reader.pages)])
    return f"{head} {answer.text}"


def _is_paper(answer: httpx.Response) -> bool:
    """Whether it is a paper that was made; the quotes of this book have a few bytes in its place."""
    return answer.content.rstrip().endswith(b"%%EOF")


def _names(answer: httpx.Response) -> set[str]:
    """Every field's name anywhere in a JSON answer, without the description, which names them all."""
    if "json" not in answer.headers.get("content-type", "") or "/openapi.json" in answer.request.url.path:
        return set()
    return set(_names_in(json.loads(answer.text)))


def _names_in(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for name, inner in value.items():
            yield name
            yield from _names_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _names_in(inner)
