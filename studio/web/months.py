"""The books of a month: what was invoiced, credited and paid, for the owner and whoever keeps the books."""

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.custody import custody_head
from studio.book.engine import session
from studio.book.invoice_values import Invoice
from studio.book.ledger_reads import ledger_head_row
from studio.book.months import Month, MonthOfYear, PaidLine, month_of
from studio.craft.directions import apart
from studio.craft.invoicing import Taxed
from studio.craft.roles import Right
from studio.papers.days import MONTHS
from studio.papers.invoice import KIND_WORDS, percent_words
from studio.papers.money import money_words
from studio.web.days import day_words
from studio.web.errors import Declined
from studio.web.ledger_words import HeadWords, head_of_chain
from studio.web.month_csv import month_csv
from studio.web.render import Place, page
from studio.web.security import Seat, requires

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_BOOKS)]
_MONTH = re.compile(r"([12][0-9]{3})-(0[1-9]|1[0-2])")
FIRST, LAST = MonthOfYear(1900, 1), MonthOfYear(2899, 12)


@dataclass(frozen=True, slots=True)
class MonthInvoice:
    """One invoice or credit note of the month."""

    number: str
    href: str
    kind: str
    day: str
    order: str
    order_href: str
    customer: str
    net: str
    tax: str
    total: str
    note: str


@dataclass(frozen=True, slots=True)
class MonthPayment:
    """One payment of the month."""

    number: str
    day: str
    order: str
    order_href: str
    customer: str
    method: str
    reference: str
    amount: str


@dataclass(frozen=True, slots=True)
class MonthRate:
    """What was invoiced at one rate, or at all rates together."""

    words: str
    net: str
    tax: str
    total: str


@dataclass(frozen=True, slots=True)
class MonthMethod:
    """What was paid by one method."""

    words: str
    amount: str


@dataclass(frozen=True, slots=True)
class MonthPage:
    """The books of one month."""

    title: str
    heading: str
    csv_href: str
    before: tuple[str, str]
    after: tuple[str, str]
    invoices: tuple[MonthInvoice, ...]
    rates: tuple[MonthRate, ...]
    payments: tuple[MonthPayment, ...]
    methods: tuple[MonthMethod, ...]
    metal_href: str
    metal: HeadWords | None
    goods: HeadWords | None
    custody_href: str = "/custody"


@router.get("/studio/months/{month}.csv", response_class=Response)
def listed(month: str, seat: Keeper) -> Response:
    """The month's invoices, credit notes and payments as CSV."""
    asked = read_month(month)
    with session(seat.engine) as book:
        found = month_of(book, asked)
    headers = {"Content-Disposition": f'attachment; filename="{asked}.csv"'}
    return Response(month_csv(found), media_type="text/csv; charset=utf-8", headers=headers)


@router.get("/studio/months/{month}", response_class=HTMLResponse)
def shown(request: Request, month: str, seat: Keeper) -> Response:
    """The month's invoices, credit notes and payments, with their sums by rate and by method."""
    asked = read_month(month)
    with session(seat.engine) as book:
        found = month_of(book, asked)
        last = ledger_head_row(book, until=asked.last), custody_head(book, until=asked.last)
    metal, goods = (None if one is None else head_of_chain(one, seat.zone) for one in last)
    context = month_context(found, seat, metal=metal, goods=goods)
    return page(request, "months/page.html", context, place=Place.STUDIO)


def read_month(text: str) -> MonthOfYear:
    """A month as the address has it, '2026-11'; 404 for what is none."""
    found = _MONTH.fullmatch(text)
    asked = None if found is None else MonthOfYear(int(found[1]), int(found[2]))
    if asked is None or not FIRST < asked < LAST:
        raise Declined(404, "There is no such month. One is written 2026-11.")
    return asked


def month_words(of: MonthOfYear) -> str:
    """'November 2026'."""
    return f"{MONTHS[of.month - 1]} {of.year}"


def this_month_href(today: date) -> str:
    """Where the books of this month stand."""
    return f"/studio/months/{MonthOfYear(today.year, today.month)}"


def month_context(found: Month, seat: Seat, *, metal: HeadWords | None, goods: HeadWords | None) -> MonthPage:
    """The books of a month as the page shows them, with the heads of both chains at its end."""
    before, after = found.of.moved(-1), found.of.moved(1)
    return MonthPage(
        title=f"Books of {month_words(found.of)}",
        heading=f"Books of {month_words(found.of)}",
        csv_href=f"/studio/months/{found.of}.csv",
        before=(f"/studio/months/{before}", month_words(before)),
        after=(f"/studio/months/{after}", month_words(after)),
        invoices=tuple(_invoice(one, seat) for one in found.invoices),
        rates=tuple(_rates(found)),
        payments=tuple(_payment(one, seat) for one in found.payments),
        methods=tuple(
            MonthMethod(str(one.method).capitalize(), money_words(one.amount_minor, one.currency))
            for one in found.methods
        ),
        metal_href=f"/metal/ledger/{found.of}",
        metal=metal,
        goods=goods,
    )


def _invoice(one: Invoice, seat: Seat) -> MonthInvoice:
    net, tax, total = _amounts(one.taxed, one.currency)
    return MonthInvoice(
        number=one.number,
        href=f"/invoices/{one.number}.pdf",
        kind=KIND_WORDS[one.kind],
        day=day_words(one.issued_on, today=seat.today),
        order=one.order_number,
        order_href=f"/orders/{one.order_number}",
        customer=apart(one.customer),
        net=net,
        tax=tax,
        total=total,
        note=f"takes back {one.credits}: {apart(one.reason)}" if one.credits else "",
    )


def _rates(found: Month) -> list[MonthRate]:
    rows = [
        MonthRate(f"At {percent_words(one.at.percent)}", *_amounts(one.at.taxed, one.currency))
        for one in found.rates
    ]
    rows += [
        MonthRate("Together", *_amounts(found.invoiced(currency), currency))
        for currency in found.currencies
        if sum(one.currency == currency for one in found.rates) > 1
    ]
    return rows


def _payment(one: PaidLine, seat: Seat) -> MonthPayment:
    return MonthPayment(
        number=one.number,
        day=day_words(one.on, today=seat.today),
        order=one.order_number,
        order_href=f"/orders/{one.order_number}",
        customer=apart(one.customer),
        method=str(one.method),
        reference=apart(one.reference),
        amount=money_words(one.amount_minor, one.currency),
    )


def _amounts(taxed: Taxed, currency: str) -> tuple[str, str, str]:
    net, tax, total = (
        money_words(minor, currency) for minor in (taxed.net_minor, taxed.tax_minor, taxed.gross_minor)
    )
    return net, tax, total
