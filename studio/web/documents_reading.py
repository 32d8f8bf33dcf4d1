"""Reading what is taken in and given back: the forms on the order's page, and the API's body."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from studio.book.document_values import DocumentKind, GivingBack, TakingIn
from studio.book.goods_to_take_in import stones_to_take_in
from studio.book.order_values import Order
from studio.craft.custody import LONGEST_CONDITION
from studio.craft.designs import Limits
from studio.craft.goods import LONGEST_BAG, LONGEST_GOODS, LONGEST_NOTE
from studio.craft.units import to_milligrams
from studio.web.amounts import read_amount
from studio.web.errors import FieldError
from studio.web.forms import long_text
from studio.web.order_documents import (
    CONFIRMATION,
    RECEIPT,
    RETURN,
    back_field,
    stone_field,
    value_field,
    weight_field,
)
from studio.web.reading import Reading
from studio.web.sent_back import typed_texts
from studio.web.texts import read_text

MASS_G = Limits(0.001, 10_000.0)
_FIELDS = {
    RECEIPT: {
        "goods": "goods",
        "weight_g": "goods_weight",
        "condition": "goods_condition",
        "value": "goods_value",
        "bag": "goods_bag",
        "stones": "goods",
    },
    RETURN: {"note": "back_note", "goods": "back_note"},
    CONFIRMATION: {},
}
"""Where the page asks for what the book and the API call otherwise."""
_BEGINNINGS = {RECEIPT: ("goods", "take-", "take_value-"), RETURN: ("back",), CONFIRMATION: ()}
_OF_A_KIND: Mapping[DocumentKind, tuple[str, ...]] = {
    DocumentKind.CONFIRMATION: (),
    DocumentKind.RECEIPT: ("goods", "weight_g", "condition", "value", "bag", "stones"),
    DocumentKind.RETURN: ("goods", "note"),
    DocumentKind.PAYMENT: (),
    DocumentKind.HAND_OVER: (),
}
MOST_LINES = 200


def typed_of(typed: Mapping[str, object], kind: str) -> dict[str, str]:
    """What was typed into one of the forms, by its fields."""
    return typed_texts(typed, *(name for name in typed if name.startswith(_BEGINNINGS[kind])))


def at_their_fields(found: Iterable[FieldError], kind: str) -> tuple[FieldError, ...]:
    """The errors at the fields of the page."""
    names = _FIELDS[kind]
    return tuple(FieldError(names.get(one.field or "", one.field), one.message) for one in found)


def read_taking_in(typed: Mapping[str, object], found: Order) -> TakingIn:
    """What is taken in, out of the page's form. Raises `FieldErrors`."""
    asked = Reading(typed, "")
    told = _taking_in(asked, "goods_", found.currency, goods="goods")
    stones, values = [], {}
    for ring, at, _ in stones_to_take_in(found):
        value = _value(asked, value_field(ring, at), found.currency)
        if typed.get(stone_field(ring, at)) == "yes":
            stones.append(f"{ring}/{at}")
            if value is not None:
                values[f"{ring}/{at}"] = value
    asked.stop()
    return replace(told, stones=tuple(stones), values_minor=values)


def read_giving_back(typed: Mapping[str, object], found: Order) -> GivingBack:
    """What goes back, out of the page's form; a weight typed says that it does. Raises `FieldErrors`."""
    asked = Reading(typed, "")
    lines: dict[str, int | None] = {}
    for good in found.goods_held:
        weight = weight_field(good)
        weight_mg = _mass_mg(asked, weight)
        if typed.get(back_field(good)) == "yes" or asked.has(weight):
            lines[good.key] = weight_mg
    note = asked.read("back_note", long_text(LONGEST_NOTE))
    if not lines:
        asked.add("back_note", "What goes back? Mark it in the list.")
    asked.stop()
    return GivingBack(lines, note or "")


def check_fields(asked: Reading, kind: DocumentKind) -> None:
    """Write down the fields that this kind of document does not take."""
    for name in asked.raw:
        if name not in {"kind", *_OF_A_KIND[kind]} and asked.has(name):
            asked.add(name, f"A {kind} takes none of this. Leave it out.")


def asked_taking_in(asked: Reading, currency: str) -> TakingIn:
    """What is taken in, out of the API's body; what is wrong is written down in `asked`."""
    told = _taking_in(asked, "", currency, goods="goods", weight="weight_g")
    stones = _list(asked, "stones") if asked.has("stones") else None
    if stones is None:
        return told
    if not all(isinstance(place, str) for place in stones):
        asked.add("stones", 'This has to be a list of places such as "1/2": ring 1, its second stone.')
    return replace(told, stones=tuple(map(str, stones)))


def asked_giving_back(asked: Reading) -> GivingBack:
    """What goes back, out of the API's body; what is wrong is written down in `asked`."""
    note = asked.read("note", long_text(LONGEST_NOTE)) or ""
    if not asked.has("goods"):
        return GivingBack(None, note)
    lines: dict[str, int | None] = {}
    for place, one in enumerate(_list(asked, "goods")):
        line = Reading(one, f"goods.{place}")
        key = line.needed(
            "line", lambda value, field: read_text(value, field, longest=40, is_printed=False), "line"
        )
        for name in line.raw.keys() - {"line", "weight_g"}:
            line.add(name[:40], "We do not know this field.")
        if key in lines:
            line.add("line", "This is given twice. Which one is meant?")
        lines[key or ""] = _mass_mg(line, "weight_g")
        asked.found.errors += line.found.errors
    return GivingBack(lines, note)


def _taking_in(
    asked: Reading, before: str, currency: str, *, goods: str, weight: str = "goods_weight"
) -> TakingIn:
    """The other goods; the names of their fields begin with `before`."""
    words = asked.read(goods, long_text(LONGEST_GOODS))
    weight_mg = _mass_mg(asked, weight)
    if asked.has(weight) and not words and not asked.is_wrong(goods):
        asked.add(goods, "What was weighed? Say what was taken in.")
    bag = asked.read(f"{before}bag", lambda value, field: read_text(value, field, longest=LONGEST_BAG))
    condition = asked.read(
        f"{before}condition", lambda value, field: read_text(value, field, longest=LONGEST_CONDITION)
    )
    value = _value(asked, f"{before}value", currency)
    for name in ("condition", "value"):
        if asked.has(f"{before}{name}") and not words and not asked.is_wrong(goods):
            asked.add(f"{before}{name}", "Of what? Say under other goods what was taken in.")
    return TakingIn(
        words=" ".join((words or "").split()),
        weight_mg=weight_mg,
        bag=" ".join((bag or "").split()),
        condition=" ".join((condition or "").split()),
        value_minor=value,
    )


def _value(asked: Reading, name: str, currency: str) -> int | None:
    return asked.read(name, read_amount(currency)) if asked.has(name) else None


def _mass_mg(asked: Reading, name: str) -> int | None:
    mass_g = asked.mass(name, MASS_G)
    return None if mass_g is None else to_milligrams(mass_g)


def _list(asked: Reading, name: str) -> list[object]:
    given = asked.raw[name]
    if isinstance(given, list) and len(given) <= MOST_LINES:
        return given
    asked.add(name, f"This has to be a list of at most {MOST_LINES}.")
    return []
