"""Reading what a ring is beyond its metal: its finish and its inscription, for a page's form and the API.

Null, or a group that says nothing, is not asked yet; an inscription without text is asked, and none wanted.
"""

from collections.abc import Mapping

from studio.craft.designs import Limits
from studio.craft.inscriptions import LETTER_MM, LONGEST
from studio.craft.particulars import (
    Face,
    Inscription,
    Lettering,
    MarkPlace,
    Marks,
    MarkWish,
    Particulars,
    Risk,
    Setting,
    Stone,
    Surface,
    Whose,
)
from studio.craft.stones import LONGEST_WORDS, MOST_ALIKE, MOST_KINDS
from studio.web.amounts import read_count
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.reading import Reading
from studio.web.texts import read_text

STONE_WORDS = ("shape", "size", "stated", "tested", "condition", "value")
LETTERS = Limits(*LETTER_MM)


def read_particulars(ring: Mapping[str, object], path: str) -> Particulars:
    """The ring's `finish`, `inscription`, `stones` and `marks`; `path` stands before the errors' fields."""
    at = f"{path}." if path else ""
    finish = Reading(ring.get("finish"), f"{at}finish")
    inside, outside = finish.choice("inside", Surface), finish.choice("outside", Surface)
    words = finish.found.take(lambda: _inscription(ring.get("inscription"), f"{at}inscription"))
    stones = finish.found.take(lambda: _stones(ring.get("stones"), f"{at}stones"))
    marks = finish.found.take(lambda: read_marks(ring.get("marks"), f"{at}marks"))
    finish.stop()
    return Particulars(inside, outside, words, stones, marks)


def read_marks(raw: object, path: str) -> Marks | None:
    """The marks of a ring: `hallmark`, `sponsor`, `where`; None where nothing was asked yet."""
    if raw is None:
        return None
    asked = Reading(raw, path)
    hallmark, where = asked.choice("hallmark", MarkWish), asked.choice("where", MarkPlace)
    has_sponsor = asked.yes("sponsor")
    told = Marks(
        hallmark or MarkWish.AS_RULE,
        has_sponsor=True if has_sponsor is None else has_sponsor,
        where=where or MarkPlace.INSIDE,
    )
    if told.has_no_place and not asked.found.errors:
        asked.add("where", "Marks are struck somewhere: say inside shank or outside.")
    asked.stop()
    return told


def _stones(raw: object, path: str) -> tuple[Stone, ...] | None:
    """The stones; an empty place among them is passed over, so that the others keep their fields."""
    if raw is None:
        return None
    if not isinstance(raw, list) or len(raw) > MOST_KINDS:
        message = f"This has to be a list of at most {MOST_KINDS} kinds of stones."
        raise FieldErrors([FieldError(path, message)])
    found = Findings()
    stones: list[Stone] = []
    for at, one in enumerate(raw):
        try:
            stones += [] if one is None else [_stone(one, f"{path}.{at}")]
        except FieldErrors as errors:
            found.errors += errors.errors
    found.stop()
    return tuple(stones)


def _stone(raw: object, path: str) -> Stone:
    asked = Reading(raw, path)
    count = asked.read("count", read_count(1, MOST_ALIKE, "stone", "stones")) if asked.has("count") else 1
    whose, setting = asked.choice("whose", Whose), asked.choice("setting", Setting)
    risk = asked.choice("risk", Risk)
    words = {name: asked.read(name, short_text) or "" for name in STONE_WORDS}
    if not asked.found.errors and not any((words["stated"], words["tested"], words["shape"])):
        asked.add("stated", "What is it? Say what it is said to be, or what was found.")
    asked.stop()
    return Stone(count=count or 1, whose=whose or Whose.STUDIO, setting=setting, risk=risk, **words)


def _inscription(raw: object, path: str) -> Inscription | None:
    if raw is None:
        return None
    asked = Reading(raw, path)
    text = asked.read("text", _read_line) or ""
    face, lettering = asked.choice("face", Face), asked.choice("lettering", Lettering)
    letter_mm = asked.length("letter_mm", LETTERS, gauge=None)
    is_read_back = asked.yes("read_back")
    asked.stop()
    if not text:
        return Inscription()
    return Inscription(
        text, face or Face.INSIDE, lettering or Lettering.ROMAN, letter_mm, is_read_back=bool(is_read_back)
    )


def _read_line(value: object, field: str) -> str:
    return read_text(value, field, longest=LONGEST)


def short_text(value: object, field: str) -> str:
    """A line of words of at most 120 signs."""
    return read_text(value, field, longest=LONGEST_WORDS)
