"""The proof of a ring's inscription on its order's page and at the bench: who signed it, and the form."""

from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.craft.directions import apart
from studio.craft.orders import State
from studio.craft.proofs import standing_proof
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import since_words

_OVER = frozenset({State.HANDED_OVER, State.CALLED_OFF})


@dataclass(frozen=True, slots=True)
class ProofPart:
    """Whether the proof of the words is signed, in words, and the form that says so.

    `text` are the words that are read, sign by sign as they are to be cut; they go with the form. `waits`
    says that they may not be cut yet. `action` is '' where nothing can be signed here.
    """

    says: str
    waits: bool
    text: str
    paper_href: str
    action: str
    name: str
    reader: str
    error: str


def reader_field(position: int) -> str:
    """The name of the field for who read the words: 'proof-ring-1'."""
    return f"proof-ring-{position}"


def proof_part(
    order: Order, ring: OrderRing, seat: Seat, said: Said, *, action: str, name: str
) -> ProofPart | None:
    """The proof of the ring's words; None where there are none to cut. The reader offered is the customer."""
    words = ring.particulars.words_to_cut
    if words is None or order.state is State.CALLED_OFF:
        return None
    mine = [one for one in order.proofs if one.position == ring.position]
    proof = standing_proof(mine, words)
    if proof is not None:
        when = since_words(proof.signed_at, seat.zone, seat.today)
        ticked = "" if proof.noted_by == proof.read_by else f", ticked by {apart(proof.noted_by)}"
        says = f"The proof is read and signed by {apart(proof.read_by)}, {when}{ticked}."
    elif mine:
        says = "The words were changed since the proof was signed. It is to be read and signed anew."
    else:
        says = "The proof of the words is not signed yet: nothing is cut before."
    return ProofPart(
        says=says,
        waits=proof is None,
        text=words.text,
        paper_href=f"/orders/{order.number}/rings/{ring.position}/inscription.pdf",
        action="" if order.state in _OVER else action,
        name=name,
        reader=said.typed.get(name, order.customer.name),
        error=said.error(name),
    )
