"""Customers: the list, and the page of one with contact, sizes and orders."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Path
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.customers import (
    CustomerCard,
    CustomerDraft,
    CustomerLine,
    change_customer,
    customers_page,
    find_customers,
)
from studio.book.customers import customer as read_card
from studio.book.engine import session
from studio.book.errors import CustomerUnknown, VersionStale
from studio.book.idempotency import Answer
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.customer_made import MadeEntry, SizeEntry, made_entry, size_entry
from studio.web.errors import FieldErrors, Findings
from studio.web.forms import LONGEST_NOTE
from studio.web.once import do_once
from studio.web.orders import YearGroup, years_of
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, both_versions, to_put_right, typed_texts
from studio.web.texts import read_address, read_email, read_name, read_phone, read_text
from studio.web.wording import counted, opened, since_words

router = APIRouter()

MOST_ID = 999_999_999_999
"""Longer numbers are no customer's, and more than a database keeps."""
Knows = Annotated[Seat, requires(Right.SEE_CONTACT)]
Id = Annotated[int, Path(ge=0, le=MOST_ID)]
LONGEST_QUERY = 200
MOST_FOUND = 100
_FIELDS = {"name": "Name", "phone": "Phone", "email": "E-mail", "address": "Postal address", "note": "Note"}


@dataclass(frozen=True, slots=True)
class CustomerEntry:
    """One line of the list."""

    href: str
    name: str
    phone: str
    email: str
    orders: str
    last_number: str
    last_href: str


@dataclass(frozen=True, slots=True)
class CustomersPage:
    """The list as shown."""

    title: str
    query: str
    entries: tuple[CustomerEntry, ...]
    found: str
    empty: str
    more_href: str
    first_href: str
    is_search: bool
    told: str = ""
    list_href: str = "/customers"


@dataclass(frozen=True, slots=True)
class CustomerPage:
    """The page of one customer."""

    title: str
    href: str
    heading: str
    heading_note: str
    version: int
    name: str
    phone: str
    email: str
    address: str
    note: str
    sizes: tuple[SizeEntry, ...]
    made: tuple[MadeEntry, ...]
    years: tuple[YearGroup, ...]
    new_href: str
    may_take: bool
    said: Said
    form_key: str


@router.get("/customers", response_class=HTMLResponse)
def customers(request: Request, seat: Knows) -> HTMLResponse:
    """The customers by name. `?q=` finds by name or telephone, `?after=` goes on.

    An `after` that names nobody shows the list from its beginning, says so, and is 404.
    """
    query = request.query_params.get("q", "").strip()[:LONGEST_QUERY]
    after = request.query_params.get("after") or None
    told = ""
    with session(seat.engine) as book:
        if query:
            lines, more = find_customers(book, query, MOST_FOUND + 1), None
        else:
            if after is not None and not _is_somebody(book, after):
                told, after = "The list does not go on from there. This is its beginning.", None
            found = customers_page(book, after=after)
            lines, more = found.items, found.next
    context = replace(_list(lines, query, after, more), told=told)
    status = 404 if told else 200
    return page(request, "customers/page.html", context, place=Place.CUSTOMERS, status=status)


@router.get("/customers/{customer_id}", response_class=HTMLResponse)
def customer(request: Request, customer_id: Id, seat: Knows) -> HTMLResponse:
    """One customer: contact, sizes and orders."""
    return _shown(request, seat, _read(seat, customer_id))


@router.post("/customers/{customer_id}", response_class=HTMLResponse)
def change(request: Request, customer_id: Id, typed: Typed, seat: Knows) -> Response:
    """Put the contact and the note as typed in the place of what stood."""
    fields = typed_texts(typed, *_FIELDS)

    def work() -> Answer:
        draft, note = _read_contact(typed)
        version = read_id(typed.get("version"), "version")
        change_customer(
            book,
            customer_id=customer_id,
            version=version,
            draft=draft,
            note_text=note,
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(303, "", f"/customers/{customer_id}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, work, form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        said = to_put_right(found.errors, fields)
        return _shown(request, seat, _read(seat, customer_id), said, 422)
    except VersionStale:
        standing = _read(seat, customer_id)
        return _shown(request, seat, standing, _stale(standing, fields), 409)


def customer_context(card: CustomerCard, seat: Seat, said: Said | None = None) -> CustomerPage:
    """One customer as the page shows them; `said` brings back what was typed and why."""
    told = said or Said()
    return CustomerPage(
        title=f"{told.heading}: {card.name}" if told.heading else card.name,
        href=f"/customers/{card.id}",
        heading=card.name,
        heading_note=f"{opened(counted(len(card.orders), 'order', 'orders'))}, "
        f"in the book since {since_words(card.created_at, seat.zone, seat.today)}",
        version=card.version,
        name=told.typed.get("name", card.name),
        phone=told.typed.get("phone", card.phone or ""),
        email=told.typed.get("email", card.email or ""),
        address=told.typed.get("address", card.address),
        note=told.typed.get("note", card.note),
        sizes=tuple(size_entry(measured, card.fits.get(measured.id), seat) for measured in card.fingers),
        made=tuple(made_entry(one, seat) for one in card.made),
        years=years_of(card.orders, seat),
        new_href=f"/orders/new?customer={card.id}",
        may_take=seat.may(Right.TAKE_ORDERS),
        said=told,
        form_key=secrets.token_urlsafe(18),
    )


def _list(lines: Sequence[CustomerLine], query: str, after: str | None, more: str | None) -> CustomersPage:
    return CustomersPage(
        title=f"Customers, {query}" if query else "Customers",
        query=query,
        entries=tuple(_entry(line) for line in (lines[:MOST_FOUND] if query else lines)),
        found=_found_words(len(lines)) if query else "",
        empty="Nobody of this name or telephone is in the book. Four last digits are enough."
        if query
        else "There is no customer yet. The first one comes with the first order.",
        more_href=f"/customers?after={more}" if more else "",
        first_href="/customers" if after else "",
        is_search=bool(query),
    )


def _found_words(count: int) -> str:
    if count > MOST_FOUND:
        return f"More than {MOST_FOUND} customers found, here {MOST_FOUND} of them"
    return f"{opened(counted(count, 'customer', 'customers'))} found"


def _is_somebody(book: Session, typed: str) -> bool:
    """Whether this is the number of a customer, after whom the list goes on."""
    if not (typed.isascii() and typed.isdigit() and len(typed) <= len(str(MOST_ID))):
        return False
    try:
        read_card(book, int(typed))
    except CustomerUnknown:
        return False
    return True


def _entry(line: CustomerLine) -> CustomerEntry:
    return CustomerEntry(
        href=f"/customers/{line.id}",
        name=line.name,
        phone=line.phone or "",
        email=line.email or "",
        orders=str(line.orders) if line.orders else "none",
        last_number=line.last_number or "",
        last_href=f"/orders/{line.last_number}" if line.last_number else "",
    )


def _read_contact(typed: dict[str, object]) -> tuple[CustomerDraft, str]:
    """The contact and the note out of the form; raises `FieldErrors` with all that is to be put right."""
    found = Findings()
    name = found.take(lambda: read_name(typed.get("name"), "name"))
    phone = found.take(lambda: read_phone(typed.get("phone"), "phone"))
    email = found.take(lambda: read_email(typed.get("email"), "email"))
    address = found.take(lambda: read_address(typed.get("address"), "address"))
    note = found.take(lambda: read_text(typed.get("note"), "note", longest=LONGEST_NOTE, has_lines=True))
    found.stop()
    return CustomerDraft(name or "", phone, email, address or ""), note or ""


def _stale(standing: CustomerCard, fields: dict[str, str]) -> Said:
    """Somebody else changed this customer in between: both versions, nothing lost."""
    stands = {
        "name": standing.name,
        "phone": standing.phone or "",
        "email": standing.email or "",
        "address": standing.address,
        "note": standing.note,
    }
    return Said(
        heading="Somebody else changed this customer meanwhile",
        sentences=(
            "Nothing of yours was saved yet. What you typed still stands below; save it again to keep it.",
        ),
        versions=both_versions(_FIELDS, fields, stands),
        typed=fields,
    )


def _shown(
    request: Request, seat: Seat, card: CustomerCard, said: Said | None = None, status: int = 200
) -> HTMLResponse:
    context = customer_context(card, seat, said)
    return page(request, "customers/customer.html", context, place=Place.CUSTOMERS, status=status)


def _read(seat: Seat, customer_id: int) -> CustomerCard:
    with session(seat.engine) as book:
        return read_card(book, customer_id)
