"""The buying list as a page: what to order of whom and by when, what is on its way, and the letter."""

import hashlib
import secrets
from collections.abc import Sequence
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.buying_tables import LineState
from studio.book.purchase_reads import Purchase, PurchaseLine
from studio.craft.buying import ToBuy
from studio.craft.designs import Profile
from studio.craft.drawer import Measures, PieceKind, differs_percent
from studio.craft.own_alloys import short_name
from studio.craft.roles import Right
from studio.craft.sheet_gauges import GaugeScale, nearest_gauge, scale_words
from studio.craft.units import figure_words, from_micrometres, from_milligrams
from studio.papers.money import money_words
from studio.web.buying_reading import Buying
from studio.web.counter_page import ErrorLine
from studio.web.days import day_words
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.render import Place, page
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, opened, stock_words, wire_words

HREF = "/metal/buying"
NOTHING = Said()
WORDS = {
    "mass": "Weight",
    "length": "Length",
    "lot": "Lot",
    "paid": "Paid",
    "place": "Place",
    "is_sure": "The weight is right",
}


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One line of the list. `things` are what to order, `rings` who waits; money may be ''."""

    number: int
    metal: str
    stock: str
    things: tuple[str, ...]
    grams: str
    cost: str
    order_by: str
    is_late: bool
    needed: str
    rings: tuple[tuple[str, str], ...]
    note: str


@dataclass(frozen=True, slots=True)
class SupplierPart:
    """The lines of one supplier, the fingerprint of what they propose, and the letter."""

    name: str
    lines: tuple[BuyLine, ...]
    together: str
    proposal: str
    letter: str


@dataclass(frozen=True, slots=True)
class WayLine(OneOfMany):
    """One thing of a purchase; a form while it is on its way."""

    number: str
    what: str
    grams: str
    told: str
    is_waiting: bool
    action: str
    said: Said
    texts: dict[str, str]


@dataclass(frozen=True, slots=True)
class PurchasePart:
    """One purchase."""

    heading: str
    told: str
    is_late: bool
    is_waiting: bool
    off_href: str
    pdf_href: str
    version: int
    lines: tuple[WayLine, ...]


@dataclass(frozen=True, slots=True)
class BuyingPage:
    """The page."""

    heading_note: str
    suppliers: tuple[SupplierPart, ...]
    unserved: tuple[BuyLine, ...]
    purchases: tuple[PurchasePart, ...]
    latest: int
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    sees_cost: bool
    currency: str
    form_key: str
    title: str = "What to buy"
    href: str = HREF
    csv_href: str = f"{HREF}.csv"
    suppliers_href: str = "/metal/suppliers"
    order_href: str = "/metal/purchases"


def gauge_words(thickness_um: int) -> str:
    """The nearest Brown & Sharpe number of a thickness: 'B&S 15'."""
    return scale_words(nearest_gauge(from_micrometres(thickness_um), GaugeScale.BS)[0], GaugeScale.BS)


def proposal_of(lines: Sequence[ToBuy]) -> str:
    """The fingerprint of what lines propose to order."""
    told = repr([(one.supply_id, one.things, one.blanks) for one in lines])
    return hashlib.sha256(told.encode()).hexdigest()


def by_supplier(lines: Sequence[ToBuy]) -> dict[str, list[ToBuy]]:
    """The lines that a supplier is given for, by the supplier."""
    found: dict[str, list[ToBuy]] = {}
    for one in lines:
        if one.supply is not None:
            found.setdefault(one.supply.supplier, []).append(one)
    return found


def buying_page(
    request: Request, seat: Seat, found: Buying, said: Said = NOTHING, status: int = 200, *, key: str = ""
) -> HTMLResponse:
    """The page, with what is to be put right in the form of the thing `key`."""
    sees_cost = seat.may(Right.SEE_COST)
    late = sum(one.is_late for one in found.lines)
    note = "Nothing is short: the drawer and what is on its way yield every planned blank."
    if found.lines:
        note = f"{opened(counted(len(found.lines), 'thing is', 'things are'))} short"
        note += f", {counted(late, 'order', 'orders')} late." if late else "."
    context = BuyingPage(
        heading_note=note,
        suppliers=tuple(
            _supplier(name, lines, found, seat, sees_cost=sees_cost)
            for name, lines in by_supplier(found.lines).items()
        ),
        unserved=tuple(
            _line(at, one, found, seat, sees_cost=sees_cost)
            for at, one in enumerate(found.lines)
            if one.supply is None
        ),
        purchases=tuple(_purchase(one, seat, said, key, sees_cost=sees_cost) for one in found.hand.purchases),
        latest=found.hand.latest,
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, key),
        sees_cost=sees_cost,
        currency=found.hand.currency,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "buying/page.html", context, place=Place.METAL, status=status)


def _supplier(name: str, lines: list[ToBuy], found: Buying, seat: Seat, *, sees_cost: bool) -> SupplierPart:
    grams = from_milligrams(sum(one.mass_mg for one in lines))
    costs = [found.hand.cost_minor(one) for one in lines]
    together = f"{grams:.2f} g"
    if sees_cost and all(cost is not None for cost in costs):
        together += f", {money_words(sum(cost or 0 for cost in costs), found.hand.currency)}"
    shown = tuple(_line(at, one, found, seat, sees_cost=sees_cost) for at, one in enumerate(lines))
    return SupplierPart(name, shown, together, proposal_of(lines), letter_words(lines))


def letter_words(lines: Sequence[ToBuy]) -> str:
    """The order as plain words for a mail: every thing with its metric size, its gauge and its grams."""
    told = [
        f"- {_thing(one, length_um=its.length_um, width_um=its.width_um)} mm "
        f"({gauge_words(one.supply.thickness_um)}), about {from_milligrams(its.mass_mg):.2f} g"
        + (f"; {one.supply.note}" if one.supply.note else "")
        for one in lines
        if one.supply is not None
        for its in one.things
    ]
    return "\n".join(["We order:", *told])


def _thing(line: ToBuy, *, length_um: int, width_um: int) -> str:
    kind = PieceKind.STRIP if line.supply is None else line.supply.kind
    thickness = line.kind.thickness_um if line.supply is None else line.supply.thickness_um
    return _size_words(
        kind, line.kind.profile, line.kind.alloy,
        tuple(from_micrometres(um) for um in (length_um, width_um, thickness)),
    )  # fmt: skip


def measures_words(size: Measures) -> str:
    """What was ordered, in words: '925 silver strip 130 × 6 × 1.5'."""
    sides = (size.length_mm, size.width_mm, size.thickness_mm)
    return _size_words(size.kind, size.profile, size.alloy, sides)


def _size_words(kind: PieceKind, profile: Profile | None, alloy: str, sides: Sequence[float]) -> str:
    length, width, thickness = (figure_words(side) for side in sides)
    if profile is not None and kind is PieceKind.WIRE:
        name = wire_words(profile)
        across = width if profile in {Profile.ROUND, Profile.SQUARE} else f"{width} × {thickness}"
        return f"{short_name(alloy)} {name} {across}, {length} long"
    return f"{short_name(alloy)} {kind} {length} × {width} × {thickness}"


def _line(at: int, one: ToBuy, found: Buying, seat: Seat, *, sees_cost: bool) -> BuyLine:
    thick = one.kind.thickness_um
    if one.kind.profile is None:
        stock = f"{figure_words(from_micrometres(thick))} mm thick, {gauge_words(thick)}"
    else:
        wide = from_micrometres(one.kind.width_um or thick)
        stock = f"{stock_words(one.kind.profile, wide, from_micrometres(thick))} mm, {gauge_words(thick)}"
    cost = found.hand.cost_minor(one) if sees_cost else None
    return BuyLine(
        number=at,
        metal=short_name(one.kind.alloy),
        stock=stock,
        things=tuple(
            f"{_thing(one, length_um=its.length_um, width_um=its.width_um)}, "
            f"{from_milligrams(its.mass_mg):.2f} g"
            for its in one.things
        ),
        grams=f"{from_milligrams(one.mass_mg):.2f} g" if one.things else "",
        cost="" if cost is None else money_words(cost, found.hand.currency),
        order_by="" if one.order_by is None else day_words(one.order_by, today=seat.today),
        is_late=one.is_late,
        needed=day_words(one.needed_on, today=seat.today),
        rings=tuple((blank.ring, f"/orders/{blank.order}") for blank in one.blanks),
        note="" if one.supply is None else one.supply.note,
    )


def _purchase(one: Purchase, seat: Seat, said: Said, key: str, *, sees_cost: bool) -> PurchasePart:
    is_late = one.is_late(seat.today)
    told = f"ordered {day_words(one.ordered_on, today=seat.today)}"
    if one.on_its_way:
        told += f", expected {day_words(one.expected_on, today=seat.today)}"
    return PurchasePart(
        heading=f"Purchase {one.id}, {one.supplier}",
        told=told,
        is_late=is_late,
        is_waiting=bool(one.on_its_way),
        off_href=f"/metal/purchases/{one.id}/off",
        pdf_href=f"/metal/purchases/{one.id}.pdf",
        version=one.version,
        lines=tuple(
            _way(one, line, said if key == str(line.id) else NOTHING, sees_cost=sees_cost)
            for line in one.lines
        ),
    )


def _way(one: Purchase, line: PurchaseLine, said: Said, *, sees_cost: bool) -> WayLine:
    told = str(line.state)
    if line.arrived_g is not None:
        off = differs_percent(line.arrived_g, line.mass_g)
        told += f", {line.arrived_g:.2f} g"
        told += "" if off is None else f", {abs(off):.1f} % {'more' if off > 0 else 'less'} than expected"
    elif sees_cost and line.cost_minor is not None:
        told += f", {money_words(line.cost_minor, one.currency)} reckoned"
    return WayLine(
        number=str(line.id),
        what=f"{line.name} {measures_words(line.measures)}",
        grams=f"{line.mass_g:.2f} g",
        told=told,
        is_waiting=line.state is LineState.ORDERED,
        action=f"/metal/purchases/{one.id}/lines/{line.id}/arrival",
        said=said,
        texts=dict(said.typed),
    )
