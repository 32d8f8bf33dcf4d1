"""The studio's practice: dated rows beside each other, and rings that keep the one they were reckoned by."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.errors import VersionStale
from studio.book.order_reads import order
from studio.book.order_tables import RingRow
from studio.book.orders import OrderChanges, change_order
from studio.book.people import PROGRAM
from studio.book.practice_tables import PracticeRow
from studio.book.practices import (
    changed,
    newest_version,
    practice_history,
    practice_on,
    put_practice,
)
from studio.craft.designs import Pattern, PatternWhen, Profile, System
from studio.craft.errors import Refused, Why
from studio.craft.practice import COMMON_PRACTICE, FitRow, Practice, Prior, Said
from studio.craft.reckonings import reckon
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, a_design, a_finger, a_ring, an_order

DAY = timedelta(days=1)


def put(
    session: Session, from_day: date = TODAY, source: str = "", now: Any = NOW, **changes: Any
) -> Practice:
    paths = {path.replace("__", "."): value for path, value in changes.items()}
    practice = changed(practice_on(session, from_day), paths)
    return put_practice(
        session, practice=practice, from_day=from_day, source=source, actor=PROGRAM, now=now
    ).practice


def test_a_new_book_goes_by_common_practice(session: Session) -> None:
    assert practice_on(session, TODAY) is COMMON_PRACTICE
    assert (practice_history(session), newest_version(session)) == ((), 0)


def test_each_day_has_the_practice_that_held_then(session: Session) -> None:
    put(session, kerf_mm=0.28)
    put(session, TODAY + 7 * DAY, kerf_mm=0.35)
    assert [practice_on(session, TODAY + ahead * DAY).kerf_mm for ahead in (-1, 0, 6, 7, 90)] == [
        0.31, 0.28, 0.28, 0.35, 0.35,
    ]  # fmt: skip


def test_of_two_changes_on_one_day_the_last_holds(session: Session) -> None:
    put(session, kerf_mm=0.28)
    put(session, kerf_mm=0.29)
    assert practice_on(session, TODAY).kerf_mm == 0.29


def test_a_change_holds_on_later_days_too_but_for_what_they_change_themselves(session: Session) -> None:
    put(session, TODAY + 7 * DAY, kerf_mm=0.35, trim_each_end_mm=0.7)
    put(session, TODAY + 14 * DAY, doubt__day_mm=0.2)
    put(session, kerf_mm=0.28, finishing_loss_percent=4.0)
    put(session, kerf_mm=0.27)
    today, next_week, after = (practice_on(session, TODAY + ahead * DAY) for ahead in (0, 7, 14))
    assert (today.kerf_mm, today.trim_each_end_mm, today.finishing_loss_percent) == (0.27, 0.5, 4.0)
    assert (next_week.kerf_mm, next_week.trim_each_end_mm, next_week.finishing_loss_percent) == (
        0.35,
        0.7,
        4.0,
    )
    assert (after.kerf_mm, after.finishing_loss_percent, after.doubt.day_mm) == (0.35, 4.0, 0.2)
    assert after.said["finishing_loss_percent"].since == TODAY
    assert [sorted(entry.changed) for entry in practice_history(session)] == [
        ["kerf_mm"], ["finishing_loss_percent", "kerf_mm"], ["doubt.day_mm"], ["kerf_mm", "trim_each_end_mm"],
    ]  # fmt: skip


def test_each_figure_says_from_which_day_it_holds_and_why(session: Session) -> None:
    put(session, TODAY + DAY, source="  our own\ntrials ", priors={"hammered/flat": Prior(1.8, 0.6)})
    found = practice_on(session, TODAY + DAY)
    path = "priors.hammered/flat"
    assert found.said[f"{path}.mean_percent"] == Said(TODAY + DAY, "our own trials")
    assert found.source_of(path) == "our own trials, from 26 Nov 2026"
    assert found.source_of("kerf_mm") == "common practice, no source"
    assert found.source_of("kerf_mm", path) == "common practice, no source; our own trials, from 26 Nov 2026"
    assert found.priors[Pattern.STAMPED, PatternWhen.FLAT] == Prior(1.5, 1.0)


def test_a_change_is_one_entry_of_the_history_with_what_was_and_is(
    session: Session, people: dict[Role, Actor]
) -> None:
    practice = changed(COMMON_PRACTICE, {"kerf_mm": 0.28, "fit_rule": (FitRow(5.0, 0.0), FitRow(None, 1.0))})
    put_practice(
        session, practice=practice, from_day=TODAY, source="measured", actor=people[Role.OWNER], now=NOW
    )
    (entry,) = practice_history(session)
    assert (entry.since, entry.source, entry.entered_at, entry.entered_by) == (
        TODAY,
        "measured",
        NOW,
        "Maren",
    )
    assert entry.changed["kerf_mm"] == (0.31, 0.28)
    assert entry.changed["fit_rule"][1] == [
        {"up_to_mm": 5.0, "add_mm": 0.0}, {"up_to_mm": None, "add_mm": 1.0}
    ]  # fmt: skip
    rows = session.exec(select(AuditRow).where(AuditRow.verb == "change the practice")).all()
    assert [(row.old["kerf_mm"], row.new["kerf_mm"], row.reason) for row in rows] == [
        (0.31, 0.28, "measured")
    ]


@pytest.mark.parametrize("path", ["kerf", "doubt.kerf_mm", "sawing.kerf_mm", "priors.flat.mean_percent"])
def test_a_path_that_is_none_is_not_taken(path: str) -> None:
    with pytest.raises((KeyError, AttributeError)):
        changed(COMMON_PRACTICE, {path: 1.0})


def test_saying_again_what_holds_writes_nothing(session: Session) -> None:
    put(session, kerf_mm=0.28)
    put(session, kerf_mm=0.28)
    assert len(session.exec(select(PracticeRow)).all()) == 1
    assert len(session.exec(select(AuditRow).where(AuditRow.verb == "change the practice")).all()) == 1


def test_whoever_read_an_older_practice_is_told(session: Session) -> None:
    version = newest_version(session)
    put(session, kerf_mm=0.28)
    with pytest.raises(VersionStale):
        put_practice(
            session,
            practice=replace(COMMON_PRACTICE, kerf_mm=0.3),
            from_day=TODAY,
            source="",
            actor=PROGRAM,
            now=NOW,
            version=version,
        )


@pytest.mark.parametrize(
    ("changes", "field", "why"),
    [
        ({"kerf_mm": -0.1}, "kerf_mm", Why.TOO_SMALL),
        ({"kerf_mm": float("nan")}, "kerf_mm", Why.TOO_SMALL),
        ({"doubt.steps_mm.uk": 9.0}, "doubt.steps_mm.uk", Why.TOO_LARGE),
        ({"fit_rule": ()}, "fit_rule", Why.EMPTY),
        ({"fit_rule": (FitRow(4.0, 0.0),)}, "fit_rule", Why.EMPTY),
        ({"fit_rule": (FitRow(4.0, 9.0), FitRow(None, 1.0))}, "fit_rule.0.add_mm", Why.TOO_LARGE),
        (
            {"fit_by_profile.court": (FitRow(4.0, 0.0), FitRow(4.0, 0.5), FitRow(None, 1.0))},
            "fit_by_profile.court.1.up_to_mm",
            Why.NOT_RISING,
        ),
        ({"fit_rule": (*tuple(FitRow(float(n), 0.0) for n in range(1, 20)), FitRow(None, 1.0))}, "fit_rule",
         Why.TOO_LONG),
    ],
)  # fmt: skip
def test_figures_that_cannot_stand_are_refused(
    session: Session, changes: dict[str, Any], field: str, why: Why
) -> None:
    with pytest.raises(Refused) as refused:
        put_practice(
            session,
            practice=replace(COMMON_PRACTICE, **_fields(changes)),
            from_day=TODAY,
            source="",
            actor=PROGRAM,
            now=NOW,
        )
    assert [(one.field, one.why) for one in refused.value.refusals] == [(field, why)]
    assert session.exec(select(PracticeRow)).all() == []


def _fields(changes: dict[str, Any]) -> dict[str, Any]:
    """The changes as fields of the practice, whatever would be refused on the way through JSON."""
    found: dict[str, Any] = {}
    for path, value in changes.items():
        match path.split("."):
            case ["doubt", "steps_mm", system]:
                steps = {**COMMON_PRACTICE.doubt.steps_mm, System(system): value}
                found["doubt"] = replace(COMMON_PRACTICE.doubt, steps_mm=steps)
            case ["fit_by_profile", profile]:
                found["fit_by_profile"] = {Profile(profile): value}
            case _:
                found[path] = value
    return found


def test_a_day_that_is_past_and_a_long_source_are_refused(session: Session) -> None:
    for from_day, source, why in ((TODAY - DAY, "", Why.DAY_PASSED), (TODAY, "x" * 301, Why.TOO_LONG)):
        with pytest.raises(Refused) as refused:
            put(session, from_day, source, kerf_mm=0.2)
        assert [one.why for one in refused.value.refusals] == [why]


def test_a_profile_goes_back_to_the_common_rule(session: Session) -> None:
    own = (FitRow(8.0, 0.0), FitRow(None, 0.5))
    put(session, fit_by_profile__court=own)
    assert practice_on(session, TODAY).fit_rows(Profile.COURT) == own
    put(session, fit_by_profile__court=None)
    assert practice_on(session, TODAY).fit_rows(Profile.COURT) == COMMON_PRACTICE.fit_rule


def test_an_order_taken_before_a_change_keeps_its_figures(session: Session) -> None:
    an_order(session)
    before = order(session, "2026-1").rings
    put(session, fit_rule=(FitRow(None, 3.0),), kerf_mm=0.5, trim_each_end_mm=1.0)
    an_order(session)
    assert order(session, "2026-1").rings == before
    fresh = order(session, "2026-2").rings[0].reckoning
    assert fresh.practice == practice_on(session, TODAY)
    assert fresh == reckon(a_finger(), a_design(), practice_on(session, TODAY))
    assert fresh.mark_mm > before[0].reckoning.mark_mm
    kept = session.exec(select(RingRow.practice_id, RingRow.mark_um)).all()
    assert [practice for practice, _ in kept] == [None, 1]
    assert [mark for _, mark in kept] == [round(1000 * ring.mark_mm) for ring in (before[0].reckoning, fresh)]


def test_a_ring_that_is_changed_afterwards_takes_the_practice_of_its_day(session: Session) -> None:
    an_order(session, rings=[a_ring(), a_ring(a_finger("L")), a_ring(a_finger("T"))])
    put(session, trim_each_end_mm=1.0)
    rings = [ring.draft for ring in order(session, "2026-1").rings]
    rings[0] = replace(rings[0], design=a_design(width_mm=5.0))
    del rings[1]  # the third moves up and stays what it was
    change_order(
        session, number="2026-1", version=1, changes=OrderChanges(rings=tuple(rings)), actor=PROGRAM, now=NOW
    )
    assert [ring.reckoning.trim_mm for ring in order(session, "2026-1").rings] == [2.0, 1.0]


def test_saving_a_ring_again_as_it_is_changes_nothing(session: Session) -> None:
    an_order(session)
    before = order(session, "2026-1")
    put(session, trim_each_end_mm=1.0)
    change_order(
        session,
        number="2026-1",
        version=1,
        changes=OrderChanges(rings=tuple(ring.draft for ring in before.rings)),
        actor=PROGRAM,
        now=NOW,
    )
    assert order(session, "2026-1") == before
