"""Calling an agreed order off: what is owed by its stage, and its metal back to the drawer."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreed_errors import NothingToSettleUp
from studio.book.audit import note
from studio.book.blanks_back import cut_blanks, put_blank_back
from studio.book.calling_off_tables import CallingOffRow
from studio.book.calling_off_values import CallingOff, MetalBack
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_writing import locked_order, touch
from studio.book.payment_reads import payments_of
from studio.book.piece_tables import PieceRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.standing import holding_agreement, supersede_open
from studio.book.studio import Studio, studio
from studio.book.transaction import transaction
from studio.craft.calling_off import MetalTo, Settlement, Stage, metal_goes_to, settled, stage_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.money import from_minor
from studio.craft.orders import State


def kept_by_stage(facts: Studio) -> dict[Stage, Decimal | None]:
    """The studio's own table: percent of the price kept at each stage, None where it says nothing."""
    kept = {
        Stage.AGREED: facts.kept_agreed_bp,
        Stage.CUT: facts.kept_cut_bp,
        Stage.AT_THE_BENCH: facts.kept_bench_bp,
        Stage.READY: facts.kept_ready_bp,
    }
    return {stage: None if bp is None else Decimal(bp) / 100 for stage, bp in kept.items()}


def put_calling_off(
    session: Session,
    row: OrderRow,
    *,
    metal: Mapping[int, MetalTo],
    actor: Actor,
    now: datetime,
) -> dict[str, object]:
    """Settle an agreed order that is being called off, inside the transaction of the move; for the history.

    What is owed is as the studio's table says, or waits to be said. Blanks that were cut go back to the
    drawer or to scrap, as `metal` says by the ring's place, else by the stage; pieces that were set aside
    for the order are free again; an amendment that waits for its answer no longer does. {} without a yes.
    """
    agreement = holding_agreement(session, row.id)
    rings = list(
        session.exec(
            select(RingRow).where(col(RingRow.order_id) == row.id).order_by(col(RingRow.position))
        ).all()
    )
    stage = stage_of(State(row.state), (ring.cut_id is not None for ring in rings))
    if agreement is None or stage is None:
        return {}
    quote = session.get_one(QuoteRow, agreement.quote_id)
    total_minor, paid_minor = _total(quote, agreement), _paid(session, row.id)
    table = kept_by_stage(studio(session))
    owed = settled(stage, table, total_minor=total_minor, paid_minor=paid_minor)
    percent = table[stage]
    goes_to = {ring.position: metal.get(ring.position) or metal_goes_to(stage) for ring in rings}
    back = [
        put_blank_back(session, row, blank, goes_to[blank.position], actor=actor, now=now)
        for blank in cut_blanks(session, row)
    ]
    for ring in rings:
        ring.cut_id = None
    session.add_all(rings)
    for piece in session.exec(
        select(PieceRow).where(
            col(PieceRow.order_id) == row.id, col(PieceRow.owner_id).is_(None), col(PieceRow.gone) == ""
        )
    ).all():
        piece.order_id, piece.changed_at = None, now
        piece.version += 1
        session.add(piece)
    supersede_open(session, row.id, now)
    row.amending = None
    session.add(
        CallingOffRow(
            order_id=row.id,
            quote_id=quote.id,
            stage=stage,
            currency=quote.currency,
            total_minor=total_minor,
            paid_minor=paid_minor,
            percent_bp=None if percent is None else int(percent * 100),
            owed_minor=None if owed is None else owed.owed_minor,
            metal=back,
            called_off_at=now,
            user_id=actor.id,
            actor=actor.name,
        )
    )
    session.flush()
    told: dict[str, object] = {"stage": stage, "metal": back}
    return told if owed is None else told | {"owed_minor": owed.owed_minor}


def take_up_again(session: Session, row: OrderRow, now: datetime) -> None:
    """What was settled holds no more, since the order is a draft again."""
    found = _holding(session, row.id)
    if found is not None:
        found.ended_at = now
        session.add(found)


def settle_up(
    session: Session, *, number: str, owed_minor: int, version: int, actor: Actor, now: datetime
) -> CallingOff:
    """Say what is owed of an order that was called off, whatever the table says.

    Raises `OrderUnknown`, `VersionStale`, `NothingToSettleUp` where it is not called off after a yes, and
    `Refused` naming `owed` for an amount below 0 or above what was agreed.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        found = _holding(session, row.id)
        if row.state != State.CALLED_OFF or found is None:
            raise NothingToSettleUp(number)
        if not 0 <= owed_minor <= found.total_minor:
            most = float(from_minor(found.total_minor, found.currency))
            typed = str(from_minor(owed_minor, found.currency))[:24]
            why = Why.TOO_LARGE if owed_minor > 0 else Why.TOO_SMALL
            raise Refused(Refusal("owed", why, typed, 0, most, found.currency))
        if (found.owed_minor, found.percent_bp) != (owed_minor, None):
            old = {"owed_minor": found.owed_minor}
            found.owed_minor, found.percent_bp = owed_minor, None
            session.add(found)
            touch(session, row, now)
            new = {"owed_minor": owed_minor}
            note(session, actor=actor, now=now, verb="settle up", order_id=row.id, old=old, new=new)
        return _value(found)


def calling_off_of(session: Session, order_id: int) -> CallingOff | None:
    """How the order was called off after the yes, None where it was not."""
    found = _holding(session, order_id)
    return None if found is None else _value(found)


def _holding(session: Session, order_id: int) -> CallingOffRow | None:
    return session.exec(
        select(CallingOffRow).where(
            col(CallingOffRow.order_id) == order_id, col(CallingOffRow.ended_at).is_(None)
        )
    ).one_or_none()


def _total(quote: QuoteRow, agreement: AgreementRow) -> int:
    chosen = next((one for one in quote.variants if one["key"] == agreement.variant), None)
    return quote.total_minor if chosen is None else int(chosen["total_minor"])


def _paid(session: Session, order_id: int) -> int:
    return sum(one.amount_minor for one in payments_of(session, order_id))


def _value(row: CallingOffRow) -> CallingOff:
    return CallingOff(
        stage=Stage(row.stage),
        currency=row.currency,
        total_minor=row.total_minor,
        paid_minor=row.paid_minor,
        percent=None if row.percent_bp is None else Decimal(row.percent_bp) / 100,
        settlement=None
        if row.owed_minor is None
        else Settlement(row.total_minor, row.paid_minor, row.owed_minor),
        metal=tuple(
            MetalBack(one["ring"], MetalTo(one["to"]), one["mass_mg"], one["piece"]) for one in row.metal
        ),
        called_off_at=row.called_off_at,
        actor=row.actor,
    )
