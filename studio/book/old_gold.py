"""Old gold bought in: each purchase is numbered, enters the metal ledger, and keeps its seller for a time."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlmodel import Session, col, func, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.ledger import Hand, correct, enter, open_ledger
from studio.book.ledger_tables import LedgerRow
from studio.book.old_gold_errors import OldGoldStruck, OldGoldUnknown, SellerKept
from studio.book.old_gold_tables import OldGoldRow, OldGoldSellerRow, OldGoldStrikeRow
from studio.book.practices import practice_on
from studio.book.row_ids import row_by_id
from studio.book.studio import studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.ledger import Account, MetalMove
from studio.craft.old_gold import (
    LONGEST_DESCRIPTION,
    LONGEST_IDENTITY,
    LONGEST_MARKS,
    LONGEST_TESTED,
    keep_until,
)
from studio.craft.payments import Method

MOST_SHOWN = 100
LONGEST_WHY = 200


@dataclass(frozen=True, slots=True)
class Seller:
    """Who sold it, where they live, and the paper by which they showed who they are."""

    name: str
    address: str
    identity: str


@dataclass(frozen=True, slots=True)
class OldGoldDraft:
    """A purchase as it is entered: mass in mg, money in minor units, fineness in parts per thousand."""

    alloy: str
    fineness: int
    mass_mg: int
    description: str
    paid_minor: int
    method: Method
    seller: Seller
    is_theirs: bool
    marks: str = ""
    tested: str = ""
    worth_minor: int | None = None


@dataclass(frozen=True, slots=True)
class OldGold:
    """A purchase as it stands. `seller` is None once forgotten; `struck` says why it does not count."""

    number: int
    bought_at: datetime
    bought_on: date
    keep_until: date
    alloy: str
    fineness: int
    mass_mg: int
    description: str
    marks: str
    tested: str
    worth_minor: int | None
    paid_minor: int
    currency: str
    method: Method
    bought_by: str
    seller: Seller | None
    struck: str

    def may_be_forgotten(self, today: date) -> bool:
        """Whether the seller's particulars need not be kept any more."""
        return self.seller is not None and self.keep_until < today


def buy_old_gold(session: Session, *, draft: OldGoldDraft, actor: Actor, now: datetime) -> OldGold:
    """Enter a purchase; its metal lies in the scrap box from now on.

    Raises `Refused`: 'alloy', 'fineness', 'mass', 'description', 'marks', 'tested', 'name', 'identity', and
    'is_theirs' while the seller has not said that it is theirs to sell.
    """
    with transaction(session):
        facts, hand = studio(session), Hand(actor, now)
        today = day_of(now, facts.time_zone)
        _check(session, draft, today)
        open_ledger(session, hand)
        number = (session.exec(select(func.max(OldGoldRow.id))).one() or 0) + 1
        moved = enter(
            session, hand, MetalMove.OLD_GOLD, Account.SELLER, Account.SCRAP,
            alloy=draft.alloy, mass_mg=draft.mass_mg, note=f"old gold {number}",
        )  # fmt: skip
        session.add(
            OldGoldRow(
                id=number,
                bought_at=now,
                bought_on=today,
                keep_until=keep_until(today, facts.seller_years),
                alloy=draft.alloy,
                fineness=draft.fineness,
                mass_mg=draft.mass_mg,
                description=draft.description,
                marks=draft.marks,
                tested=draft.tested,
                worth_minor=draft.worth_minor,
                paid_minor=draft.paid_minor,
                currency=facts.currency,
                method=draft.method,
                movement_id=moved.id,
                user_id=actor.id,
                actor=actor.name,
            )
        )
        session.flush()
        seller = draft.seller
        session.add(
            OldGoldSellerRow(
                old_gold_id=number, name=seller.name, address=seller.address, identity=seller.identity
            )
        )
        told = {"old_gold": number, "alloy": draft.alloy, "mass_mg": draft.mass_mg, "paid": draft.paid_minor}
        note(session, actor=actor, now=now, verb="buy old gold", new=told)
        session.flush()
        return old_gold(session, number)


def strike_old_gold(session: Session, *, number: int, why: str, actor: Actor, now: datetime) -> OldGold:
    """Strike a purchase that was entered wrongly: it stays, with its reason, and its metal is taken back.

    Raises `OldGoldUnknown`, `OldGoldStruck`, and `Refused` naming `why`.
    """
    with transaction(session):
        why = " ".join(why.split())
        if not why or len(why) > LONGEST_WHY:
            short = Why.TOO_LONG if why else Why.EMPTY
            raise Refused(Refusal("why", short, high=LONGEST_WHY, unit="characters"))
        row = row_by_id(session, OldGoldRow, number, is_to_change=True)
        if row is None:
            raise OldGoldUnknown(number)
        if session.get(OldGoldStrikeRow, row.id) is not None:
            raise OldGoldStruck(number)
        correct(session, Hand(actor, now), session.get_one(LedgerRow, row.movement_id), why)
        session.add(
            OldGoldStrikeRow(old_gold_id=row.id, struck_at=now, why=why, user_id=actor.id, actor=actor.name)
        )
        note(session, actor=actor, now=now, verb="strike old gold", new={"old_gold": number}, reason=why)
        session.flush()
        return old_gold(session, number)


def forget_seller(session: Session, *, number: int, actor: Actor, now: datetime) -> OldGold:
    """Take a seller's particulars out of the book, once they need not be kept any more.

    The purchase stays with its weight and price. Raises `OldGoldUnknown` and `SellerKept`.
    """
    with transaction(session):
        row = row_by_id(session, OldGoldRow, number, is_to_change=True)
        if row is None:
            raise OldGoldUnknown(number)
        seller = session.get(OldGoldSellerRow, row.id)
        if seller is None or row.keep_until >= day_of(now, studio(session).time_zone):
            raise SellerKept(number, row.keep_until)
        session.delete(seller)
        note(session, actor=actor, now=now, verb="forget a seller", new={"old_gold": number})
        session.flush()
        return old_gold(session, number)


def old_gold(session: Session, number: int) -> OldGold:
    """The purchase of this number. Raises `OldGoldUnknown`."""
    found = register(session, number=number)
    if not found:
        raise OldGoldUnknown(number)
    return found[0]


def register(
    session: Session, *, number: int | None = None, limit: int | None = MOST_SHOWN
) -> tuple[OldGold, ...]:
    """The purchases, the latest first, at most `limit`; or the one of `number`."""
    wanted = (
        select(OldGoldRow, OldGoldSellerRow, OldGoldStrikeRow)
        .join(OldGoldSellerRow, col(OldGoldSellerRow.old_gold_id) == col(OldGoldRow.id), isouter=True)
        .join(OldGoldStrikeRow, col(OldGoldStrikeRow.old_gold_id) == col(OldGoldRow.id), isouter=True)
        .order_by(col(OldGoldRow.id).desc())
        .limit(limit)
    )
    if number is not None:
        row = row_by_id(session, OldGoldRow, number)
        wanted = wanted.where(col(OldGoldRow.id) == (0 if row is None else row.id))
    found: Any = session.exec(wanted)
    return tuple(
        OldGold(
            number=row.id,
            bought_at=row.bought_at,
            bought_on=row.bought_on,
            keep_until=row.keep_until,
            alloy=row.alloy,
            fineness=row.fineness,
            mass_mg=row.mass_mg,
            description=row.description,
            marks=row.marks,
            tested=row.tested,
            worth_minor=row.worth_minor,
            paid_minor=row.paid_minor,
            currency=row.currency,
            method=Method(row.method),
            bought_by=row.actor,
            seller=None if seller is None else Seller(seller.name, seller.address, seller.identity),
            struck="" if strike is None else strike.why,
        )
        for row, seller, strike in found
    )


def _check(session: Session, draft: OldGoldDraft, today: date) -> None:
    refused: list[Refusal] = []
    alloy = practice_on(session, today).alloys.get(draft.alloy)
    if alloy is None or not alloy.fineness:
        refused.append(Refusal("alloy", Why.UNKNOWN_CHOICE, draft.alloy[:24]))
    if not 0 < draft.fineness <= 1000:
        why = Why.TOO_LARGE if draft.fineness > 0 else Why.TOO_SMALL
        refused.append(Refusal("fineness", why, str(draft.fineness), 1, 1000, ""))
    if draft.mass_mg <= 0:
        refused.append(Refusal("mass", Why.NOT_ABOVE_ZERO, "0"))
    for name, words, longest, is_needed in (
        ("description", draft.description, LONGEST_DESCRIPTION, True),
        ("marks", draft.marks, LONGEST_MARKS, False),
        ("tested", draft.tested, LONGEST_TESTED, False),
        ("seller", draft.seller.name, LONGEST_MARKS, True),
        ("identity", draft.seller.identity, LONGEST_IDENTITY, True),
        ("address", draft.seller.address, LONGEST_DESCRIPTION, True),
    ):
        if is_needed and not words.strip():
            refused.append(Refusal(name, Why.EMPTY))
        elif len(words) > longest:
            refused.append(Refusal(name, Why.TOO_LONG, words[:24], high=longest, unit="characters"))
    if not draft.is_theirs:
        refused.append(Refusal("is_theirs", Why.EMPTY))
    if refused:
        raise Refused(*refused)
