"""The studio's own list of places, and putting a thing down in one of them."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.document_reads import goods_held
from studio.book.errors import VersionStale
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_writing import locked_order, one_line
from studio.book.outwork_reads import refuse_out
from studio.book.place_tables import PlaceMoveRow, PlaceRow
from studio.book.row_ids import row_by_id
from studio.book.transaction import transaction
from studio.book.whereabouts_errors import PlaceUnknown, ThingUnknown
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.whereabouts import LONGEST_PLACE


@dataclass(frozen=True, slots=True)
class StudioPlace:
    """A place where things lie, as it stands in the book."""

    id: int
    name: str
    version: int


def places(session: Session) -> tuple[StudioPlace, ...]:
    """The studio's places by now, by name."""
    wanted = select(PlaceRow).where(col(PlaceRow.is_dropped).is_(False)).order_by(col(PlaceRow.name))
    return tuple(StudioPlace(row.id, row.name, row.version) for row in session.exec(wanted))


def add_place(session: Session, *, name: str, actor: Actor, now: datetime) -> StudioPlace:
    """Put a place on the list. Raises `Refused` for no name, one that is too long, and one that is taken."""
    called = one_line(name)
    with transaction(session):
        if called is None:
            raise Refused(Refusal("place_name", Why.EMPTY))
        if len(called) > LONGEST_PLACE:
            raise Refused(Refusal("place_name", Why.TOO_LONG, high=LONGEST_PLACE, unit="characters"))
        if any(one.name.casefold() == called.casefold() for one in places(session)):
            raise Refused(Refusal("place_name", Why.NAME_TAKEN, called))
        row = PlaceRow(name=called, user_id=actor.id, changed_at=now)
        session.add(row)
        session.flush()
        note(session, actor=actor, now=now, verb="add a place", new={"place": called})
    return StudioPlace(row.id, row.name, row.version)


def drop_place(session: Session, *, place_id: int, version: int, actor: Actor, now: datetime) -> None:
    """Take a place off the list; what lies there still does. Raises `PlaceUnknown`, `VersionStale`."""
    with transaction(session):
        row = row_by_id(session, PlaceRow, place_id, is_to_change=True)
        if row is None or row.is_dropped:
            raise PlaceUnknown(place_id)
        if row.version != version:
            raise VersionStale(f"place {place_id}", version, row.version)
        row.is_dropped, row.version = True, row.version + 1
        row.user_id, row.changed_at = actor.id, now
        session.add(row)
        note(session, actor=actor, now=now, verb="drop a place", old={"place": row.name})


def put_down(
    session: Session, *, number: str, thing: str, place_id: int, actor: Actor, now: datetime
) -> None:
    """A thing of an order lies in a place from now on; the same place again writes nothing.

    Raises `OrderUnknown`, `ThingUnknown`, `PlaceUnknown`, and `ThingOut` while somebody outside holds it.
    """
    with transaction(session):
        row = locked_order(session, number, None)
        place = known_place(session, place_id)
        check_thing(session, row, thing)
        refuse_out(session, row.id, [thing])
        before = _last_place(session, row.id, thing)
        if before is not None and before[0] == place_id:
            return
        write_place(session, row.id, thing, place_id, actor=actor, now=now)
        note(
            session,
            actor=actor,
            now=now,
            verb="put a thing down",
            order_id=row.id,
            old=None if before is None else {"thing": thing, "place": before[1]},
            new={"thing": thing, "place": place.name},
        )


def known_place(session: Session, place_id: int) -> PlaceRow:
    """The place of this number on the studio's list. Raises `PlaceUnknown`."""
    place = row_by_id(session, PlaceRow, place_id)
    if place is None or place.is_dropped:
        raise PlaceUnknown(place_id)
    return place


def write_place(
    session: Session, order_id: int, thing: str, place_id: int | None, *, actor: Actor, now: datetime
) -> None:
    """One more row of where a thing lies, within the verb that is at it."""
    session.add(
        PlaceMoveRow(
            order_id=order_id, thing=thing, place_id=place_id, at=now, user_id=actor.id, actor=actor.name
        )
    )


def check_thing(session: Session, row: OrderRow, thing: str) -> None:
    """Raise `ThingUnknown` unless it is a ring of the order, or goods of its customer's that are held."""
    rings = session.exec(select(RingRow.position).where(col(RingRow.order_id) == row.id))
    if thing in {f"{row.number}/{position}" for position in rings}:
        return
    if thing not in {good.key for good in goods_held(session, row.id)}:
        raise ThingUnknown(thing)


def _last_place(session: Session, order_id: int, thing: str) -> tuple[int | None, str | None] | None:
    """Where the thing was put down last: the place's number and name; None where it never was."""
    return session.exec(
        select(PlaceMoveRow.place_id, PlaceRow.name)
        .join(PlaceRow, col(PlaceRow.id) == col(PlaceMoveRow.place_id), isouter=True)
        .where(col(PlaceMoveRow.order_id) == order_id, col(PlaceMoveRow.thing) == thing)
        .order_by(col(PlaceMoveRow.id).desc())
        .limit(1)
    ).first()
