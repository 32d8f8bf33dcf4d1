"""The papers of an order on its page, what is held for the customer, and how more papers are made."""

from dataclasses import dataclass

from studio.book.document_values import MADE_ON_ASKING, Document, DocumentKind
from studio.book.documents import CLOSED
from studio.book.goods_to_take_in import stones_to_take_in, unanswered_stones
from studio.book.order_values import Order
from studio.craft.directions import apart
from studio.craft.goods import Good, shows
from studio.craft.metal_over_time import stated_minor
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.particulars import Stone
from studio.craft.roles import Right
from studio.craft.stones import stone_line
from studio.web.amounts import currency_sign, shown_amount
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import hour_words, joined

CONFIRMATION, RECEIPT, RETURN = (str(kind) for kind in MADE_ON_ASKING)
RECEIPT_FIELDS = ("goods", "goods_weight", "goods_condition", "goods_value", "goods_bag")
KIND_WORDS = {
    DocumentKind.CONFIRMATION: "Order confirmation",
    DocumentKind.RECEIPT: "Receipt for goods taken in",
    DocumentKind.RETURN: "Receipt for goods given back",
    DocumentKind.PAYMENT: "Receipt for money",
    DocumentKind.HAND_OVER: "Sheet of the hand-over",
}


@dataclass(frozen=True, slots=True)
class PaperLine:
    """One paper of the order: what it is, who made it when, and where it lies."""

    number: str
    href: str
    words: str
    made: str


@dataclass(frozen=True, slots=True)
class StoneToTakeIn:
    """One line of the customer's stones that may be taken in, with its box."""

    name: str
    words: str
    is_checked: bool
    value_name: str
    value: str
    value_error: str


@dataclass(frozen=True, slots=True)
class TakingInForm:
    """The form for a receipt. `waits` says which stones nobody took the risk of yet, '' where none."""

    stones: tuple[StoneToTakeIn, ...]
    goods: str
    weight: str
    condition: str
    value: str
    currency: str
    bag: str
    waits: str
    is_open: bool
    custody_href: str = "/custody"


@dataclass(frozen=True, slots=True)
class HeldLine:
    """One thing held for the customer, with the fields for giving it back."""

    words: str
    since: str
    photos: tuple[tuple[str, str], ...]
    photo_note: str
    back: str
    is_back: bool
    weight_name: str
    weight: str
    weight_error: str


@dataclass(frozen=True, slots=True)
class GivingBackForm:
    """The form for goods that go back; its lines are those of what is held."""

    note: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class PapersPart:
    """The papers of an order, for those who see them, and what is held for the customer, for everybody.

    `confirm` are the words of the button that makes a confirmation, '' where none can be made.
    """

    lines: tuple[PaperLine, ...]
    held: tuple[HeldLine, ...]
    confirm: str
    taking_in: TakingInForm | None
    giving_back: GivingBackForm | None
    lies_href: str

    @property
    def is_shown(self) -> bool:
        """Whether there is anything to see or to do."""
        return bool(self.lines or self.held or self.confirm or self.taking_in)


def papers_part(order: Order, seat: Seat, said: Said) -> PapersPart:
    """The papers and the goods of an order for who sits there."""
    may_make = seat.may(Right.QUOTE)
    has_papers = any(one.kind is DocumentKind.CONFIRMATION for one in order.documents)
    is_agreed = order.agreement is not None and order.state not in {*BEFORE_AGREEMENT, State.CALLED_OFF}
    confirm = "Make the confirmation again" if has_papers else "Make the confirmation"
    return PapersPart(
        lines=tuple(
            _line(one, seat) for one in reversed(order.documents) if one.kind is not DocumentKind.PAYMENT
        )
        if may_make
        else (),
        held=tuple(_held(good, order, seat, said) for good in order.goods_held),
        confirm=confirm if is_agreed and may_make else "",
        taking_in=_taking_in(order, said) if may_make and order.state not in CLOSED else None,
        giving_back=_giving_back(order, said) if may_make and order.goods_held else None,
        lies_href=f"/whereabouts?q={order.number}",
    )


def stone_field(ring: int, at: int) -> str:
    """The name of the box that takes a stone in: 'take-1-2'."""
    return f"take-{ring}-{at}"


def value_field(ring: int, at: int) -> str:
    """The name of the field for what a stone is worth: 'take_value-1-2'."""
    return f"take_value-{ring}-{at}"


def back_field(good: Good) -> str:
    """The name of the box that gives a line back: 'back-r1-2'."""
    return f"back-{_short(good)}"


def weight_field(good: Good) -> str:
    """The name of the field for what a line weighs when it goes back: 'back_weight-r1-2'."""
    return f"back_weight-{_short(good)}"


def _short(good: Good) -> str:
    return f"{good.receipt.rpartition('-')[2]}-{good.place}"


def _line(one: Document, seat: Seat) -> PaperLine:
    return PaperLine(
        number=one.number,
        href=f"/documents/{one.number}.pdf",
        words=KIND_WORDS[one.kind],
        made=f"made {hour_words(one.issued_at, seat.zone, seat.today)} by {apart(one.issued_by)}",
    )


def _held(good: Good, order: Order, seat: Seat, said: Said) -> HeldLine:
    taken = next(one for one in order.documents if one.number == good.receipt)
    bag = f"bag or seal {apart(good.bag)}, " if good.bag else ""
    is_typed = "back_note" in said.typed
    photos = tuple(
        (f"/orders/{order.number}/pictures/{one.id}.jpg", f"Photo of {good.key}")
        for one in order.pictures
        if shows(one.note, good.key)
    )
    name = weight_field(good)
    return HeldLine(
        words=apart(good.line),
        since=f"{bag}taken in {day_words(taken.issued_at.date(), today=seat.today)}, {good.key}",
        photos=photos,
        photo_note="" if photos else f"No photo yet: add one under Pictures that shows {good.key}.",
        back=back_field(good),
        is_back=said.typed.get(back_field(good)) == "yes" if is_typed else len(order.goods_held) == 1,
        weight_name=name,
        weight=said.typed.get(name, ""),
        weight_error=said.error(name),
    )


def _taking_in(order: Order, said: Said) -> TakingInForm:
    is_typed = "goods" in said.typed
    errors = (said.error(name) for name in RECEIPT_FIELDS)
    unanswered = unanswered_stones(order)
    stones = tuple(
        StoneToTakeIn(
            stone_field(ring, at),
            f"Ring {ring}: {apart(stone_line(stone))}",
            is_checked=said.typed.get(stone_field(ring, at)) == "yes" if is_typed else True,
            value_name=value_field(ring, at),
            value=said.typed.get(value_field(ring, at), "" if is_typed else _stated(stone, order.currency)),
            value_error=said.error(value_field(ring, at)),
        )
        for ring, at, stone in stones_to_take_in(order)
    )
    return TakingInForm(
        stones=stones,
        goods=said.typed.get("goods", ""),
        weight=said.typed.get("goods_weight", ""),
        condition=said.typed.get("goods_condition", ""),
        value=said.typed.get("goods_value", ""),
        currency=currency_sign(order.currency),
        bag=said.typed.get("goods_bag", ""),
        waits=f"who bears the risk of setting: {joined([apart(one) for one in unanswered])}"
        if unanswered
        else "",
        is_open=is_typed or any(errors) or bool(stones),
    )


def _stated(stone: Stone, currency: str) -> str:
    """What the stone was said to be worth, where that is one amount, as its field takes it."""
    minor = stated_minor(stone.value, currency, currency_sign(currency))
    return "" if minor is None else shown_amount(minor, currency)


def _giving_back(order: Order, said: Said) -> GivingBackForm:
    is_over = order.state in CLOSED
    return GivingBackForm(note=said.typed.get("back_note", ""), is_open="back_note" in said.typed or is_over)
