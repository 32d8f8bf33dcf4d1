"""What the Studio page shows: its prices, its rates and minutes, and what its papers say."""

import secrets
from dataclasses import dataclass

from studio.book.rates import RatesEntry, minutes_words
from studio.book.studio import Studio
from studio.craft.minutes import minute_rows
from studio.web.counter_page import ErrorLine
from studio.web.many_forms import lines_of
from studio.web.months import this_month_href
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.studio_facts import FactsForm, facts_form
from studio.web.studio_prices import PricesPart
from studio.web.studio_rates import RatesForm, field_words, rates_form
from studio.web.studio_twice import TwiceLine
from studio.web.wording import counted, hour_words

MOST_NAMED = 6
"""Missing minutes up to this many are named; more are counted."""


@dataclass(frozen=True, slots=True)
class PartLink:
    """A part of the page, to go to."""

    href: str
    name: str


@dataclass(frozen=True, slots=True)
class StudioPage:
    """The page. `missing` is what the studio has not said yet, so that no quote can be made.

    `came_from` is the number of the order whose quote waits for it, '' where nobody came from one. `twice` is
    what was made twice in the last twelve months.
    """

    title: str
    heading: str
    heading_note: str
    parts: tuple[PartLink, ...]
    missing: tuple[str, ...]
    missing_words: str
    currency: str
    prices: PricesPart
    rates: RatesForm
    rates_since: str
    rates_version: int
    facts: FactsForm
    facts_since: str
    version: int
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str
    came_from: str
    twice: tuple[TwiceLine, ...]

    @property
    def href(self) -> str:
        """Where the page stands."""
        return f"/studio{asked_for(self.came_from)}"

    @property
    def back_href(self) -> str:
        """Where the quote that waits is read back."""
        return f"/orders/{self.came_from}/read-back"

    @property
    def prices_href(self) -> str:
        """Where a price goes."""
        return f"/studio/prices{asked_for(self.came_from)}"

    @property
    def list_href(self) -> str:
        """Where a list of prices goes."""
        return f"/studio/prices/list{asked_for(self.came_from)}"

    @property
    def rates_href(self) -> str:
        """Where the rates go."""
        return f"/studio/rates{asked_for(self.came_from)}"

    @property
    def facts_href(self) -> str:
        """Where what the papers say goes."""
        return f"/studio/facts{asked_for(self.came_from)}"


def asked_for(number: str) -> str:
    """What the page's addresses carry on while an order waits for it: '?for=2026-118', or nothing."""
    return f"?for={number}" if number else ""


def studio_context(
    seat: Seat,
    *,
    facts: Studio,
    facts_since: str,
    rates: RatesEntry | None,
    prices: PricesPart,
    said: Said,
    came_from: str = "",
    twice: tuple[TwiceLine, ...] = (),
) -> StudioPage:
    """The page of the studio; `said` brings back what was typed and why it could not be kept."""
    missing = _missing(rates)
    return StudioPage(
        title=f"{said.heading}: Studio" if said.heading else "Studio",
        heading="Studio",
        heading_note="What a price is reckoned with, and what the papers say",
        parts=(
            PartLink("#prices", "Metal prices"),
            PartLink("#rates", "Rates"),
            PartLink("#papers", "On the papers"),
            *((PartLink("#twice", "Made twice"),) if twice else ()),
            PartLink("/studio/practice", "Practice"),
            PartLink("/studio/gauges", "Gauges"),
            PartLink("/printers", "Printers"),
            PartLink("/studio/alloys", "Alloys of our own"),
            PartLink(this_month_href(seat.today), "Books of this month"),
        ),
        missing=missing,
        missing_words="before a quote can be made" if rates is None else "for rings that need them",
        currency=facts.currency,
        prices=prices,
        rates=rates_form(None if rates is None else rates.rates, facts.currency, said),
        rates_since=_rates_since(rates, seat),
        rates_version=0 if rates is None else rates.version,
        facts=facts_form(facts, said),
        facts_since=facts_since,
        version=facts.version,
        said=said,
        error_lines=_error_lines(said),
        form_key=secrets.token_urlsafe(18),
        came_from=came_from,
        twice=twice,
    )


def _error_lines(said: Said) -> tuple[ErrorLine, ...]:
    """The summary's lines; a sentence that does not name its field is told with the field's words."""
    words = field_words()
    return lines_of(said, words)


def _rates_since(rates: RatesEntry | None, seat: Seat) -> str:
    if rates is None:
        return "None are put in yet"
    return f"Since {hour_words(rates.entered_at, seat.zone, seat.today)}, put in by {rates.entered_by}"


def _missing(rates: RatesEntry | None) -> tuple[str, ...]:
    if rates is None:
        return ("the rates", "the minutes at the bench")
    rows = [row for row in minute_rows() if row not in rates.rates.minutes]
    if len(rows) > MOST_NAMED:
        return (f"the minutes of {counted(len(rows), 'operation', 'operations')}",)
    return tuple(f"minutes for '{minutes_words(row)}'" for row in rows)
