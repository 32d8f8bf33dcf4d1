"""Where things of the demo lie, who works outside for its studio, and one slip that is over its day."""

from datetime import datetime, timedelta

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.orders import order, orders_page
from studio.book.outwork import Sending, add_outworker, send_out
from studio.book.places import add_place, put_down
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
    """Name places and workers, say where rings lie, and send a customer's old ring to be assayed."""
    kept = [add_place(session, name=name, actor=actor, now=opened) for name in _PLACES]
    workers = [
        add_outworker(session, name=name, trade=trade, words=words, actor=actor, now=opened)
        for name, trade, words in _WORKERS
    ]
    for state, places in (
        (State.AT_THE_BENCH, kept[2:4]),
        (State.READY, kept[:1]),
        (State.AGREED, kept[1:2]),
    ):
        for count, line in enumerate(orders_page(session, state=state, limit=6, now=now).items):
            put_down(
                session,
                number=line.number,
                thing=f"{line.number}/1",
                place_id=places[count % len(places)].id,
                actor=actor,
                now=now - timedelta(hours=3 + 5 * count),
            )
    agreed = orders_page(session, state=State.AGREED, limit=200, now=now).items
    held = next((found for line in agreed if (found := order(session, line.number)).goods_held), None)
    if held is None:
        return
    old_ring = next(good for good in held.goods_held if good.words)
    sending = Sending(
        things=(old_ring.key,),
        outworker_id=workers[2].id,
        what="Test the fineness, and say what it is worth a gram. Do not cut it.",
        value_minor=18_000,
        due_on=(now - timedelta(days=3)).date(),
        weight_mg=old_ring.weight_mg,
        expected_minor=1_450,
        held_by="the Friday courier",
    )
    send_out(session, number=held.number, sending=sending, actor=actor, now=now - timedelta(days=11))
