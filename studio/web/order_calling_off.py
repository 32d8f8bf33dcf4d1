"""Calling an agreed order off, on its page: what it comes to, and where the metal goes."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from studio.book.calling_off import kept_by_stage
from studio.book.engine import session
from studio.book.order_values import Order
from studio.book.studio import studio
from studio.craft.calling_off import MetalTo, Settlement, Stage, metal_goes_to, settled, stage_of
from studio.craft.money import from_minor
from studio.craft.orders import AMENDABLE, State
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign, shown_percent
from studio.web.counter_choices import Choice
from studio.web.errors import FieldError, FieldErrors
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import hour_words

STAGE_WORDS = {
    Stage.AGREED: "agreed, nothing cut yet",
    Stage.CUT: "agreed, a blank is cut",
    Stage.AT_THE_BENCH: "at the bench",
    Stage.READY: "ready",
}
_METAL = (
    Choice(MetalTo.DRAWER, "back to the drawer"),
    Choice(MetalTo.SCRAP, "scrap, by weight"),
)
KeptTable = Mapping[Stage, Decimal | None]
"""Percent of the price owed at each stage; what is left out is not said."""
_ASK = "What may be kept is a matter of law: ask a professional."


@dataclass(frozen=True, slots=True)
class MetalChoice:
    """Where the cut blank of one ring goes."""

    name: str
    label: str
    chosen: str
    choices: tuple[Choice, ...] = _METAL


@dataclass(frozen=True, slots=True)
class CallOffForm:
    """What calling off would come to, in sentences, and the blanks that go somewhere."""

    sentences: tuple[str, ...]
    metal: tuple[MetalChoice, ...]


@dataclass(frozen=True, slots=True)
class CalledOffPart:
    """How the order was called off after the yes. `owed` is what stands in the field, as typed or kept."""

    sentences: tuple[str, ...]
    metal: tuple[str, ...]
    owed: str
    error: str
    sign: str
    is_open: bool
    may_settle: bool


def kept_table(order: Order, seat: Seat) -> KeptTable:
    """The studio's table of what is owed, for an order that can be called off after the yes."""
    if order.state not in AMENDABLE or not seat.may(Right.SEE_PRICE):
        return {}
    with session(seat.engine) as book:
        return kept_by_stage(studio(book))


def call_off_form(order: Order, seat: Seat, said: Said, table: KeptTable) -> CallOffForm | None:
    """What the page says before an agreed order is called off; None where nobody said yes to a quote."""
    stage = stage_of(order.state, (ring.is_cut for ring in order.rings))
    if stage is None or order.agreement is None:
        return None
    agreement = order.agreement
    sentences = [f"It is {STAGE_WORDS[stage]}."]
    if seat.may(Right.SEE_PRICE):
        paid = agreement.paid_minor
        owed = settled(stage, table, total_minor=agreement.total_minor, paid_minor=paid)
        if owed is None:
            sentences.append(
                "The studio has not said what it keeps then: say what is owed once it is called off."
            )
        else:
            share = shown_percent(table[stage] or Decimal(0))
            sentences.append(f"By the studio's table {share} % of the price is owed.")
            sentences.append(owed_words(owed, agreement.currency))
        sentences.append(_ASK)
    return CallOffForm(
        tuple(sentences),
        tuple(
            MetalChoice(
                metal_field(ring.position),
                "The blank" if len(order.rings) == 1 else f"The blank of ring {ring.position}",
                said.typed.get(metal_field(ring.position), metal_goes_to(stage)),
            )
            for ring in order.rings
            if ring.is_cut
        ),
    )


def called_off_part(order: Order, seat: Seat, said: Said) -> CalledOffPart | None:
    """What the page says after; None for an order that nobody had said yes to, or that is not called off."""
    found = order.calling_off
    if order.state is not State.CALLED_OFF or found is None:
        return None
    when = hour_words(found.called_off_at, seat.zone, seat.today)
    sentences = [f"Called off while {STAGE_WORDS[found.stage]}, {when}, by {found.actor}."]
    sees = seat.may(Right.SEE_PRICE)
    if sees and found.settlement is None:
        sentences.append("What is owed is not said yet.")
    elif sees and found.settlement is not None:
        by = "" if found.percent is None else f", {shown_percent(found.percent)} % by the studio's table"
        total = money_words(found.total_minor, found.currency)
        sentences.append(f"Agreed {total}{by}.")
        sentences.append(owed_words(found.settlement, found.currency))
    owed = "" if found.settlement is None else str(from_minor(found.settlement.owed_minor, found.currency))
    several = len(order.rings) > 1
    return CalledOffPart(
        sentences=tuple(sentences),
        metal=tuple(
            _metal_words(f"ring {one.ring}" if several else "the ring", one.to, one.mass_mg, one.piece)
            for one in found.metal
        ),
        owed=said.typed.get("owed", owed),
        error=said.error("owed"),
        sign=currency_sign(found.currency),
        is_open=sees and found.settlement is None,
        may_settle=seat.may(Right.AGREE),
    )


def owed_words(settlement: Settlement, currency: str) -> str:
    """What goes back, or is still to be paid: '£136.80 is owed, £547.20 was paid: £410.40 goes back'."""

    def money(minor: int) -> str:
        return money_words(minor, currency)

    start = f"{money(settlement.owed_minor)} is owed, {money(settlement.paid_minor)} was paid"
    if settlement.returned_minor:
        return f"{start}: {money(settlement.returned_minor)} goes back."
    if settlement.left_minor:
        return f"{start}: {money(settlement.left_minor)} is still to be paid."
    return f"{start}: nothing goes back, and nothing is left to pay."


def metal_field(position: int) -> str:
    """The name of the field that says where the blank of a ring goes: 'metal-2'."""
    return f"metal-{position}"


def read_metal(raw: Mapping[str, object], order: Order) -> dict[int, MetalTo]:
    """Where each cut blank goes, as chosen; what is left out goes where its stage says.

    Raises `FieldErrors` for what is no place.
    """
    found: dict[int, MetalTo] = {}
    for ring in order.rings:
        name = metal_field(ring.position)
        word = raw.get(name)
        if word in {None, ""}:
            continue
        if word not in set(MetalTo):
            raise FieldErrors([FieldError(name, "The drawer, or scrap? Choose again.")])
        found[ring.position] = MetalTo(str(word))
    return found


def _metal_words(whose: str, to: MetalTo, mass_mg: int, piece: str | None) -> str:
    mass = f"{mass_mg / 1000:.2f} g"
    if to is MetalTo.DRAWER:
        return f"The blank of {whose} lies in the drawer as {piece}, {mass}."
    return f"The metal of {whose} is scrap, {mass}."
