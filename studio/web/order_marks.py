"""The marks of a ring on its order's page: what stands, and the form that asks for them before the yes."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.craft.hallmark import is_precious
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.particulars import MarkPlace, Marks, MarkWish
from studio.craft.roles import Right
from studio.web.counter_choices import Choice
from studio.web.security import Seat
from studio.web.sent_back import Said

WISHES = (Choice("", "not asked yet"), *(Choice(wish, wish) for wish in MarkWish))
SPONSORS = (Choice("yes", "struck"), Choice("no", "not struck"))
PLACES = tuple(Choice(place, place) for place in MarkPlace)
_PARTS = ("hallmark", "sponsor", "where")


@dataclass(frozen=True, slots=True)
class MarksPart:
    """The form for the marks of one ring: what stands in its fields, and what is to be put right.

    `names`, `texts` and `errors` are by 'hallmark', 'sponsor' and 'where'.
    """

    names: Mapping[str, str]
    texts: Mapping[str, str]
    errors: Mapping[str, str]
    wishes: tuple[Choice, ...] = WISHES
    sponsors: tuple[Choice, ...] = SPONSORS
    places: tuple[Choice, ...] = PLACES

    @property
    def is_open(self) -> bool:
        """Whether something is to be put right."""
        return any(self.errors.values())


def marks_fields(position: int) -> dict[str, str]:
    """The names of the fields: 'hallmark' is 'marks-ring-1-hallmark'."""
    return {part: f"marks-ring-{position}-{part}" for part in _PARTS}


def marks_part(order: Order, ring: OrderRing, seat: Seat, said: Said) -> MarksPart | None:
    """The form; None after the yes, for those who take no orders, and for a metal that no office marks."""
    may_ask = order.state in BEFORE_AGREEMENT and seat.may(Right.TAKE_ORDERS)
    if not may_ask or not is_precious(ring.reckoning.alloy):
        return None
    names, stands = marks_fields(ring.position), marks_texts(ring.particulars.marks)
    return MarksPart(
        names,
        {part: said.typed.get(name, stands[part]) for part, name in names.items()},
        {part: said.error(name) for part, name in names.items()},
    )


def marks_texts(marks: Marks | None) -> dict[str, str]:
    """What stands in the fields; before anybody asked, the sponsor's mark inside the shank."""
    if marks is None:
        return {"hallmark": "", "sponsor": "yes", "where": MarkPlace.INSIDE}
    sponsor = "yes" if marks.has_sponsor else "no"
    return {"hallmark": marks.hallmark, "sponsor": sponsor, "where": marks.where}
