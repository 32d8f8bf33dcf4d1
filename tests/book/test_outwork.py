"""Where things lie and what is out of the house, as the book keeps it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import partial
from random import Random

import pytest
from sqlmodel import Session, select

from studio.book.audit import AuditRow
from studio.book.bench_work import Deed, do_at_bench
from studio.book.errors import VersionStale
from studio.book.in_hand import count, in_hand
from studio.book.order_list_values import HandWhy
from studio.book.orders import Order, move_order
from studio.book.outwork import (
    Back,
    Sending,
    add_outworker,
    drop_outworker,
    send_out,
    slip_kept,
    take_back,
)
from studio.book.outwork_reads import outworkers, slip, slips_back, slips_out
from studio.book.people import PROGRAM
from studio.book.place_tables import PlaceMoveRow
from studio.book.places import add_place, drop_place, places, put_down
from studio.book.whereabouts import Thing, lies_of, running_things, things_of_order, things_of_people
from studio.book.whereabouts_errors import (
    BackAlready,
    NothingToSend,
    OutworkerUnknown,
    PlaceUnknown,
    SlipUnknown,
    ThingOut,
    ThingUnknown,
)
from studio.craft.bench_work import What
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.outwork import Trade
from tests.amending import LATER
from tests.builders import NOW, TODAY, a_ring, an_order
from tests.documents import given_back, taken_in

DAY = timedelta(days=1)


def a_place(session: Session, name: str = "Safe, tray 2") -> int:
    return add_place(session, name=name, actor=PROGRAM, now=NOW).id


def a_worker(session: Session) -> int:
    return add_outworker(session, name="Hale", trade=Trade.SETTER, actor=PROGRAM, now=NOW).id


def a_sending(worker: int, *things: str) -> Sending:
    return Sending(things, worker, "Set the stone.", 12_000, TODAY + 7 * DAY, 4_250, 3_500, "the courier")


def thing(session: Session, order: Order, key: str) -> Thing:
    found = things_of_order(session, order.number, now=LATER)
    assert found is not None
    return next(one for one in found.things if one.key == key)


def verbs(session: Session) -> list[str]:
    return [row.verb for row in session.exec(select(AuditRow).order_by("id"))]


def test_a_thing_lies_where_it_was_put_down_last(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    ring = f"{order.number}/1"
    safe, bench = a_place(session), a_place(session, "Bench of Ina")
    assert thing(session, order, ring).lies.place == ""
    before = len(verbs(session))
    for place in (safe, bench, bench):
        put_down(session, number=order.number, thing=ring, place_id=place, actor=PROGRAM, now=LATER)
    assert verbs(session)[before:] == ["put a thing down"] * 2
    assert [row.place_id for row in session.exec(select(PlaceMoveRow))] == [safe, bench]
    found = lies_of(session, order.number, ring)
    assert (found.place, found.since, found.by, found.is_out) == ("Bench of Ina", LATER, PROGRAM.name, False)


def test_a_place_is_named_once_and_dropped_while_things_still_lie_there(session: Session) -> None:
    order = an_order(session, state=State.AGREED)
    ring, safe = f"{order.number}/1", a_place(session)
    put_down(session, number=order.number, thing=ring, place_id=safe, actor=PROGRAM, now=NOW)
    for name, why in (("safe,  TRAY 2", Why.NAME_TAKEN), (" ", Why.EMPTY), ("x" * 61, Why.TOO_LONG)):
        with pytest.raises(Refused) as refused:
            add_place(session, name=name, actor=PROGRAM, now=NOW)
        assert refused.value.refusals[0].why is why
    with pytest.raises(VersionStale):
        drop_place(session, place_id=safe, version=7, actor=PROGRAM, now=NOW)
    drop_place(session, place_id=safe, version=1, actor=PROGRAM, now=NOW)
    assert places(session) == ()
    assert lies_of(session, order.number, ring).place == "Safe, tray 2"
    for gone in (safe, 99, 2**40):
        with pytest.raises(PlaceUnknown):
            put_down(session, number=order.number, thing=ring, place_id=gone, actor=PROGRAM, now=NOW)
    with pytest.raises(ThingUnknown):
        put_down(
            session, number=order.number, thing="2026-9/1", place_id=a_place(session), actor=PROGRAM, now=NOW
        )


def test_what_is_out_is_with_the_worker_and_comes_back_once(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    ring, worker, safe = f"{order.number}/1", a_worker(session), a_place(session)
    made = send_out(session, number=order.number, sending=a_sending(worker, ring), actor=PROGRAM, now=NOW)
    assert (made.number, made.worker, made.weight_out_mg) == (f"{order.number}-w1", "Hale, setter", 4_250)
    assert [one.words for one in made.things] == ["Ring 1, size O½ (UK), flat 6 × 1.6, hammered, 750 yellow"]
    lies = thing(session, order, ring).lies
    assert (lies.place, lies.slip, lies.since) == ("Hale, setter", made.number, NOW)
    with pytest.raises(ThingOut):
        put_down(session, number=order.number, thing=ring, place_id=safe, actor=PROGRAM, now=LATER)
    with pytest.raises(ThingOut):
        send_out(session, number=order.number, sending=a_sending(worker, ring), actor=PROGRAM, now=LATER)
    back = take_back(
        session,
        number=made.number,
        back=Back(4_200, 3_600, "a scratch inside", safe),
        actor=PROGRAM,
        now=LATER,
    )
    assert (back.back_at, back.weight_in_mg, back.cost_minor) == (LATER, 4_200, 3_600)
    assert (slips_out(session), [one.number for one in slips_back(session)]) == ((), [made.number])
    assert lies_of(session, order.number, ring).place == "Safe, tray 2"
    with pytest.raises(BackAlready):
        take_back(session, number=made.number, back=Back(), actor=PROGRAM, now=LATER)
    with pytest.raises(SlipUnknown):
        take_back(session, number="2026-1-w9", back=Back(), actor=PROGRAM, now=LATER)
    again = send_out(session, number=order.number, sending=a_sending(worker, ring), actor=PROGRAM, now=LATER)
    assert again.number == f"{order.number}-w2"
    assert verbs(session)[-3:] == ["give work outside", "take outside work back", "give work outside"]


def test_a_ring_that_is_out_is_not_worked_on_made_ready_or_given_away(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    ring = f"{order.number}/1"
    made = send_out(
        session, number=order.number, sending=a_sending(a_worker(session), ring), actor=PROGRAM, now=NOW
    )
    with pytest.raises(ThingOut) as refused:
        do_at_bench(
            session, number=order.number, position=1, deed=Deed(What.DONE, "weigh"), actor=PROGRAM, now=LATER
        )
    assert (refused.value.slip, refused.value.worker) == (made.number, "Hale, setter")
    ready = partial(
        move_order, session, number=order.number, to=State.READY, version=order.version, actor=PROGRAM
    )
    with pytest.raises(ThingOut):
        ready(now=LATER)
    take_back(session, number=made.number, back=Back(), actor=PROGRAM, now=LATER)
    assert ready(now=LATER).state is State.READY


def test_goods_go_out_too_and_are_not_given_back_meanwhile(session: Session) -> None:
    order = an_order(session, state=State.DRAFT)
    taken_in(session, order.number, words="an old ring", weight_mg=2_140, bag="A-17")
    key, worker = f"{order.number}-r1/1", a_worker(session)
    assert thing(session, order, key).lies.place == ""
    ring = a_sending(worker, f"{order.number}/1")
    with pytest.raises(NothingToSend):
        send_out(session, number=order.number, sending=ring, actor=PROGRAM, now=NOW)
    made = send_out(session, number=order.number, sending=a_sending(worker, key), actor=PROGRAM, now=NOW)
    assert [one.words for one in made.things] == ["An old ring, 2.14 g, bag A-17"]
    with pytest.raises(ThingOut):
        given_back(session, order.number)
    take_back(session, number=made.number, back=Back(), actor=PROGRAM, now=LATER)
    assert lies_of(session, order.number, key).place == ""
    given_back(session, order.number)
    with pytest.raises(ThingUnknown):
        send_out(session, number=order.number, sending=a_sending(worker, key), actor=PROGRAM, now=LATER)


def test_a_slip_that_cannot_be_is_refused_field_by_field(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    worker = a_worker(session)
    good = a_sending(worker, f"{order.number}/1")
    wrong = [
        (replace(good, things=()), "things", Why.EMPTY),
        (replace(good, things=good.things * 2), "things", Why.TOO_LONG),
        (replace(good, what=" "), "what", Why.EMPTY),
        (replace(good, what="x" * 301), "what", Why.TOO_LONG),
        (replace(good, held_by="x" * 81), "held_by", Why.TOO_LONG),
        (replace(good, due_on=TODAY - DAY), "due_on", Why.DAY_PASSED),
    ]
    for sending, field, why in wrong:
        with pytest.raises(Refused) as refused:
            send_out(session, number=order.number, sending=sending, actor=PROGRAM, now=NOW)
        assert [(one.field, one.why) for one in refused.value.refusals] == [(field, why)]
    drop_outworker(session, outworker_id=worker, version=1, actor=PROGRAM, now=NOW)
    assert outworkers(session) == ()
    with pytest.raises(OutworkerUnknown):
        send_out(session, number=order.number, sending=good, actor=PROGRAM, now=NOW)
    assert slips_out(session) == ()


def test_what_is_kept_of_a_slip_names_no_customer(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    sending = a_sending(a_worker(session), f"{order.number}/1")
    made = send_out(session, number=order.number, sending=sending, actor=PROGRAM, now=NOW)
    kept = str(slip_kept(session, made.number))
    assert order.number in kept
    assert [word for word in ("Jorun", "Müller", "960 715") if word in kept] == []


def test_outside_work_over_its_day_is_in_hand_until_it_is_back(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH, bench_on=TODAY + 30 * DAY)
    sending = a_sending(a_worker(session), f"{order.number}/1")
    made = send_out(session, number=order.number, sending=sending, actor=PROGRAM, now=NOW)
    for days, is_over in ((7, False), (8, True)):
        then = NOW + days * DAY
        lines = in_hand(session, today=then.date(), now=then)
        assert [line.hand.why for line in lines] == [HandWhy.OUTWORK_OVERDUE] * is_over
        assert count(session, today=then.date(), now=then) == len(lines)
        assert slip(session, made.number).days_over(then.date()) == int(is_over)
    take_back(session, number=made.number, back=Back(), actor=PROGRAM, now=NOW + 8 * DAY)
    assert in_hand(session, today=TODAY + 8 * DAY, now=NOW + 8 * DAY) == []


def test_a_telephone_number_in_any_spelling_finds_the_things(session: Session) -> None:
    order = an_order(session, state=State.AT_THE_BENCH)
    an_order(session, state=State.HANDED_OVER, customer=order.customer.id)
    for typed in ("01632 960 715", "0044 1632 960715", "+44 (0)1632 960-715", "0715"):
        ((person, orders),) = things_of_people(session, typed, now=LATER)
        assert person.name == "Jorun Müller"
        assert [one.order.number for one in orders] == [order.number]
        assert [one.key for one in orders[0].things] == [f"{order.number}/1"]
    assert things_of_people(session, "01632 960 716", now=LATER) == ()
    assert things_of_people(session, "Müller", now=LATER) == ()


def test_whatever_happens_a_thing_is_in_one_place_and_out_once(session: Session) -> None:
    """Random moves, slips and returns, beside a dictionary that says where each thing has to be."""
    chance = Random(7)  # noqa: S311  the same acts every time
    order = an_order(session, state=State.AT_THE_BENCH, rings=[a_ring(), a_ring()])
    taken_in(session, order.number, words="an old ring", weight_mg=2_140)
    keys = [f"{order.number}/1", f"{order.number}/2", f"{order.number}-r1/1"]
    worker = a_worker(session)
    named = {a_place(session, name): name for name in ("Safe", "Bench", "Drawer")}
    where, out = dict.fromkeys(keys, ""), dict[str, str]()

    def put() -> None:
        key, place = chance.choice(keys), chance.choice(list(named))
        put_down(session, number=order.number, thing=key, place_id=place, actor=PROGRAM, now=LATER)
        where[key] = named[place]

    def send() -> None:
        things = chance.sample(keys, chance.randint(1, 3))
        made = send_out(
            session, number=order.number, sending=a_sending(worker, *things), actor=PROGRAM, now=NOW
        )
        out.update(dict.fromkeys(things, made.number))

    def back() -> None:
        number, place = chance.choice(sorted({*out.values(), "2026-1-w1"})), chance.choice([None, *named])
        take_back(session, number=number, back=Back(place_id=place), actor=PROGRAM, now=LATER)
        for key in [key for key in keys if out.get(key) == number]:
            del out[key]
            where[key] = named.get(place or 0, "")

    acts: list[Callable[[], None]] = [put, send, back]
    refused = 0
    for _ in range(40):
        before = dict(out)
        try:
            chance.choice(acts)()
        except (ThingOut, BackAlready, SlipUnknown):
            refused += 1
            assert out == before
        (stands,) = running_things(session, now=LATER)
        found = {one.key: (one.lies.slip, "" if one.lies.is_out else one.lies.place) for one in stands.things}
        assert found == {key: (out.get(key, ""), "" if key in out else where[key]) for key in keys}
        assert {one.number for one in slips_out(session)} == set(out.values())
    assert 5 < refused < 35
