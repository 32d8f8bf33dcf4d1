"""The pictures of an order: photos and sketches that its rings are made by.

They are no part of what is agreed: adding one or taking one away leaves the quote, the yes to it and the
order's version as they are.
"""

import hashlib
from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import ColumnElement, func
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note as note_down
from studio.book.errors import OrderUnknown
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import Picture
from studio.book.order_writing import locked_order
from studio.book.picture_errors import PicturesFull, PicturesStand, PictureUnknown
from studio.book.picture_tables import PictureRow
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import State
from studio.papers.pictures import TakenIn

MOST_PICTURES = 6
LONGEST_NOTE = 200
CLOSED = frozenset({State.HANDED_OVER, State.CALLED_OFF})
"""States in which an order's pictures stay as they are."""


_KEPT = (
    col(PictureRow.id),
    col(PictureRow.position),
    col(PictureRow.note),
    col(PictureRow.width_px),
    col(PictureRow.height_px),
    col(PictureRow.sha256),
)


def pictures_of(session: Session, order_id: int, rings: int) -> tuple[Picture, ...]:
    """The pictures of an order of so many rings, the oldest first, without their points.

    One of a ring that is no more is of the whole order.
    """
    found = session.connection().execute(
        pick(*_KEPT)
        .where(col(PictureRow.order_id) == order_id, col(PictureRow.taken_away_at).is_(None))
        .order_by(col(PictureRow.id))
    )
    return tuple(
        Picture(key, ring if ring is None or ring <= rings else None, note, width_px, height_px, sha256)
        for key, ring, note, width_px, height_px, sha256 in found
    )


def small_jpegs(session: Session, pictures: Sequence[Picture]) -> dict[int, bytes]:
    """What papers show of these pictures, by their ids; one that was taken away meanwhile is left out."""
    if not pictures:
        return {}
    rows = session.connection().execute(
        pick(col(PictureRow.id), col(PictureRow.small_jpeg)).where(
            col(PictureRow.id).in_([one.id for one in pictures])
        )
    )
    return {row.id: bytes(row.small_jpeg) for row in rows if row.small_jpeg is not None}


def picture_mark(session: Session, number: str, picture_id: int) -> str:
    """What changes whenever the picture does: the hash of its bytes. Raises `PictureUnknown`."""
    found = session.exec(select(PictureRow.sha256).where(*_is_there(number, picture_id))).one_or_none()
    if found is None:
        raise PictureUnknown(number, picture_id)
    return found


def picture_jpeg(session: Session, number: str, picture_id: int, *, is_small: bool = False) -> bytes:
    """The picture of this order as JPEG, large or small.

    Raises `PictureUnknown` for one of another order, one that was taken away, and none at all.
    """
    column = col(PictureRow.small_jpeg) if is_small else col(PictureRow.jpeg)
    wanted = pick(column).where(*_is_there(number, picture_id))
    found = session.connection().execute(wanted).scalar_one_or_none()
    if found is None:
        raise PictureUnknown(number, picture_id)
    return bytes(found)


def check_room(session: Session, *, number: str, ring: int | None, note: str) -> None:
    """Whether the order takes one more picture, before it is decoded. Raises as `add_picture`."""
    _check(session, _order(session, number), ring, note)


def add_picture(
    session: Session,
    *,
    number: str,
    ring: int | None,
    note: str,
    made: TakenIn,
    actor: Actor,
    now: datetime,
) -> Picture:
    """Keep a picture of ring `ring`, or of the whole order.

    Raises `OrderUnknown`, `PicturesStand` for an order that is handed over or called off, `PicturesFull`
    where there are six, and `Refused` for a ring that is not there or a note of more than 200 signs.
    """
    with transaction(session):
        order = locked_order(session, number, None)
        _check(session, order, ring, note)
        picture = made.picture
        row = PictureRow(
            order_id=order.id,
            position=ring,
            note=note,
            width_px=picture.width_px,
            height_px=picture.height_px,
            sha256=hashlib.sha256(picture.jpeg).hexdigest(),
            added_at=now,
            user_id=actor.id,
            actor=actor.name,
            small_jpeg=made.small.jpeg,
            jpeg=picture.jpeg,
        )
        order.changed_at = now
        session.add_all((row, order))
        session.flush()
        note_down(
            session,
            actor=actor,
            now=now,
            verb="add a picture",
            order_id=order.id,
            new={"picture": row.id, "ring": ring, "note": note, "sha256": row.sha256},
        )
        return Picture(row.id, ring, note, row.width_px, row.height_px, row.sha256)


def take_picture_away(session: Session, *, number: str, picture_id: int, actor: Actor, now: datetime) -> None:
    """Take a picture away: its points are gone, that it was there stays in the history.

    Raises `OrderUnknown`, `PictureUnknown`, and `PicturesStand`.
    """
    with transaction(session):
        order = locked_order(session, number, None)
        _check_is_open(order)
        row = session.exec(select(PictureRow).where(*_is_there(number, picture_id))).one_or_none()
        if row is None:
            raise PictureUnknown(number, picture_id)
        row.taken_away_at, row.jpeg, row.small_jpeg = now, None, None
        order.changed_at = now
        session.add_all((row, order))
        note_down(
            session,
            actor=actor,
            now=now,
            verb="take a picture away",
            order_id=order.id,
            old={"picture": row.id, "ring": row.position, "note": row.note, "sha256": row.sha256},
        )


def _order(session: Session, number: str) -> OrderRow:
    order = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one_or_none()
    if order is None:
        raise OrderUnknown(number)
    return order


def _check_is_open(order: OrderRow) -> None:
    if order.state in CLOSED:
        raise PicturesStand(order.number, State(order.state))


def _check(session: Session, order: OrderRow, ring: int | None, note: str) -> None:
    _check_is_open(order)
    there = select(func.count()).select_from(PictureRow)
    kept = there.where(col(PictureRow.order_id) == order.id, col(PictureRow.taken_away_at).is_(None))
    if session.exec(kept).one() >= MOST_PICTURES:
        raise PicturesFull(order.number, MOST_PICTURES)
    places = session.exec(select(RingRow.position).where(col(RingRow.order_id) == order.id)).all()
    found: list[Refusal] = []
    if ring is not None and ring not in places:
        found.append(Refusal("picture_ring", Why.UNKNOWN_CHOICE, str(ring)))
    if len(note) > LONGEST_NOTE:
        found.append(Refusal("picture_note", Why.TOO_LONG, high=LONGEST_NOTE, unit="characters"))
    if found:
        raise Refused(*found)


def _is_there(number: str, picture_id: int) -> tuple[ColumnElement[bool], ...]:
    order_id = pick(col(OrderRow.id)).where(col(OrderRow.number) == number).scalar_subquery()
    return (
        col(PictureRow.id) == picture_id,
        col(PictureRow.order_id) == order_id,
        col(PictureRow.taken_away_at).is_(None),
    )
