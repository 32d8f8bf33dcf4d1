"""A paper that left the studio is a copy: it stays as it was, whatever happens to what made it."""

import hashlib
import shutil
from dataclasses import fields, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from jinja2 import TemplateNotFound

from studio import clock, resources
from studio.book.engine import session
from studio.book.people import PROGRAM
from studio.book.rates import add_metal_prices
from studio.craft.rates import MetalPrice, WeightUnit
from studio.craft.roles import Role
from studio.papers import render
from tests.web.house import House
from tests.web.priced import RATES, ask_for_quote, put_in_rates, today


@pytest.fixture
def no_quote_template(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The templates as they are, with the quote's own folder deleted."""
    here = tmp_path / "templates"
    shutil.copytree(resources.templates_dir(), here)
    shutil.rmtree(here / "papers" / "quote")
    monkeypatch.setattr(render, "templates_dir", lambda: here)
    environment = render._environment.__wrapped__()
    monkeypatch.setattr(render, "_environment", lambda: environment)


def change_every_rate(house: House) -> None:
    """Every figure of the rates becomes another one, every minute too, and so do the metal prices."""
    more: dict[str, Any] = {
        field.name: value + 1
        for field in fields(RATES)
        if isinstance(value := getattr(RATES, field.name), int | Decimal)
    }
    changed = replace(RATES, minutes={row: planned + 7 for row, planned in RATES.minutes.items()}, **more)
    put_in_rates(house, changed)
    doubled = [
        MetalPrice(metal, Decimal("9999.99"), WeightUnit.TROY_OUNCE, today(), "a wild day")
        for metal in ("gold", "silver")
    ]
    with session(house.engine) as book:
        add_metal_prices(book, prices=doubled, actor=PROGRAM, now=clock.now())


def test_an_issued_quote_keeps_its_bytes_when_template_and_rates_are_gone(
    house: House, request: pytest.FixtureRequest
) -> None:
    put_in_rates(house)
    number = house.take_order()
    told = ask_for_quote(house, number).json()
    before = house.ask("GET", told["pdf"], Role.COUNTER).content

    change_every_rate(house)
    request.getfixturevalue("no_quote_template")
    with pytest.raises(TemplateNotFound):
        render._environment().get_template("quote/paper.html")

    after = house.ask("GET", told["pdf"], Role.COUNTER).content
    assert after == before
    assert hashlib.sha256(after).hexdigest() == told["sha256"]
    kept = house.ask("GET", f"/api/orders/{number}", Role.OWNER).json()["quotes"][0]
    assert kept["total_minor"] == told["total_minor"]
