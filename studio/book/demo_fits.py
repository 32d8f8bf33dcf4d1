"""What the demo's customers said of the fit of rings they have worn for a while."""

from datetime import datetime, timedelta
from random import Random

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.fit_answers import answer_fit
from studio.book.order_reads import orders_page
from studio.craft.fit_feedback import Verdict
from studio.craft.orders import State

_WORN = timedelta(days=10)
_SAID = (
    (Verdict.RIGHT, None, ""),
    (Verdict.RIGHT, None, "as if it had grown there"),
    (Verdict.RIGHT, None, ""),
    (Verdict.LOOSE, 0.6, "turns when my hands are cold"),
    (Verdict.LOOSE, None, ""),
    (Verdict.TIGHT, 0.4, "hard to get off in the evening"),
)


def fits_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Let those whose ring was handed over ten days ago or more say how it fits, but for the first."""
    worn = [
        line
        for line in orders_page(session, state=State.HANDED_OVER, limit=200, now=now).items
        if line.state_since <= now - _WORN
    ]
    for line in sorted(worn, key=lambda one: one.state_since)[1:]:
        for ring in line.rings:
            chance = Random(f"{line.number}/{ring.position}")  # noqa: S311  an invented word
            verdict, off_mm, words = chance.choice(_SAID)
            answer_fit(
                session,
                number=line.number,
                position=ring.position,
                verdict=verdict,
                off_mm=off_mm,
                words=words,
                actor=actor,
                now=min(line.state_since + _WORN, now),
            )
