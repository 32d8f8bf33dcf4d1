"""The studio's own practice by day: what holds, putting another beside it, and how it came to be."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import lru_cache
from itertools import groupby
from types import MappingProxyType
from typing import Any

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import VersionStale
from studio.book.plain_values import as_json, as_plain, from_json, from_plain
from studio.book.practice_tables import PracticeRow
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.learned import Learned, LearnedForming
from studio.craft.practice import COMMON_PRACTICE, Practice, Said
from studio.craft.practice_figures import check_practice, value_at

LONGEST_SOURCE = 300
_NOT_FIGURES = frozenset({"said", "stated_on", "source", "learned", "learned_forming"})


@dataclass(frozen=True, slots=True)
class Kept:
    """A practice with the row that keeps it; the common practice, which no row keeps, has None.

    `learned` is the JSON of what its `practice` has learned for one ring, for that ring's row.
    """

    id: int | None
    practice: Practice
    learned: str | None = None


@dataclass(frozen=True, slots=True)
class PracticeEntry:
    """One change of the practice: from which day it holds, what it changed, why, when and by whom.

    `changed` has each new figure by its path, with what it was and what it is, as plain values.
    """

    id: int
    since: date
    changed: Mapping[str, tuple[Any, Any]]
    source: str
    entered_at: datetime
    entered_by: str


def practice_on(session: Session, day: date) -> Practice:
    """The practice that holds on `day`; the common one where the studio has changed nothing by then."""
    return kept_on(session, day).practice


def kept_on(session: Session, day: date) -> Kept:
    """The practice that holds on `day`, with its row: the latest day's not after it, on one day the last."""
    row = session.connection().execute(_ON_DAY, {"day": day}).one_or_none()
    return Kept(None, COMMON_PRACTICE) if row is None else Kept(row.id, practice_read(row.figures))


# The counter asks while somebody types: the statement is put together once.
_ON_DAY = (
    pick(col(PracticeRow.id), col(PracticeRow.figures))
    .where(col(PracticeRow.since) <= bindparam("day"))
    .order_by(col(PracticeRow.since).desc(), col(PracticeRow.id).desc())
    .limit(1)
)


@lru_cache(maxsize=64)
def practice_read(figures: str | None) -> Practice:
    """The practice out of what a row keeps of it; None, a ring without such a row, is the common one."""
    return COMMON_PRACTICE if figures is None else from_json(Practice, figures)


def practice_of(figures: str | None, learned: str | None) -> Practice:
    """The practice a ring was reckoned by, out of what its rows keep: the figures, and what was learned."""
    practice = practice_read(figures)
    if learned is None:
        return practice
    found = _learned(learned)
    return replace(practice, learned=found.patterns, learned_forming=found.forming)


@dataclass(frozen=True, slots=True)
class _LearnedOfRing:
    """What a ring's row keeps of what was learned, once it keeps anything of forming."""

    patterns: tuple[Learned, ...]
    forming: tuple[LearnedForming, ...]


def learned_json(patterns: tuple[Learned, ...], forming: tuple[LearnedForming, ...]) -> str | None:
    """What a ring's row keeps of what was learned for it; None for nothing.

    Of patterns alone it is a list, as it was before forming was learned.
    """
    if forming:
        return as_json(_LearnedOfRing(patterns, forming))
    return as_json(patterns) if patterns else None


@lru_cache(maxsize=256)
def _learned(kept: str) -> _LearnedOfRing:
    if kept.startswith("["):
        return _LearnedOfRing(from_json(tuple[Learned, ...], kept), ())
    return from_json(_LearnedOfRing, kept)


def put_practice(
    session: Session,
    *,
    practice: Practice,
    from_day: date,
    source: str,
    actor: Actor,
    now: datetime,
    version: int | None = None,
) -> Kept:
    """Let the figures of `practice` that differ from what holds on `from_day` hold from then on.

    A row is written beside the others, which are never changed: rings that were reckoned keep theirs.
    Where a later day has a change of its own already, the new figures hold there too, but for those that
    it changes itself. Saying again what holds writes nothing. `source` says where the new figures come
    from. `version` is the id of the newest row when they were read (0: there was none); left out, it is
    not asked for. Raises `Refused` for a day that is past and for every figure that cannot stand, and
    `VersionStale` when somebody else changed the practice in between.
    """
    with transaction(session):
        current = newest_version(session)
        if version is not None and version != current:
            raise VersionStale("the practice", version, current)
        source = " ".join(source.split())
        if from_day < day_of(now, time_zone(session)):
            raise Refused(Refusal("from_day", Why.DAY_PASSED, from_day.isoformat()))
        if len(source) > LONGEST_SOURCE:
            raise Refused(Refusal("source", Why.TOO_LONG, high=LONGEST_SOURCE, unit="characters"))
        check_practice(practice)
        changed_here = differences(practice_on(session, from_day), practice)
        if not changed_here:
            return kept_on(session, from_day)
        made: list[PracticeRow] = []
        for since, mine in _days_touched(session, from_day, frozenset(changed_here)):
            base = practice_on(session, since)
            own = {path: Said(from_day, source) for path in mine}
            figures = changed(
                replace(base, stated_on=from_day, said=MappingProxyType({**base.said, **own})),
                {path: changed_here[path][1] for path in mine},
            )
            check_practice(figures)
            made.append(
                PracticeRow(
                    since=since,
                    figures=as_json(figures),
                    changed={path: list(changed_here[path]) for path in mine} if not made else {},
                    is_carried=bool(made),
                    source=source,
                    entered_at=now,
                    user_id=actor.id,
                    actor=actor.name,
                )
            )
        session.add_all(made)
        session.flush()
        note(
            session,
            actor=actor,
            now=now,
            verb="change the practice",
            old={path: old for path, (old, _) in changed_here.items()},
            new={path: new for path, (_, new) in changed_here.items()} | {"from_day": from_day.isoformat()},
            reason=source or None,
        )
        return Kept(made[0].id, practice_read(made[0].figures))


def _days_touched(
    session: Session, from_day: date, paths: frozenset[str]
) -> Iterator[tuple[date, frozenset[str]]]:
    """The days that need a row for a change of `paths` from `from_day` on, each with those that it gets."""
    yield from_day, paths
    later = session.exec(
        select(PracticeRow)
        .where(col(PracticeRow.since) > from_day)
        .order_by(col(PracticeRow.since), col(PracticeRow.id))
    ).all()
    for since, rows in groupby(later, key=lambda row: row.since):
        paths -= {path for row in rows for path in row.changed}
        if paths:
            yield since, paths


def newest_version(session: Session) -> int:
    """The id of the newest row, 0 where there is none: what a form remembers it was made from."""
    found = session.exec(select(PracticeRow.id).order_by(col(PracticeRow.id).desc()).limit(1)).one_or_none()
    return found or 0


def practice_history(
    session: Session, *, before: int | None = None, after_day: date | None = None, limit: int = 50
) -> tuple[PracticeEntry, ...]:
    """The changes, the newest entry first, at most `limit`; `before` is the id of the last one seen.

    With `after_day` only those that hold from a later day.
    """
    wanted = (
        select(PracticeRow)
        .where(col(PracticeRow.is_carried).is_(False))
        .order_by(col(PracticeRow.id).desc())
        .limit(limit)
    )
    if before is not None:
        wanted = wanted.where(col(PracticeRow.id) < before)
    if after_day is not None:
        wanted = wanted.where(col(PracticeRow.since) > after_day)
    return tuple(
        PracticeEntry(
            row.id,
            row.since,
            {path: (old, new) for path, (old, new) in row.changed.items()},
            row.source,
            row.entered_at,
            row.actor,
        )
        for row in session.exec(wanted).all()
    )


def changed(practice: Practice, changes: Mapping[str, Any]) -> Practice:
    """`practice` with the figures at these paths changed: {'kerf_mm': 0.3, 'doubt.steps_mm.uk': 0.6}.

    A figure of several parts is given whole: `fit_rule` as rows. None takes a key out of a mapping.
    Raises `KeyError` or `AttributeError` for a path it has not.
    """
    plain = as_plain(practice)
    for path, value in changes.items():
        *folders, name = path.split(".")
        place = plain
        for folder in folders:
            place = place[folder]
        place[name] = as_plain(value)
    new = from_plain(Practice, plain)
    for path, value in changes.items():
        if value is not None:
            value_at(new, path)
    return new


def differences(old: Practice, new: Practice) -> dict[str, tuple[Any, Any]]:
    """The figures in which two practices differ, by their paths, as plain values: what was and what is."""
    was, becomes = dict(_leaves(as_plain(old))), dict(_leaves(as_plain(new)))
    return {
        path: (was.get(path), becomes.get(path))
        for path in {**was, **becomes}
        if was.get(path) != becomes.get(path)
    }


def _leaves(plain: Mapping[str, Any], start: str = "") -> Iterator[tuple[str, Any]]:
    for name, value in plain.items():
        if start or name not in _NOT_FIGURES:
            if isinstance(value, Mapping):
                yield from _leaves(value, f"{start}{name}.")
            else:
                yield f"{start}{name}", value
