"""The counter: an order is taken while the customer talks, and each of its rings is looked at again here."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio.book.customers import customer as known_customer
from studio.book.engine import session
from studio.book.errors import CustomerUnknown, KeyReused, OrderFixed, VersionStale
from studio.book.idempotency import Answer
from studio.book.order_values import CustomerDraft, Order, OrderChanges, OrderRing, OrderTerms, RingDraft
from studio.book.orders import change_order, order, take_order
from studio.book.people import users
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.counter_figures import reckoned
from studio.web.counter_form import CounterForm, flat, read_counter_order, read_counter_ring
from studio.web.counter_page import CounterPage, CustomerPart, Offers
from studio.web.counter_show import (
    contact_words,
    counter_page,
    new_order_form,
    offer,
    offers,
    reason_questions,
    ring_form,
    split_questions,
)
from studio.web.errors import Declined, FieldError
from studio.web.forms import Calendar
from studio.web.once import do_once
from studio.web.render import Place, fragment, page
from studio.web.security import Seat, requires

router = APIRouter()

Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]

_KEEPS = frozenset({"save", "add", ""})
"""Buttons that write into the book; the others only bring the page again, as what was typed makes it."""


@dataclass(frozen=True, slots=True)
class Standing:
    """The order whose ring is on the page, and which ring; `ring` is None while one is added."""

    order: Order
    ring: OrderRing | None

    @property
    def position(self) -> int | None:
        """The ring's place in the order, None for one more."""
        return None if self.ring is None else self.ring.position


@router.get("/orders/new")
def empty_page(request: Request, seat: Taker, customer: str = "") -> Response:
    """The counter's page for a new order; `?customer=7` has a known customer chosen."""
    form = new_order_form(seat.actor.name)
    if customer:
        form = form.with_values(customer__id=customer)
    return _shown(request, seat, form, None)


@router.post("/orders")
def take(request: Request, seat: Taker, fields: Typed) -> Response:
    """Take the order, or bring the page again: with what is to put right, or with what a button asked for."""
    form = CounterForm(flat(fields))
    if form.value("act") not in _KEEPS:
        return _brought_again(request, seat, form, None)
    return _kept(request, seat, form, None)


@router.get("/orders/{number}/rings/{position}")
def ring_page(request: Request, seat: Taker, number: str, position: str) -> Response:
    """The counter's page for one ring of an order, or for one more (`new`).

    Once the order is agreed its rings stand; then the order's own page shows them.
    """
    standing = _standing(seat, number, position)
    if standing.order.state not in BEFORE_AGREEMENT:
        return RedirectResponse(f"/orders/{number}", status_code=303)
    return _shown(request, seat, ring_form(standing.order, standing.ring, seat.zone), standing)


@router.post("/orders/{number}/rings/{position}")
def change_ring(request: Request, seat: Taker, number: str, position: str, fields: Typed) -> Response:
    """Keep the ring with the order's days and note, or bring the page again."""
    form = CounterForm(flat(fields))
    standing = _standing(seat, number, position)
    if form.value("act") not in _KEEPS:
        return _brought_again(request, seat, form, standing)
    return _kept(request, seat, form, standing)


@router.post("/counter/figures")
def figures(request: Request, seat: Annotated[Seat, requires(Right.RECKON)], fields: Typed) -> Response:
    """Drawing, figures and notes of the ring as it is typed: what a plain submit would show."""
    shown, _ = reckoned(CounterForm(flat(fields)), _calendar(seat))
    return fragment(request, "counter/_figures.html", shown)


@router.get("/counter/customers")
def known_customers(
    request: Request, seat: Annotated[Seat, requires(Right.SEE_CONTACT)], q: str = ""
) -> Response:
    """Known customers whose name or phone may be meant by `q`."""
    with session(seat.engine) as book:
        found = offers(book, q, says_none=False)
    return fragment(request, "counter/_offers.html", found)


def _calendar(seat: Seat) -> Calendar:
    return Calendar(seat.today, seat.zone)


def _standing(seat: Seat, number: str, position: str) -> Standing:
    with session(seat.engine) as book:
        found = order(book, number)
    if position == "new":
        return Standing(found, None)
    ring = next((ring for ring in found.rings if str(ring.position) == position), None)
    if ring is None:
        raise Declined(404, f"Order {found.number} has no such ring.")
    return Standing(found, ring)


def _brought_again(request: Request, seat: Seat, form: CounterForm, standing: Standing | None) -> Response:
    """The page again after a button that keeps nothing: work out, find, choose or change the customer."""
    act, _, customer_id = form.value("act").partition(" ")
    match act:
        case "choose":
            form = form.with_values(customer__id=customer_id)
        case "change":
            form = form.with_values(customer__id="")
        case _:
            pass
    return _shown(request, seat, form, standing, is_searched=act == "find")


def _kept(request: Request, seat: Seat, form: CounterForm, standing: Standing | None) -> Response:
    """Write the order down and go on to its page; else the page again with everything there is to say."""
    ring = read_counter_ring(form, _calendar(seat))
    read = read_counter_order(form, _calendar(seat), is_new=standing is None)
    wrong, open_ = split_questions(form, (*read.errors, *ring.errors))
    if wrong or open_ or ring.draft is None or read.terms is None:
        questions = [*open_, *reason_questions(form, ring)]
        return _shown(request, seat, form, standing, errors=wrong, questions=questions, status=422)
    if standing is not None:
        work = _changing(seat, form, standing, ring.draft, read.terms)
    else:
        assert read.customer is not None  # noqa: S101  a new order without errors has its customer
        work = _taking(seat, form, read.customer, ring.draft, read.terms)
    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=form.value("idempotency_key"))
    except VersionStale as stale:
        words = (
            "Somebody changed this order since you opened it. What you typed stands below; "
            "saving again puts it in the place of theirs."
        )
        fresh = form.with_values(version=str(stale.current), idempotency_key="")
        return _shown(request, seat, fresh, standing, errors=[FieldError(None, words)], status=409)
    except KeyReused:
        words = "This page was saved before. Saving it again takes one more order with what stands here now."
        fresh = form.with_values(idempotency_key="")
        return _shown(request, seat, fresh, standing, errors=[FieldError(None, words)], status=409)
    except OrderFixed as fixed:
        told = declined(fixed).errors
        return _shown(request, seat, form, standing, errors=told, status=409)
    except CustomerUnknown:
        unknown = FieldError("customer.name", "This customer is not in the book any more. Choose again.")
        return _shown(
            request, seat, form.with_values(customer__id=""), standing, errors=[unknown], status=422
        )


def _taking(
    seat: Seat, form: CounterForm, customer: CustomerDraft | int, ring: RingDraft, terms: OrderTerms
) -> Callable[[Session], Answer]:
    def work(book: Session) -> Answer:
        taken = take_order(
            book, customer=customer, terms=terms, rings=(ring,), actor=seat.actor, now=seat.now
        )
        return _going_on(form, taken)

    return work


def _changing(
    seat: Seat, form: CounterForm, standing: Standing, ring: RingDraft, terms: OrderTerms
) -> Callable[[Session], Answer]:
    version = form.value("version")
    changes = OrderChanges(
        wanted_on=terms.wanted_on,
        wanted_hard=terms.wanted_hard,
        promised_at=terms.promised_at,
        bench_on=terms.bench_on,
        note=terms.note,
        rings=_rings_with(standing, ring),
    )

    def work(book: Session) -> Answer:
        changed = change_order(
            book,
            number=standing.order.number,
            version=int(version) if version.isascii() and version.isdigit() and len(version) < 10 else 0,
            changes=changes,
            actor=seat.actor,
            now=seat.now,
        )
        return _going_on(form, changed)

    return work


def _rings_with(standing: Standing, ring: RingDraft) -> tuple[RingDraft, ...]:
    """The order's rings with this one in its place. A finger not measured anew keeps its hour."""
    rings = [one.draft for one in standing.order.rings]
    if standing.ring is None:
        return (*rings, ring)
    old = standing.ring
    if ring.finger == old.finger and ring.taken_by == old.taken_by:
        ring = replace(ring, taken_at=old.taken_at)
    rings[old.position - 1] = ring
    return tuple(rings)


def _going_on(form: CounterForm, kept: Order) -> Answer:
    more = "/rings/new" if form.value("act") == "add" else ""
    return Answer(303, "", f"/orders/{kept.number}{more}")


def _shown(
    request: Request,
    seat: Seat,
    form: CounterForm,
    standing: Standing | None,
    *,
    errors: Sequence[FieldError] = (),
    questions: Sequence[FieldError] = (),
    is_searched: bool = False,
    status: int = 200,
) -> Response:
    """The page that shows `form`, its figures reckoned by the same way as while typing."""
    shown, _ = reckoned(form, _calendar(seat))
    with session(seat.engine) as book:
        people = [user.name for user in users(book)]
        part = _customer_part(book, form, standing, is_searched=is_searched)
    context: CounterPage = counter_page(
        form,
        shown,
        people=people,
        customer=part,
        order=None if standing is None else standing.order,
        position=None if standing is None else standing.position,
        errors=errors,
        questions=questions,
    )
    return page(request, "counter/page.html", context, place=Place.ORDERS, status=status)


def _customer_part(
    book: Session, form: CounterForm, standing: Standing | None, *, is_searched: bool
) -> CustomerPart:
    if standing is not None:
        whose = standing.order.customer
        contact = contact_words(whose.phone, whose.email)
        return CustomerPart(is_new=False, contact=contact, change_href=f"/customers/{whose.id}")
    chosen = form.value("customer.id")
    if chosen.isascii() and chosen.isdigit() and len(chosen) < 12:
        try:
            return CustomerPart(is_new=True, chosen=offer(known_customer(book, int(chosen))))
        except CustomerUnknown:
            pass
    if not is_searched:
        return CustomerPart(is_new=True)
    query = form.value("customer.name").strip() or form.value("customer.phone")
    found: Offers = offers(book, query, says_none=True)
    return CustomerPart(is_new=True, offers=found)
