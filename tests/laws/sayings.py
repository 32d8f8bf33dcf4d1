"""What the model and the book say of an order, in the same words."""

from typing import Any

from studio.book.orders import (
    Order,
)
from studio.craft.errors import Refused
from studio.craft.orders import State
from tests.laws.plain_order import PlainOrder


def the_model_says(stands: PlainOrder, phone: str | None) -> dict[str, Any]:
    yes = stands.yes
    return {
        "state": stands.state,
        "version": stands.version,
        "since": stands.since,
        "customer": (stands.customer_id, phone),
        "terms": stands.terms,
        "rings": list(stands.rings),
        "quotes": [(found.draft.number, found.state) for found in stands.quotes],
        "agreed": None if yes is None else yes.name,
        "agreement": None if yes is None else (yes.quote.draft.number, yes.name, stands.paid, yes.without),
        "missing": (stands.wanted_for_quote(phone), stands.wanted_for_bench()),
        "entries": stands.entries,
        "state by its history": stands.state,
    }


def the_book_says(found: Order) -> dict[str, Any]:
    yes = found.agreement
    told = [entry.new["state"] for entry in found.history if "state" in entry.new]
    return {
        "state": found.state,
        "version": found.version,
        "since": found.state_since,
        "customer": (found.customer.id, found.customer.phone),
        "terms": found.terms,
        "rings": [ring.draft for ring in found.rings],
        "quotes": [(quote.number, quote.state) for quote in found.quotes],
        "agreed": found.agreed_name,
        "agreement": yes and (yes.quote_number, yes.name, yes.paid_minor, yes.without_deposit),
        "missing": (found.missing.quote, found.missing.bench),
        "entries": len(found.history),
        "state by its history": told[-1] if told else State.DRAFT,
    }


def what_it_says(error: Exception, expected: object) -> object:
    """The fact of a refusal that the model foretold."""
    if isinstance(error, Refused):
        return error.refusals[0].field
    names = ("why", "missing", "fields", "by", "valid_until", "current")
    facts = [getattr(error, name) for name in names if hasattr(error, name)]
    return expected if expected is None or expected in facts else facts
