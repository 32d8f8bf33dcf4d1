"""The form of the studio's practice, made from the table of its figures: as it stands, and as it is read."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from studio.book.practices import changed
from studio.craft.designs import Profile
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.practice import FitRow, Practice
from studio.craft.practice_figures import (
    MOST_ADDED_MM,
    MOST_ROWS,
    SUBJECTS,
    WIDEST_MM,
    Choice,
    Figure,
    figures,
    value_at,
)
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.units import read_number, shown_length
from studio.web.counter_choices import Choice as Option
from studio.web.errors import FieldError, FieldErrors, Findings, sentence
from studio.web.practice_words import number_words
from studio.web.sent_back import Said
from studio.web.wording import opened

SPARE_ROWS = 2
"""Rows that stand empty below a fit rule, so that it can grow without a script."""
FIT_RULES: Mapping[str, str] = {
    "common": "Every section without a rule of its own",
    **{profile.value: opened(PROFILE_NAMES[profile]) for profile in Profile},
}
"""The fit rules that can be given, by the key in their fields' names."""
_FIT_WIDTH = Figure("", "Width of the ring", "mm", 0.1, WIDEST_MM)
_FIT_ADDED = Figure("", "Allowance", "mm", -MOST_ADDED_MM, MOST_ADDED_MM)
_OUTSIDE = frozenset({Why.TOO_LARGE, Why.TOO_SMALL, Why.NOT_ABOVE_ZERO})


@dataclass(frozen=True, slots=True)
class PracticeField:
    """One figure on the page. `said` tells its source, '' for common practice; `options` makes a list."""

    name: str
    label: str
    value: str
    unit: str
    note: str
    said: str
    error: str
    options: tuple[Option, ...] = ()


@dataclass(frozen=True, slots=True)
class PracticeGroup:
    """The figures of one subject."""

    key: str
    name: str
    note: str
    fields: tuple[PracticeField, ...]


@dataclass(frozen=True, slots=True)
class FitLine:
    """One row of a fit rule: up to and including a width, so much is added."""

    up_to: PracticeField
    add: PracticeField


@dataclass(frozen=True, slots=True)
class FitTable:
    """One fit rule on the page; `widest` is what every wider ring gets."""

    key: str
    name: str
    lines: tuple[FitLine, ...]
    widest: PracticeField
    said: str
    error: str
    is_own: bool

    @property
    def is_open(self) -> bool:
        """Whether it is shown without being asked for."""
        return (
            self.is_own or bool(self.error) or any(line.up_to.error or line.add.error for line in self.lines)
        )


@dataclass(frozen=True, slots=True)
class PracticeForm:
    """The whole form."""

    fit: FitTable
    fit_by_profile: tuple[FitTable, ...]
    groups: tuple[PracticeGroup, ...]
    from_day: PracticeField
    source: PracticeField


def field_of(path: str) -> str:
    """The name of a figure's field: 'doubt.steps_mm.uk' gives 'figure-doubt-steps-mm-uk'."""
    return f"figure-{re.sub('[^a-z0-9]+', '-', path)}"


def fit_field(key: str, place: int, side: str) -> str:
    """The name of a field of a fit rule: ('common', 1, 'up') gives 'fit-common-1-up'."""
    return f"fit-{key}-{place}-{side}"


def widest_field(key: str) -> str:
    """The name of the field for what every wider ring gets: 'fit-common-wider'."""
    return f"fit-{key}-wider"


def field_words() -> dict[str, str]:
    """Every field by its name, with the words that name it alone."""
    words = {field_of(figure.path): figure.label for figure in figures()}
    for key, name in FIT_RULES.items():
        rule = "Fit" if key == "common" else f"Fit, {name[:1].lower()}{name[1:]}"
        for place in range(MOST_ROWS - 1):
            words[fit_field(key, place, "up")] = f"{rule}, row {place + 1}, up to"
            words[fit_field(key, place, "add")] = f"{rule}, row {place + 1}, added"
        words[widest_field(key)] = f"{rule}, wider"
    return words | {"from_day": "Holds from", "source": "Where it comes from"}


def practice_texts(practice: Practice) -> dict[str, str]:
    """The practice as its fields show it, by their names."""
    texts = {field_of(figure.path): _text(value_at(practice, figure.path)) for figure in figures()}
    for key in FIT_RULES:
        rows = _rows(practice, key)
        for place, row in enumerate(rows[:-1]):
            texts[fit_field(key, place, "up")] = shown_length(row.up_to_mm or 0)
            texts[fit_field(key, place, "add")] = shown_length(row.add_mm)
        texts[widest_field(key)] = shown_length(rows[-1].add_mm) if rows else ""
    return texts


def practice_form(practice: Practice, said: Said, today_words: str) -> PracticeForm:
    """The form with what holds, or with what was typed and could not be kept."""
    stands = practice_texts(practice) | {"from_day": today_words, "source": ""}
    texts = {**stands, **said.typed} if said.typed else stands

    def shown(figure: Figure | Choice) -> PracticeField:
        name = field_of(figure.path)
        unit, options = ("", _options(figure)) if isinstance(figure, Choice) else (figure.unit, ())
        where = practice.source_of(figure.path)
        return PracticeField(
            name,
            figure.label,
            texts.get(name, ""),
            unit,
            figure.note,
            "" if where == practice.source else where,
            said.error(name),
            options,
        )

    tables = tuple(_table(practice, key, texts, said) for key in FIT_RULES)
    return PracticeForm(
        fit=tables[0],
        fit_by_profile=tables[1:],
        groups=tuple(
            PracticeGroup(subject.key, subject.name, subject.note, tuple(map(shown, subject.figures)))
            for subject in SUBJECTS
        ),
        from_day=_plain_field("from_day", "Holds from", texts, said, "Today, or a day to come."),
        source=_plain_field("source", "Where it comes from", texts, said, "Your trials, a book, a day."),
    )


def read_practice(typed: Mapping[str, str], shown: Practice, base: Practice) -> Practice:
    """`base` with what was typed otherwise than `shown`, which the form was made from.

    Raises `FieldErrors` with everything that is to be put right.
    """
    found = Findings()
    changes: dict[str, Any] = {}
    for figure in figures():
        name = field_of(figure.path)
        text = typed.get(name, "")
        if text == _text(value_at(shown, figure.path)) or (isinstance(figure, Choice) and not text):
            continue
        changes[figure.path] = found.take(partial(_read, figure, text, name))
    for key in FIT_RULES:
        path = _path(key)
        rows = _read_rule(key, typed, found)
        if rows is not None and rows != _rows(shown, key):
            changes[path] = rows or None
    found.stop()
    return changed(base, changes)


def _table(practice: Practice, key: str, texts: Mapping[str, str], said: Said) -> FitTable:
    own = _rows(practice, key)
    typed = [place for place in range(MOST_ROWS - 1) if texts.get(fit_field(key, place, "up"), "").strip()]
    count = min(MOST_ROWS - 1, max([len(own) - 1, *(place + 1 for place in typed)], default=0) + SPARE_ROWS)
    widest = widest_field(key)
    where = practice.source_of(_path(key))
    of_whole = said.error(f"fit-{key}")
    return FitTable(
        key=key,
        name=FIT_RULES[key],
        lines=tuple(
            FitLine(
                _row_field(fit_field(key, place, "up"), f"Row {place + 1}, up to", texts, said),
                _row_field(fit_field(key, place, "add"), f"Row {place + 1}, added", texts, said),
            )
            for place in range(count)
        ),
        widest=_row_field(widest, "Wider, added", texts, said),
        said="" if where == practice.source else where,
        error=of_whole,
        is_own=bool(own) and key != "common",
    )


def _row_field(name: str, label: str, texts: Mapping[str, str], said: Said) -> PracticeField:
    return PracticeField(name, label, texts.get(name, ""), "mm", "", "", said.error(name))


def _plain_field(name: str, label: str, texts: Mapping[str, str], said: Said, note: str) -> PracticeField:
    return PracticeField(name, label, texts.get(name, ""), "", note, "", said.error(name))


def _options(choice: Choice) -> tuple[Option, ...]:
    return tuple(Option(key, words) for key, words in choice.words.items())


def _path(key: str) -> str:
    return "fit_rule" if key == "common" else f"fit_by_profile.{key}"


def _rows(practice: Practice, key: str) -> tuple[FitRow, ...]:
    return practice.fit_rule if key == "common" else practice.fit_by_profile.get(Profile(key), ())


def _read(figure: Figure | Choice, text: str, name: str) -> Any:
    if isinstance(figure, Choice):
        if text not in figure.words:
            raise Refused(Refusal(name, Why.UNKNOWN_CHOICE))
        return text == "yes" if set(figure.words) == {"yes", "no"} else text
    return _read_figure(text, name, figure)


def _read_figure(text: str, name: str, figure: Figure) -> float:
    """A figure with or without its unit; what lies outside is told by its limits."""
    typed = text.replace("−", "-").removeprefix("+")
    try:
        read = read_number(typed, figure.label.lower(), low=figure.low, high=figure.high, unit=figure.unit)
    except Refused as refused:
        (one,) = refused.refusals
        limits = f"{number_words(figure.low)} to {number_words(figure.high)} {figure.unit}"
        words = f"This has to be {limits}." if one.why in _OUTSIDE else sentence(one)
        if one.why is Why.EMPTY:
            words = "This is not given yet."
        raise FieldErrors([FieldError(name, words)]) from refused
    return round(read, 3)  # as it will stand in its field


def _read_rule(key: str, typed: Mapping[str, str], found: Findings) -> tuple[FitRow, ...] | None:
    """The rule as typed, () for one that is left empty, None where something is to be put right."""
    before = len(found.errors)
    rows: list[FitRow] = []
    last = 0.0
    for place in range(MOST_ROWS - 1):
        up, add = (typed.get(fit_field(key, place, side), "").strip() for side in ("up", "add"))
        if not (up or add):
            continue
        up_mm = found.take(partial(_read_figure, up, fit_field(key, place, "up"), _FIT_WIDTH))
        add_mm = found.take(partial(_read_figure, add, fit_field(key, place, "add"), _FIT_ADDED))
        if up_mm is not None and up_mm <= last:
            found.add(fit_field(key, place, "up"), f"This row has to be wider than {number_words(last)} mm.")
        last = max(last, up_mm or 0.0)
        if up_mm is not None and add_mm is not None:
            rows.append(FitRow(up_mm, add_mm))
    wider = typed.get(widest_field(key), "").strip()
    if not rows and not wider and key != "common" and len(found.errors) == before:
        return ()
    wider_mm = found.take(partial(_read_figure, wider, widest_field(key), _FIT_ADDED))
    return None if len(found.errors) > before or wider_mm is None else (*rows, FitRow(None, wider_mm))


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return shown_length(value) if isinstance(value, float | int) else str(value)
