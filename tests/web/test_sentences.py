"""There is a sentence for everything that the trade or the book refuses."""

import inspect

import pytest

from studio.book import errors as book_errors
from studio.book.errors import (
    BackupRefused,
    BookError,
    BookNewer,
    LibraryTooOld,
    NotFound,
    RestoreRefused,
)
from studio.craft.errors import Refusal, Refused, Why
from studio.web.book_errors import _ANSWERS
from studio.web.echo import echo
from studio.web.errors import FieldErrors, Findings, in_words, sentence

TOLD_BY_THE_COMMAND_LINE = {BackupRefused, BookNewer, LibraryTooOld, RestoreRefused}
BOOK_ERRORS = [
    kind for _, kind in inspect.getmembers(book_errors, inspect.isclass)
    if issubclass(kind, BookError) and kind not in {BookError, NotFound, *TOLD_BY_THE_COMMAND_LINE}
]  # fmt: skip


@pytest.mark.parametrize("why", list(Why))
@pytest.mark.parametrize("field", ["width", "finger.size", "alloy", "stretch_percent"])
@pytest.mark.parametrize("typed", ["60", "", "<script>alert(1)</script>", "9" * 24 + "…"])
def test_every_refusal_has_its_sentence(why: Why, field: str, typed: str) -> None:
    unit = "UK" if why is Why.UNKNOWN_LABEL else "mm"
    said = sentence(Refusal(field, why, typed, 0.8, 40, unit, "6"))
    assert said[0].isupper() or said[0].isdigit()
    assert said.endswith("Did you mean 6?")
    assert "  " not in said
    assert "<" not in said
    assert "…" not in said


@pytest.mark.parametrize("kind", BOOK_ERRORS)
def test_every_refusal_of_the_book_has_its_answer(kind: type[BookError]) -> None:
    assert kind in _ANSWERS


@pytest.mark.parametrize("typed", ["60", "6 mm", "N½", "1,234", "NaN"])
def test_what_is_harmless_is_said_back(typed: str) -> None:
    assert echo(typed) == typed


@pytest.mark.parametrize("typed", ["<b>", "{{7*7}}", "💍", "9" * 21, "a\nb", "Ω", "&amp;"])
def test_what_is_strange_or_long_is_not_said_back(typed: str) -> None:
    assert echo(typed) == ""


def test_findings_gather_everything_and_tell_it_once() -> None:
    def refuse() -> None:
        raise Refused(Refusal("width", Why.EMPTY), Refusal("alloy", Why.EMPTY))

    found = Findings()
    assert found.take(lambda: 6) == 6
    assert found.take(refuse, "rings.0") is None
    found.take(refuse, "rings.0")
    with pytest.raises(FieldErrors) as told:
        found.stop()
    assert [error.field for error in told.value.errors] == ["rings.0.width", "rings.0.alloy"]
    assert told.value.by_field["rings.0.width"] == "The width is not given yet."


def test_nothing_found_stops_nothing() -> None:
    Findings().stop()
    assert in_words(Refused()) == ()
