"""Metal prices by day, exactly as typed."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from sqlmodel import Session, select

from studio.book.audit import AuditRow
from studio.book.people import PROGRAM
from studio.book.rates import (
    add_metal_price,
    add_metal_prices,
    metal_price_entries,
    metal_prices,
    priced_metals,
    read_metal_prices_csv,
    read_price,
    stale,
)
from studio.book.studio import change_studio, studio
from studio.craft.alloys import ALLOYS
from studio.craft.errors import Refused, Why
from studio.craft.pricing import metals_priced
from studio.craft.rates import MetalPrice, WeightUnit
from tests.builders import NOW, TODAY
from tests.quoting import RATES

DAY = timedelta(days=1)
SILVER = MetalPrice("silver", Decimal("31.50"), WeightUnit.TROY_OUNCE, TODAY, "by telephone")


def enter(session: Session, price: str, on: date, metal: str = "silver") -> None:
    entered = replace(SILVER, price=Decimal(price), on=on, metal=metal)
    add_metal_price(session, price=entered, actor=PROGRAM, now=NOW)


def shown(session: Session, day: date) -> dict[str, str]:
    return {metal: str(price.price) for metal, price in metal_prices(session, day).items()}


def test_every_alloy_can_be_priced() -> None:
    needed = {metal for alloy in ALLOYS.values() for metal in metals_priced(alloy)}
    assert needed == set(priced_metals())


def test_a_day_takes_the_latest_price_not_after_it(session: Session) -> None:
    enter(session, "30", TODAY - 4 * DAY)
    enter(session, "32", TODAY + DAY)
    enter(session, "31", TODAY - DAY)
    enter(session, "2000", TODAY - 9 * DAY, "gold")
    assert shown(session, TODAY) == {"silver": "31", "gold": "2000"}
    assert shown(session, TODAY - 2 * DAY) == {"silver": "30", "gold": "2000"}
    assert shown(session, TODAY + DAY)["silver"] == "32"
    assert shown(session, TODAY - 5 * DAY) == {"gold": "2000"}


def test_on_one_day_the_price_entered_last_counts(session: Session) -> None:
    enter(session, "31", TODAY)
    enter(session, "29", TODAY)
    enter(session, "35", TODAY - DAY)
    assert shown(session, TODAY) == {"silver": "29"}


@pytest.mark.parametrize("typed", ["31.50", "31", "0.000001", "999999999999", "1234.123456"])
def test_a_price_is_kept_to_the_last_sign(session: Session, typed: str) -> None:
    enter(session, typed, TODAY)
    assert shown(session, TODAY) == {"silver": typed}


def test_an_entry_says_who_and_when_and_in_what(session: Session) -> None:
    enter(session, "31.50", TODAY)
    entry = metal_price_entries(session, TODAY)["silver"]
    assert (entry.price, entry.currency, entry.entered_at, entry.entered_by) == (
        SILVER,
        "GBP",
        NOW,
        PROGRAM.name,
    )


def test_prices_in_another_currency_count_as_none(session: Session) -> None:
    enter(session, "31.50", TODAY)
    change_studio(session, facts=replace(studio(session), currency="EUR"), actor=PROGRAM, now=NOW)
    assert metal_prices(session, TODAY) == {}
    enter(session, "36", TODAY)
    assert shown(session, TODAY) == {"silver": "36"}


def test_a_price_is_old_when_the_limit_is_passed() -> None:
    prices = {"silver": replace(SILVER, on=TODAY - 7 * DAY)}
    assert stale(prices, TODAY, RATES) == ()
    assert stale(prices, TODAY + DAY, RATES) == tuple(prices.values())


@pytest.mark.parametrize(
    ("change", "field", "why"),
    [
        ({"metal": "tin"}, "metal", Why.UNKNOWN_CHOICE),
        ({"metal": "Silver"}, "metal", Why.UNKNOWN_CHOICE),
        ({"price": Decimal(0)}, "price", Why.NOT_ABOVE_ZERO),
        ({"price": Decimal(-3)}, "price", Why.NOT_ABOVE_ZERO),
        ({"price": Decimal("0.0000001")}, "price", Why.TOO_LONG),
        ({"price": Decimal("1e12")}, "price", Why.TOO_LARGE),
        ({"price": Decimal("Infinity")}, "price", Why.NOT_A_NUMBER),
        ({"source": "  "}, "source", Why.EMPTY),
        ({"source": "x" * 201}, "source", Why.TOO_LONG),
    ],
)
def test_a_price_that_cannot_stand_is_named(
    session: Session, change: dict[str, object], field: str, why: Why
) -> None:
    with pytest.raises(Refused) as told:
        add_metal_price(session, price=replace(SILVER, **change), actor=PROGRAM, now=NOW)  # type: ignore[arg-type]  # each row names its own
    assert [(refusal.field, refusal.why) for refusal in told.value.refusals] == [(field, why)]
    assert metal_prices(session, TODAY) == {}


def test_several_prices_are_entered_together_or_not_at_all(session: Session) -> None:
    copper = replace(SILVER, metal="copper", unit=WeightUnit.KG)
    with pytest.raises(Refused) as told:
        add_metal_prices(session, prices=[copper, replace(SILVER, price=Decimal(0))], actor=PROGRAM, now=NOW)
    assert [refusal.field for refusal in told.value.refusals] == ["prices.1.price"]
    assert metal_prices(session, TODAY) == {}
    add_metal_prices(session, prices=[copper, SILVER], actor=PROGRAM, now=NOW)
    assert metal_prices(session, TODAY) == {"copper": copper, "silver": SILVER}
    entries = session.exec(select(AuditRow).where(AuditRow.verb == "enter metal prices")).all()
    assert [len(entry.new["prices"]) for entry in entries] == [2]


@pytest.mark.parametrize(
    ("typed", "price"), [("31.50", "31.50"), (" 31,5 ", "31.5"), ("１２", "12"), ("0.000001", "0.000001")]
)
def test_a_price_reads_as_it_is_typed(typed: str, price: str) -> None:
    assert str(read_price(typed)) == price


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", Why.EMPTY),
        ("1,234", Why.AMBIGUOUS_COMMA),
        ("a lot", Why.NOT_A_NUMBER),
        ("-1", Why.NOT_A_NUMBER),
        ("1e5", Why.NOT_A_NUMBER),
        ("NaN", Why.NOT_A_NUMBER),
        ("1.2345678", Why.TOO_LONG),
        ("9" * 10_000, Why.TOO_LONG),
    ],
)
def test_what_is_no_price_is_refused(typed: str, why: Why) -> None:
    with pytest.raises(Refused) as told:
        read_price(typed, "price")
    assert [refusal.why for refusal in told.value.refusals] == [why]


COMMAS = """metal,price,unit,on,source
silver,31.50,ozt,2026-11-25,by telephone
copper,18.4,kg,2026-11-20,note
"""
SEMICOLONS = """\ufeffon;source;metal;unit;price\r
2026-11-25;by telephone;Silver;OZT;31,50\r
\r
2026-11-20;note;copper;kg;18,4\r
"""
TABS = """source\tmetal\tprice\tunit\ton
"by telephone"\tsilver\t31.50\tozt\t2026-11-25
note\tcopper\t18.4\tkg\t2026-11-20"""
ALL_WRONG = """metal,price,unit,on,source
silver,1,g,2026-11-25,x
tin,1.234,lb,25/11/26,
silver,,g,2026-11-25,x"""


@pytest.mark.parametrize(
    "text", [COMMAS, SEMICOLONS, TABS], ids=["commas", "semicolons and an order", "tabs"]
)
def test_a_table_of_prices_is_read(text: str) -> None:
    copper = MetalPrice("copper", Decimal("18.4"), WeightUnit.KG, date(2026, 11, 20), "note")
    assert read_metal_prices_csv(text) == (SILVER, copper)


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("", ["prices"]),
        ("silver,31.50,ozt,2026-11-25,by telephone", ["prices"]),
        ("metal,price,unit,on,source\n", ["prices"]),
        ('metal,price,unit,on,source\n"silver', ["prices"]),
        ("metal,price,unit,on,source\n" + "silver,1,g,2026-11-25,x\n" * 1001, ["prices"]),
        ("x" * 200_001, ["prices"]),
        (
            ALL_WRONG,
            ["prices.1.on", "prices.1.unit", "prices.1.metal", "prices.1.source", "prices.2.price"],
        ),
        (
            "metal,price,unit,on,source\nsilver",
            ["prices.0.price", "prices.0.on", "prices.0.unit", "prices.0.source"],
        ),
    ],
)
def test_a_table_that_cannot_be_read_says_where(text: str, fields: list[str]) -> None:
    with pytest.raises(Refused) as told:
        read_metal_prices_csv(text)
    assert [refusal.field for refusal in told.value.refusals] == fields
