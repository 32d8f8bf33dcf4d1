"""Reading what a ring is beyond its metal: its finish and its inscription, for a page's form and the API.

Null, or a group that says nothing, is not asked yet; an inscription without text is asked, and none wanted.
"""

from collections.abc import Mapping

from studio.craft.designs import Limits
from studio.craft.inscriptions import LETTER_MM, LONGEST
from studio.craft.particulars import Face, Inscription, Lettering, Particulars, Surface
from studio.web.reading import Reading
from studio.web.texts import read_text

LETTERS = Limits(*LETTER_MM)


def read_particulars(ring: Mapping[str, object], path: str) -> Particulars:
    """The ring's `finish` and `inscription`; `path` stands before the fields of the errors."""
    at = f"{path}." if path else ""
    finish = Reading(ring.get("finish"), f"{at}finish")
    inside, outside = finish.choice("inside", Surface), finish.choice("outside", Surface)
    words = finish.found.take(lambda: _inscription(ring.get("inscription"), f"{at}inscription"))
    finish.stop()
    return Particulars(inside, outside, words)


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
