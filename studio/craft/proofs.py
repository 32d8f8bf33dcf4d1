"""The proof of an inscription, read back and signed: whether it still speaks of the words that are cut."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from studio.craft.operations import Does, Operation
from studio.craft.particulars import Inscription

LONGEST_READER = 120


@dataclass(frozen=True, slots=True)
class Proof:
    """A proof that was read back: of which words, sign by sign, by whom, when (UTC), and who ticked it."""

    position: int
    text: str
    read_by: str
    signed_at: datetime
    noted_by: str


def standing_proof(proofs: Iterable[Proof], words: Inscription | None) -> Proof | None:
    """The last proof that was signed of exactly these words, the first first; None where there is none.

    Words changed afterwards void it: signed of 'Ada & Jon', nothing stands for 'Ada & Jón'. Put back as they
    were, they are those that were signed.
    """
    if words is None:
        return None
    return next((one for one in reversed(tuple(proofs)) if one.text == words.text), None)


def waits_for_proof(operation: Operation, words: Inscription | None, proof: Proof | None) -> bool:
    """Whether the step cuts the words of the ring, and nobody signed a proof of them that stands."""
    return words is not None and proof is None and Does.ENGRAVES in operation.does
