"""A studio that knows what things cost: rates, minutes and prices, and quotes out of them."""

from datetime import date
from decimal import Decimal
from typing import Any

from studio import clock
from studio.book.engine import session
from studio.book.people import PROGRAM
from studio.book.quotes import Quote, agree, issue_quote, quotable
from studio.book.rates import add_metal_prices, put_rates, rates_on
from studio.craft.minutes import minute_rows
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit
from studio.craft.roles import Role
from tests.web.house import House

RATES = Rates(
    currency="GBP", labour_hour_minor=48_00, overhead_percent=Decimal(25), consumables_minor=4_00,
    premium_percent=Decimal(12), waste_percent=Decimal(5), margin_percent=Decimal(30),
    extra_margin_percent={Extra.ASSAY: Decimal(10), Extra.OUTSIDE_WORK: Decimal(20)},
    assay_minor=12_00, tax_percent=Decimal(20),
    step_minor=5_00, deposit_percent=Decimal(40), valid_days=14, stale_after_days=7,
    minutes=dict.fromkeys(minute_rows(), 11),
)  # fmt: skip


def today() -> date:
    return clock.today("Europe/London")


def put_in_rates(house: House, rates: Rates = RATES) -> None:
    """Rates and the prices of gold and silver, as the owner puts them in."""
    with session(house.engine) as book:
        put_rates(book, rates=rates, actor=PROGRAM, now=clock.now())
        prices = [
            MetalPrice("gold", Decimal("2950.40"), WeightUnit.TROY_OUNCE, today(), "refiner's list"),
            MetalPrice("silver", Decimal("31.50"), WeightUnit.TROY_OUNCE, today(), "refiner's list"),
        ]
        add_metal_prices(book, prices=prices, actor=PROGRAM, now=clock.now())


def a_quote(house: House, number: str) -> Quote:
    """A quote of the order, its paper not made yet; the studio gets its rates where it has none."""
    with session(house.engine) as book:
        has_rates = rates_on(book, today()) is not None
    if not has_rates:
        put_in_rates(house)
    with session(house.engine) as book:
        draft = quotable(book, number, now=clock.now())
        return issue_quote(book, draft=draft, pdf=None, actor=PROGRAM, now=clock.now())


def say_yes(house: House, number: str, name: str = "Ottilie Marchbanks", **yes: Any) -> None:
    """The yes to a fresh quote of the order; without anything said the work begins without a deposit."""
    said = yes or {"without_deposit": "an old customer"}
    quote = a_quote(house, number)
    with session(house.engine) as book:
        agree(book, quote=quote.number, name=name, actor=PROGRAM, now=clock.now(), **said)


def ask_for_quote(house: House, number: str, role: Role = Role.OWNER, **asked: Any) -> Any:
    """What the app answers a program that asks for a quote."""
    headers = {"idempotency-key": asked.pop("key")} if "key" in asked else {}
    return house.ask("POST", f"/api/orders/{number}/quotes", role, json=asked, headers=headers)
