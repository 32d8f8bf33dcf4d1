"""The status and the sentence for what the book refuses of proofs, hand-overs and answers on the fit."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.making_errors import NothingToProve, NotToHandOver, NotWorn, ProofChanged
from studio.web.errors import Declined

MAKING_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    NothingToProve: lambda error: Declined(
        409, f"Ring {error.position} has no words that are still to be cut."
    ),
    ProofChanged: lambda _: Declined(
        409, "The words were changed meanwhile. Print the proof again and read it back."
    ),
    NotToHandOver: lambda error: Declined(
        409, f"The order is {error.state}. Only what is ready is handed over."
    ),
    NotWorn: lambda error: Declined(
        409, f"Ring {error.position} of {error.number} is not handed over: nobody has worn it yet."
    ),
}
