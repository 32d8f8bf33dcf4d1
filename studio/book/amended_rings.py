"""An amended order: its rings and days become those the yes was said to."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.blanks_back import cut_blanks, put_blank_back
from studio.book.order_rings import check_metals, put_rings, rings_shown, without_reasons
from studio.book.order_tables import OrderRow
from studio.book.ring_reads import carried_over, rings_in, rings_of
from studio.book.ring_sets import known_practices
from studio.craft.calling_off import metal_goes_to, stage_of
from studio.craft.orders import State


def put_amended(
    session: Session, order: OrderRow, frozen: Mapping[str, Any], *, actor: Actor, now: datetime
) -> tuple[State, dict[str, object]]:
    """Let what an amendment keeps (`frozen`) be the order's; its state from then on, and for the history.

    Inside the transaction of the yes. What became of the rings while it waited stays, where it does not speak
    of it. A ready order whose rings change goes back to the bench. A blank that was cut and is another one
    now goes back: into the drawer before the bench, to scrap from there on. Raises `Refused` for a metal to
    avoid.
    """
    before = rings_shown(session, order.id)
    kept = carried_over(frozen["set"], frozen.get("base", ()), rings_of(session, order.id))
    drafts = [ring.draft for ring in rings_in(session, kept)]
    blanks = cut_blanks(session, order)
    stage = stage_of(State(order.state), (True for _ in blanks))
    put_rings(session, order, drafts, shown_with=known_practices(kept), actor=actor, now=now)
    check_metals(session, order)
    wanted_on, promised_at = frozen["wanted_on"], frozen["promised_at"]
    order.wanted_on = None if wanted_on is None else date.fromisoformat(wanted_on)
    order.is_wanted_hard = frozen["wanted_hard"]
    order.promised_at = None if promised_at is None else datetime.fromisoformat(promised_at)
    order.amending = None
    is_other = without_reasons(rings_shown(session, order.id)) != without_reasons(before)
    is_back = is_other and order.state == State.READY
    kept_blanks = {blank.position for blank in cut_blanks(session, order)}
    back = [
        put_blank_back(session, order, blank, metal_goes_to(stage), actor=actor, now=now)
        for blank in blanks
        if blank.position not in kept_blanks and stage is not None
    ]
    state = State.AT_THE_BENCH if is_back else State(order.state)
    return state, {"metal": back} if back else {}
