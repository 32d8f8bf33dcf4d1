"""The status and the sentence for what the book refuses of an order's documents."""

from collections.abc import Callable
from typing import Any

from studio.book.document_errors import (
    DocumentPdfNotYet,
    DocumentUnknown,
    GoodsStand,
    NothingHeld,
    NothingTakenIn,
    NothingToConfirm,
    RiskUnanswered,
)
from studio.book.errors import BookError
from studio.craft.directions import apart
from studio.craft.orders import BEFORE_AGREEMENT
from studio.web.echo import echo
from studio.web.errors import Declined


def _unknown(error: DocumentUnknown) -> Declined:
    said = echo(error.number)
    return Declined(404, f"There is no paper {said}." if said else "There is no paper with this number.")


def _nothing_to_confirm(error: NothingToConfirm) -> Declined:
    if error.state in BEFORE_AGREEMENT:
        return Declined(409, f"{error.number} is not agreed yet; it is confirmed after the yes.")
    return Declined(409, f"{error.number} is {error.state}: there is no yes to a quote of it to confirm.")


def _risk_unanswered(error: RiskUnanswered) -> Declined:
    stones = "; ".join(apart(stone) for stone in error.stones)
    return Declined(409, f"Say first who bears the risk of setting these stones of the customer's: {stones}.")


DOCUMENT_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    DocumentUnknown: _unknown,
    DocumentPdfNotYet: lambda _: Declined(
        503,
        "This paper is still being made. Try again in a moment.",
        headers={"Retry-After": "2"},
        title="The paper is not made",
    ),
    NothingToConfirm: _nothing_to_confirm,
    GoodsStand: lambda error: Declined(
        409, f"The order is {error.state}, so nothing more is taken in for it."
    ),
    RiskUnanswered: _risk_unanswered,
    NothingTakenIn: lambda _: Declined(
        422, "Nothing is there to take in: mark a stone, or say what else was handed in.", field="goods"
    ),
    NothingHeld: lambda error: Declined(409, f"Nothing of the customer's is held for {error.number}."),
}
