"""What the API takes and gives of buying: what suppliers sell, what is to be bought, purchases."""

from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, Field, WithJsonSchema

from studio.book.buying_tables import LineState
from studio.book.pieces import LONGEST_LOT, LONGEST_PLACE
from studio.book.supplies import LONGEST_SUPPLIER
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.web.api_fields import In, Length, Truth, one_of, text_of
from studio.web.api_models import Figure

RowId = Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 1})]
Mass = Annotated[
    Any, WithJsonSchema({"type": ["number", "string", "null"], "description": "Grams, or text with a unit."})
]


CostMinor = Annotated[
    int | None,
    Field(default=None, exclude_if=lambda value: value is None, description="For who may see costs."),
]
"""An amount in minor units that is left out for who may not see it, and where it is not known."""
CostCurrency = Annotated[
    str | None,
    Field(default=None, exclude_if=lambda value: value is None, description="For who may see costs."),
]


class SupplyOut(BaseModel):
    """What a supplier sells of one alloy, form and thickness. A width step of 0 is the least width alone.

    Days are open days of the studio.
    """

    id: int
    supplier: str
    alloy: str
    kind: PieceKind
    profile: Profile | None
    thickness_mm: Figure
    least_width_mm: Figure
    width_step_mm: Figure
    least_length_mm: Figure
    length_step_mm: Figure
    most_length_mm: Figure
    least_mass_g: Figure
    least_charge_minor: CostMinor
    lead_days: int
    spare_days: int
    note: str


class SuppliesOut(BaseModel):
    """All that suppliers sell, in one page."""

    items: list[SupplyOut]
    next: None = None


class ThingOut(BaseModel):
    """One whole thing to order, with its mass by its measures."""

    length_mm: Figure
    width_mm: Figure
    mass_g: Figure


class ToBuyOut(BaseModel):
    """Blanks of one kind that neither the drawer nor what is on its way yields, and what to order for them.

    `supply`, `order_by` and `things` are empty where no supplier is given that sells such a size. `waiting`
    names the rings; `gauge` is the nearest Brown & Sharpe number.
    """

    alloy: str
    thickness_mm: Figure
    gauge: str
    supplier: str | None
    supply: int | None
    things: list[ThingOut]
    mass_g: Figure
    cost_minor: CostMinor
    needed_on: date
    order_by: date | None
    is_late: bool
    waiting: list[str]


class BuyingOut(BaseModel):
    """The buying list of all planned bench days. `latest` is the latest purchase it was made with."""

    latest: int
    currency: CostCurrency
    items: list[ToBuyOut]


class WantedIn(In):
    """One thing to order: the supply's id, and a size it is sold in."""

    supply: RowId = None
    length: Length = None
    width: Length = None


class PurchaseIn(In):
    """An order to a supplier. With `latest`, it is refused where another purchase was made meanwhile."""

    supplier: Annotated[Any, text_of(LONGEST_SUPPLIER)] = None
    lines: list[WantedIn] | None = None
    latest: Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 0})] = None


class ArrivalIn(In):
    """One thing that arrived. Without `mass` it weighs what its measures say, without `length` as ordered.

    `sure`: a weight far from what the measures say is right.
    """

    mass: Mass = None
    length: Length = None
    lot: Annotated[Any, text_of(LONGEST_LOT)] = None
    place: Annotated[Any, text_of(LONGEST_PLACE)] = None
    paid_minor: Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 0})] = None
    sure: Truth = None


class OffIn(In):
    """Calling off what has not arrived, by who saw this version of the purchase."""

    version: RowId = None


class PurchaseLineOut(BaseModel):
    """One thing of a purchase, '3/1'; `piece` is its place in the drawer once it arrived."""

    id: int
    name: str
    state: Annotated[str, one_of(*LineState)]
    kind: PieceKind
    alloy: str
    profile: Profile | None
    length_mm: Figure
    width_mm: Figure
    thickness_mm: Figure
    mass_g: Figure
    arrived_g: Figure | None
    cost_minor: CostMinor
    waiting: list[str]
    piece: int | None


class PurchaseOut(BaseModel):
    """An order to a supplier."""

    id: int
    supplier: str
    ordered_on: date
    expected_on: date
    is_late: bool
    currency: CostCurrency
    version: int
    pdf: str
    lines: list[PurchaseLineOut]


class PurchasesOut(BaseModel):
    """The purchases with something on its way, then the latest others, in one page."""

    items: list[PurchaseOut]
    next: None = None
