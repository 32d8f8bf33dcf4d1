"""The counter's page at this moment: whose ring it shows, reckoned, priced, and what is missing of it."""

from dataclasses import replace

from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from studio.book.customers import CustomerCard
from studio.book.customers import customer as known_customer
from studio.book.engine import session
from studio.book.errors import CustomerUnknown
from studio.book.people import users
from studio.book.ring_practices import Workshop, workshop
from studio.book.studio import studio_days
from studio.craft.particulars import Particulars
from studio.craft.roles import Right
from studio.web.counter_figures import reckoned, said_of
from studio.web.counter_fingers import earlier_fingers
from studio.web.counter_form import CounterForm, RingRead, particulars_on
from studio.web.counter_missing import Desk, missing_part
from studio.web.counter_page import CustomerPart, KeyFigure, Reckoned
from studio.web.counter_price import PriceShown, price_label, price_shown
from studio.web.counter_show import BackAgain, contact_words, counter_page, offer, offers
from studio.web.counter_standing import Standing
from studio.web.forms import Calendar
from studio.web.render import Place, page
from studio.web.security import Seat


def calendar_of(seat: Seat) -> Calendar:
    """What it takes to read a day here and now."""
    return Calendar(seat.today, seat.zone)


def at_hand(book: Session, seat: Seat, standing: Standing | None) -> Workshop:
    """What the ring on the page is read and reckoned with today."""
    tools = workshop(book, seat.today, None if standing is None else standing.order)
    return replace(tools, days=studio_days(book))


def live(
    book: Session, seat: Seat, form: CounterForm, standing: Standing | None, tools: Workshop
) -> tuple[Reckoned, RingRead]:
    """Everything on the page that hangs on its fields: what is sent while typing and after a submit.

    The price is for those who may see it, what is missing for those who take orders.
    """
    shown, read = reckoned(form, calendar_of(seat), tools, seat.rule)
    price = None
    if seat.may(Right.SEE_PRICE):
        price = _price(book, seat, shown, (read, particulars_on(form)), standing)
        figures = (*shown.figures, price.figure)
        shown = replace(
            shown,
            figures=figures,
            said=said_of(figures),
            metal_notes=replace(shown.metal_notes, warnings=(*shown.metal_notes.warnings, *price.stale)),
        )
    if seat.may(Right.TAKE_ORDERS):
        desk = _desk(book, seat, form, standing, price)
        is_new = standing is None and chosen_id(form) is None
        shown = replace(shown, missing=missing_part(form, read, desk), is_new_customer=is_new)
    return shown, read


def shown(
    request: Request,
    seat: Seat,
    form: CounterForm,
    standing: Standing | None,
    *,
    back: BackAgain | None = None,
    is_searched: bool = False,
    saved: str = "",
    status: int = 200,
) -> Response:
    """The page that shows `form`, its figures reckoned by the same way as while typing."""
    with session(seat.engine) as book:
        tools = at_hand(book, seat, standing)
        figures, _ = live(book, seat, form, standing, tools)
        people = [user.name for user in users(book)]
        part = _customer_part(book, seat, form, standing, is_searched=is_searched)
    context = counter_page(
        form,
        figures,
        people=people,
        workshop=tools,
        customer=part,
        standing=standing,
        back=back or BackAgain(),
        saved=saved,
    )
    return page(request, "counter/page.html", context, place=Place.ORDERS, status=status)


def _price(
    book: Session,
    seat: Seat,
    shown: Reckoned,
    typed: tuple[RingRead, Particulars],
    standing: Standing | None,
) -> PriceShown:
    """The price of all rings of the order, the one on the page as it is typed."""
    read, particulars = typed
    if read.reckoning is None:
        awaits = next((one.waits for one in reversed(shown.figures) if one.waits), "for the ring")
        count = len(standing.order.rings) + (standing.position is None) if standing else 1
        return PriceShown(KeyFigure("price", price_label(count), waits=awaits))
    if standing is not None and standing.ring is not None:  # the page does not ask for marks
        particulars = replace(particulars, marks=standing.ring.particulars.marks)
    here = (read.reckoning, particulars)
    rings = [] if standing is None else [(ring.reckoning, ring.particulars) for ring in standing.order.rings]
    if standing is None or standing.position is None:
        rings.append(here)
    else:
        rings[standing.position - 1] = here
    return price_shown(book, seat, [found for found, _ in rings], [told for _, told in rings])


def _desk(
    book: Session, seat: Seat, form: CounterForm, standing: Standing | None, price: PriceShown | None
) -> Desk:
    waits = () if price is None else price.missing
    desk = Desk(
        order=None if standing is None else standing.order,
        position=None if standing is None else standing.position,
        deposit=None if price is None else price.deposit,
        waits=waits,
        waits_href="/studio" if seat.may(Right.KEEP_RATES) else "",
    )
    if standing is not None:
        return replace(desk, has_phone=bool(standing.order.customer.phone))
    chosen = _chosen(book, form)
    if chosen is not None:
        return replace(desk, has_phone=bool(chosen.phone))
    name, phone = form.value("customer.name").strip(), form.value("customer.phone").strip()
    return replace(desk, has_name=bool(name), has_phone=bool(phone))


def chosen_id(form: CounterForm) -> int | None:
    """The known customer chosen on the page, or None."""
    typed = form.value("customer.id")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 12 else None


def _chosen(book: Session, form: CounterForm) -> CustomerCard | None:
    chosen = chosen_id(form)
    if chosen is None:
        return None
    try:
        return known_customer(book, chosen)
    except CustomerUnknown:
        return None


def _customer_part(
    book: Session, seat: Seat, form: CounterForm, standing: Standing | None, *, is_searched: bool
) -> CustomerPart:
    if standing is not None:
        whose = standing.order.customer
        contact = contact_words(whose.phone, whose.email)
        return CustomerPart(
            is_new=False,
            contact=contact,
            change_href=f"/customers/{whose.id}",
            fingers=earlier_fingers(book, whose.id, seat),
        )
    chosen = _chosen(book, form)
    if chosen is not None:
        return CustomerPart(is_new=True, chosen=offer(chosen), fingers=earlier_fingers(book, chosen.id, seat))
    if not is_searched:
        return CustomerPart(is_new=True)
    query = form.value("customer.name").strip() or form.value("customer.phone")
    return CustomerPart(is_new=True, offers=offers(book, query, says_none=True))
