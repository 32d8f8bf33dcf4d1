"""What the API gives of the list of orders."""

from datetime import date

from pydantic import BaseModel

from studio.craft.designs import Pattern, Profile, System
from studio.craft.orders import State
from studio.web.api_models import Figure, Moment
from studio.web.api_order_models import PersonOut


class RingLineOut(BaseModel):
    """A ring as a list names it."""

    ring: int
    system: System
    size: str
    profile: Profile
    width_mm: Figure
    thickness_mm: Figure
    pattern: Pattern
    alloy: str


class NextDayOut(BaseModel):
    """An order's next day and what it is."""

    kind: str
    on: date
    at: Moment | None


class OrderLineOut(BaseModel):
    """An order as the list shows it; `hand` is the word where it needs a hand."""

    number: str
    state: State
    state_since: Moment
    customer: PersonOut
    next_day: NextDayOut | None
    hand: str | None
    rings: list[RingLineOut]


class OrdersOut(BaseModel):
    """One page of orders, the newest first; `next` is what to pass as `after`, null on the last page."""

    items: list[OrderLineOut]
    next: str | None
