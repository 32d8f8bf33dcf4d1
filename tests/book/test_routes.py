"""The route of a ring as the book keeps it: the rules' own, with what the studio changed laid over it."""

from datetime import timedelta

import pytest
from sqlmodel import Session, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.bench_work import Deed, do_at_bench, ring_at_bench
from studio.book.errors import VersionStale
from studio.book.order_values import Order
from studio.book.orders import order
from studio.book.route_errors import RouteFixed
from studio.book.route_tables import RouteRow
from studio.book.routes import change_route, ring_route, routes_of
from studio.craft.bench_work import What
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.errors import Refused
from studio.craft.hallmark import HallmarkRule
from studio.craft.operations import Does
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.craft.route import route
from studio.craft.route_edits import AddStep, AsTheRules, LeaveOut, MoveStep, PutBack, Reword, RouteEdit
from studio.craft.route_order import OperationUnknown, RouteRefused
from tests.builders import NOW, a_design, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures

HAMMERED = a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)


@pytest.fixture
def agreed(session: Session) -> Order:
    """An order of one hammered ring that has its yes."""
    put_figures(session)
    return a_yes(session, a_quote(session, an_order(session, rings=[a_ring(design=HAMMERED)])))


@pytest.fixture
def maker(people: dict[Role, Actor]) -> Actor:
    return people[Role.MAKER]


def change(session: Session, number: str, edit: RouteEdit, actor: Actor, version: int | None = None) -> str:
    return change_route(session, number=number, position=1, edit=edit, version=version, actor=actor, now=NOW)


def keys(session: Session, number: str) -> list[str]:
    found = order(session, number)
    return [one.key for one in ring_route(session, found, found.rings[0])]


def test_a_ring_goes_the_way_the_rules_lay_down_until_somebody_changes_it(
    session: Session, agreed: Order
) -> None:
    ring = agreed.rings[0]
    assert keys(session, agreed.number) == [one.key for one in route(ring.reckoning, rule=HallmarkRule.UK)]
    assert routes_of(session, agreed)[1].is_changed is False


def test_each_step_is_planned_with_the_studios_minutes(session: Session, agreed: Order) -> None:
    found = {one.key: one.minutes for one in ring_route(session, agreed, agreed.rings[0])}
    assert found["weigh"] is not None
    assert found["solder"] is not None


def test_a_change_is_kept_with_one_entry_and_a_new_version(
    session: Session, agreed: Order, maker: Actor
) -> None:
    said = change(session, agreed.number, AddStep("Photograph it", "both sides", 3, minutes=5.0), maker)
    assert said == "“Photograph it” is added as step 3"
    stands = order(session, agreed.number)
    assert stands.version == agreed.version + 1
    added = ring_route(session, stands, stands.rings[0])[2]
    assert (added.name, added.text, added.minutes, added.is_own) == ("Photograph it", "both sides", 5.0, True)
    entry = session.exec(select(AuditRow).where(AuditRow.verb == "change a route")).one()
    assert (entry.actor, entry.new["ring"]) == (maker.name, f"{agreed.number}/1")


def test_a_change_that_breaks_a_rule_of_order_is_refused_with_the_reason(
    session: Session, agreed: Order, maker: Actor
) -> None:
    before = keys(session, agreed.number)
    with pytest.raises(RouteRefused) as refused:
        change(session, agreed.number, MoveStep("square", before.index("pattern") + 1), maker)
    assert "A pattern stretches the strip" in refused.value.reasons[0]
    with pytest.raises(RouteRefused):
        change(session, agreed.number, LeaveOut("anneal"), maker)
    assert keys(session, agreed.number) == before
    assert session.exec(select(RouteRow)).all() == []


def test_what_the_studio_adds_is_held_to_the_rules_too(session: Session, agreed: Order, maker: Actor) -> None:
    way = keys(session, agreed.number)
    hammer = AddStep("Planish it again", "", way.index("bend") + 1, frozenset({Does.HARDENS}))
    with pytest.raises(RouteRefused) as refused:
        change(session, agreed.number, hammer, maker)
    assert "springs open" in refused.value.reasons[0]


def test_a_step_that_is_left_out_is_taken_in_again_where_it_was(
    session: Session, agreed: Order, maker: Actor
) -> None:
    way = keys(session, agreed.number)
    change(session, agreed.number, AddStep("Show it the customer", "", len(way) + 1), maker)
    change(session, agreed.number, LeaveOut("own-1"), maker)
    assert keys(session, agreed.number) == way
    assert session.exec(select(RouteRow)).all() == []


def test_only_what_may_be_left_out_is_and_comes_back(session: Session, agreed: Order, maker: Actor) -> None:
    stands = order(session, agreed.number)
    ruled = route(stands.rings[0].reckoning, rule=HallmarkRule.UK)
    free = []
    for one in ring_route(session, stands, stands.rings[0]):
        try:
            change(session, agreed.number, LeaveOut(one.key), maker)
        except RouteRefused:
            continue
        free.append(one.key)
        left = routes_of(session, order(session, agreed.number))[1].left_out
        assert [each.key for each in left] == [one.key]
        change(session, agreed.number, PutBack(one.key), maker)
        assert keys(session, agreed.number) == [each.key for each in ruled]
    assert free


def test_other_words_stand_until_the_rules_come_back(session: Session, agreed: Order, maker: Actor) -> None:
    change(session, agreed.number, Reword("bend", "Bend:", "with the big pliers."), maker)
    stands = order(session, agreed.number)
    said = next(one for one in ring_route(session, stands, stands.rings[0]) if one.key == "bend")
    assert said.text == "with the big pliers."
    ruled = next(one for one in route(stands.rings[0].reckoning) if one.key == "bend")
    assert said.cautions == ruled.cautions
    change(session, agreed.number, AsTheRules(), maker)
    assert routes_of(session, order(session, agreed.number))[1].is_changed is False


@pytest.mark.parametrize(
    "edit", [MoveStep("bend", 0), MoveStep("bend", 99), AddStep("x", "", 99), AddStep("", "", 1),
             Reword("bend", "", ""), AddStep("x", "", 1, minutes=601.0), AddStep("x" * 61, "", 1)]
)  # fmt: skip
def test_a_place_or_words_that_cannot_be_are_refused(
    session: Session, agreed: Order, maker: Actor, edit: RouteEdit
) -> None:
    with pytest.raises(Refused):
        change(session, agreed.number, edit, maker)


def test_a_step_that_is_not_there_is_not_changed(session: Session, agreed: Order, maker: Actor) -> None:
    for edit in (MoveStep("nothing", 1), LeaveOut("nothing"), PutBack("bend")):
        with pytest.raises(OperationUnknown):
            change(session, agreed.number, edit, maker)


def test_saying_what_stands_writes_nothing(session: Session, agreed: Order, maker: Actor) -> None:
    assert change(session, agreed.number, AsTheRules(), maker) == ""
    assert order(session, agreed.number).version == agreed.version


@pytest.mark.parametrize("state", [State.DRAFT, State.READY, State.CALLED_OFF])
def test_a_route_is_changed_while_the_ring_is_being_made(
    session: Session, maker: Actor, state: State
) -> None:
    found = an_order(session, state=state)
    with pytest.raises(RouteFixed):
        change(session, found.number, AsTheRules(), maker)


def test_a_route_that_somebody_else_changed_meanwhile_stays(
    session: Session, agreed: Order, maker: Actor
) -> None:
    change(session, agreed.number, AddStep("Photograph it", "", 1), maker, agreed.version)
    with pytest.raises(VersionStale):
        change(session, agreed.number, AddStep("Weigh it again", "", 1), maker, agreed.version)


def test_a_step_that_is_added_never_takes_the_ticks_of_one_that_was_taken_out(
    session: Session, maker: Actor
) -> None:
    number = an_order(session, state=State.AT_THE_BENCH).number
    change(session, number, AddStep("Photograph it", "", 1), maker)
    deed = Deed(What.DONE, "own-1", minutes=5)
    do_at_bench(session, number=number, position=1, deed=deed, actor=maker, now=NOW)
    change(session, number, LeaveOut("own-1"), maker)
    change(session, number, AddStep("Show it the customer", "", 1), maker)
    stands = ring_at_bench(session, number, 1)
    added = stands.operations[0]
    assert added.name == "Show it the customer"
    assert not stands.work.is_done(added.key)


def test_two_rings_of_an_order_are_matched_as_a_pair(session: Session) -> None:
    put_figures(session)
    rings = [a_ring(design=HAMMERED), a_ring(design=HAMMERED)]
    pair = a_yes(session, a_quote(session, an_order(session, rings=rings), now=NOW + timedelta(minutes=1)))
    for found in routes_of(session, pair).values():
        assert "match" in [one.key for one in found.operations]
