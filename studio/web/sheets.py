"""Whether a printed bench sheet or label still holds: its square code says by what it was made."""

import re
from dataclasses import dataclass

from studio.book.order_values import Order
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.web.errors import Declined

_MADE_BY = re.compile(r"[qa][0-9]{1,4}")


@dataclass(frozen=True, slots=True)
class Void:
    """What stands over the order for who scanned a paper that holds no more.

    `sheet_href` and `label_href` are the papers that hold now, '' where there is nothing to make.
    """

    sentences: tuple[str, ...]
    sheet_href: str = ""
    label_href: str = ""


def sheet_path(order: Order) -> str:
    """The address in the square code of a sheet: '/orders/2026-118?sheet=a1' after the first amendment."""
    made_by = _made_by(order)
    return f"/orders/{order.number}" + (f"?sheet={made_by}" if made_by else "")


def amended_by(order: Order) -> str:
    """The number of the amendment that is agreed, '' where a quote is."""
    agreement = order.agreement
    return agreement.quote_number if agreement is not None and agreement.is_amended else ""


def check_has_sheet(order: Order) -> None:
    """Raises `Declined` (409) before the order is agreed and once it is called off: nothing is to be made."""
    current = {"number": order.number, "state": order.state, "version": order.version}
    if order.state in BEFORE_AGREEMENT:
        sentence = f"{order.number} is not agreed yet; the bench sheet comes after the yes."
        raise Declined(409, sentence, current=current)
    if order.state is State.CALLED_OFF:
        raise Declined(409, f"{order.number} is called off; there is nothing to make.", current=current)


def void_of(order: Order, sheet: str) -> Void | None:
    """What is told to who scans a paper of the bench that holds no more; None for one that does.

    `sheet` is what the code says: 'q1', 'a2'; anything else says nothing.
    """
    if not _MADE_BY.fullmatch(sheet):
        return None
    if order.state is State.CALLED_OFF:
        return Void((f"{order.number} is called off. Make nothing from it.",))
    made_by, printed_from = _made_by(order), f"It was printed from {order.number}-{sheet}"
    if order.state in BEFORE_AGREEMENT:
        return Void((f"{printed_from}; nothing is agreed now. Make nothing from it.",))
    if sheet == made_by or not made_by:
        return None
    return Void(
        (f"{printed_from}; {order.number}-{made_by} is agreed now.", "Throw it away and take the new one."),
        sheet_href=f"/orders/{order.number}/bench-sheet.pdf",
        label_href=f"/orders/{order.number}/label.pdf",
    )


def _made_by(order: Order) -> str:
    """What the order is made by, the last part of its number: 'q1', 'a2', '' without an agreed quote."""
    return "" if order.agreement is None else order.agreement.quote_number.removeprefix(f"{order.number}-")
