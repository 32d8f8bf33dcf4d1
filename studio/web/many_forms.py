"""Forms of one kind on one page, as of gauges, alloys or pieces: a field's name ends in its form's number."""

from collections.abc import Mapping

from studio.web.counter_page import ErrorLine
from studio.web.sent_back import Said, both_versions


class OneOfMany:
    """One of the forms: `number` sets it apart, `texts` are its fields by their plain names."""

    __slots__ = ()
    number: int | str
    texts: dict[str, str]

    def text(self, name: str) -> str:
        """What stands in the field."""
        return self.texts.get(name, "")

    def name_of(self, name: str) -> str:
        """The name of the field among all forms of the page, which its id is made of."""
        return f"{name}-{self.number}"


def lines_of(said: Said, words: Mapping[str, str], number: int | str | None = None) -> tuple[ErrorLine, ...]:
    """The summary's lines, each with the words of its field and leading to it: in the form of this number."""
    end = "" if number is None else f"-{number}"
    return tuple(
        ErrorLine(f"{line.href}{end}", f"{words.get(error.field or '', '')}: {line.text}".removeprefix(": "))
        for line, error in zip(said.lines, said.errors, strict=True)
    )


def meanwhile(
    heading: str, words: Mapping[str, str], typed: Mapping[str, str], stands: Mapping[str, str]
) -> Said:
    """Somebody else was there first: what was typed stands in its fields again, beside what stands by now."""
    return Said(
        heading=heading,
        sentences=(
            "Nothing of yours was saved yet.",
            "What you typed still stands below; save it again to keep it.",
        ),
        versions=both_versions(words, typed, stands),
        typed=dict(typed),
    )


class SeveralForms:
    """A page of several forms, of which one may have come back: `said_of` is its number, '' for the first."""

    __slots__ = ()
    said: Said
    said_of: str

    def text(self, name: str, number: str = "") -> str:
        """What was typed in the field of a form that came back; '' in all others."""
        return self.said.typed.get(name, "") if self.said_of == number else ""

    def error(self, name: str, number: str = "") -> str:
        """The sentence beside a field of the form that came back."""
        return self.said.error(name) if self.said_of == number else ""

    def is_open(self, number: str) -> bool:
        """Whether this form came back."""
        return self.said_of == number and bool(self.said.heading)
