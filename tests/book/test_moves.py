"""Every move of the table, and no other."""

from datetime import timedelta
from itertools import product

import pytest
from sqlmodel import Session

from studio.book.errors import MoveRefused, NoAgreement, VersionStale, WhyNot
from studio.book.orders import Order, OrderChanges, change_order, move_order, order
from studio.book.people import PROGRAM
from studio.craft.orders import BEFORE_AGREEMENT, MOVES, Move, State, move_between
from tests.builders import NOW, a_finger, a_narrowly_measured_ring, a_ring, an_order, one_step
from tests.quoting import a_yes, put_figures

OUTSIDE = [pair for pair in product(State, State) if move_between(*pair) is None]
LATER = NOW + timedelta(hours=3)


def moved(session: Session, number: str, to: State, version: int, reason: str | None = None) -> State:
    return move_order(
        session, number=number, to=to, version=version, reason=reason, actor=PROGRAM, now=LATER
    ).state


def with_figures(session: Session) -> Order:
    """An order agreed by the yes to a quote."""
    put_figures(session)
    return a_yes(session)


@pytest.mark.parametrize("move", MOVES, ids=lambda move: f"{move.start} to {move.end}")
def test_every_move_of_the_table_can_be_made(session: Session, move: Move) -> None:
    is_yes_back = (move.start, move.end) == (State.AGREED, State.QUOTED)
    start = with_figures(session) if is_yes_back else an_order(session, state=move.start)
    done = one_step(session, start, move.end, now=LATER)
    assert (done.state, done.version, done.state_since) == (move.end, start.version + 1, LATER)
    assert done.history[-1].old == {"state": move.start}
    assert done.history[-1].new["state"] == move.end


@pytest.mark.parametrize(("start", "end"), OUTSIDE, ids=str)
def test_a_move_outside_the_table_is_refused(session: Session, start: State, end: State) -> None:
    stands = an_order(session, state=start)
    with pytest.raises(MoveRefused) as told:
        moved(session, stands.number, end, stands.version, reason="because")
    assert (told.value.why, told.value.start, told.value.end) == (WhyNot.NO_SUCH_MOVE, start, end)
    assert order(session, stands.number) == stands


@pytest.mark.parametrize(
    "move", [move for move in MOVES if move.needs_reason], ids=lambda move: f"{move.start} to {move.end}"
)
@pytest.mark.parametrize("reason", [None, "", "  \n "])
def test_a_move_that_asks_for_a_reason_is_refused_without(
    session: Session, move: Move, reason: str | None
) -> None:
    start = an_order(session, state=move.start)
    with pytest.raises(MoveRefused) as told:
        moved(session, start.number, move.end, start.version, reason)
    assert told.value.why is WhyNot.NEEDS_REASON


def test_the_reason_stands_in_the_history(session: Session) -> None:
    start = an_order(session)
    moved(session, start.number, State.CALLED_OFF, 1, " Found\n another ring. ")
    assert order(session, start.number).history[-1].reason == "Found another ring."


@pytest.mark.parametrize("start", sorted(BEFORE_AGREEMENT))
def test_no_move_makes_an_order_agreed(session: Session, start: State) -> None:
    waits = an_order(session, state=start)
    with pytest.raises(MoveRefused) as told:
        moved(session, waits.number, State.AGREED, waits.version, reason="She said so.")
    assert told.value.why is WhyNot.NO_SUCH_MOVE


def test_a_yes_older_than_the_quotes_cannot_be_taken_back(session: Session) -> None:
    older = an_order(session, state=State.AGREED)
    with pytest.raises(NoAgreement):
        moved(session, older.number, State.QUOTED, older.version, reason="A slip.")
    assert order(session, older.number) == older


def test_an_order_taken_up_again_waits_for_a_new_yes(session: Session) -> None:
    off = one_step(session, an_order(session, state=State.AGREED), State.CALLED_OFF)
    again = one_step(session, off, State.DRAFT)
    assert (again.agreed_name, again.agreed_at) == (None, None)


def test_a_stale_version_moves_nothing(session: Session) -> None:
    stands = an_order(session, state=State.AGREED)
    with pytest.raises(VersionStale):
        moved(session, stands.number, State.AT_THE_BENCH, 1)
    assert order(session, stands.number) == stands


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"bench_on": None}, ("bench date",)),
        ({"rings": [a_ring(), a_narrowly_measured_ring()]}, ("reason for narrow gauge on ring 2",)),
        (
            {"rings": [a_narrowly_measured_ring(reasons={"narrow-gauge": "  "})]},
            ("reason for narrow gauge on ring 1",),
        ),
        (
            {"rings": [a_ring(a_finger("L", to_label="N", to_circumference_mm=53.75))], "bench_on": None},
            ("bench date", "size of ring 1"),
        ),
    ],
    ids=["no bench date", "no reason for a warning", "a reason of blanks", "a size not known yet"],
)
def test_the_bench_waits_for_what_is_missing(
    session: Session, changes: dict[str, object], missing: tuple[str, ...]
) -> None:
    waits = an_order(session, state=State.AGREED, **changes)  # type: ignore[arg-type]  # each row names its own
    assert waits.missing.bench == missing
    with pytest.raises(MoveRefused) as told:
        moved(session, waits.number, State.AT_THE_BENCH, waits.version)
    assert (told.value.why, told.value.missing) == (WhyNot.MISSING, missing)


def test_a_reason_lets_a_narrowly_measured_ring_go_to_the_bench(session: Session) -> None:
    ring = a_narrowly_measured_ring(reasons={"narrow-gauge": "Only that gauge was at hand."})
    waits = an_order(session, state=State.AGREED, rings=[ring])
    assert waits.missing.bench == ()
    assert moved(session, waits.number, State.AT_THE_BENCH, waits.version) is State.AT_THE_BENCH


def test_an_order_put_back_on_the_bench_is_not_asked_again(session: Session) -> None:
    ready = an_order(session, state=State.READY)
    cleared = change_order(
        session,
        number=ready.number,
        version=ready.version,
        changes=OrderChanges(bench_on=None),
        actor=PROGRAM,
        now=NOW,
    )
    assert moved(session, ready.number, State.AT_THE_BENCH, cleared.version) is State.AT_THE_BENCH


def test_a_promised_day_is_good_to_have_until_the_ring_is_ready(session: Session) -> None:
    assert an_order(session, state=State.AT_THE_BENCH).missing.nice == ("promised day",)
    assert an_order(session, state=State.READY).missing.nice == ()
    assert "promised day" not in an_order(session, promised_at=LATER).missing.nice
