"""Taking orders, changing them, and what stands from the yes on."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime, timedelta

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select

from studio.book import engine as engines
from studio.book.customer_tables import FingerRow
from studio.book.errors import (
    CustomerUnknown,
    NoRings,
    OrderFixed,
    OrderUnknown,
    VersionStale,
)
from studio.book.orders import (
    CustomerDraft,
    OrderChanges,
    OrderTerms,
    change_order,
    order,
    orders_page,
    take_order,
)
from studio.book.people import PROGRAM, Actor
from studio.craft.designs import Design, Finger, Pattern, PatternWhen, System
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.reckonings import reckon
from studio.craft.roles import Role
from tests.builders import NOW, a_design, a_finger, a_ring, an_order


def changed(session: Session, number: str, version: int, **changes: object) -> int:
    """The version after a change."""
    done = change_order(
        session,
        number=number,
        version=version,
        changes=OrderChanges(**changes),  # type: ignore[arg-type]  # each test names one field
        actor=PROGRAM,
        now=NOW,
    )
    return done.version


def test_an_order_is_a_draft_with_all_that_was_said(session: Session, people: dict[Role, Actor]) -> None:
    promised_at = datetime(2026, 12, 18, 15, 0, tzinfo=UTC)
    taken = take_order(
        session,
        customer=CustomerDraft("  Jorun   Müller ", "01632 960 715", "jorun@muller.example"),
        terms=OrderTerms(
            date(2026, 12, 19),
            wanted_hard=True,
            promised_at=promised_at,
            bench_on=date(2026, 12, 10),
            note=" A surprise. ",
        ),
        rings=[a_ring(), a_ring(a_finger("R"))],
        actor=people[Role.COUNTER],
        now=NOW,
    )
    assert (taken.number, taken.state, taken.version) == ("2026-1", State.DRAFT, 1)
    assert (taken.customer.name, taken.customer.phone) == ("Jorun Müller", "01632 960 715")
    assert taken.terms == OrderTerms(
        date(2026, 12, 19), wanted_hard=True, promised_at=promised_at, bench_on=date(2026, 12, 10),
        note="A surprise.",
    )  # fmt: skip
    assert [(ring.position, ring.finger.label, ring.taken_by) for ring in taken.rings] == [
        (1, "O½", "Ivo"),
        (2, "R", "Ivo"),
    ]
    assert order(session, "2026-1") == taken


@pytest.mark.parametrize(
    "finger",
    [
        a_finger(),
        a_finger("7¼", System.US),
        a_finger("17", System.JP, hand=None, name=None, is_warm=None, measured=None, gauge_width_mm=None),
        a_finger("L", to_label="N", to_circumference_mm=53.75),
        a_finger("56", System.ISO, knuckle_label="58", knuckle_circumference_mm=58.0),
    ],
    ids=["uk", "us", "hardly anything known", "a range", "with a knuckle"],
)
@pytest.mark.parametrize(
    "design",
    [a_design(), a_design(pattern=Pattern.PLAIN, pattern_when=None, stretch_percent=0.35, fit_mm=-0.125)],
    ids=["as the rules say", "as the maker says"],
)
def test_a_ring_read_back_has_the_figures_it_was_saved_with(
    session: Session, finger: Finger, design: Design
) -> None:
    (ring,) = an_order(session, rings=[a_ring(finger, design)]).rings
    assert (ring.finger, ring.design) == (finger, design)
    assert ring.reckoning == reckon(finger, design)


def test_a_finger_remembers_who_took_it_and_when(session: Session) -> None:
    yesterday = NOW - timedelta(days=1)
    (ring,) = an_order(session, rings=[a_ring(taken_by="Tilde", taken_at=yesterday)]).rings
    assert (ring.taken_by, ring.taken_at) == ("Tilde", yesterday)


def test_numbers_have_no_gaps_when_many_write_at_once(engine: Engine) -> None:
    def take(place: int) -> str:
        with engines.session(engine) as session:
            rings = (
                []
                if place % 5 == 4
                else [a_ring(design=a_design(alloy="no such" if place % 5 == 3 else "copper"))]
            )
            try:
                return an_order(session, rings=rings).number
            except (NoRings, Refused):
                return ""

    with ThreadPoolExecutor(8) as pool:
        numbers = [number for number in pool.map(take, range(40)) if number]
    assert sorted(numbers, key=lambda number: int(number[5:])) == [
        f"2026-{serial}" for serial in range(1, 25)
    ]


def test_the_studios_own_new_year_starts_the_numbers_anew(session: Session) -> None:
    an_order(session, now=datetime(2026, 12, 31, 23, 59, tzinfo=UTC))
    an_order(session, now=datetime(2027, 1, 1, 0, 0, tzinfo=UTC))
    last_summer_minute = datetime(2027, 6, 30, 23, 30, tzinfo=UTC)
    an_order(session, now=last_summer_minute)
    assert [line.number for line in orders_page(session, now=NOW).items] == ["2027-2", "2027-1", "2026-1"]


def test_a_clock_set_back_gives_no_number_twice(session: Session) -> None:
    first = an_order(session)
    second = an_order(session, now=NOW - timedelta(hours=1))
    assert (first.number, second.number) == ("2026-1", "2026-2")


def test_an_order_without_a_ring_is_none(session: Session) -> None:
    with pytest.raises(NoRings):
        an_order(session, rings=[])


def test_an_unknown_customer_is_refused_and_uses_up_no_number(session: Session) -> None:
    with pytest.raises(CustomerUnknown):
        an_order(session, customer=99)
    assert an_order(session).number == "2026-1"


def test_an_unknown_number_is_told(session: Session) -> None:
    with pytest.raises(OrderUnknown) as told:
        order(session, "2026-7")
    assert told.value.number == "2026-7"


def test_a_stale_version_is_refused_with_the_one_that_stands(session: Session) -> None:
    taken = an_order(session)
    assert changed(session, taken.number, 1, note="first") == 2
    with pytest.raises(VersionStale) as told:
        changed(session, taken.number, 1, note="second")
    assert (told.value.given, told.value.current) == (1, 2)
    assert order(session, taken.number).terms.note == "first"


def test_two_who_change_the_same_version_do_not_both_win(engine: Engine) -> None:
    with engines.session(engine) as session:
        number = an_order(session).number

    def change(note: str) -> bool:
        with engines.session(engine) as own:
            try:
                return changed(own, number, 1, note=note) == 2
            except VersionStale:
                return False

    with ThreadPoolExecutor(4) as pool:
        assert sum(pool.map(change, ["a", "b", "c", "d"])) == 1


def test_saying_again_what_stands_changes_nothing(session: Session) -> None:
    taken = an_order(session, state=State.AGREED)
    said = OrderChanges(
        customer=CustomerDraft("Jorun Müller", "01632 960 715"),
        wanted_on=taken.terms.wanted_on,
        rings=(a_ring(),),
        note="",
    )
    again = change_order(session, number=taken.number, version=2, changes=said, actor=PROGRAM, now=NOW)
    assert again == taken


@pytest.mark.parametrize(
    ("change", "fixed"),
    [
        ({"rings": (a_ring(design=a_design(width_mm=5.0)),)}, ("rings",)),
        ({"rings": (a_ring(), a_ring())}, ("rings",)),
        ({"wanted_on": date(2026, 12, 24)}, ("wanted_on",)),
        ({"wanted_on": None, "wanted_hard": True}, ("wanted_on", "wanted_hard")),
        ({"promised_at": NOW}, ("promised_at",)),
    ],
)
@pytest.mark.parametrize(
    "state", [State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER, State.CALLED_OFF]
)
def test_from_the_yes_on_rings_and_days_stand(
    session: Session, state: State, change: dict[str, object], fixed: tuple[str, ...]
) -> None:
    agreed = an_order(session, state=state)
    with pytest.raises(OrderFixed) as told:
        changed(session, agreed.number, agreed.version, note="lost with the rest", **change)
    assert told.value.fields == fixed
    assert order(session, agreed.number) == agreed


@pytest.mark.parametrize("state", [State.AGREED, State.AT_THE_BENCH, State.READY])
def test_note_bench_date_and_contact_stay_free(session: Session, state: State) -> None:
    agreed = an_order(session, state=state)
    changed(
        session,
        agreed.number,
        agreed.version,
        note="Rings at noon.",
        bench_on=date(2026, 12, 3),
        customer=CustomerDraft("Jorun Müller-Dahl", "01632 960 716"),
    )
    now_stands = order(session, agreed.number)
    assert (now_stands.terms.note, now_stands.terms.bench_on) == ("Rings at noon.", date(2026, 12, 3))
    assert (now_stands.customer.name, now_stands.customer.phone) == ("Jorun Müller-Dahl", "01632 960 716")
    assert (now_stands.state, now_stands.version) == (state, agreed.version + 1)


@pytest.mark.parametrize(
    "change", [{"rings": (a_ring(design=a_design(width_mm=5.0)),)}, {"wanted_on": date(2026, 12, 24)}]
)
def test_a_quoted_order_changed_in_ring_or_day_is_a_draft_again(
    session: Session, change: dict[str, object]
) -> None:
    quoted = an_order(session, state=State.QUOTED)
    changed(session, quoted.number, quoted.version, **change)
    assert order(session, quoted.number).state is State.DRAFT


def test_a_note_leaves_a_quoted_order_quoted(session: Session) -> None:
    quoted = an_order(session, state=State.QUOTED)
    changed(session, quoted.number, quoted.version, note="Likes it.")
    assert order(session, quoted.number).state is State.QUOTED


def test_rings_replaced_keep_their_day_and_leave_no_stray_measurement(session: Session) -> None:
    taken = an_order(session, rings=[a_ring(), a_ring(a_finger("R"))])
    later = NOW + timedelta(hours=2)
    wider = a_ring(design=a_design(width_mm=5.0, pattern=Pattern.STAMPED, pattern_when=PatternWhen.CLOSED))
    done = change_order(
        session,
        number=taken.number,
        version=1,
        changes=OrderChanges(rings=(wider,)),
        actor=PROGRAM,
        now=later,
    )
    (ring,) = done.rings
    assert (ring.design, ring.taken_at) == (wider.design, NOW)
    assert len(session.exec(select(FingerRow)).all()) == 1


def test_a_finger_measured_again_is_dated_anew(session: Session) -> None:
    taken = an_order(session)
    later = NOW + timedelta(days=1)
    changes = OrderChanges(rings=(a_ring(a_finger("P")),))
    done = change_order(session, number=taken.number, version=1, changes=changes, actor=PROGRAM, now=later)
    assert (done.rings[0].finger.label, done.rings[0].taken_at) == ("P", later)


def test_a_ring_that_cannot_be_made_leaves_the_order_as_it_was(session: Session) -> None:
    taken = an_order(session)
    with pytest.raises(Refused):
        changed(session, taken.number, 1, rings=(a_ring(design=a_design(alloy="cheese")),))
    assert order(session, taken.number) == taken


def test_every_verb_leaves_one_entry_with_old_and_new(session: Session, people: dict[Role, Actor]) -> None:
    taken = an_order(session, actor=people[Role.COUNTER])
    changes = OrderChanges(note="Rings at noon.", bench_on=None)
    change_order(session, number=taken.number, version=1, changes=changes, actor=people[Role.OWNER], now=NOW)
    entries = order(session, taken.number).history
    assert [(line.actor, line.verb, line.at) for line in entries] == [
        ("Ivo", "take an order", NOW),
        ("Maren", "change an order", NOW),
    ]
    assert entries[1].old == {"note": "", "bench_on": "2026-12-01"}
    assert entries[1].new == {"note": "Rings at noon.", "bench_on": None}
