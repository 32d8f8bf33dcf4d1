"""A customer's earlier fingers at the counter: offered, taken over with their day, not trusted for ever."""

from dataclasses import replace
from datetime import date

from sqlmodel import Session

from studio.book.customers import MeasuredFinger, fingers_of
from studio.book.making_reads import fits_of_fingers
from studio.book.order_values import OrderRing, RingDraft
from studio.clock import day_of
from studio.craft.designs import Measured
from studio.craft.fit_feedback import FitAnswer, verdict_words
from studio.web.counter_form import EARLIER_FINGER, CounterForm
from studio.web.counter_page import EarlierFinger
from studio.web.counter_stored import finger_fields
from studio.web.days import day_words
from studio.web.order_words import finger_words, size_of
from studio.web.security import Seat
from studio.web.wording import opened

MOST_OFFERED = 4


def is_trusted(taken_on: date, today: date) -> bool:
    """Whether a measurement may stand as measured: for twelve months (common practice, no source).

    Measured on 29 February 2024 it may until the end of 28 February 2025.
    """
    month, day = (2, 28) if (today.month, today.day) == (2, 29) else (today.month, today.day)
    return taken_on > date(today.year - 1, month, day)


def earlier_fingers(book: Session, customer_id: int, seat: Seat) -> tuple[EarlierFinger, ...]:
    """The last measurement of each of a customer's fingers, the latest first."""
    latest: dict[object, MeasuredFinger] = {}
    for measured in fingers_of(book, customer_id):
        latest.setdefault((measured.finger.hand, measured.finger.name), measured)
    offered = list(latest.values())[:MOST_OFFERED]
    fits = fits_of_fingers(book, [measured.id for measured in offered])
    return tuple(_offered(measured, fits.get(measured.id), seat) for measured in offered)


def with_finger(form: CounterForm, measured: MeasuredFinger, seat: Seat) -> CounterForm:
    """The form with an earlier finger in it. One that is old is as told: to be measured again."""
    fields = finger_fields(measured.finger, measured.taken_by)
    if not is_trusted(day_of(measured.taken_at, seat.zone), seat.today):
        fields |= {
            "finger.measured": Measured.TOLD,
            "finger.gauge_width_mm": "",
            "finger.warm": "",
            "finger.two_days": "",
            "finger.taken_by": seat.actor.name,
        }
    return CounterForm({**form.values, **fields, EARLIER_FINGER: str(measured.id)})


def chosen_finger(book: Session, customer_id: int, finger_id: str) -> MeasuredFinger | None:
    """The measurement of this customer with that number, or None."""
    return next((one for one in fingers_of(book, customer_id) if str(one.id) == finger_id), None)


def finger_of_ring(book: Session, customer_id: int, ring: OrderRing) -> MeasuredFinger | None:
    """The measurement a ring was made for."""
    return next(
        (
            one
            for one in fingers_of(book, customer_id)
            if one.finger == ring.finger and one.taken_at == ring.taken_at
        ),
        None,
    )


def with_its_day(book: Session, form: CounterForm, customer_id: int, ring: RingDraft) -> RingDraft:
    """The ring with the day its finger was measured, where it was taken over and not touched since."""
    measured = (
        chosen_finger(book, customer_id, form.value(EARLIER_FINGER)) if form.value(EARLIER_FINGER) else None
    )
    if measured is None or measured.finger != ring.finger or measured.taken_by != ring.taken_by:
        return ring
    return replace(ring, taken_at=measured.taken_at)


def _offered(measured: MeasuredFinger, fit: FitAnswer | None, seat: Seat) -> EarlierFinger:
    taken_on = day_of(measured.taken_at, seat.zone)
    parts = (size_of(measured.finger), finger_words(measured.finger), day_words(taken_on, today=seat.today))
    is_old = not is_trusted(taken_on, seat.today)
    worn = "" if fit is None else f"{verdict_words(fit.verdict, fit.off_mm)} last time"
    words = ", ".join(part for part in (*parts, worn) if part)
    return EarlierFinger(measured.id, opened(f"{words}, measure again" if is_old else words), is_old)
