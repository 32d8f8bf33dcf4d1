"""The verbs of invoices: the invoice of an order, that of a payment on account, and the credit note.

Number and frozen facts are saved together; the paper is made from the facts afterwards and kept. Nothing that
was issued is changed or deleted: a credit note takes it back. None of them changes the order's version.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.customer_tables import CustomerRow
from studio.book.customers import put_contact
from studio.book.invoice_errors import (
    CreditFirst,
    InvoicedAlready,
    InvoiceUnknown,
    NothingToCredit,
    NotOnAccount,
    PaymentInvoiced,
    WhyNotOnAccount,
)
from studio.book.invoice_facts import charged, invoice_facts, on_account_of, standing_invoice
from studio.book.invoice_numbers import InvoiceNumber, next_invoice_number
from studio.book.invoice_reads import invoice, sums_kept
from studio.book.invoice_tables import InvoicePaperRow, InvoiceRow
from studio.book.invoice_values import Invoice
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import CustomerDraft, Order
from studio.book.order_writing import locked_order
from studio.book.payment_errors import PaymentUnknown
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Payment
from studio.book.payment_writing import checked_why
from studio.book.plain_values import as_plain, from_plain
from studio.book.quote_reads import sha256_of
from studio.book.studio import Studio, studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.invoicing import (
    AtRate,
    InvoiceExceeded,
    InvoiceKind,
    InvoiceLine,
    by_rate,
    credited,
    on_account,
    order_invoice,
)
from studio.craft.money import from_minor
from studio.craft.orders import State
from studio.papers.invoice import Before, InvoiceFacts, invoice_paper, invoice_to_print
from studio.papers.paper import Paper

_VERBS: Mapping[InvoiceKind, str] = {
    InvoiceKind.INVOICE: "issue an invoice",
    InvoiceKind.ON_ACCOUNT: "issue an invoice on account",
    InvoiceKind.CREDIT_NOTE: "issue a credit note",
}


def issue_invoice(
    session: Session, *, number: str, address: str | None = None, actor: Actor, now: datetime
) -> Invoice:
    """Issue the invoice of an agreed order, or of what is owed of one that was called off.

    An `address` is the customer's from now on.
    Raises `OrderUnknown`; `NotInvoiced`; `InvoicedAlready` where one is not credited; `CreditFirst` where
    more was invoiced on account than the order comes to now, or than was paid.
    """
    with transaction(session):
        row = locked_order(session, number, None)
        _put_address(session, row, address, actor=actor, now=now)
        found, facts = order(session, number), studio(session)
        before = standing_invoice(found)
        if before is not None:
            raise InvoicedAlready(number, before.number)
        comes_to = charged(session, found, facts)
        try:
            made = order_invoice(
                comes_to.lines, before=on_account_of(found), paid_minor=found.account.paid_minor
            )
        except InvoiceExceeded as more:
            raise CreditFirst(number, more.asked_minor, more.left_minor, comes_to.currency) from more
        kind = InvoiceKind.INVOICE
        taken = _next(session, facts, now)
        issued_on = {one.number: one.issued_on for one in found.invoices}
        told = replace(
            invoice_facts(found, facts, kind=kind, number=str(taken), now=now, currency=comes_to.currency),
            lines=made.lines,
            on_account=tuple(
                Before(one.number, issued_on[one.number], one.percent, one.taxed) for one in made.on_account
            ),
            paid_minor=made.otherwise_paid_minor,
        )
        _put(session, row, taken, told, made.sums, actor=actor, now=now)
    return invoice(session, str(taken))


def issue_on_account(
    session: Session, *, payment: str, address: str | None = None, actor: Actor, now: datetime
) -> Invoice:
    """Issue the invoice for a payment that came before the hand-over: once, at the rate that was agreed.

    An `address` is the customer's from now on.
    Raises `PaymentUnknown`; `PaymentInvoiced`; `NotOnAccount`; `NotInvoiced`; `InvoicedAlready` where the
    order's own invoice stands, which counts the payment.
    """
    with transaction(session):
        row = _order_of(session, payment)
        _put_address(session, row, address, actor=actor, now=now)
        found, facts = order(session, row.number), studio(session)
        paid = next(one for one in found.payments if one.number == payment)
        _check_on_account(found, facts, paid)
        comes_to = charged(session, found, facts)
        try:
            taxed = on_account(
                paid.amount_minor, comes_to.percent, whole=comes_to.whole, before=on_account_of(found)
            )
        except InvoiceExceeded as more:
            raise NotOnAccount(payment, WhyNotOnAccount.TOO_MUCH) from more
        taken = _next(session, facts, now)
        kind, currency = InvoiceKind.ON_ACCOUNT, comes_to.currency
        told = replace(
            invoice_facts(found, facts, kind=kind, number=str(taken), now=now, currency=currency),
            lines=(InvoiceLine(f"Payment on account of order {found.number}", comes_to.percent, taxed),),
            paid_on=paid.on,
            paid_minor=paid.amount_minor,
        )
        sums = (AtRate(comes_to.percent, taxed),)
        _put(session, row, taken, told, sums, payment=payment, actor=actor, now=now)
    return invoice(session, str(taken))


def issue_credit_note(
    session: Session, *, number: str, gross_minor: int | None, why: str, actor: Actor, now: datetime
) -> Invoice:
    """Issue a credit note that takes back `gross_minor` of an invoice with its tax; None: all that is left.

    Raises `InvoiceUnknown`; `NothingToCredit`; `Refused` for an amount not above 0 or above what is left
    ('amount_minor'), and where the reason is missing or too long ('why').
    """
    reason = checked_why(why)
    with transaction(session):
        order_number = invoice(session, number).order_number
        row = locked_order(session, order_number, None)
        found, facts = order(session, order_number), studio(session)
        whole = next(one for one in found.invoices if one.number == number)
        if not whole.is_to_credit:
            raise NothingToCredit(number, is_credit_note=whole.kind is InvoiceKind.CREDIT_NOTE)
        back = _credited(whole, gross_minor)
        taken = _next(session, facts, now)
        kind, currency = InvoiceKind.CREDIT_NOTE, whole.currency
        of = "Invoice" if gross_minor is None and not whole.notes else "Part of invoice"
        told = replace(
            invoice_facts(found, facts, kind=kind, number=str(taken), now=now, currency=currency),
            customer=whole.customer,
            lines=tuple(InvoiceLine(f"{of} {number}", one.percent, one.taxed) for one in back),
            credits=Before(number, whole.issued_on),
            reason=reason,
        )
        sums = tuple(AtRate(one.percent, -one.taxed) for one in back)
        _put(session, row, taken, told, sums, takes_back=number, reason=reason, actor=actor, now=now)
    return invoice(session, str(taken))


def issued_invoice_to_print(session: Session, number: str) -> Paper:
    """The paper of an invoice, as it stood when it was issued. Raises `InvoiceUnknown`."""
    frozen = session.exec(select(InvoiceRow.frozen).where(col(InvoiceRow.number) == number)).one_or_none()
    if frozen is None:
        raise InvoiceUnknown(number)
    return invoice_to_print(invoice_paper(from_plain(InvoiceFacts, frozen)))


def put_invoice_pdf(session: Session, *, number: str, pdf: bytes, now: datetime) -> Invoice:
    """Keep the paper of an invoice. One that is there already stays as it is. Raises `InvoiceUnknown`."""
    with transaction(session):
        row = _row(session, number)
        if session.get(InvoicePaperRow, row.id) is None:
            session.add(InvoicePaperRow(invoice_id=row.id, pdf=pdf, sha256=sha256_of(pdf), rendered_at=now))
    return invoice(session, number)


def _check_on_account(found: Order, facts: Studio, paid: Payment) -> None:
    before = next((one for one in found.invoices if one.payment == paid.number), None)
    if before is not None:
        raise PaymentInvoiced(paid.number, before.number)
    if not facts.invoices_on_account:
        raise NotOnAccount(paid.number, WhyNotOnAccount.NOT_SET)
    if not paid.counts:
        raise NotOnAccount(paid.number, WhyNotOnAccount.TAKEN_BACK)
    if paid.amount_minor < 0:
        raise NotOnAccount(paid.number, WhyNotOnAccount.GIVEN_BACK)
    if found.state in {State.HANDED_OVER, State.CALLED_OFF}:
        raise NotOnAccount(paid.number, WhyNotOnAccount.AFTERWARDS)
    whole = standing_invoice(found)
    if whole is not None:
        raise InvoicedAlready(found.number, whole.number)


def _credited(whole: Invoice, gross_minor: int | None) -> tuple[AtRate, ...]:
    before_minor, left_minor = whole.taken_back.gross_minor, whole.left.gross_minor
    if gross_minor is not None and not 0 < gross_minor <= left_minor:
        most = float(from_minor(left_minor, whole.currency))
        typed = str(from_minor(gross_minor, whole.currency))[:24]
        why = Why.NOT_ABOVE_ZERO if gross_minor <= 0 else Why.TOO_LARGE
        raise Refused(Refusal("amount_minor", why, typed, 0, most, whole.currency))
    return credited(whole.sums, gross_minor or 0, before_minor=before_minor, is_whole=gross_minor is None)


def _next(session: Session, facts: Studio, now: datetime) -> InvoiceNumber:
    return next_invoice_number(session, facts.invoice_prefix, day_of(now, facts.time_zone).year)


def _put(
    session: Session,
    row: OrderRow,
    taken: InvoiceNumber,
    told: InvoiceFacts,
    sums: Sequence[AtRate],
    *,
    payment: str | None = None,
    takes_back: str | None = None,
    reason: str = "",
    actor: Actor,
    now: datetime,
) -> None:
    """Write the invoice into the transaction that is open, with its entry in the order's history."""
    signed = by_rate(sums)
    session.add(
        InvoiceRow(
            number=str(taken),
            year=taken.year,
            serial=taken.serial,
            order_id=row.id,
            kind=told.kind,
            issued_at=now,
            issued_on=told.issued_on,
            user_id=actor.id,
            actor=actor.name,
            customer=told.customer,
            currency=told.currency,
            net_minor=sum(one.taxed.net_minor for one in signed),
            tax_minor=sum(one.taxed.tax_minor for one in signed),
            sums=sums_kept(signed),
            payment=payment,
            credits_id=None if takes_back is None else _row(session, takes_back).id,
            reason=reason,
            frozen=as_plain(told),
        )
    )
    row.changed_at = now
    session.add(row)
    session.flush()
    new: dict[str, object] = {"invoice": str(taken)}
    if payment is not None:
        new["payment"] = payment
    if takes_back is not None:
        new["credits"] = takes_back
    verb = _VERBS[told.kind]
    note(session, actor=actor, now=now, verb=verb, order_id=row.id, new=new, reason=reason or None)


def _put_address(
    session: Session, row: OrderRow, address: str | None, *, actor: Actor, now: datetime
) -> None:
    if address:
        whose = session.get_one(CustomerRow, row.customer_id)
        draft = CustomerDraft(whose.name, whose.phone, whose.email, address)
        put_contact(session, whose, draft, actor=actor, now=now)


def _order_of(session: Session, payment: str) -> OrderRow:
    """The row of the payment's order, locked."""
    found = session.exec(
        select(OrderRow.number)
        .join(PaymentRow, col(PaymentRow.order_id) == col(OrderRow.id))
        .where(col(PaymentRow.number) == payment)
    ).one_or_none()
    if found is None:
        raise PaymentUnknown(payment)
    return locked_order(session, found, None)


def _row(session: Session, number: str) -> InvoiceRow:
    row = session.exec(
        select(InvoiceRow).where(col(InvoiceRow.number) == number).with_for_update()
    ).one_or_none()
    if row is None:
        raise InvoiceUnknown(number)
    return row
