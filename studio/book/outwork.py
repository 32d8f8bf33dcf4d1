"""Work done outside: a slip when things leave the house, and what is noted when they come back."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlmodel import Session, col, func, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.document_reads import goods_held
from studio.book.errors import VersionStale
from studio.book.order_lines import ring_lines
from studio.book.order_tables import OrderRow
from studio.book.order_writing import locked_order, one_line
from studio.book.outwork_reads import Outworker, Slip, as_outworker, outworkers, refuse_out, slip
from studio.book.outwork_tables import OutworkerRow, OutworkRow, OutworkThingRow
from studio.book.places import known_place, write_place
from studio.book.row_ids import row_by_id
from studio.book.studio import Studio, letterhead_of, studio
from studio.book.transaction import transaction
from studio.book.whereabouts_errors import (
    BackAlready,
    NothingToSend,
    OutworkerUnknown,
    SlipUnknown,
    ThingUnknown,
)
from studio.clock import day_of
from studio.craft.design_words import design_words
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.goods import Good
from studio.craft.orders import AMENDABLE, State
from studio.craft.outwork import (
    LONGEST_CONDITION,
    LONGEST_WHAT,
    LONGEST_WORKER,
    LONGEST_WORKER_NOTE,
    MOST_THINGS,
    Trade,
)


@dataclass(frozen=True, slots=True)
class Sending:
    """What goes out: the things by their keys, to whom, for what, until when, and what it is worth.

    Money is in minor units of the studio's currency, the weight in mg; `held_by` is who took it along.
    """

    things: tuple[str, ...]
    outworker_id: int
    what: str
    value_minor: int
    due_on: date
    weight_mg: int | None = None
    expected_minor: int | None = None
    held_by: str = ""


@dataclass(frozen=True, slots=True)
class Back:
    """What is noted when it comes back: weight in mg, cost in minor units, condition, and where it lies."""

    weight_mg: int | None = None
    cost_minor: int | None = None
    condition: str = ""
    place_id: int | None = None


def add_outworker(
    session: Session, *, name: str, trade: Trade, words: str = "", actor: Actor, now: datetime
) -> Outworker:
    """Put somebody on the list of outside workers. Raises `Refused` for a name that cannot be."""
    called, told = one_line(name), one_line(words) or ""
    with transaction(session):
        found: list[Refusal] = []
        if called is None:
            found.append(Refusal("worker_name", Why.EMPTY))
        elif len(called) > LONGEST_WORKER:
            found.append(Refusal("worker_name", Why.TOO_LONG, high=LONGEST_WORKER, unit="characters"))
        elif any(one.name.casefold() == called.casefold() for one in outworkers(session)):
            found.append(Refusal("worker_name", Why.NAME_TAKEN, called))
        if len(told) > LONGEST_WORKER_NOTE:
            found.append(Refusal("worker_note", Why.TOO_LONG, high=LONGEST_WORKER_NOTE, unit="characters"))
        if found or called is None:
            raise Refused(*found)
        row = OutworkerRow(name=called, trade=trade, note=told, user_id=actor.id, changed_at=now)
        session.add(row)
        session.flush()
        note(
            session, actor=actor, now=now, verb="add an outside worker", new={"name": called, "trade": trade}
        )
        return as_outworker(row)


def drop_outworker(session: Session, *, outworker_id: int, version: int, actor: Actor, now: datetime) -> None:
    """Take somebody off the list; their slips stay. Raises `OutworkerUnknown`, `VersionStale`."""
    with transaction(session):
        row = row_by_id(session, OutworkerRow, outworker_id, is_to_change=True)
        if row is None or row.is_dropped:
            raise OutworkerUnknown(outworker_id)
        if row.version != version:
            raise VersionStale(f"outside worker {outworker_id}", version, row.version)
        row.is_dropped, row.version = True, row.version + 1
        row.user_id, row.changed_at = actor.id, now
        session.add(row)
        note(session, actor=actor, now=now, verb="drop an outside worker", old={"name": row.name})


def send_out(session: Session, *, number: str, sending: Sending, actor: Actor, now: datetime) -> Slip:
    """Things of an order leave the house, with a slip that is numbered and never changes.

    Raises `OrderUnknown`; `NothingToSend` for a ring that is not agreed yet or over; `ThingUnknown`;
    `ThingOut` for what is out already; `OutworkerUnknown`; `Refused` for no thing, no words, a day that is
    past.
    """
    with transaction(session):
        row = locked_order(session, number, None)
        facts = studio(session)
        today = day_of(now, facts.time_zone)
        _check(sending, today)
        worker = row_by_id(session, OutworkerRow, sending.outworker_id)
        if worker is None or worker.is_dropped:
            raise OutworkerUnknown(sending.outworker_id)
        words = _things_in_words(session, row)
        for thing in sending.things:
            if thing not in words:
                raise ThingUnknown(thing)
            if thing.startswith(f"{number}/") and State(row.state) not in AMENDABLE:
                raise NothingToSend(number)
        refuse_out(session, row.id, sending.things)
        count = session.exec(
            select(func.count()).select_from(OutworkRow).where(col(OutworkRow.order_id) == row.id)
        ).one()
        made = OutworkRow(
            number=f"{number}-w{count + 1}",
            order_id=row.id,
            revision=count + 1,
            outworker_id=worker.id,
            worker=_called(worker),
            what=sending.what.strip(),
            held_by=one_line(sending.held_by) or "",
            currency=facts.currency,
            value_minor=sending.value_minor,
            weight_out_mg=sending.weight_mg,
            due_on=sending.due_on,
            expected_minor=sending.expected_minor,
            out_at=now,
            user_id=actor.id,
            actor=actor.name,
            frozen={},
        )
        told = [words[thing] for thing in sending.things]
        made.frozen = _frozen(made, number, told, facts, today)
        session.add(made)
        session.flush()
        for thing, line in zip(sending.things, told, strict=True):
            session.add(OutworkThingRow(outwork_id=made.id, thing=thing, words=line, out=thing))
        note(
            session,
            actor=actor,
            now=now,
            verb="give work outside",
            order_id=row.id,
            new={"slip": made.number, "to": made.worker, "things": list(sending.things)},
        )
        session.flush()
        return slip(session, made.number)


def take_back(session: Session, *, number: str, back: Back, actor: Actor, now: datetime) -> Slip:
    """What went out by this slip is in the house again, whole, and lies where `back` says.

    Raises `SlipUnknown`, `BackAlready`, `PlaceUnknown`, and `Refused` for a condition that is too long.
    """
    with transaction(session):
        order_number = session.exec(
            select(OrderRow.number)
            .join(OutworkRow, col(OutworkRow.order_id) == col(OrderRow.id))
            .where(col(OutworkRow.number) == number)
        ).one_or_none()
        if order_number is None:
            raise SlipUnknown(number)
        locked_order(session, order_number, None)
        row = session.exec(
            select(OutworkRow)
            .where(col(OutworkRow.number) == number)
            .execution_options(populate_existing=True)
        ).one()
        if row.back_at is not None:
            raise BackAlready(number, row.back_by or "")
        if len(back.condition) > LONGEST_CONDITION:
            raise Refused(Refusal("condition", Why.TOO_LONG, high=LONGEST_CONDITION, unit="characters"))
        place = None if back.place_id is None else known_place(session, back.place_id)
        row.back_at, row.back_by, row.back_user_id = now, actor.name, actor.id
        row.weight_in_mg, row.cost_minor = back.weight_mg, back.cost_minor
        row.condition = back.condition.strip()
        session.add(row)
        things = session.exec(select(OutworkThingRow).where(col(OutworkThingRow.outwork_id) == row.id)).all()
        for one in things:
            one.out = None
            session.add(one)
            write_place(session, row.order_id, one.thing, back.place_id, actor=actor, now=now)
        note(
            session,
            actor=actor,
            now=now,
            verb="take outside work back",
            order_id=row.order_id,
            new={"slip": number, "place": None if place is None else place.name},
        )
        session.flush()
        return slip(session, number)


def slip_kept(session: Session, number: str) -> dict[str, Any]:
    """All that stands on the paper of a slip, as it was kept when it was made. Raises `SlipUnknown`."""
    found = session.exec(select(OutworkRow.frozen).where(col(OutworkRow.number) == number)).one_or_none()
    if found is None:
        raise SlipUnknown(number)
    kept: dict[str, Any] = found
    return kept


def _check(sending: Sending, today: date) -> None:
    found: list[Refusal] = []
    if not sending.things:
        found.append(Refusal("things", Why.EMPTY))
    elif len(sending.things) > MOST_THINGS or len(set(sending.things)) < len(sending.things):
        found.append(Refusal("things", Why.TOO_LONG, high=MOST_THINGS, unit="things"))
    if not sending.what.strip():
        found.append(Refusal("what", Why.EMPTY))
    elif len(sending.what) > LONGEST_WHAT:
        found.append(Refusal("what", Why.TOO_LONG, high=LONGEST_WHAT, unit="characters"))
    if len(sending.held_by) > LONGEST_WORKER:
        found.append(Refusal("held_by", Why.TOO_LONG, high=LONGEST_WORKER, unit="characters"))
    if sending.due_on < today:
        found.append(Refusal("due_on", Why.DAY_PASSED))
    if found:
        raise Refused(*found)


def _things_in_words(session: Session, row: OrderRow) -> dict[str, str]:
    """What of the order can go out, in words that name nobody: its rings, and the goods that are held."""
    rings = ring_lines(session, [row.id]).get(row.id, ())
    told = {
        f"{row.number}/{one.position}": f"Ring {one.position}, size {one.label} ({one.system.upper()}), "
        + design_words(one.profile, one.width_mm, one.thickness_mm, one.pattern, one.alloy)
        for one in rings
    }
    return told | {good.key: _good(good) for good in goods_held(session, row.id)}


def _good(good: Good) -> str:
    bag = f", bag {good.bag}" if good.bag else ""
    return f"{good.line[:1].upper()}{good.line[1:]}{bag}"


def _called(worker: OutworkerRow) -> str:
    """Name and trade, unless the name says the trade: 'Hale & Wynn, setter', 'Northgate Assay Office'."""
    says_it = worker.trade == Trade.OTHER or worker.trade in worker.name.casefold()
    return worker.name if says_it else f"{worker.name}, {worker.trade}"


def _frozen(
    made: OutworkRow, order_number: str, things: Iterable[str], facts: Studio, today: date
) -> dict[str, Any]:
    """What the paper says; nothing of whose it is."""
    return {
        "studio": letterhead_of(facts),
        "number": made.number,
        "order": order_number,
        "issued_on": today.isoformat(),
        "worker": made.worker,
        "things": list(things),
        "what": made.what,
        "held_by": made.held_by,
        "by": made.actor,
        "value_minor": made.value_minor,
        "currency": made.currency,
        "weight_mg": made.weight_out_mg,
        "due_on": made.due_on.isoformat(),
    }
