"""Reading what rings were made as, the proofs that were signed, and what customers said of the fit."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.making_tables import AsMadeRow, FitAnswerRow, InscriptionProofRow
from studio.book.order_lines import ring_lines
from studio.book.order_list_values import RingLine
from studio.book.order_tables import OrderRow, RingRow
from studio.craft.as_made import AsMade, MadeFigures
from studio.craft.designs import Profile, System
from studio.craft.fit_feedback import FitAnswer, Verdict
from studio.craft.orders import State
from studio.craft.proofs import Proof
from studio.craft.units import from_micrometres, from_milligrams

MOST_MADE = 40
_MADE = pick(
    col(AsMadeRow.position),
    col(AsMadeRow.system),
    col(AsMadeRow.label),
    col(AsMadeRow.ordered_um),
    col(AsMadeRow.size_um),
    col(AsMadeRow.before_um),
    col(AsMadeRow.after_um),
    col(AsMadeRow.closed_um),
    col(AsMadeRow.issued_mg),
    col(AsMadeRow.finished_mg),
    col(AsMadeRow.lot),
    col(AsMadeRow.makers),
    col(AsMadeRow.handed_over_at),
)
_OF_ORDER = _MADE.where(col(AsMadeRow.order_id) == bindparam("order_id")).order_by(col(AsMadeRow.position))
_PROOFS = (
    pick(
        col(InscriptionProofRow.position),
        col(InscriptionProofRow.text),
        col(InscriptionProofRow.read_by),
        col(InscriptionProofRow.signed_at),
        col(InscriptionProofRow.actor),
    )
    .where(col(InscriptionProofRow.order_id) == bindparam("order_id"))
    .order_by(col(InscriptionProofRow.id))
)
_ANSWERS = pick(
    col(FitAnswerRow.ring),
    col(FitAnswerRow.profile),
    col(FitAnswerRow.width_um),
    col(FitAnswerRow.allowed_um),
    col(FitAnswerRow.verdict),
    col(FitAnswerRow.off_um),
    col(FitAnswerRow.note),
    col(FitAnswerRow.answered_at),
    col(FitAnswerRow.actor),
)


@dataclass(frozen=True, slots=True)
class MadeBefore:
    """A ring that was made for a customer: its order, its line as a list names it, and how it came out."""

    number: str
    line: RingLine
    made: AsMade


def as_made_of(session: Session, order_id: int) -> tuple[AsMade, ...]:
    """The rings of an order as they were handed over, by their place."""
    return tuple(_made(*row) for row in session.connection().execute(_OF_ORDER, {"order_id": order_id}))


def proofs_of(session: Session, order_id: int) -> tuple[Proof, ...]:
    """The proofs signed of an order's inscriptions, the first first."""
    return tuple(Proof(*row) for row in session.connection().execute(_PROOFS, {"order_id": order_id}))


def fit_answers_of(session: Session, order_id: int) -> dict[int, FitAnswer]:
    """What was said of the fit of an order's rings, by their place."""
    found = session.connection().execute(
        _ANSWERS.add_columns(col(FitAnswerRow.position)).where(col(FitAnswerRow.order_id) == order_id)
    )
    return {position: _answer(*told) for *told, position in found}


def fit_answers(session: Session, *, limit: int | None = None) -> tuple[FitAnswer, ...]:
    """All that was said of the fit, the latest first, at most `limit`."""
    found = session.connection().execute(_ANSWERS.order_by(col(FitAnswerRow.id).desc()).limit(limit))
    return tuple(_answer(*row) for row in found)


def fits_of_fingers(session: Session, finger_ids: Iterable[int]) -> dict[int, FitAnswer]:
    """The last that was said of a ring made for each of these measurements, by the measurement's id."""
    wanted = list(finger_ids)
    if not wanted:
        return {}
    found = session.connection().execute(
        _ANSWERS.add_columns(col(RingRow.finger_id))
        .select_from(RingRow)
        .join(
            FitAnswerRow,
            (col(FitAnswerRow.order_id) == col(RingRow.order_id))
            & (col(FitAnswerRow.position) == col(RingRow.position)),
        )
        .where(col(RingRow.finger_id).in_(wanted), col(FitAnswerRow.verdict) != Verdict.NO_ANSWER)
        .order_by(col(FitAnswerRow.answered_at), col(FitAnswerRow.id))
    )
    return {finger_id: _answer(*told) for *told, finger_id in found}


def made_for(session: Session, customer_id: int) -> tuple[MadeBefore, ...]:
    """What was made for a customer and handed over, the latest first, at most forty rings."""
    found = (
        session.connection()
        .execute(
            _MADE.add_columns(col(OrderRow.id), col(OrderRow.number))
            .join(OrderRow, col(OrderRow.id) == col(AsMadeRow.order_id))
            .where(col(OrderRow.customer_id) == customer_id, col(OrderRow.state) == State.HANDED_OVER)
            .order_by(col(OrderRow.year).desc(), col(OrderRow.serial).desc(), col(AsMadeRow.position))
            .limit(MOST_MADE)
        )
        .all()
    )
    if not found:
        return ()
    lines = ring_lines(session, list({row.id for row in found}))
    by_place = {(order_id, line.position): line for order_id, rings in lines.items() for line in rings}
    return tuple(
        MadeBefore(number, by_place[order_id, told[0]], _made(*told)) for *told, order_id, number in found
    )


def _made(*told: Any) -> AsMade:
    position, system, label, ordered_um, *lengths, issued_mg, finished_mg, lot, makers, at = told
    size, before, after, closed = (None if um is None else from_micrometres(um) for um in lengths)
    issued, finished = (None if mg is None else from_milligrams(mg) for mg in (issued_mg, finished_mg))
    return AsMade(
        position,
        System(system),
        label,
        from_micrometres(ordered_um),
        MadeFigures(size, before, after, closed, issued, finished, lot),
        makers,
        at,
    )


def _answer(*told: Any) -> FitAnswer:
    ring, profile, width_um, allowed_um, verdict, off_um, note, at, actor = told
    return FitAnswer(
        ring,
        Profile(profile),
        from_micrometres(width_um),
        from_micrometres(allowed_um),
        Verdict(verdict),
        None if off_um is None else from_micrometres(off_um),
        note,
        at,
        actor,
    )
