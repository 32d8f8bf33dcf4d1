"""The pictures on an order's page: what is there, and the form that adds one."""

from dataclasses import dataclass

from studio.book.order_values import Order, Picture
from studio.book.pictures import CLOSED, MOST_PICTURES
from studio.craft.roles import Right
from studio.papers.pictures import SMALL_SIDE_PX
from studio.web.security import Seat
from studio.web.sent_back import Said

ACCEPTED = "image/jpeg,image/png,image/webp"


@dataclass(frozen=True, slots=True)
class RingChoice:
    """What a picture may be of: one ring, or the whole order."""

    value: str
    name: str


@dataclass(frozen=True, slots=True)
class PictureEntry:
    """One picture as the page shows it; `take_away` is where its button leads, '' where it has none."""

    href: str
    small_href: str
    words: str
    note: str
    of: str
    width_px: int
    height_px: int
    take_away: str


@dataclass(frozen=True, slots=True)
class PicturesPart:
    """The pictures of an order. `action` is where the form leads, '' where none may be added, `full` why.

    `rings` are offered where the order has more than one.
    """

    entries: tuple[PictureEntry, ...]
    action: str
    full: str
    rings: tuple[RingChoice, ...]
    ring: str
    note: str
    error: str
    ring_error: str
    note_error: str
    accepted: str = ACCEPTED

    @property
    def is_open(self) -> bool:
        """Whether the form stands open, because something of it is to be put right."""
        return bool(self.error or self.ring_error or self.note_error or self.note)

    @property
    def is_shown(self) -> bool:
        """Whether there is anything to see or to do."""
        return bool(self.entries or self.action)


def pictures_part(order: Order, seat: Seat, said: Said) -> PicturesPart:
    """The order's pictures for who sits there; makers see them, who takes orders adds and takes away."""
    may_change = seat.may(Right.TAKE_ORDERS) and order.state not in CLOSED
    is_full = len(order.pictures) >= MOST_PICTURES
    count = len(order.rings)
    return PicturesPart(
        entries=tuple(
            _entry(order, picture, place, count, may_change=may_change)
            for place, picture in enumerate(order.pictures, 1)
        ),
        action=f"/orders/{order.number}/pictures" if may_change and not is_full else "",
        full=f"These are {MOST_PICTURES}, and no order keeps more." if may_change and is_full else "",
        rings=(
            RingChoice("", "the whole order"),
            *(RingChoice(str(ring.position), f"ring {ring.position}") for ring in order.rings),
        )
        if count > 1
        else (),
        ring=said.typed.get("picture_ring", ""),
        note=said.typed.get("picture_note", ""),
        error=said.error("picture"),
        ring_error=said.error("picture_ring"),
        note_error=said.error("picture_note"),
    )


def _entry(order: Order, picture: Picture, place: int, count: int, *, may_change: bool) -> PictureEntry:
    href = f"/orders/{order.number}/pictures/{picture.id}"
    scale = min(1.0, SMALL_SIDE_PX / max(picture.width_px, picture.height_px))
    return PictureEntry(
        href=f"{href}.jpg",
        small_href=f"{href}/small.jpg",
        words=picture.note or f"Picture {place}, without a note",
        note=picture.note,
        of="" if picture.ring is None or count == 1 else f"ring {picture.ring}",
        width_px=max(1, round(picture.width_px * scale)),
        height_px=max(1, round(picture.height_px * scale)),
        take_away=f"{href}/away" if may_change else "",
    )
