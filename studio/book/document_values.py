"""What a document of an order is when read or asked for: frozen values, never rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from studio.craft.goods import GivenBack, Good


class DocumentKind(StrEnum):
    """The papers of an order besides its quotes and amendments."""

    CONFIRMATION = "confirmation"
    RECEIPT = "receipt"  # goods of the customer's that were taken in
    RETURN = "return"  # and given back
    PAYMENT = "payment"  # a receipt for money taken or given back
    HAND_OVER = "hand-over"  # what was made, how to look after it, and what went back with it


MADE_ON_ASKING = (DocumentKind.CONFIRMATION, DocumentKind.RECEIPT, DocumentKind.RETURN)
"""Those somebody asks for; a receipt for money is made with its payment, a sheet with its hand-over."""
GIVES_BACK = (DocumentKind.RETURN, DocumentKind.HAND_OVER)
"""Those whose lines are goods that went back."""
LETTERS: Mapping[DocumentKind, str] = {
    DocumentKind.CONFIRMATION: "c",
    DocumentKind.RECEIPT: "r",
    DocumentKind.RETURN: "b",
    DocumentKind.PAYMENT: "p",
    DocumentKind.HAND_OVER: "h",
}
"""What stands before the count in a document's number: 2026-118-c1, -r1, -b1, -p1, -h1."""


@dataclass(frozen=True, slots=True)
class Document:
    """One document as issued, and who issued it when (UTC).

    `sha256` is that of the paper's bytes, None where the paper is not made yet. `taken_in` are the lines of a
    receipt, `given_back` those of a return or a hand-over.
    """

    number: str
    kind: DocumentKind
    revision: int
    issued_at: datetime
    issued_by: str
    sha256: str | None
    taken_in: tuple[Good, ...] = ()
    given_back: tuple[GivenBack, ...] = ()


@dataclass(frozen=True, slots=True)
class DocumentDraft:
    """A document before it is issued, and the version of the order it was made from.

    `frozen` is what the book will keep of it, as plain JSON values; the paper is made from it alone. `goods`
    are its lines, in the same way.
    """

    number: str
    order_number: str
    kind: DocumentKind
    revision: int
    version: int
    issued_on: date
    frozen: Mapping[str, Any]
    goods: tuple[Mapping[str, Any], ...] = ()


@dataclass(frozen=True, slots=True)
class TakingIn:
    """What a receipt is asked for: which stones, other goods in words with their weight, the bag or seal.

    `stones` are places such as '1/2', the second stone of the first ring; None takes all that are not held
    yet. `values_minor` is what stones are worth, by their places, `value_minor` and `condition` are of the
    other goods.
    """

    stones: tuple[str, ...] | None = None
    words: str = ""
    weight_mg: int | None = None
    bag: str = ""
    condition: str = ""
    value_minor: int | None = None
    values_minor: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class GivingBack:
    """What goes back: by lines such as '2026-118-r1/2' what each weighs now, None where nobody weighed it.

    `lines` None gives everything back that is held.
    """

    lines: Mapping[str, int | None] | None = None
    note: str = ""
