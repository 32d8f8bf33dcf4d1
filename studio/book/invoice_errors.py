"""What the book refuses of invoices and credit notes, as facts."""

from enum import Enum, auto

from studio.book.errors import BookError, NotFound
from studio.craft.orders import State


class InvoiceUnknown(NotFound):
    """No invoice or credit note has this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no invoice {number}")
        self.number = number


class InvoicePdfNotYet(BookError):
    """The invoice is issued, and its paper is not made yet."""

    def __init__(self, number: str) -> None:
        super().__init__(f"the paper of {number} is not made yet")
        self.number = number


class WhyNotInvoiced(Enum):
    """Why no invoice of an order is made."""

    NOT_AGREED = auto()  # nobody said yes to a quote of it
    OWED_NOT_SAID = auto()  # called off, and nobody said what is owed
    NOTHING_OWED = auto()


class NotInvoiced(BookError):
    """No invoice of the order can be made."""

    def __init__(self, number: str, state: State, why: WhyNotInvoiced) -> None:
        super().__init__(f"{number} is {state}: {why.name}")
        self.number = number
        self.state = state
        self.why = why


class InvoicedAlready(BookError):
    """The order has an invoice, `invoice`, that is not credited."""

    def __init__(self, number: str, invoice: str) -> None:
        super().__init__(f"{number} has invoice {invoice}")
        self.number = number
        self.invoice = invoice


class CreditFirst(BookError):
    """More was invoiced on account than the order comes to, or than was paid. Minor units of `currency`."""

    def __init__(self, number: str, asked_minor: int, left_minor: int, currency: str) -> None:
        super().__init__(f"{number}: {asked_minor} on account of {left_minor} {currency}")
        self.number = number
        self.asked_minor = asked_minor
        self.left_minor = left_minor
        self.currency = currency


class WhyNotOnAccount(Enum):
    """Why a payment has no invoice of its own made."""

    NOT_SET = auto()  # the studio makes none
    GIVEN_BACK = auto()  # it is money that went back
    TAKEN_BACK = auto()  # it was entered by mistake
    AFTERWARDS = auto()  # the goods were handed over before, or the order called off
    TOO_MUCH = auto()  # more than is left to invoice


class NotOnAccount(BookError):
    """No invoice of its own is made for the payment."""

    def __init__(self, payment: str, why: WhyNotOnAccount) -> None:
        super().__init__(f"{payment}: {why.name}")
        self.payment = payment
        self.why = why


class PaymentInvoiced(BookError):
    """The payment has its invoice, `invoice`."""

    def __init__(self, payment: str, invoice: str) -> None:
        super().__init__(f"{payment} has invoice {invoice}")
        self.payment = payment
        self.invoice = invoice


class NothingToCredit(BookError):
    """A credit note is not credited itself, nor an invoice of which all was taken back."""

    def __init__(self, number: str, *, is_credit_note: bool) -> None:
        super().__init__(f"nothing of {number} is to be credited")
        self.number = number
        self.is_credit_note = is_credit_note
