"""What an order's page shows: the order read back whole, what comes next, and what was done to it."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.mending_values import OwnCost
from studio.book.order_values import Order
from studio.craft.directions import apart
from studio.craft.drawing import Svg, state_mark
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.roles import Right
from studio.web.days import full_day_words
from studio.web.metal_aside import AsideLine
from studio.web.order_calling_off import CalledOffPart, KeptTable, called_off_part
from studio.web.order_documents import PapersPart, papers_part
from studio.web.order_history import HistoryEntry, history_of
from studio.web.order_invoices import InvoicesPart, invoices_part
from studio.web.order_mends import MendsPart, mended_facts, mends_part
from studio.web.order_money import MoneyPart, money_part
from studio.web.order_next import NextPart, next_part
from studio.web.order_pictures import PicturesPart, pictures_part
from studio.web.order_quotes import QuotesPart, quotes_part
from studio.web.order_ring import RingPart, ring_part
from studio.web.order_variants import VariantsPart, variants_part
from studio.web.order_words import Fact, days_of
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.sheets import Void
from studio.web.wording import counted, since_words


@dataclass(frozen=True, slots=True)
class CustomerPart:
    """Whose order it is; the contact only for those who may see it."""

    name: str
    href: str
    phone: str
    phone_href: str
    email: str
    note: str
    may_see: bool


@dataclass(frozen=True, slots=True)
class PlanPart:
    """The fields that stay free: the bench date and the note, as they stand or as they were typed."""

    bench_on: str
    note: str
    avoid: str
    collects: str
    may_change: bool
    bench_error: str = ""
    note_error: str = ""
    avoid_error: str = ""
    collects_error: str = ""


@dataclass(frozen=True, slots=True)
class OrderPage:
    """The page of one order."""

    title: str
    number: str
    version: int
    heading: str
    heading_note: str
    mark: Svg
    state: str
    since: str
    next: NextPart
    customer: CustomerPart
    days: tuple[Fact, ...]
    plan: PlanPart
    aside: tuple[AsideLine, ...]
    mends: MendsPart | None
    rings: tuple[RingPart, ...]
    add_ring_href: str
    pictures: PicturesPart
    quotes: QuotesPart | None
    money: MoneyPart | None
    called_off: CalledOffPart | None
    papers: PapersPart
    invoices: InvoicesPart | None
    variants: VariantsPart | None
    history: tuple[HistoryEntry, ...]
    said: Said
    form_key: str
    void: Void | None = None

    @property
    def href(self) -> str:
        """Where the page stands."""
        return f"/orders/{self.number}"


def order_context(
    order: Order,
    seat: Seat,
    said: Said | None = None,
    costs: Mapping[str, OwnCost] | None = None,
    kept: KeptTable | None = None,
    *,
    aside: tuple[AsideLine, ...] = (),
    void: Void | None = None,
) -> OrderPage:
    """The order as the page shows it to who sits there; `said` brings back what was typed and why.

    `costs` are those of the orders that mend a ring of it, by number; `kept` is the studio's table of what is
    owed when it is called off; `aside` is the metal that lies there for it; `void` says that the paper whose
    code led here holds no more.
    """
    told = said or Said()
    count = len(order.rings)
    taken = since_words(order.created_at, seat.zone, seat.today)
    may_edit = order.state in BEFORE_AGREEMENT and seat.may(Right.TAKE_ORDERS)
    heading = f"{apart(order.customer.name)}, {order.number}"
    first = told.heading or ("Void paper" if void else "")
    return OrderPage(
        title=f"{first}: {heading}" if first else heading,
        number=order.number,
        version=order.version,
        heading=order.customer.name,
        heading_note=f"Order {order.number}, {counted(count, 'ring', 'rings')}, taken {taken}",
        mark=state_mark(order.state),
        state=str(order.state).capitalize(),
        since=f"since {since_words(order.state_since, seat.zone, seat.today)}",
        next=next_part(order, seat, told, kept or {}),
        customer=_customer(order, seat),
        days=days_of(order, seat),
        plan=_plan(order, seat, told),
        aside=aside,
        mends=mends_part(order, seat, told),
        rings=tuple(
            ring_part(
                order,
                ring,
                seat,
                told,
                may_edit=may_edit,
                later=mended_facts(order, ring.position, seat, costs or {}),
            )
            for ring in order.rings
        ),
        add_ring_href=f"/orders/{order.number}/rings/new" if may_edit else "",
        pictures=pictures_part(order, seat, told),
        money=money_part(order, seat, told),
        quotes=quotes_part(order, seat),
        called_off=called_off_part(order, seat, told),
        papers=papers_part(order, seat, told),
        invoices=invoices_part(order, seat, told),
        variants=variants_part(order, seat),
        history=history_of(order.history, seat),
        said=told,
        form_key=secrets.token_urlsafe(18),
        void=void,
    )


def _customer(order: Order, seat: Seat) -> CustomerPart:
    may_see = seat.may(Right.SEE_CONTACT)
    phone = (order.customer.phone or "") if may_see else ""
    return CustomerPart(
        name=order.customer.name,
        href=f"/customers/{order.customer.id}" if may_see else "",
        phone=phone,
        phone_href=f"tel:{''.join(sign for sign in phone if sign.isdigit() or sign == '+')}" if phone else "",
        email=(order.customer.email or "") if may_see else "",
        note=order.customer.note if may_see else "",
        may_see=may_see,
    )


def _plan(order: Order, seat: Seat, said: Said) -> PlanPart:
    bench_on = order.terms.bench_on
    return PlanPart(
        bench_on=said.typed.get("bench_on", full_day_words(bench_on) if bench_on else ""),
        note=said.typed.get("note", order.terms.note),
        avoid=said.typed.get("avoid", order.terms.avoid or ""),
        collects=said.typed.get("collects", order.terms.collects) if seat.may(Right.SEE_CONTACT) else "",
        may_change=seat.may(Right.TAKE_ORDERS),
        bench_error=said.error("bench_on"),
        note_error=said.error("note"),
        avoid_error=said.error("avoid"),
        collects_error=said.error("collects"),
    )
