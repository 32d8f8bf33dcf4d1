"""Cost and margin reach no one without the right, and a maker sees no money: in JSON, HTML and PDF.

Every amount of the studio's own breakdown is looked for in every answer, as minor units, as pounds and pence
with and without separators; the rates are chosen so that none of these figures stands there by chance.
"""

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from pypdf import PdfReader

from studio.book.engine import session
from studio.book.quotes import quote_breakdown
from studio.craft.money import from_minor
from studio.craft.pricing import PriceBreakdown
from studio.craft.rates import Extra
from studio.craft.roles import Role
from tests.web.house import House
from tests.web.priced import RATES, ask_for_quote, put_in_rates

ODD = replace(
    RATES, labour_hour_minor=47_39, consumables_minor=61_83, margin_percent=Decimal("31.37"),
    premium_percent=Decimal("13.71"), overhead_percent=Decimal("27.53"), assay_minor=13_27,
    extra_margin_percent={Extra.ASSAY: Decimal("17.19")}, step_minor=0, deposit_percent=Decimal("38.11"),
)  # fmt: skip


GEOMETRY = re.compile(
    r'\s(?:d|[xyr][12xy]?|c[xy]|points|transform|viewBox|width|height|data-[a-z-]+)="[^"]*"'
)
"""Where the lines of a drawing run: numbers that are no money, whatever they are."""


@pytest.fixture
def priced(house: House) -> House:
    put_in_rates(house, ODD)
    return house


def breakdown(house: House, quote: str) -> PriceBreakdown:
    with session(house.engine) as book:
        return quote_breakdown(book, quote)


def inner_figures(price: PriceBreakdown) -> set[str]:
    """What only the studio's own eyes may see: cost, margin, and what they came from."""
    (ring,) = price.rings
    minors = [
        ring.metal_minor, ring.labour_minor, ring.overhead_minor, ring.own_minor, ring.margin_minor,
        ring.cost_minor, price.cost_minor, price.margin_minor, ODD.labour_hour_minor, ODD.consumables_minor,
        ODD.assay_minor,
    ]  # fmt: skip
    percents = [ODD.margin_percent, ODD.premium_percent, ODD.overhead_percent, Decimal("17.19")]
    return {spelt for minor in minors for spelt in spellings(minor)} | {str(one) for one in percents}


def outer_figures(price: PriceBreakdown) -> set[str]:
    """What the customer sees."""
    minors = [price.net_minor, price.tax_minor, price.total_minor, price.deposit_minor]
    minors += [line.net_minor for line in price.lines]
    return {spelt for minor in minors for spelt in spellings(minor)}


def spellings(minor: int) -> set[str]:
    amount = from_minor(minor, "GBP")
    return {f"{amount:.2f}", f"{amount:,.2f}", f"£{amount:.2f}"} | ({str(minor)} if minor > 9999 else set())


def pages(order: str, quote: str) -> list[str]:
    return [
        "/", "/orders", f"/orders?q={order}", f"/orders/{order}", f"/orders/{order}/rings/1", "/orders/new",
        "/week", "/customers", "/customers/1", f"/quotes/{quote}", f"/orders/{order}/read-back", "/studio",
    ]  # fmt: skip


def answers(house: House, order: str, quote: str, role: Role) -> Iterator[tuple[str, str]]:
    """Whatever this role gets to read: pages, the API, papers with their metadata."""
    for path in pages(order, quote):
        yield path, GEOMETRY.sub("", house.browse("GET", path, role).text)
    for path in (f"/api/orders/{order}", "/api/orders", "/api/week"):
        yield path, house.ask("GET", path, role).text
    for path in (f"/quotes/{quote}.pdf", f"/orders/{order}/bench-sheet.pdf", "/week/papers.pdf"):
        answer = house.ask("GET", path, role)
        yield path, read_pdf(answer.content) if answer.status_code == 200 else answer.text


def read_pdf(paper: bytes) -> str:
    reader = PdfReader(io.BytesIO(paper))
    metadata = " ".join(f"{name} {value}" for name, value in (reader.metadata or {}).items())
    xmp = reader.xmp_metadata.stream.get_data().decode() if reader.xmp_metadata else ""
    return " ".join([*(page.extract_text() for page in reader.pages), metadata, xmp])


def found_in(text: str, figures: set[str]) -> set[str]:
    return {figure for figure in figures if re.search(rf"(?<![\d.]){re.escape(figure)}(?!\d)", text)}


def an_agreed_quote(house: House) -> tuple[str, str]:
    order = house.take_order(bench_on="2027-03-01")
    quote = ask_for_quote(house, order).json()["number"]
    agreed = house.ask(
        "POST", f"/api/quotes/{quote}/agreement", json={"name": "Ned", "without_deposit": "an old customer"}
    )
    assert agreed.status_code == 201
    return order, quote


@pytest.mark.parametrize("is_agreed", [False, True], ids=["quoted", "agreed"])
def test_cost_and_margin_reach_neither_the_counter_nor_the_maker(priced: House, is_agreed: bool) -> None:  # noqa: FBT001  how far the order has come
    order = priced.take_order(bench_on="2027-03-01")
    quote = ask_for_quote(priced, order).json()["number"]
    if is_agreed:
        order, quote = an_agreed_quote(priced)
    inner = inner_figures(breakdown(priced, quote))
    for role in (Role.COUNTER, Role.MAKER):
        for path, text in answers(priced, order, quote, role):
            assert found_in(text, inner) == set(), f"{role} at {path}"


def test_a_maker_sees_no_money_anywhere(priced: House) -> None:
    order, quote = an_agreed_quote(priced)
    price = breakdown(priced, quote)
    for path, text in answers(priced, order, quote, Role.MAKER):
        assert found_in(text, outer_figures(price) | inner_figures(price)) == set(), path
        assert "£" not in text, path


def test_the_counter_sees_what_the_customer_sees(priced: House) -> None:
    order, quote = an_agreed_quote(priced)
    price = breakdown(priced, quote)
    told = priced.ask("GET", f"/api/orders/{order}", Role.COUNTER).json()["quotes"][0]
    assert (told["total_minor"], told["deposit_minor"]) == (price.total_minor, price.deposit_minor)
    paper = priced.ask("GET", f"/quotes/{quote}.pdf", Role.COUNTER)
    assert f"{from_minor(price.total_minor, 'GBP'):,.2f}" in read_pdf(paper.content)


def names_in(value: Any) -> set[str]:
    """Every field's name anywhere in an answer."""
    if isinstance(value, dict):
        return set(value) | {name for inner in value.values() for name in names_in(inner)}
    return {name for inner in value for name in names_in(inner)} if isinstance(value, list) else set()


@pytest.mark.parametrize("role", list(Role))
def test_the_fields_of_a_quote_in_an_order_are_those_of_the_role(priced: House, role: Role) -> None:
    order, quote = an_agreed_quote(priced)
    told = priced.ask("GET", f"/api/orders/{order}", role).json()
    (seen,) = told["quotes"]
    named = {"number", "kind", "revision", "state", "valid_until", "issued_at"}
    money = {
        "net_minor", "tax_minor", "total_minor", "deposit_minor", "currency", "lines", "pdf", "sha256",
        "variants",
    }  # fmt: skip
    assert set(seen) == (named if role is Role.MAKER else named | money)
    assert (seen["number"], seen["state"]) == (quote, "agreed")
    words = {part for name in names_in(told) for part in name.split("_")}
    assert words & {"margin", "overhead", "labour", "consumables", "premium", "cost"} == set()
    if role is Role.MAKER:
        assert not any(name.endswith("_minor") for name in names_in(told))


def test_a_maker_opens_no_quote_and_no_paper_of_one(priced: House) -> None:
    order, quote = an_agreed_quote(priced)
    assert ask_for_quote(priced, order, Role.MAKER).status_code == 403
    answer = priced.ask("GET", f"/quotes/{quote}.pdf", Role.MAKER)
    assert (answer.status_code, answer.json()["errors"][0]["message"]) == (
        403, "Your role does not see prices.",
    )  # fmt: skip
    for role in (Role.COUNTER, Role.MAKER):
        assert priced.browse("GET", "/studio", role).status_code == 403
