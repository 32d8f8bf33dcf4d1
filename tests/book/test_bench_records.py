"""What the bench measured: put down once a ring, kept with the ring as it was, and learned from.

The figures of the learning itself are checked in tests/craft/test_stretch_learning.py.
"""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.bench_records import BenchDraft, bench_record, bench_records, put_bench_record
from studio.book.bench_tables import BenchRecordRow
from studio.book.errors import NothingToMeasure, OrderUnknown, VersionStale
from studio.book.order_values import Order
from studio.book.orders import OrderChanges, change_order, order
from studio.book.people import PROGRAM
from studio.book.quote_tables import QuoteRow
from studio.book.ring_practices import workshop
from studio.craft.designs import Pattern, PatternWhen, Profile
from studio.craft.errors import Refused, Why
from studio.craft.form import Form, FormKind
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, a_design, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures

HAMMERED = a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
LATER = NOW + timedelta(hours=2)


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


def agreed(session: Session, **design: Any) -> Order:
    """An order of one ring that has its yes."""
    stands = an_order(session, rings=[a_ring(design=replace(HAMMERED, **design))])
    return a_yes(session, a_quote(session, stands))


def put_down(session: Session, number: str, *, before: float, after: float, **facts: Any) -> None:
    told = {"tool": "planishing hammer"} | {name: facts.pop(name) for name in ("wrong",) if name in facts}
    put_bench_record(
        session,
        number=number,
        position=1,
        record=BenchDraft(before_mm=before, after_mm=after, **told),
        **{"actor": PROGRAM, "now": NOW, **facts},
    )


def test_a_record_says_what_the_pattern_added_to_the_ring_as_it_was(
    session: Session, people: dict[Role, Actor]
) -> None:
    number = agreed(session).number
    put_down(session, number, before=60.0, after=61.2, actor=people[Role.MAKER])
    found = bench_record(session, number, 1)
    assert found is not None
    assert (found.ring, found.measured_on, found.maker, found.version) == (
        f"{number}/1", TODAY, people[Role.MAKER].name, 1,
    )  # fmt: skip
    assert (found.pattern, found.when, found.alloy, found.thickness_mm) == (
        Pattern.HAMMERED, PatternWhen.FLAT, HAMMERED.alloy, HAMMERED.thickness_mm,
    )  # fmt: skip
    assert found.of_stretch is not None
    assert found.of_stretch.percent == pytest.approx(2.0)
    (line,) = session.exec(select(AuditRow).where(AuditRow.verb == "put down a bench record")).all()
    assert (line.actor, line.new["ring"], line.new["after_mm"]) == (
        people[Role.MAKER].name, f"{number}/1", 61.2,
    )  # fmt: skip


def test_a_ring_taken_today_learns_from_what_was_measured_and_older_rings_do_not_move(
    session: Session,
) -> None:
    made = agreed(session)
    older = an_order(session, rings=(a_ring(design=HAMMERED),))
    put_down(session, made.number, before=60.0, after=61.8)
    assert order(session, older.number).rings[0].reckoning == older.rings[0].reckoning
    assert order(session, made.number).rings[0].reckoning == made.rings[0].reckoning
    newer = an_order(session, rings=(a_ring(design=HAMMERED),))
    stretch = newer.rings[0].reckoning.stretch
    # One ring counts as much as what was believed: halfway between 1.5 and 3.0.
    assert stretch.mean_percent == pytest.approx(2.25)
    assert stretch.records == 1
    assert f"1 of our own ({made.number}/1)" in stretch.source
    assert order(session, newer.number).rings[0].reckoning == newer.rings[0].reckoning
    assert order(session, newer.number).rings[0].reckoning.blank_g < older.rings[0].reckoning.blank_g


def test_a_frozen_quote_is_not_moved_by_what_is_learned_after_it(session: Session) -> None:
    stands = an_order(session, rings=(a_ring(design=HAMMERED),))
    quote = a_quote(session, stands)
    made = agreed(session)
    kept = [row.model_dump() for row in session.exec(select(QuoteRow)).all()]
    put_down(session, made.number, before=60.0, after=61.8)
    assert [row.model_dump() for row in session.exec(select(QuoteRow)).all()] == kept
    assert order(session, stands.number).quotes[0] == quote


def test_the_counter_reckons_by_what_the_ring_would_be_kept_with(session: Session) -> None:
    put_down(session, agreed(session).number, before=60.0, after=61.8)
    ring = an_order(session, rings=[a_ring(design=HAMMERED)]).rings[0]
    live = workshop(session, TODAY).practice_for(ring.finger, ring.design)
    kept = ring.reckoning.practice
    assert kept.learned == tuple(one for one in live.learned if one in kept.learned)
    assert kept.learned != ()


def test_an_order_saved_again_keeps_what_its_ring_was_reckoned_by(session: Session) -> None:
    older = an_order(session, rings=(a_ring(design=HAMMERED),))
    put_down(session, agreed(session).number, before=60.0, after=61.8)
    changes = OrderChanges(note="by the door", rings=(a_ring(design=HAMMERED),))
    saved = change_order(
        session, number=older.number, version=older.version, changes=changes, actor=PROGRAM, now=LATER
    )
    assert saved.rings[0].reckoning == older.rings[0].reckoning
    thicker = (a_ring(design=replace(HAMMERED, thickness_mm=1.5)),)
    moved = change_order(
        session,
        number=older.number,
        version=saved.version,
        changes=OrderChanges(rings=thicker),
        actor=PROGRAM,
        now=LATER,
    )
    assert moved.rings[0].reckoning.stretch.records == 1


def test_what_is_measured_tomorrow_teaches_nothing_today(session: Session) -> None:
    number = agreed(session).number
    put_down(session, number, before=60.0, after=61.8, now=NOW + timedelta(days=1))
    assert workshop(session, TODAY).practice.learned == ()
    assert workshop(session, TODAY + timedelta(days=1)).practice.learned != ()


def test_a_record_that_is_said_to_be_wrong_teaches_nothing(session: Session) -> None:
    number = agreed(session).number
    put_down(session, number, before=60.0, after=67.0)
    assert workshop(session, TODAY).practice.learned != ()
    put_down(session, number, before=60.0, after=67.0, wrong="read the wrong end of the rule")
    told = [one.records for one in workshop(session, TODAY).practice.learned]
    assert told == [0]
    assert workshop(session, TODAY).practice.learned[0].mean_percent == pytest.approx(1.5)


def test_saying_again_what_stands_writes_nothing(session: Session) -> None:
    number = agreed(session).number
    put_down(session, number, before=60.0, after=61.2)
    put_down(session, number, before=60.0, after=61.2, now=LATER)
    (row,) = session.exec(select(BenchRecordRow)).all()
    assert (row.version, row.changed_at) == (1, NOW)
    assert len(session.exec(select(AuditRow).where(AuditRow.verb == "put down a bench record")).all()) == 1


def test_of_two_people_at_one_record_the_second_is_told(session: Session) -> None:
    number = agreed(session).number
    put_down(session, number, before=60.0, after=61.2, version=0)
    with pytest.raises(VersionStale):
        put_down(session, number, before=60.0, after=61.4, version=0)
    put_down(session, number, before=60.0, after=61.4, version=1)
    assert [one.draft.after_mm for one in bench_records(session)] == [61.4]


@pytest.mark.parametrize("position", [1, 7])
def test_only_a_ring_that_is_being_made_is_measured(session: Session, position: int) -> None:
    stands = an_order(session) if position == 1 else agreed(session)
    with pytest.raises(NothingToMeasure):
        put_bench_record(
            session,
            number=stands.number,
            position=position,
            record=BenchDraft(before_mm=60.0, after_mm=61.0),
            actor=PROGRAM,
            now=NOW,
        )
    with pytest.raises(OrderUnknown):
        put_down(session, "2026-999", before=60.0, after=61.0)


@pytest.mark.parametrize(
    ("draft", "field", "why"),
    [
        (BenchDraft(), "before_mm", Why.EMPTY),
        (BenchDraft(before_mm=60.0), "after_mm", Why.EMPTY),
        (BenchDraft(after_mm=60.0), "before_mm", Why.EMPTY),
        (BenchDraft(before_mm=600.0, after_mm=610.0), "before_mm", Why.TOO_LARGE),
        (BenchDraft(closed_mm=9.0), "closed_mm", Why.TOO_SMALL),
        (BenchDraft(closed_mm=57.0, tool="x" * 61), "tool", Why.TOO_LONG),
    ],
)
def test_what_cannot_have_been_measured_is_refused(
    session: Session, draft: BenchDraft, field: str, why: Why
) -> None:
    number = agreed(session).number
    with pytest.raises(Refused) as refused:
        put_bench_record(session, number=number, position=1, record=draft, actor=PROGRAM, now=NOW)
    assert (field, why) in {(one.field, one.why) for one in refused.value.refusals}


def test_a_plain_ring_has_no_length_before_its_pattern(session: Session) -> None:
    number = agreed(session, pattern=Pattern.PLAIN, pattern_when=None).number
    with pytest.raises(Refused) as refused:
        put_down(session, number, before=60.0, after=61.0)
    assert [one.why for one in refused.value.refusals] == [Why.NO_PATTERN]
    put_bench_record(
        session, number=number, position=1, record=BenchDraft(closed_mm=57.0), actor=PROGRAM, now=NOW
    )
    assert workshop(session, TODAY).practice.learned == ()


def test_a_flared_band_taken_today_is_closed_by_what_forming_really_took(session: Session) -> None:
    flared = a_design(
        profile=Profile.FLAT, width_mm=8.0, thickness_mm=0.8, pattern=Pattern.PLAIN, pattern_when=None,
        form=Form(FormKind.ANTICLASTIC, radius_mm=12.4),
    )  # fmt: skip
    older = an_order(session, rings=[a_ring(design=flared)])
    made = a_yes(session, a_quote(session, an_order(session, rings=[a_ring(design=flared)])))
    record = BenchDraft(closed_mm=57.8, formed_mm=57.0)
    put_bench_record(session, number=made.number, position=1, record=record, actor=PROGRAM, now=NOW)
    assert order(session, older.number).rings[0].reckoning == older.rings[0].reckoning
    newer = an_order(session, rings=[a_ring(design=flared)])
    formed = newer.rings[0].reckoning.form
    assert formed is not None
    assert formed.correction_mm == pytest.approx(0.4), "one ring counts as much as what was believed"
    assert formed.correction_source == f"1 of our own ({made.number}/1)"
    assert order(session, newer.number).rings[0].reckoning == newer.rings[0].reckoning
    band = an_order(session, rings=[a_ring(design=HAMMERED)])
    assert band.rings[0].reckoning.practice.learned_forming == ()
