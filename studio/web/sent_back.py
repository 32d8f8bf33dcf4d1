"""What a page says when something was sent and could not be kept as it was: nothing typed is lost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from studio.web.counter_page import ErrorLine, TwoVersions
from studio.web.errors import FieldError
from studio.web.wording import counted, opened


@dataclass(frozen=True, slots=True)
class Said:
    """What the page has to say after something was sent and could not be kept as it was.

    `typed` are the fields as they were typed, by name; they stand in their fields again.
    """

    heading: str = ""
    sentences: tuple[str, ...] = ()
    errors: tuple[FieldError, ...] = ()
    versions: tuple[TwoVersions, ...] = ()
    typed: dict[str, str] = field(default_factory=dict)

    def error(self, name: str) -> str:
        """The sentence beside the field `name`, or ''."""
        return next((error.message for error in self.errors if error.field == name), "")

    @property
    def lines(self) -> tuple[ErrorLine, ...]:
        """The summary's lines, each leading to its field."""
        return tuple(
            ErrorLine(f"#f-{(error.field or '').replace('_', '-').replace('.', '-')}", error.message)
            for error in self.errors
        )


def to_put_right(errors: Sequence[FieldError], typed: Mapping[str, str]) -> Said:
    """The page comes back with a sentence beside each field that is to be put right."""
    heading = f"{opened(counted(len(errors), 'thing', 'things'))} to put right"
    return Said(heading=heading, errors=tuple(errors), typed=dict(typed))


def typed_texts(typed: Mapping[str, object], *names: str) -> dict[str, str]:
    """The fields as they were typed; what is no text is an empty field."""
    return {name: value if isinstance(value := typed.get(name), str) else "" for name in names}


def both_versions(
    names: Mapping[str, str], typed: Mapping[str, str], stands: Mapping[str, str]
) -> tuple[TwoVersions, ...]:
    """What was typed beside what stands by now, for each field (by its word in `names`) where they differ."""
    return tuple(
        TwoVersions(names[name], typed[name] or "nothing", here or "nothing")
        for name, here in stands.items()
        if name in typed and typed[name].strip() != here.strip()
    )
