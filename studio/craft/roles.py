"""Who may do what."""

from enum import StrEnum


class Role(StrEnum):
    """What a person is in the studio."""

    OWNER = "owner"
    COUNTER = "counter"
    MAKER = "maker"


class Right(StrEnum):
    """One thing a role may do. Every route names the right it asks for."""

    SEE_ORDERS = "see orders"  # rings, sizes, days, states
    SEE_CONTACT = "see contact"  # phone, e-mail, the customers' page
    TAKE_ORDERS = "take orders"  # write drafts, change them, call off
    QUOTE = "quote"  # read back and issue a quote, note how it was sent
    AGREE = "agree"  # note the customer's yes and the deposit
    SEE_PRICE = "see price"  # what the customer pays: totals, quotes, deposits
    SEE_COST = "see cost"  # what it costs and earns: metal, labour, margin, rates behind a price
    KEEP_RATES = "keep rates"  # the studio's figures: rates, minutes, metal prices, its name on papers
    MOVE_ORDERS = "move orders"  # to the bench, ready
    HAND_OVER = "hand over"
    SEE_WEEK = "see week"
    PRINT_BENCH_SHEETS = "print bench sheets"
    KEEP_DRAWER = "keep drawer"  # pieces of stock, what is set aside and what was cut
    RECKON = "reckon"  # sizes, alloys, reckonings
    KEEP_BOOKS = "keep books"  # the invoices and payments of a month, for the accountant
    KEEP_PEOPLE = "keep people"  # users, one-time links, tokens


_EVERYONE = frozenset(
    {
        Right.SEE_ORDERS,
        Right.MOVE_ORDERS,
        Right.SEE_WEEK,
        Right.PRINT_BENCH_SHEETS,
        Right.KEEP_DRAWER,
        Right.RECKON,
    }
)

RIGHTS: dict[Role, frozenset[Right]] = {
    Role.OWNER: frozenset(Right),
    Role.COUNTER: _EVERYONE
    | {
        Right.SEE_CONTACT,
        Right.TAKE_ORDERS,
        Right.SEE_PRICE,
        Right.QUOTE,
        Right.AGREE,
        Right.HAND_OVER,
    },
    Role.MAKER: _EVERYONE,
}


def may(role: Role, right: Right) -> bool:
    """Whether `role` carries `right`."""
    return right in RIGHTS[role]
