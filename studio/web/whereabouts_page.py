"""Where things lie, ready to show: an order with its rings and goods, each with its place and since when."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from studio.book.customers import CustomerLine
from studio.book.folding import folded
from studio.book.whereabouts import OrderThings, Thing
from studio.craft.directions import apart
from studio.craft.whereabouts import Lies, Standing
from studio.web.order_days import next_day_words
from studio.web.security import Seat
from studio.web.wording import design_words, opened, since_words, size_words

NOT_SAID = "Nobody has said where"


@dataclass(frozen=True, slots=True)
class ThingEntry:
    """One ring or line of goods. `is_out` says that somebody outside holds it, by the slip at `slip_href`."""

    key: str
    what: str
    come: str
    place: str
    since: str
    is_out: bool
    slip_href: str

    @property
    def words(self) -> str:
        """All that can be read of it, to find it by."""
        return f"{self.key} {self.what} {self.come} {self.place}"


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """A running order with its things."""

    number: str
    href: str
    customer: str
    state: str
    next: str
    things: tuple[ThingEntry, ...]


@dataclass(frozen=True, slots=True)
class PersonEntry:
    """Somebody whose telephone number was typed, with their running orders."""

    name: str
    phone: str
    href: str
    orders: tuple[OrderEntry, ...]


def order_entry(one: OrderThings, seat: Seat) -> OrderEntry:
    """An order with its things, ready to show."""
    order = one.order
    return OrderEntry(
        number=order.number,
        href=f"/orders/{order.number}",
        customer=apart(order.customer_name),
        state=f"{opened(str(order.state))} since {since_words(order.state_since, seat.zone, seat.today)}",
        next=next_day_words(order.next_day, seat),
        things=tuple(_entry(thing, seat) for thing in one.things),
    )


def person_entries(
    people: Iterable[tuple[CustomerLine, Sequence[OrderThings]]], seat: Seat
) -> tuple[PersonEntry, ...]:
    """The people of a telephone number, ready to show."""
    return tuple(
        PersonEntry(
            name=person.name,
            phone=person.phone or "",
            href=f"/customers/{person.id}",
            orders=tuple(order_entry(one, seat) for one in orders),
        )
        for person, orders in people
    )


def with_words(orders: Sequence[OrderEntry], query: str) -> tuple[OrderEntry, ...]:
    """The orders in which every word of `query` stands: in its number and customer, or with one thing.

    Where only a thing says so, the others of its order are left out.
    """
    wanted = folded(query).split()
    found = []
    for order in orders:
        head = folded(f"{order.number} {order.customer} {order.state}")
        things = tuple(
            thing
            for thing in order.things
            if all(word in head or word in folded(thing.words) for word in wanted)
        )
        if things:
            found.append(
                OrderEntry(order.number, order.href, order.customer, order.state, order.next, things)
            )
    return tuple(found)


def place_words(lies: Lies) -> str:
    """The place in words: 'Safe, tray 2', 'Out with Hale, setter', 'Nobody has said where'."""
    if lies.is_out:
        return f"Out with {apart(lies.place)}"
    return apart(lies.place) or NOT_SAID


def lies_since(lies: Lies, seat: Seat) -> str:
    """Since when, and who said so: 'since Tue 24 Nov, Ina'; '' where nobody did."""
    if lies.since is None:
        return ""
    return f"since {since_words(lies.since, seat.zone, seat.today)}, {apart(lies.by)}"


def out_of_house(lies: Lies, seat: Seat) -> str:
    """That a ring is out, said where it would be worked on; '' while it is in the house."""
    if not lies.is_out or lies.since is None:
        return ""
    since = since_words(lies.since, seat.zone, seat.today)
    return f"With {apart(lies.place)} since {since}, slip {lies.slip}. Its steps wait until it is back."


def _entry(thing: Thing, seat: Seat) -> ThingEntry:
    return ThingEntry(
        key=thing.key,
        what=_what(thing),
        come=_come(thing.standing) if thing.standing is not None else "The customer's, in our keeping",
        place=place_words(thing.lies),
        since=lies_since(thing.lies, seat),
        is_out=thing.lies.is_out,
        slip_href=f"/outwork#slip-{thing.lies.slip}" if thing.lies.is_out else "",
    )


def _what(thing: Thing) -> str:
    ring, good = thing.ring, thing.good
    if ring is not None:
        made = design_words(ring.profile, ring.width_mm, ring.thickness_mm, ring.pattern, ring.alloy)
        return f"Ring {ring.position}: {size_words(ring.system, ring.label)}, {made}"
    if good is None:
        return thing.key
    bag = f", bag {apart(good.bag)}" if good.bag else ""
    return f"Goods: {apart(good.line)}{bag}"


def _come(standing: Standing) -> str:
    """How far a ring has come: 'Closed, next: file the seam, Ina is at it'."""
    step = f", next: {standing.step}" if standing.step else ""
    by = f", {apart(standing.by)} is at it" if standing.by else ""
    return f"{opened(str(standing.progress))}{step}{by}"
