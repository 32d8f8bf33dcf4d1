"""Buying as the API tells it."""

from datetime import date

from studio.book.purchase_reads import Purchase, PurchaseLine
from studio.book.supplies import KeptSupply
from studio.craft.buying import ToBuy, Whole
from studio.craft.units import from_micrometres, from_milligrams
from studio.web.api_purchase_models import (
    BuyingOut,
    PurchaseLineOut,
    PurchaseOut,
    SupplyOut,
    ThingOut,
    ToBuyOut,
)
from studio.web.buying_page import gauge_words
from studio.web.buying_reading import Buying


def supply_out(kept: KeptSupply, *, sees_cost: bool) -> SupplyOut:
    """What a supplier sells."""
    its = kept.supply
    return SupplyOut(
        id=kept.id,
        supplier=its.supplier,
        alloy=its.alloy,
        kind=its.kind,
        profile=its.profile,
        thickness_mm=from_micrometres(its.thickness_um),
        least_width_mm=from_micrometres(its.least_width_um),
        width_step_mm=from_micrometres(its.width_step_um),
        least_length_mm=from_micrometres(its.least_length_um),
        length_step_mm=from_micrometres(its.length_step_um),
        most_length_mm=from_micrometres(its.most_length_um),
        least_mass_g=from_milligrams(its.least_mass_mg),
        least_charge_minor=its.least_charge_minor if sees_cost else None,
        lead_days=its.lead_days,
        spare_days=its.spare_days,
        note=its.note,
    )


def buying_out(found: Buying, *, sees_cost: bool) -> BuyingOut:
    """The buying list."""
    return BuyingOut(
        latest=found.hand.latest,
        currency=found.hand.currency if sees_cost else None,
        items=[_to_buy(one, found.hand.cost_minor(one) if sees_cost else None) for one in found.lines],
    )


def purchase_out(made: Purchase, *, today: date, sees_cost: bool) -> PurchaseOut:
    """A purchase with its things."""
    return PurchaseOut(
        id=made.id,
        supplier=made.supplier,
        ordered_on=made.ordered_on,
        expected_on=made.expected_on,
        is_late=made.is_late(today),
        currency=made.currency if sees_cost else None,
        version=made.version,
        pdf=f"/metal/purchases/{made.id}.pdf",
        lines=[_line(one, sees_cost=sees_cost) for one in made.lines],
    )


def _to_buy(line: ToBuy, cost_minor: int | None) -> ToBuyOut:
    return ToBuyOut(
        alloy=line.kind.alloy,
        thickness_mm=from_micrometres(line.kind.thickness_um),
        gauge=gauge_words(line.kind.thickness_um),
        supplier=None if line.supply is None else line.supply.supplier,
        supply=line.supply_id,
        things=[_thing(one) for one in line.things],
        mass_g=from_milligrams(line.mass_mg),
        cost_minor=cost_minor,
        needed_on=line.needed_on,
        order_by=line.order_by,
        is_late=line.is_late,
        waiting=[blank.ring for blank in line.blanks],
    )


def _thing(one: Whole) -> ThingOut:
    return ThingOut(
        length_mm=from_micrometres(one.length_um),
        width_mm=from_micrometres(one.width_um),
        mass_g=from_milligrams(one.mass_mg),
    )


def _line(one: PurchaseLine, *, sees_cost: bool) -> PurchaseLineOut:
    size = one.measures
    return PurchaseLineOut(
        id=one.id,
        name=one.name,
        state=one.state,
        kind=size.kind,
        alloy=size.alloy,
        profile=size.profile,
        length_mm=size.length_mm,
        width_mm=size.width_mm,
        thickness_mm=size.thickness_mm,
        mass_g=one.mass_g,
        arrived_g=one.arrived_g,
        cost_minor=one.cost_minor if sees_cost else None,
        waiting=list(one.rings),
        piece=one.piece_id,
    )
