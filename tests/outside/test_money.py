"""Money, tax and weights of metal against lists and examples that others publish."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from babel.numbers import format_currency, get_currency_precision
from iso4217 import Currency

from studio.craft.money import from_minor, half_up, minor_digits, share, to_minor
from studio.craft.rates import GRAMS, WeightUnit

FUNDS = {"CLF", "UYW"}
"""Units of account of the standard's list with four digits, in which nobody sells a ring."""


def test_every_currency_has_as_many_digits_as_iso_4217_lists() -> None:
    # list one of ISO 4217 as its maintenance agency publishes it, carried by the package iso4217
    listed = {unit.code: unit.exponent for unit in Currency if unit.exponent is not None}
    assert len(listed) > 150
    ours = {code: minor_digits(code) for code in listed if code not in FUNDS}
    assert ours == {code: digits for code, digits in listed.items() if code not in FUNDS}


def test_where_custom_drops_the_minor_unit_we_keep_to_the_standard() -> None:
    # Unicode's locale data, which Babel carries, tells what people write; it differs from edition to edition
    written = {unit.code: get_currency_precision(unit.code) for unit in Currency if unit.exponent}
    assert {code for code, digits in written.items() if digits > minor_digits(code)} <= FUNDS
    dropped = {code for code, digits in written.items() if digits < minor_digits(code)}
    assert "IQD" in dropped
    assert minor_digits("IQD") == 3


@pytest.mark.parametrize(
    ("currency", "minor", "written"),
    [
        ("JPY", 1234567, "JP¥1,234,567"),
        ("GBP", 1234567, "£12,345.67"),
        ("KWD", 1234567, "KWD\N{NO-BREAK SPACE}1,234.567"),
    ],
)
def test_amounts_of_none_two_and_three_digits_are_written_by_babel_as_we_count_them(
    currency: str, minor: int, written: str
) -> None:
    amount = from_minor(minor, currency)
    pattern = "¤\N{NO-BREAK SPACE}#,##0.00" if currency == "KWD" else None
    assert format_currency(amount, currency, pattern, locale="en_GB") == written
    assert to_minor(amount, currency) == minor


def test_a_troy_ounce_is_as_many_grams_as_pints_registry_and_the_agreement_say() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    ours = GRAMS[WeightUnit.TROY_OUNCE]
    assert registry.Quantity(1, "troy_ounce").to("gram").magnitude == pytest.approx(float(ours), rel=1e-15)
    # international yard and pound agreement of 1959, from memory: grain 64.79891 mg; 480 grains an ounce
    assert ours == 480 * Decimal("0.06479891")
    # from memory of a bullion market's own tables: 32.1507466 troy ounces a kilogram
    assert (GRAMS[WeightUnit.KG] / ours).quantize(Decimal("0.0000001")) == Decimal("32.1507466")


@pytest.mark.parametrize(
    ("percent", "fraction"),
    [("20", Fraction(1, 6)), ("17.5", Fraction(7, 47)), ("15", Fraction(3, 23)), ("5", Fraction(1, 21))],
)
def test_tax_is_the_published_fraction_of_what_is_paid(percent: str, fraction: Fraction) -> None:
    # the fractions of a price with tax that are tax, from memory of the UK's VAT guide (Notice 700): 1/6 at
    # 20 %, 7/47 at 17.5 %, 3/23 at 15 %, 1/21 at 5 %
    for net_minor in (4000, 140_000, 19_999_600):
        tax = share(net_minor, Decimal(percent))
        assert Fraction(tax) == fraction * (net_minor + tax)


def test_a_line_of_tax_is_rounded_as_the_vat_guide_shows() -> None:
    # from memory of the UK's VAT guide (Notice 700) on tax by lines: 86.76p goes to 87p to the nearest penny
    assert half_up(Decimal("86.76")) == 87
    assert share(8676, Decimal(1)) == 87
