"""An order of metal on paper, for the supplier: what to send, in millimetres, gauge and grams."""

from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from studio.craft.directions import apart
from studio.papers.paper import Paper
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import day_of_year

TEMPLATE = "metal_order"


@dataclass(frozen=True, slots=True)
class OrderedThing:
    """One thing to send: its place in the order, what it is with its measures, gauge and about how heavy."""

    name: str
    what: str
    gauge: str
    grams: str


@dataclass(frozen=True, slots=True)
class MetalOrder:
    """All that the paper shows, ready to print. No customer's name, and no ring, goes to a supplier."""

    studio: Letterhead
    number: str
    supplier: str
    ordered: str
    expected: str
    things: tuple[OrderedThing, ...]
    grams: str

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Order of metal {self.number}, {self.supplier}"


def metal_order(
    studio: Letterhead,
    *,
    number: str,
    supplier: str,
    ordered_on: date,
    expected_on: date,
    things: tuple[OrderedThing, ...],
    grams: str,
) -> Paper:
    """The paper of one purchase: `things` without those that were called off, `grams` of all together."""
    told = MetalOrder(
        studio=studio,
        number=number,
        supplier=apart(supplier),
        ordered=day_of_year(ordered_on),
        expected=day_of_year(expected_on),
        things=things,
        grams=grams,
    )
    return Paper(TEMPLATE, (partial(replace, told),), told.title)
