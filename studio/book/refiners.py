"""Lots for the refiner: sent with what they should bring, and settled by what was paid."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.ledger import Hand, enter, open_ledger
from studio.book.ledger_errors import LotSettled, LotUnknown
from studio.book.ledger_reads import Lot, ledger_balances, lots
from studio.book.ledger_tables import RefinerLotRow, RefinerSettlementRow
from studio.book.practices import practice_on
from studio.book.row_ids import row_by_id
from studio.book.studio import currency_of, time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.ledger import Account, LotKind, MetalMove, Pot
from studio.craft.units import from_milligrams

LONGEST_REFINER, LONGEST_NOTE = 60, 200


@dataclass(frozen=True, slots=True)
class LotDraft:
    """A lot as it is sent: whose it is to refine, what of, and the percent expected of its fine metal."""

    refiner: str
    kind: LotKind
    alloy: str
    mass_mg: int
    credited_bp: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the refiner said: the assay in parts per thousand, fine metal paid, money, what was sent back."""

    assay_fineness: int
    paid_fine_mg: int
    charges_minor: int
    paid_minor: int
    returned_mg: int = 0
    note: str = ""


def send_lot(session: Session, *, lot: LotDraft, actor: Actor, now: datetime) -> Lot:
    """Send a lot out of the scrap box or the lemel.

    Raises `Refused`: 'refiner', 'alloy' for one without precious metal, 'mass' for more than is there,
    'credited'.
    """
    with transaction(session):
        hand, today = Hand(actor, now), day_of(now, time_zone(session))
        open_ledger(session, hand)
        found: list[Refusal] = []
        refiner = " ".join(lot.refiner.split())
        if not refiner or len(refiner) > LONGEST_REFINER:
            why = Why.TOO_LONG if refiner else Why.EMPTY
            found.append(Refusal("refiner", why, high=LONGEST_REFINER, unit="characters"))
        alloy = practice_on(session, today).alloys.get(lot.alloy)
        if alloy is None or not alloy.fineness:
            found.append(Refusal("alloy", Why.UNKNOWN_CHOICE, lot.alloy[:24]))
        if not 0 < lot.credited_bp <= 10_000:
            found.append(Refusal("credited", Why.TOO_LARGE, f"{lot.credited_bp / 100:g}", 0.01, 100, "%"))
        there = ledger_balances(session).get(Pot(lot.kind.account, lot.alloy), 0)
        if not 0 < lot.mass_mg <= there:
            typed = f"{from_milligrams(lot.mass_mg):g}"
            found.append(Refusal("mass", Why.TOO_LARGE, typed, 0.001, from_milligrams(there), "g"))
        if found or alloy is None:
            raise Refused(*found)
        row = RefinerLotRow(
            refiner=refiner,
            sent_on=today,
            kind=lot.kind,
            alloy=lot.alloy,
            fineness=alloy.fineness,
            mass_mg=lot.mass_mg,
            credited_bp=lot.credited_bp,
            user_id=actor.id,
            actor=actor.name,
        )
        session.add(row)
        session.flush()
        enter(session, hand, MetalMove.TO_REFINER, lot.kind.account, Account.REFINER,
              alloy=lot.alloy, mass_mg=lot.mass_mg, lot_id=row.id, note=refiner)  # fmt: skip
        told = {"lot": row.id, "refiner": refiner, "alloy": lot.alloy, "mass_mg": lot.mass_mg}
        note(session, actor=actor, now=now, verb="send to the refiner", new=told)
        (sent,) = lots(session, lot_id=row.id)
        return sent


def settle_lot(session: Session, *, lot_id: int, outcome: Outcome, actor: Actor, now: datetime) -> Lot:
    """Keep what the refiner said and paid; what was sent back unrefined lies in its box again.

    Raises `LotUnknown`, `LotSettled`, and `Refused`: 'assay', 'paid_fine', 'charges', 'paid', 'returned',
    'note'.
    """
    with transaction(session):
        row = row_by_id(session, RefinerLotRow, lot_id, is_to_change=True)
        if row is None:
            raise LotUnknown(lot_id)
        if session.get(RefinerSettlementRow, lot_id) is not None:
            raise LotSettled(lot_id)
        found = [
            Refusal(field, Why.TOO_LARGE if value > most else Why.TOO_SMALL, str(value), 0, most, unit)
            for field, value, most, unit in (
                ("assay", outcome.assay_fineness, 1000, ""),
                ("paid_fine", outcome.paid_fine_mg, row.mass_mg, "mg"),
                ("returned", outcome.returned_mg, row.mass_mg, "mg"),
            )
            if not 0 <= value <= most
        ]
        if len(outcome.note) > LONGEST_NOTE:
            found.append(Refusal("note", Why.TOO_LONG, high=LONGEST_NOTE, unit="characters"))
        if found:
            raise Refused(*found)
        session.add(
            RefinerSettlementRow(
                lot_id=lot_id,
                settled_on=day_of(now, time_zone(session)),
                assay_fineness=outcome.assay_fineness,
                paid_fine_mg=outcome.paid_fine_mg,
                charges_minor=outcome.charges_minor,
                paid_minor=outcome.paid_minor,
                currency=currency_of(session),
                note=outcome.note,
                user_id=actor.id,
                actor=actor.name,
            )
        )
        if outcome.returned_mg:
            enter(session, Hand(actor, now), MetalMove.FROM_REFINER, Account.REFINER,
                  LotKind(row.kind).account, alloy=row.alloy, mass_mg=outcome.returned_mg,
                  lot_id=lot_id)  # fmt: skip
        session.flush()
        told = {"lot": lot_id, "paid_fine_mg": outcome.paid_fine_mg, "paid_minor": outcome.paid_minor}
        note(session, actor=actor, now=now, verb="settle a lot", new=told)
        (settled,) = lots(session, lot_id=lot_id)
        return settled
