"""What an order mends, and what mends its rings, as the order's page tells it and asks for it."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.engine import session
from studio.book.mending_values import MendedBy, OwnCost
from studio.book.mendings import own_costs
from studio.book.order_values import Order
from studio.craft.mends import DONE, Cause, MendKind, PaidBy, cause_words, paid_words
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.counter_choices import Choice
from studio.web.mends_reading import FIELDS
from studio.web.order_words import Fact
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import opened

NOT_PRICED = "not priced yet"
_NOT_ASKED = Choice("", "not asked yet")
KINDS = tuple(Choice(kind, kind) for kind in MendKind)
CAUSES = (_NOT_ASKED, *(Choice(cause, cause) for cause in Cause))
PAYERS = (_NOT_ASKED, *(Choice(one, f"the {one}") for one in PaidBy))


@dataclass(frozen=True, slots=True)
class MendsPart:
    """Which ring the order mends: in words with the way there, and the form for those who take orders.

    `texts` and `errors` are by the fields' names. The form `is_open` while cause or payer are not
    asked, or what was typed is refused.
    """

    said: str
    href: str
    texts: Mapping[str, str]
    errors: Mapping[str, str]
    may_change: bool
    kinds: tuple[Choice, ...] = KINDS
    causes: tuple[Choice, ...] = CAUSES
    payers: tuple[Choice, ...] = PAYERS

    @property
    def is_open(self) -> bool:
        """Whether the form stands open."""
        is_asked = bool(self.texts["mends_cause"] and self.texts["mends_paid_by"])
        return (bool(self.said) and not is_asked) or any(self.errors.values())


def mends_part(order: Order, seat: Seat, said: Said) -> MendsPart | None:
    """What the order mends; None for those who may not say it, where it mends none."""
    mends, may_change = order.terms.mends, seat.may(Right.TAKE_ORDERS)
    if mends is None and not may_change:
        return None
    stands = mends_texts(order)
    return MendsPart(
        said="" if mends is None else f"{opened(mends.line)}.",
        href="" if mends is None else f"/orders/{mends.order}#ring-{mends.ring}",
        texts={name: said.typed.get(name, stands[name]) for name in FIELDS},
        errors={name: said.error(name) for name in FIELDS},
        may_change=may_change,
    )


def mends_texts(order: Order) -> dict[str, str]:
    """What stands in the form's fields."""
    mends = order.terms.mends
    if mends is None:
        return dict.fromkeys(FIELDS, "")
    values = (f"{mends.order}/{mends.ring}", mends.kind, mends.cause or "", mends.words, mends.paid_by or "")
    return dict(zip(FIELDS, values, strict=True))


def again_links(order: Order, position: int, seat: Seat) -> tuple[tuple[str, str], ...]:
    """The ways to begin an order that mends the ring, as words and address; none for what is not agreed."""
    if not seat.may(Right.TAKE_ORDERS) or order.state in {*BEFORE_AGREEMENT, State.CALLED_OFF}:
        return ()
    begin = f"/orders/new?like={order.number}/{position}&mends="
    return (("Make again", f"{begin}{MendKind.REMAKE}"), ("Resize", f"{begin}{MendKind.RESIZE}"))


def costs_of(order: Order, seat: Seat) -> dict[str, OwnCost]:
    """What the orders cost that mend a ring of this one, for those who see a cost."""
    if not order.mended_by or not seat.may(Right.SEE_COST):
        return {}
    with session(seat.engine) as book:
        return own_costs(book, (one.order for one in order.mended_by))


def mended_facts(order: Order, position: int, seat: Seat, costs: Mapping[str, OwnCost]) -> tuple[Fact, ...]:
    """'Remade in 2026-131, measured wrong, cost the studio £84.20' for each order that mends this ring."""
    return tuple(
        Fact("Since then", _mended_words(one, seat, costs), href=f"/orders/{one.order}")
        for one in order.mended_by
        if one.ring == position
    )


def _mended_words(one: MendedBy, seat: Seat, costs: Mapping[str, OwnCost]) -> str:
    told = [f"{opened(DONE[one.kind])} in {one.order}", cause_words(one.cause, one.words)]
    if one.state is State.CALLED_OFF:
        told = [f"{opened(one.kind)} {one.order} was called off", cause_words(one.cause, one.words)]
    elif not seat.may(Right.SEE_COST):
        told.append(paid_words(one.paid_by))
    else:
        cost = costs.get(one.order)
        amount = NOT_PRICED if cost is None else money_words(cost.minor, cost.currency)
        if one.paid_by is PaidBy.STUDIO:
            told.append(NOT_PRICED if cost is None else f"cost the studio {amount}")
        else:
            told += [paid_words(one.paid_by), NOT_PRICED if cost is None else f"own cost {amount}"]
    return ", ".join(part for part in told if part)
