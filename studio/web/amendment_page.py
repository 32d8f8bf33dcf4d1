"""The page on which an amendment is put together, and what it comes to."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, replace
from zoneinfo import ZoneInfo

from studio.book.order_values import Amending, Order, OrderRing
from studio.book.quotes import QuoteDraft, paper_of
from studio.craft.directions import apart
from studio.craft.drawing import Svg, state_mark
from studio.craft.money import from_minor
from studio.craft.roles import Right
from studio.papers.quote_parts import QuotePaper
from studio.papers.quote_words import ring_sentence
from studio.web.amounts import currency_sign, read_amount, read_count
from studio.web.counter_days import read_promised
from studio.web.days import full_day_words
from studio.web.forms import Calendar
from studio.web.quotes_made import MadeOf, made_of
from studio.web.reading import Reading
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.studio_rates import MOST_DAYS
from studio.web.texts import read_text
from studio.web.wording import opened

FIELDS = (
    "wanted_on", "wanted_hard", "promised_on", "promised_hour", "words", "charge_text", "charge",
    "valid_days",
)  # fmt: skip
LONGEST_WORDS, LONGEST_CHARGE = 1000, 80


@dataclass(frozen=True, slots=True)
class AmendingRing:
    """One ring as the amendment would have it."""

    position: int
    title: str
    sentence: str


@dataclass(frozen=True, slots=True)
class AmendmentPage:
    """The page. `paper` is None while nothing is changed, or the price waits for something (`waits`)."""

    title: str
    heading: str
    heading_note: str
    number: str
    version: int
    mark: Svg
    state: str
    said: Said
    paper: QuotePaper | None
    waits: tuple[str, ...]
    rings: tuple[AmendingRing, ...]
    values: Mapping[str, str]
    sign: str
    stands: str
    made: tuple[MadeOf, ...]
    form_key: str

    @property
    def href(self) -> str:
        """Where the page stands."""
        return f"/orders/{self.number}/amendment"

    @property
    def order_href(self) -> str:
        """Where the order's page stands."""
        return f"/orders/{self.number}"


def amendment_page(
    order: Order,
    seat: Seat,
    *,
    draft: QuoteDraft | None,
    waits: tuple[str, ...],
    rings: tuple[OrderRing, ...],
    said: Said,
) -> AmendmentPage:
    """The amendment of `order` that is being put together, and what it would come to."""
    heading = f"Amendment to {order.number}"
    several = len(rings) > 1
    open_one = order.open_amendment
    currency = "GBP" if order.agreement is None else order.agreement.currency
    values = _values(order, seat, currency)
    return AmendmentPage(
        title=f"{said.heading or heading}: {apart(order.customer.name)}",
        heading=heading,
        heading_note=f"for {apart(order.customer.name)}",
        number=order.number,
        version=order.version,
        mark=state_mark(order.state),
        state=opened(order.state),
        said=said,
        paper=None if draft is None else paper_of(draft),
        waits=waits,
        rings=tuple(
            AmendingRing(
                ring.position,
                f"Ring {ring.position}" if several else "The ring",
                ring_sentence(ring.reckoning),
            )
            for ring in rings
        ),
        values={name: said.typed.get(name, values.get(name, "")) for name in FIELDS},
        sign=currency_sign(currency),
        stands=""
        if open_one is None
        else f"{open_one.number} waits for its answer; this one takes its place.",
        made=made_of({"a": draft.breakdown}) if draft and seat.may(Right.SEE_COST) else (),
        form_key=secrets.token_urlsafe(18),
    )


def read_amending(
    raw: Mapping[str, object], amending: Amending, seat: Seat, currency: str
) -> tuple[Amending, int | None]:
    """The amendment with its days, words and charge as typed, and how many days it is to be good for.

    Raises `FieldErrors`.
    """
    asked = Reading(raw, "")
    calendar = Calendar(seat.today, seat.zone)

    def text(name: str) -> str:
        value = raw.get(name)
        return value if isinstance(value, str) else ""

    wanted_on = asked.found.take(lambda: calendar.day(text("wanted_on"), "wanted_on"))
    promised_at = asked.found.take(
        lambda: read_promised(text("promised_on"), text("promised_hour"), calendar)
    )
    words = asked.found.take(
        lambda: read_text(raw.get("words"), "words", longest=LONGEST_WORDS, has_lines=True)
    )
    charge_text = asked.found.take(
        lambda: read_text(raw.get("charge_text"), "charge_text", longest=LONGEST_CHARGE)
    )
    charge = asked.read("charge", read_amount(currency)) if asked.has("charge") else 0
    days = (
        asked.read("valid_days", read_count(1, MOST_DAYS, "day", "days")) if asked.has("valid_days") else None
    )
    if charge and not charge_text and not asked.is_wrong("charge_text"):
        asked.add("charge_text", "What is it for? The customer reads it on the paper.")
    if charge_text and not charge and not asked.is_wrong("charge"):
        asked.add("charge", "How much is it? Leave both empty where nothing is charged.")
    asked.stop()
    return (
        replace(
            amending,
            wanted_on=wanted_on,
            wanted_hard=bool(text("wanted_hard")),
            promised_at=promised_at,
            words=words or "",
            charge_text=charge_text or "",
            charge_minor=charge or 0,
        ),
        days,
    )


def _values(order: Order, seat: Seat, currency: str) -> dict[str, str]:
    """The fields as the amendment stands by now."""
    amending = order.amending
    if amending is None:
        return {}
    promised = None if amending.promised_at is None else amending.promised_at.astimezone(ZoneInfo(seat.zone))
    return {
        "wanted_on": full_day_words(amending.wanted_on) if amending.wanted_on else "",
        "wanted_hard": "yes" if amending.wanted_hard else "",
        "promised_on": full_day_words(promised.date()) if promised else "",
        "promised_hour": f"{promised:%H:%M}" if promised else "",
        "words": amending.words,
        "charge_text": amending.charge_text,
        "charge": str(from_minor(amending.charge_minor, currency)) if amending.charge_minor else "",
    }
