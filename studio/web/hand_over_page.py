"""The page that hands an order over: each ring as the bench knows it, the customer's goods, the balance."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass

from studio.book.hand_over import good_field
from studio.book.making_values import GoodEnd, RingKnown
from studio.book.order_values import Order, OrderRing
from studio.craft.as_made import size_label
from studio.craft.directions import apart
from studio.craft.orders import State
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import figure_words
from studio.papers.money import money_words
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.many_forms import lines_of
from studio.web.order_words import finger_words, size_of
from studio.web.sent_back import Said
from studio.web.wording import design_words, joined, opened

ENDS = tuple(Choice(end, end) for end in GoodEnd)


@dataclass(frozen=True, slots=True)
class RingForm:
    """One ring: what was ordered, who made it, and the fields for what it came out as, by name."""

    heading: str
    what: str
    ordered: str
    makers: str
    size_name: str
    weight_name: str
    lot_name: str
    size_note: str


@dataclass(frozen=True, slots=True)
class GoodForm:
    """One thing of the customer's that is held, with the fields for what becomes of it."""

    words: str
    key: str
    end_name: str
    back_name: str
    back_note: str


@dataclass(frozen=True, slots=True)
class HandOverPage:
    """The page. `closed` says why nothing can be handed over, '' where it can."""

    title: str
    heading: str
    order: str
    order_href: str
    action: str
    closed: str
    rings: tuple[RingForm, ...]
    goods: tuple[GoodForm, ...]
    ends: tuple[Choice, ...]
    money: str
    is_open: bool
    texts: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    version: int
    form_key: str


def hand_over_context(order: Order, known: Sequence[RingKnown], said: Said) -> HandOverPage:
    """The page as it stands, or with what was typed; `known` is empty where nothing can be handed over."""
    is_ready = order.state is State.READY
    by_place = {one.position: one for one in known}
    words = hand_over_words(order)
    money, is_open = _money(order)
    return HandOverPage(
        title=f"Hand over {order.number}",
        heading=f"{apart(order.customer.name)}, {order.number}",
        order=f"Order {order.number}",
        order_href=f"/orders/{order.number}",
        action=f"/orders/{order.number}/hand-over",
        closed="" if is_ready else f"This order is {order.state}. Only what is ready is handed over.",
        rings=tuple(_ring(order, ring, by_place.get(ring.position)) for ring in order.rings)
        if is_ready
        else (),
        goods=tuple(
            GoodForm(
                apart(good.line),
                good.key,
                f"end-{good_field(good.key)}",
                f"back-{good_field(good.key)}",
                "Left over of it; empty: nothing is, or it was not weighed.",
            )
            for good in order.goods_held
        ),
        ends=ENDS,
        money=money,
        is_open=is_open,
        texts=said.typed or (ring_texts(known) | goods_texts(order)),
        said=said,
        error_lines=lines_of(said, words),
        version=order.version,
        form_key=secrets.token_urlsafe(18),
    )


def hand_over_words(order: Order) -> dict[str, str]:
    """The fields of the form and their words."""
    told: dict[str, str] = {}
    for ring in order.rings:
        of = f", ring {ring.position}" if len(order.rings) > 1 else ""
        told |= {
            f"size-{ring.position}": f"Final size{of}",
            f"weight-{ring.position}": f"Finished weight{of}",
            f"lot-{ring.position}": f"Lot of its metal{of}",
        }
    for good in order.goods_held:
        short = good_field(good.key)
        told |= {f"end-{short}": f"What becomes of {good.key}", f"back-{short}": f"Weight back of {good.key}"}
    return told


def ring_texts(known: Sequence[RingKnown]) -> dict[str, str]:
    """What the bench knows, as the fields show it."""
    told: dict[str, str] = {}
    for one in known:
        figures = one.figures
        told |= {
            f"size-{one.position}": "" if figures.size_mm is None else f"{figures.size_mm:.2f} mm",
            f"weight-{one.position}": "" if figures.finished_g is None else figure_words(figures.finished_g),
            f"lot-{one.position}": figures.lot,
        }
    return told


def goods_texts(order: Order) -> dict[str, str]:
    """What stands for the goods before anybody typed: stones are on the ring, all else goes back."""
    return {
        f"end-{good_field(good.key)}": GoodEnd.USED if good.stone is not None else GoodEnd.BACK
        for good in order.goods_held
    } | {f"back-{good_field(good.key)}": "" for good in order.goods_held}


def _ring(order: Order, ring: OrderRing, known: RingKnown | None) -> RingForm:
    design, reckoning = ring.design, ring.reckoning
    what = design_words(design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy)
    ordered = size_label(ring.finger.system, reckoning.circumference_mm, reckoning.practice.reading.beyond_z)
    whose = finger_words(ring.finger)
    return RingForm(
        heading=f"Ring {ring.position} of {len(order.rings)}" if len(order.rings) > 1 else "The ring",
        what=f"{opened(what)}, for {size_of(ring.finger)}{f', {whose}' if whose else ''}",
        ordered=f"Ordered to come out at {ordered}, {reckoning.circumference_mm:.2f} mm round, "
        f"about {reckoning.finished_g:.1f} g finished.",
        makers="" if known is None or not known.makers else f"Made by {joined(known.makers.split(', '))}.",
        size_name=f"size-{ring.position}",
        weight_name=f"weight-{ring.position}",
        lot_name=f"lot-{ring.position}",
        size_note=f"{SYSTEM_NAMES[ring.finger.system]} size, or mm round",
    )


def _money(order: Order) -> tuple[str, bool]:
    """How the money stands, in a sentence, and whether something is still to be paid."""
    account = order.account
    if order.agreement is None or account.due_minor is None:
        return "", False
    due, paid = (money_words(minor, order.currency) for minor in (account.due_minor, account.paid_minor))
    if account.left_minor:
        left = money_words(account.left_minor, order.currency)
        return (
            f"{paid} of {due} is paid, {left} is left. Note the payment first, so that the sheet says so.",
            True,
        )
    return f"{due} is paid in full.", False
