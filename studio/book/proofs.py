"""The proof of an inscription: read back, signed, and ticked before the words may be cut."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.making_errors import NothingToProve, ProofChanged
from studio.book.making_tables import InscriptionProofRow
from studio.book.order_writing import locked_order, one_line
from studio.book.ring_reads import rings_of
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import State
from studio.craft.proofs import LONGEST_READER, Proof

_OVER = frozenset({State.HANDED_OVER, State.CALLED_OFF})


def sign_proof(
    session: Session, *, number: str, position: int, text: str, read_by: str, actor: Actor, now: datetime
) -> Proof:
    """Note that the proof of ring `position` was read back and signed, of exactly `text`, by `read_by`.

    Words that are changed afterwards void it (`standing_proof`). The order's version does not move, so its
    sheets stand. Raises `OrderUnknown`; `NothingToProve` without words to cut, or once the order is over;
    `ProofChanged` where the ring's words are not `text` any more; `Refused` for a name that is missing or too
    long: 'read_by'.
    """
    reader = one_line(read_by) or ""
    with transaction(session):
        row = locked_order(session, number, None)
        ring = next((one for one in rings_of(session, row.id) if one.position == position), None)
        words = None if ring is None or row.state in _OVER else ring.particulars.words_to_cut
        if words is None:
            raise NothingToProve(number, position)
        if words.text != text:
            raise ProofChanged(number, position)
        if not reader:
            raise Refused(Refusal("read_by", Why.EMPTY))
        if len(reader) > LONGEST_READER:
            raise Refused(Refusal("read_by", Why.TOO_LONG, high=LONGEST_READER, unit="characters"))
        session.add(
            InscriptionProofRow(
                order_id=row.id,
                position=position,
                text=text,
                read_by=reader,
                signed_at=now,
                user_id=actor.id,
                actor=actor.name,
            )
        )
        note(
            session,
            actor=actor,
            now=now,
            verb="sign a proof",
            order_id=row.id,
            new={"ring": position, "text": text, "read_by": reader},
        )
    return Proof(position, text, reader, now, actor.name)
