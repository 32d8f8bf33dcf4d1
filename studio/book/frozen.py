"""What a quote keeps of all that went into it, as plain JSON values, and what is read out of it again."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from typing import Any

from studio.book.customer_tables import FingerRow
from studio.book.live_price import LivePrice, PlannedRing
from studio.book.metal_prices import price_shown
from studio.book.order_tables import RingRow
from studio.book.order_values import Amending, Order, OrderRing
from studio.book.plain_values import as_plain, from_plain
from studio.book.rates import rates_shown
from studio.book.stored import design_columns, design_of, finger_columns, finger_of, reckoned_columns
from studio.book.studio import Studio
from studio.craft.alloys import ALLOYS, Alloy
from studio.craft.hallmark import HallmarkRule, is_marked
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.practice import COMMON_PRACTICE, Practice
from studio.craft.pricing import Bought, Job, PriceBreakdown, QuoteLine, RingPrice, metals_priced
from studio.craft.rates import Extra, Rates
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.working import Input, Working

_OF_A_WAY = ("rings", "breakdown")
"""What each variant has of its own."""


@dataclass(frozen=True, slots=True)
class FrozenRing:
    """One ring as it was quoted: its figures, who measured the finger and when (UTC), and its hallmark."""

    reckoning: Reckoning
    taken_by: str | None
    taken_at: datetime
    is_marked: bool
    particulars: Particulars = NOT_ASKED


def frozen_quote(
    *,
    number: str,
    order: Order,
    studio: Studio,
    live: LivePrice,
    rates: Rates,
    breakdown: PriceBreakdown,
    issued_on: date,
    valid_until: date,
    variants: Sequence[tuple[str, tuple[OrderRing, ...], LivePrice]] = (),
) -> dict[str, Any]:
    """All that stands on the paper of a quote, and all that its price came from.

    `variants` are the other ways to make it, each with its key, its rings, and its price, which is known.
    """
    others = [(key, of, one, one.breakdown) for key, of, one in variants if one.breakdown is not None]
    whole = [breakdown, *(price for _, _, _, price in others)]
    used = {metal for one in whole for ring in one.rings for metal in metals_priced(ring.job.alloy)}
    kept = {
        "number": number,
        "order": order.number,
        "issued_on": issued_on.isoformat(),
        "valid_until": valid_until.isoformat(),
        "studio": {name: str(value) for name, value in asdict(studio).items() if name != "version"},
        "customer": order.customer.name,
        "wanted_on": _day(order.terms.wanted_on),
        "promised_at": _moment(order.terms.promised_at),
        "rings": [
            _ring(ring, plan, studio.hallmark_rule)
            for ring, plan in zip(order.rings, live.planned, strict=True)
        ],
        "rates": rates_shown(rates),
        "prices": [price_shown(live.prices[metal]) for metal in sorted(used)],
        "breakdown": breakdown_shown(breakdown),
        "variants": [
            {
                "key": key,
                "rings": [
                    _ring(ring, plan, studio.hallmark_rule)
                    for ring, plan in zip(of, one.planned, strict=True)
                ],
                "breakdown": breakdown_shown(price),
            }
            for key, of, one, price in others
        ],
    }
    plain: dict[str, Any] = json.loads(json.dumps(kept))  # as it will read when it comes out of the book
    return plain


def frozen_amendment(
    *,
    order: Order,
    rings: tuple[OrderRing, ...],
    kept: Mapping[str, Any],
    amending: Amending,
    charges: Sequence[QuoteLine],
    agreed: Mapping[str, Any],
    **facts: Any,
) -> dict[str, Any]:
    """All that stands on the paper of an amendment: the whole order as it becomes, and as it was agreed.

    `agreed` is what the agreed quote keeps; `kept` has `rings` as the yes will put them into the book, and
    those of the order that they were made of; `charges` are the lines besides the rings', those of earlier
    amendments among them; `facts` are those of `frozen_quote`.
    """
    terms = replace(
        order.terms,
        wanted_on=amending.wanted_on,
        wanted_hard=amending.wanted_hard,
        promised_at=amending.promised_at,
    )
    whole = frozen_quote(order=replace(order, rings=rings, terms=terms), **facts)
    return whole | {
        "wanted_hard": amending.wanted_hard,
        "set": kept["rings"],
        "base": kept["base"],
        "charges": [asdict(line) for line in charges],
        "amends": {
            "number": agreed["number"],
            "agreed_on": None if order.agreed_at is None else order.agreed_at.isoformat(),
            "rings": agreed["rings"],
            "wanted_on": _day(order.terms.wanted_on),
            "promised_at": _moment(order.terms.promised_at),
            "total_minor": agreed["breakdown"]["total_minor"],
            "paid_minor": order.account.paid_minor,
            "words": amending.words.strip(),
        },
    }


def as_agreed(frozen: Mapping[str, Any], variant: str | None) -> dict[str, Any]:
    """What a quote keeps, with rings and price of the way that was chosen as if it were the only one."""
    chosen = next((one for one in frozen.get("variants", ()) if one["key"] == variant), None)
    alone = {**frozen} if chosen is None else {**frozen, **{name: chosen[name] for name in _OF_A_WAY}}
    return alone | {"variants": []}


def rings_read(kept: Sequence[Mapping[str, Any]]) -> tuple[FrozenRing, ...]:
    """The rings that a quote keeps, as they were quoted."""
    return tuple(
        FrozenRing(
            reckon(
                finger_of(FingerRow(**ring["finger"])), design_of(RingRow(**ring["design"])), _practice(ring)
            ),
            ring["taken_by"],
            datetime.fromisoformat(ring["taken_at"]),
            ring["is_marked"],
            from_plain(Particulars, ring.get("particulars") or {}),
        )
        for ring in kept
    )


def chosen_breakdown(kept: Mapping[str, Any], variant: str | None) -> Mapping[str, Any]:
    """The breakdown of the way that was chosen, the first one's where none was: as it is kept."""
    others = {one["key"]: one["breakdown"] for one in kept.get("variants", ())}
    breakdown: Mapping[str, Any] = others.get(variant, kept["breakdown"])
    return breakdown


def charges_read(kept: Mapping[str, Any]) -> tuple[QuoteLine, ...]:
    """What was charged besides the rings, by the amendments up to this one."""
    return tuple(QuoteLine(**line) for line in kept.get("charges", ()))


def breakdown_shown(breakdown: PriceBreakdown) -> dict[str, Any]:
    """A breakdown as plain JSON values; the alloy by its key."""
    shown = asdict(breakdown)
    for ring, part in zip(breakdown.rings, shown["rings"], strict=True):
        alloy = ring.job.alloy
        part["job"]["alloy"] = alloy.key if alloy.key in ALLOYS else as_plain(alloy)
    return shown


def breakdown_read(kept: Mapping[str, Any]) -> PriceBreakdown:
    """A breakdown out of what `breakdown_shown` made of it, each amount as it was."""
    return PriceBreakdown(
        **{
            **kept,
            "rings": tuple(_ring_price(ring) for ring in kept["rings"]),
            "lines": tuple(QuoteLine(**line) for line in kept["lines"]),
        }
    )


def ring_kept(ring: OrderRing, rule: HallmarkRule) -> dict[str, Any]:
    """A ring as a quote keeps it, but for the minutes of its price: what `rings_read` reads."""
    return {
        "position": ring.position,
        "finger": finger_columns(ring.finger),
        "design": design_columns(ring.design) | reckoned_columns(ring.reckoning),
        "taken_by": ring.taken_by,
        "taken_at": ring.taken_at.isoformat(),
        "practice": as_plain(ring.reckoning.practice),
        "reasons": dict(ring.reasons),
        "particulars": as_plain(ring.particulars),
        "is_marked": is_marked(ring.reckoning, rule, ring.particulars.marks),
    }


def _ring(ring: OrderRing, plan: PlannedRing, rule: HallmarkRule) -> dict[str, Any]:
    return ring_kept(ring, rule) | {
        "minutes": plan.minutes,
        "minutes_are_typed": plan.is_typed,
        "steps": [[step.row, step.minutes] for step in plan.steps],
    }


def _practice(ring: Mapping[str, Any]) -> Practice:
    """By what the ring was reckoned; quotes that do not say it are from before it could be changed."""
    kept = ring.get("practice")
    return COMMON_PRACTICE if kept is None else from_plain(Practice, kept)


def _ring_price(kept: Mapping[str, Any]) -> RingPrice:
    job = kept["job"]
    return RingPrice(
        **{
            **kept,
            "job": Job(
                **{**job, "alloy": _alloy(job["alloy"]), "bought": tuple(map(_bought, job["bought"]))}
            ),
            "extras": tuple((_bought(bought), minor) for bought, minor in kept["extras"]),
            "working": tuple(
                Working(**{**one, "inputs": tuple(Input(**part) for part in one["inputs"])})
                for one in kept["working"]
            ),
        }
    )


def _bought(kept: Mapping[str, Any]) -> Bought:
    return Bought(Extra(kept["kind"]), kept["text"], kept["cost_minor"])


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _moment(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat()


def _alloy(kept: Any) -> Alloy:
    """An alloy of the list by its key, one of the studio's own as it was then."""
    return ALLOYS[kept] if isinstance(kept, str) else from_plain(Alloy, kept)
