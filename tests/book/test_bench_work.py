"""Work at the bench: one thing done is one row and one entry, and the ring's bench record goes along."""

from datetime import datetime, timedelta
from math import pi

import pytest
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.bench_records import BenchDraft, bench_record, put_bench_record
from studio.book.bench_work import Deed, RingAtBench, do_at_bench, ring_at_bench
from studio.book.bench_work_errors import BenchStale, NotAtTheBench, RingUnknown, StepRefused
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.errors import OrderUnknown
from studio.book.order_reads import order
from studio.book.rates import rates_on
from studio.book.routes import ring_route
from studio.craft.bench_work import OpenClock, What, WhyNotNow
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, an_order
from tests.quoting import put_figures


@pytest.fixture
def maker(people: dict[Role, Actor]) -> Actor:
    return people[Role.MAKER]


@pytest.fixture
def number(session: Session) -> str:
    """An order of one hammered ring that is at the bench."""
    return an_order(session, state=State.AT_THE_BENCH).number


def does(
    session: Session,
    number: str,
    actor: Actor,
    what: What,
    operation: str = "",
    *,
    at: datetime = NOW,
    version: int | None = None,
    figure: float | None = None,
    minutes: int | None = None,
    reason: str = "",
) -> RingAtBench:
    deed = Deed(what, operation, figure, minutes, reason)
    return do_at_bench(session, number=number, position=1, deed=deed, version=version, actor=actor, now=at)


def ticked(session: Session, number: str, actor: Actor, **figures: float | None) -> RingAtBench:
    """The ring after these steps in turn, each with its figure."""
    for key, figure in figures.items():
        stands = does(session, number, actor, What.DONE, key, figure=figure)
    return stands


def test_a_tick_is_one_row_and_one_entry_and_reads_back(session: Session, number: str, maker: Actor) -> None:
    before = len(session.exec(select(AuditRow)).all())
    does(session, number, maker, What.DONE, "weigh", figure=9.17, minutes=4)
    stands = ring_at_bench(session, number, 1)
    step = stands.work.step("weigh")
    assert (step.is_done, step.figure, step.minutes, step.done_by, step.done_at) == (
        True, 9.17, 4, maker.name, NOW,
    )  # fmt: skip
    [row] = session.exec(select(BenchWorkRow)).all()
    assert (row.figure_mg, row.figure_um, row.serial, row.user_id) == (9170, None, 1, maker.id)
    entries = session.exec(select(AuditRow).order_by(col(AuditRow.id))).all()
    assert len(entries) == before + 1
    assert entries[-1].verb == "tick a step off"
    assert entries[-1].new == {"ring": 1, "step": "Weigh out", "figure": "9.17 g", "minutes": 4}


def test_the_order_keeps_its_version_so_that_its_sheets_stand(
    session: Session, number: str, maker: Actor
) -> None:
    before = order(session, number).version
    does(session, number, maker, What.DONE, "weigh")
    assert order(session, number).version == before


def test_the_clock_runs_from_start_to_tick_and_goes_on_with_the_next_step(
    session: Session, number: str, maker: Actor, people: dict[Role, Actor]
) -> None:
    does(session, number, maker, What.STARTED, "weigh")
    stands = does(session, number, people[Role.OWNER], What.DONE, "weigh", at=NOW + timedelta(minutes=6))
    assert stands.work.step("weigh").seconds == 360
    assert stands.work.running == OpenClock("saw", NOW + timedelta(minutes=6), people[Role.OWNER].name)
    stands = does(session, number, maker, What.STOPPED, "saw", at=NOW + timedelta(minutes=9))
    assert stands.work.running is None
    assert stands.work.minutes("saw", NOW + timedelta(hours=3)) == 3


def test_lengths_and_sizes_go_into_the_ring_s_bench_record(
    session: Session, number: str, maker: Actor
) -> None:
    ticked(session, number, maker, weigh=9.17, saw=61.0)
    assert bench_record(session, number, 1) is None
    ticked(session, number, maker, pattern=62.2)
    found = bench_record(session, number, 1)
    assert found is not None
    assert (found.draft.before_mm, found.draft.after_mm, found.maker) == (61.0, 62.2, maker.name)
    assert found.of_stretch is not None
    assert found.of_stretch.percent == pytest.approx(1.967, abs=0.001)
    ticked(session, number, maker, square=60.6, anneal=None, bend=None, solder=None, round=17.7)
    found = bench_record(session, number, 1)
    assert found is not None
    assert found.draft.closed_mm == pytest.approx(pi * 17.7, abs=0.001)


def test_what_goes_into_the_record_stands_in_the_same_entry(
    session: Session, number: str, maker: Actor
) -> None:
    ticked(session, number, maker, weigh=9.17, saw=61.0, pattern=62.2)
    last = session.exec(select(AuditRow).order_by(col(AuditRow.id).desc())).first()
    assert last is not None
    assert (last.new["before_mm"], last.new["after_mm"]) == (61.0, 62.2)
    assert last.verb == "tick a step off"


def test_undo_gives_back_the_state_before_and_erases_nothing(
    session: Session, number: str, maker: Actor
) -> None:
    before = ticked(session, number, maker, weigh=9.17, saw=61.0)
    ticked(session, number, maker, pattern=62.2)
    after = does(session, number, maker, What.UNDONE)
    assert (after.work.steps, after.work.running, after.work.last) == (
        before.work.steps, before.work.running, before.work.last,
    )  # fmt: skip
    assert after.work.version == 4
    found = bench_record(session, number, 1)
    assert found is not None
    assert (found.draft.before_mm, found.draft.after_mm) == (None, None)
    rows = session.exec(select(BenchWorkRow).order_by(col(BenchWorkRow.serial))).all()
    assert [(row.what, row.undoes) for row in rows] == [
        ("done", None), ("done", None), ("done", None), ("undone", 3),
    ]  # fmt: skip


def test_undo_gives_the_record_back_what_was_put_down_by_hand(
    session: Session, number: str, maker: Actor
) -> None:
    by_hand = BenchDraft(before_mm=61.1, after_mm=62.0, tool="planishing hammer")
    put_bench_record(session, number=number, position=1, record=by_hand, actor=maker, now=NOW)
    ticked(session, number, maker, weigh=9.17, saw=61.0, pattern=62.2)
    does(session, number, maker, What.UNDONE)
    found = bench_record(session, number, 1)
    assert found is not None
    assert found.draft == by_hand


def test_undo_leaves_a_record_that_was_put_right_since(session: Session, number: str, maker: Actor) -> None:
    ticked(session, number, maker, weigh=9.17, saw=61.0, pattern=62.2)
    right = BenchDraft(before_mm=61.0, after_mm=62.4)
    put_bench_record(session, number=number, position=1, record=right, actor=maker, now=NOW)
    does(session, number, maker, What.UNDONE)
    found = bench_record(session, number, 1)
    assert found is not None
    assert found.draft == right


def test_a_tick_out_of_order_wants_a_reason_and_keeps_it(session: Session, number: str, maker: Actor) -> None:
    with pytest.raises(Refused) as refused:
        does(session, number, maker, What.DONE, "bend")
    assert [(one.field, one.why, one.typed) for one in refused.value.refusals] == [
        ("reason", Why.OUT_OF_ORDER, "Weigh out"),
    ]
    stands = does(session, number, maker, What.DONE, "bend", reason="bent  at the\tother bench")
    assert stands.work.step("bend").reason == "bent at the other bench"


def test_everything_that_is_wrong_is_said_at_once(session: Session, number: str, maker: Actor) -> None:
    with pytest.raises(Refused) as refused:
        does(session, number, maker, What.DONE, "saw", figure=610.0, minutes=0)
    assert [(one.field, one.why) for one in refused.value.refusals] == [
        ("figure", Why.TOO_LARGE), ("minutes", Why.TOO_SMALL), ("reason", Why.OUT_OF_ORDER),
    ]  # fmt: skip
    assert session.exec(select(BenchWorkRow)).all() == []


def test_a_note_of_nothing_is_refused(session: Session, number: str, maker: Actor) -> None:
    with pytest.raises(Refused):
        does(session, number, maker, What.NOTED, "saw")
    stands = does(session, number, maker, What.NOTED, "saw", figure=61.0)
    assert (stands.work.step("saw").figure, stands.work.is_done("saw")) == (61.0, False)


def test_a_step_that_is_opened_again_wants_a_reason(session: Session, number: str, maker: Actor) -> None:
    ticked(session, number, maker, weigh=None, saw=None)
    with pytest.raises(Refused):
        does(session, number, maker, What.REOPENED, "weigh")
    stands = does(session, number, maker, What.REOPENED, "weigh", reason="another piece")
    assert not stands.work.is_done("weigh")
    assert stands.work.is_done("saw")


def test_who_read_an_older_state_is_told_what_happened_meanwhile(
    session: Session, number: str, maker: Actor, people: dict[Role, Actor]
) -> None:
    read = does(session, number, maker, What.DONE, "weigh").work.version
    does(session, number, people[Role.OWNER], What.DONE, "saw", figure=61.0)
    with pytest.raises(BenchStale) as stale:
        does(session, number, maker, What.DONE, "saw", figure=61.2, version=read)
    assert [(one.what, one.operation, one.by) for one in stale.value.meanwhile] == [
        (What.DONE, "saw", people[Role.OWNER].name)
    ]
    assert ring_at_bench(session, number, 1).work.step("saw").figure == 61.0


def test_what_cannot_be_as_the_ring_stands_is_refused(session: Session, number: str, maker: Actor) -> None:
    with pytest.raises(StepRefused) as refused:
        does(session, number, maker, What.STOPPED, "weigh")
    assert refused.value.why is WhyNotNow.NOT_RUNNING


@pytest.mark.parametrize("state", [State.AGREED, State.READY, State.CALLED_OFF])
def test_only_at_the_bench_is_anything_done(session: Session, maker: Actor, state: State) -> None:
    stands = an_order(session, state=state)
    with pytest.raises(NotAtTheBench):
        does(session, stands.number, maker, What.DONE, "weigh")


def test_a_ring_that_is_not_there_is_unknown(session: Session, number: str, maker: Actor) -> None:
    deed = Deed(What.DONE, "weigh")
    with pytest.raises(RingUnknown):
        do_at_bench(session, number=number, position=2, deed=deed, actor=maker, now=NOW)
    with pytest.raises(OrderUnknown):
        do_at_bench(session, number="2026-999", position=1, deed=deed, actor=maker, now=NOW)


def test_the_route_of_a_ring_has_the_minutes_of_the_day_of_the_yes(session: Session) -> None:
    put_figures(session)
    stands = an_order(session)
    rates = rates_on(session, TODAY)
    assert rates is not None
    told = {one.key: one.minutes for one in ring_route(session, stands, stands.rings[0])}
    assert told["solder"] == rates.minutes["solder"]
    assert told["pattern"] == rates.minutes["pattern:hammered"]
