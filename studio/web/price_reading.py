"""Reading a metal price, for the Studio page and for the API alike."""

from collections.abc import Mapping
from decimal import Decimal

from studio.book.metal_price_csv import COLUMNS
from studio.book.rates import priced_metals, read_price
from studio.craft.alloys import ALLOYS
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.rates import MetalPrice, WeightUnit
from studio.web.errors import FieldError, FieldErrors, sentence
from studio.web.forms import Calendar, short_text
from studio.web.reading import Reading, sure

UNIT_WORDS: Mapping[WeightUnit, str] = {
    WeightUnit.TROY_OUNCE: "troy ounce",
    WeightUnit.G: "gram",
    WeightUnit.KG: "kilogram",
}

LIST_EXAMPLE = "metal,price,unit,on,source"
_LIST_WORDS: Mapping[Why, str] = {
    Why.EMPTY: "There is no price in the list yet.",
    Why.TOO_LONG: "This list is longer than we can read at once. Paste it in parts.",
    Why.UNKNOWN_CHOICE: f"The first line names the columns: {LIST_EXAMPLE}.",
    Why.NOT_A_NUMBER: "The quotation marks in the list do not close.",
}
_CELL_WORDS: Mapping[tuple[str, Why], str] = {
    ("on", Why.NOT_A_NUMBER): "Which day is meant? Write it like 2026-11-25.",
    ("unit", Why.UNKNOWN_CHOICE): "The unit is g, kg or ozt.",
}


def metal_words(metal: str) -> str:
    """What a metal with a price of its own is called: 'silver', 'nickel silver'."""
    return ALLOYS[metal].name if metal in ALLOYS else metal


def read_metal_price(raw: Mapping[str, object], calendar: Calendar) -> MetalPrice:
    """The price out of metal, price, unit, on and source; raises `FieldErrors` with all to put right."""
    asked = Reading(raw, "")
    metal = asked.needed("metal", _read_metal, "metal")
    price = asked.needed("price", _read_price, "price")
    unit = asked.choice("unit", WeightUnit)
    if not asked.has("unit"):
        asked.add("unit", "The unit is not given yet.")
    on = asked.needed("on", calendar.day, "day")
    source = asked.needed("source", short_text, "source")
    asked.stop()
    return MetalPrice(sure(metal), sure(price), sure(unit), sure(on), sure(source))


def list_errors(refused: Refused, text: str) -> tuple[str, ...]:
    """What is to be put right in a pasted list, each with its line: 'Line 3: The unit is g, kg or ozt.'."""
    return tuple(dict.fromkeys(_in_line(refusal, _filled_lines(text)) for refusal in refused.refusals))


def _read_metal(value: object, field: str) -> str:
    metal = short_text(value, field).lower()
    if metal not in priced_metals():
        raise FieldErrors([FieldError(field, "This has no price of its own. Choose a metal from the list.")])
    return metal


def _read_price(value: object, field: str) -> Decimal:
    """The price kept exactly; it is text even where a program sends it, as a number would not keep it so."""
    if not isinstance(value, str):
        raise FieldErrors([FieldError(field, 'Send the price as text, such as "31.50", so that it is kept.')])
    return read_price(value, field)


def _filled_lines(text: str) -> list[int]:
    """The numbers of the lines that say something, the first of them being the columns' names."""
    return [number for number, line in enumerate(text.splitlines(), 1) if line.strip(' ,;\t"')]


def _in_line(refusal: Refusal, lines: list[int]) -> str:
    _, _, path = refusal.field.partition(".")
    place, _, cell = path.partition(".")
    if refusal.field in COLUMNS:  # of a list of one price the book says 'on', not 'prices.0.on'
        place, cell = "0", refusal.field
    if not place:
        return _LIST_WORDS.get(refusal.why, "The list cannot be read.")
    row = int(place) + 1
    number = lines[row] if row < len(lines) else row + 1
    return f"Line {number}: {_CELL_WORDS.get((cell, refusal.why)) or sentence(refusal)}"
