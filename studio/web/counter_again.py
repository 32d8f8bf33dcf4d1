"""The counter's page once more, after a button that keeps nothing: work out, find, choose, change."""

from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.web.counter_desk import chosen_id, shown
from studio.web.counter_drafts import saved_words
from studio.web.counter_fingers import chosen_finger, with_finger
from studio.web.counter_form import CounterForm
from studio.web.counter_standing import Standing
from studio.web.security import Seat

KEEPS = frozenset({"quote", "save", "add", ""})
"""Buttons that write into the book; the others only bring the page again, as what was typed makes it."""


def brought_again(request: Request, seat: Seat, form: CounterForm, standing: Standing | None) -> Response:
    """The page again after a button that keeps nothing: work out, find, choose or change the customer."""
    act, _, customer_id = form.value("act").partition(" ")
    match act:
        case "choose":
            form = form.with_values(customer__id=customer_id)
        case "finger":
            form = _with_finger(seat, form, standing, customer_id)
        case "change":
            form = form.with_values(customer__id="")
        case _:
            pass
    saved = saved_words(seat, form.value("draft"))
    return shown(request, seat, form, standing, is_searched=act == "find", saved=saved)


def _with_finger(seat: Seat, form: CounterForm, standing: Standing | None, finger_id: str) -> CounterForm:
    """The form with an earlier finger of its customer; as it is where that is none of theirs."""
    whose = chosen_id(form) if standing is None else standing.order.customer.id
    with session(seat.engine) as book:
        measured = None if whose is None else chosen_finger(book, whose, finger_id)
    return form if measured is None else with_finger(form, measured, seat)
