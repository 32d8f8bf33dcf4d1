"""What the API takes of a ring beyond its metal: finish, inscription, stones, and which ring it mends."""

from typing import Annotated, Any

from pydantic import WithJsonSchema

from studio.craft.inscriptions import LONGEST as LONGEST_INSCRIPTION
from studio.craft.mends import LONGEST_WORDS, Cause, MendKind, PaidBy
from studio.craft.particulars import Face, Lettering, MarkPlace, MarkWish, Risk, Setting, Surface, Whose
from studio.web.api_fields import In, Length, Truth, Words, one_of, text_of


class FinishIn(In):
    """How the faces of a ring are finished; a face left out was not asked yet."""

    inside: Annotated[Any, one_of(*Surface)] = None
    outside: Annotated[Any, one_of(*Surface)] = None


class InscriptionIn(In):
    """Words on the ring, sign by sign; without text none is wanted."""

    text: Annotated[Any, text_of(LONGEST_INSCRIPTION)] = None
    face: Annotated[Any, one_of(*Face)] = None
    lettering: Annotated[Any, one_of(*Lettering)] = None
    letter_mm: Length = None
    read_back: Truth = None


class StoneIn(In):
    """Equal stones of a ring."""

    count: Annotated[Any, WithJsonSchema({"type": ["integer", "null"]})] = None
    whose: Annotated[Any, one_of(*Whose)] = None
    shape: Words = None
    size: Words = None
    stated: Words = None
    tested: Words = None
    condition: Words = None
    value: Words = None
    setting: Annotated[Any, one_of(*Setting)] = None
    risk: Annotated[Any, one_of(*Risk)] = None


class MarksIn(In):
    """The marks of a ring; left out, a hallmark as the rule asks and the sponsor's mark, inside."""

    hallmark: Annotated[Any, one_of(*MarkWish)] = None
    sponsor: Truth = None
    where: Annotated[Any, one_of(*MarkPlace)] = None


class MendsIn(In):
    """The earlier ring an order mends: the order's number and the ring's place, 1 where it is left out.

    Without `kind` it is a remake. The cause 'other' wants `words`.
    """

    order: Annotated[Any, text_of(14)] = None
    ring: Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 1})] = None
    kind: Annotated[Any, one_of(*MendKind)] = None
    cause: Annotated[Any, one_of(*Cause)] = None
    words: Annotated[Any, text_of(LONGEST_WORDS)] = None
    paid_by: Annotated[Any, one_of(*PaidBy)] = None
