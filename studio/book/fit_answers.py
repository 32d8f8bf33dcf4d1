"""What a customer says of the fit after weeks: written down beside what the fit rule allowed the ring."""

from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.making_errors import NotWorn
from studio.book.making_tables import FitAnswerRow
from studio.book.order_writing import locked_order, one_line
from studio.book.ring_reads import rings_of
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.fit_feedback import LONGEST_FIT_NOTE, OFF_MM, Verdict
from studio.craft.orders import State
from studio.craft.units import from_micrometres, shown_length, to_micrometres


def answer_fit(
    session: Session,
    *,
    number: str,
    position: int,
    verdict: Verdict,
    off_mm: float | None = None,
    words: str = "",
    actor: Actor,
    now: datetime,
) -> None:
    """Write down what was said of the fit of ring `position`, in the place of what was said before.

    Its section, width and the fit it was given are kept beside it as they are, so a rule changed later moves
    no answer; and no answer moves the rule. Saying again what stands writes nothing. Raises `OrderUnknown`,
    `NotWorn` where the ring is not there or not handed over, and `Refused`: 'off_mm', 'words'.
    """
    told = one_line(words) or ""
    with transaction(session):
        row = locked_order(session, number, None)
        ring = next((one for one in rings_of(session, row.id) if one.position == position), None)
        if ring is None or row.state != State.HANDED_OVER:
            raise NotWorn(number, position)
        _check(verdict, off_mm, told)
        of_ring = col(FitAnswerRow.order_id) == row.id, col(FitAnswerRow.position) == position
        known = session.exec(select(FitAnswerRow).where(*of_ring)).one_or_none()
        made = known or FitAnswerRow(
            order_id=row.id,
            position=position,
            ring=f"{number}/{position}",
            profile=ring.design.profile,
            width_um=to_micrometres(ring.design.width_mm),
            allowed_um=to_micrometres(ring.reckoning.fit_mm),
            verdict=verdict,
            answered_at=now,
            actor=actor.name,
        )
        old = {} if known is None else _shown(known)
        made.verdict, made.note = verdict, told
        made.off_um = None if off_mm is None else to_micrometres(off_mm)
        new = _shown(made)
        if new == old:
            return
        made.answered_at, made.user_id, made.actor = now, actor.id, actor.name
        session.add(made)
        session.flush()
        note(
            session,
            actor=actor,
            now=now,
            verb="note what was said of the fit",
            order_id=row.id,
            old=old or None,
            new={"ring": position, **new},
        )


def _check(verdict: Verdict, off_mm: float | None, words: str) -> None:
    found: list[Refusal] = []
    if off_mm is not None and verdict not in {Verdict.TIGHT, Verdict.LOOSE}:
        found.append(Refusal("off_mm", Why.OFF_BY_NOTHING))
    elif off_mm is not None and not OFF_MM.low <= off_mm <= OFF_MM.high:
        why = Why.TOO_LARGE if off_mm > OFF_MM.high else Why.TOO_SMALL
        found.append(Refusal("off_mm", why, shown_length(off_mm), OFF_MM.low, OFF_MM.high, "mm"))
    if len(words) > LONGEST_FIT_NOTE:
        found.append(Refusal("words", Why.TOO_LONG, high=LONGEST_FIT_NOTE, unit="characters"))
    if found:
        raise Refused(*found)


def _shown(row: FitAnswerRow) -> dict[str, Any]:
    off_mm = None if row.off_um is None else from_micrometres(row.off_um)
    return {"verdict": row.verdict, "off_mm": off_mm, "words": row.note}
