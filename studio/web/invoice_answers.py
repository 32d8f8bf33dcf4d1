"""The status and the sentence for what the book refuses of invoices and credit notes."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.invoice_errors import (
    CreditFirst,
    InvoicedAlready,
    InvoicePdfNotYet,
    InvoiceUnknown,
    NothingToCredit,
    NotInvoiced,
    NotOnAccount,
    PaymentInvoiced,
    WhyNotInvoiced,
    WhyNotOnAccount,
)
from studio.papers.money import money_words
from studio.web.echo import echo
from studio.web.errors import Declined

_NOT_INVOICED = {
    WhyNotInvoiced.NOT_AGREED: "Nobody has said yes to a quote of {number}, so there is nothing to invoice.",
    WhyNotInvoiced.OWED_NOT_SAID: "Say first what is owed of {number}, which was called off.",
    WhyNotInvoiced.NOTHING_OWED: "Nothing is owed of {number}. A credit note takes back what was invoiced.",
}
_NOT_ON_ACCOUNT = {
    WhyNotOnAccount.NOT_SET: "The studio makes no invoices for payments on account. The Studio page says so.",
    WhyNotOnAccount.GIVEN_BACK: "{payment} is money that was given back. Make a credit note for it.",
    WhyNotOnAccount.TAKEN_BACK: "{payment} was entered by mistake and taken back.",
    WhyNotOnAccount.AFTERWARDS: "The order is handed over or called off. Make its invoice, which counts"
    " {payment}.",
    WhyNotOnAccount.TOO_MUCH: "{payment} is more than is left to invoice of the order.",
}


def _unknown(error: InvoiceUnknown) -> Declined:
    said = echo(error.number)
    return Declined(404, f"There is no invoice {said}." if said else "There is no invoice of this number.")


def _credit_first(error: CreditFirst) -> Declined:
    more = money_words(error.asked_minor - error.left_minor, error.currency)
    asked, left = (money_words(minor, error.currency) for minor in (error.asked_minor, error.left_minor))
    return Declined(
        409,
        f"{asked} were invoiced on account, and {left} of that are owed and paid. Make a credit note over "
        f"{more} first.",
    )


def _nothing_to_credit(error: NothingToCredit) -> Declined:
    if error.is_credit_note:
        return Declined(409, f"{error.number} is a credit note. Make a new invoice instead.")
    return Declined(409, f"All of {error.number} is credited already.")


INVOICE_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    InvoiceUnknown: _unknown,
    InvoicePdfNotYet: lambda _: Declined(
        503,
        "This invoice is still being printed. Try again in a moment.",
        headers={"Retry-After": "2"},
        title="The invoice is not printed",
    ),
    NotInvoiced: lambda error: Declined(409, _NOT_INVOICED[error.why].format(number=error.number)),
    InvoicedAlready: lambda error: Declined(
        409, f"{error.number} has invoice {error.invoice}. Credit all of it before you make another."
    ),
    CreditFirst: _credit_first,
    NotOnAccount: lambda error: Declined(409, _NOT_ON_ACCOUNT[error.why].format(payment=error.payment)),
    PaymentInvoiced: lambda error: Declined(
        409, f"{error.payment} has an invoice of its own already, {error.invoice}."
    ),
    NothingToCredit: _nothing_to_credit,
}
