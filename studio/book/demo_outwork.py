"""Where things of the demo lie, who works outside for its studio, and one slip that is over its day."""

from datetime import datetime, timedelta

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.demo_people import STUDIO
from studio.book.orders import order, orders_page
from studio.book.outwork import Sending, add_outworker, send_out
from studio.book.places import add_place, put_down
from studio.book.whereabouts import lies_of
from studio.clock import day_of
from studio.craft.orders import State
from studio.craft.outwork import Trade

_PLACES = ("Safe, tray 1", "Safe, tray 2", "Bench by the window", "Bench by the door", "Counter drawer")
_WORKERS = (
    ("Hale & Wynn", Trade.SETTER, "01632 960 811, two weeks"),
    ("Orla Finch", Trade.ENGRAVER, "01632 960 812, comes by on Thursdays"),
    ("Northgate Assay Office", Trade.ASSAY_OFFICE, "01632 960 813, five working days"),
    ("Tarn Casting", Trade.CASTER, "01632 960 814"),
)


def outwork_in_demo(session: Session, *, actor: Actor, opened: datetime, now: datetime) -> None:
    """Name places and workers, send a ring to the engraver, and say where the others lie."""
    kept = [add_place(session, name=name, actor=actor, now=opened) for name in _PLACES]
    workers = [
        add_outworker(session, name=name, trade=trade, words=words, actor=actor, now=opened)
        for name, trade, words in _WORKERS
    ]
    _send_to_engraver(session, workers[1].id, actor=actor, now=now)
    for state, places in (
        (State.AT_THE_BENCH, kept[2:4]),
        (State.READY, kept[:1]),
        (State.AGREED, kept[1:2]),
    ):
        for count, line in enumerate(orders_page(session, state=state, limit=6, now=now).items):
            thing = f"{line.number}/1"
            if lies_of(session, line.number, thing).is_out:
                continue
            last = order(session, line.number).history[-1].at
            put_down(
                session,
                number=line.number,
                thing=thing,
                place_id=places[count % len(places)].id,
                actor=actor,
                now=max(last, now - timedelta(hours=3 + 5 * count)),
            )


def _send_to_engraver(session: Session, outworker_id: int, *, actor: Actor, now: datetime) -> None:
    """The ring that is longest at the bench went to the engraver in the evening, until the day after."""
    at_bench = orders_page(session, state=State.AT_THE_BENCH, limit=200, now=now).items
    longest = min((order(session, line.number) for line in at_bench), key=lambda one: one.history[-1].at)
    out_at = longest.history[-1].at + timedelta(hours=7)
    sending = Sending(
        things=(f"{longest.number}/1",),
        outworker_id=outworker_id,
        what="Cut a border of leaves by hand, 1 mm wide, along both edges.",
        value_minor=18_000,
        due_on=day_of(out_at, STUDIO.time_zone) + timedelta(days=1),
        weight_mg=round(longest.rings[0].reckoning.finished_g * 1000),
        expected_minor=6_500,
        held_by="the evening courier",
    )
    send_out(session, number=longest.number, sending=sending, actor=actor, now=min(out_at, now))
