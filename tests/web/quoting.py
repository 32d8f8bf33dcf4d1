"""A studio that can price: rates, minutes, the prices of its metals; and a quote as a person makes one."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from sqlmodel import Session

from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.book.rates import add_metal_prices, put_rates
from studio.book.studio import change_studio, studio
from studio.craft.minutes import minute_rows
from studio.craft.orders import State
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, an_order
from tests.web.morning import Morning

OUNCE = {"gold": "3100", "silver": "38.50", "platinum": "1200", "palladium": "1000"}


def the_rates(**changes: Any) -> Rates:
    """Rates of a small studio, ten minutes for every step; the net sum goes up to whole pounds."""
    rates: dict[str, Any] = {
        "currency": "GBP",
        "labour_hour_minor": 4800,
        "overhead_percent": Decimal(25),
        "consumables_minor": 400,
        "premium_percent": Decimal(12),
        "waste_percent": Decimal(5),
        "margin_percent": Decimal(30),
        "extra_margin_percent": {Extra.ASSAY: Decimal(10)},
        "assay_minor": 1200,
        "tax_percent": Decimal(20),
        "step_minor": 100,
        "deposit_percent": Decimal(40),
        "valid_days": 14,
        "stale_after_days": 7,
        "minutes": dict.fromkeys(minute_rows(), 10),
    }
    return Rates(**(rates | changes))


def set_up(book: Session, *, metals: Mapping[str, str] | None = None, **changes: Any) -> None:
    """Let the studio have rates, prices and an address of its own from this morning on."""
    put_rates(book, rates=the_rates(**changes), actor=PROGRAM, now=NOW)
    prices = [
        MetalPrice(metal, Decimal(price), WeightUnit.TROY_OUNCE, TODAY, "the refiner's list")
        for metal, price in (OUNCE if metals is None else metals).items()
    ]
    if prices:
        add_metal_prices(book, prices=prices, actor=PROGRAM, now=NOW)


def give_an_address(book: Session) -> None:
    """Let the studio have an e-mail address to write from."""
    facts = studio(book)
    named = type(facts)(
        facts.name, facts.subtitle, "7 Cooper's Stair", "01632 960 715", "book@wrenfold.example"
    )
    change_studio(book, facts=named, actor=PROGRAM, now=NOW)


def quoted(morning: Morning, role: Role = Role.COUNTER, **facts: Any) -> str:
    """The number of a fresh quote of a fresh order, made as a person makes it."""
    with morning.book() as book:
        number = an_order(book, **facts).number
    return quote_of(morning, number, role)


def quote_of(morning: Morning, number: str, role: Role = Role.COUNTER, **terms: str) -> str:
    """The number of a fresh quote of an order that stands."""
    form = morning.see(f"/orders/{number}/read-back", role).form(f"/orders/{number}/quotes")
    status, where, page = morning.send(form.action, form.filled(**terms), role)
    assert status == 303, page.words
    return where.removeprefix("/quotes/")


def state_of(morning: Morning, number: str) -> State:
    """How far the order has come."""
    with morning.book() as book:
        return order(book, number).state
