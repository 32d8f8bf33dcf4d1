"""Money, tax and weights of metal against lists and examples that others publish."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from babel.core import get_global
from babel.numbers import format_currency, get_currency_precision

from studio.craft.money import from_minor, half_up, minor_digits, share, to_minor
from studio.craft.rates import GRAMS, WeightUnit

ISO_DIGITS_NOT_IN_CUSTOM = {
    "AFN": 2, "ALL": 2, "IQD": 3, "IRR": 2, "KPW": 2, "LAK": 2, "LBP": 2, "MGA": 2, "MMK": 2, "RSD": 2,
    "SOS": 2, "SYP": 2, "YER": 2,
}  # fmt: skip
"""Currencies of which Unicode's locale data, which Babel carries, says that nobody writes the minor unit any
more. ISO 4217 (list one, from memory) still has one, and amounts are counted in it: a difference between the
two lists that we keep to the standard in."""


def in_use() -> list[str]:
    """The currencies that are legal tender somewhere today, by Unicode's locale data."""
    territories = get_global("territory_currencies").values()
    return sorted(
        {code for listed in territories for code, _, until, is_tender in listed if is_tender and not until}
    )


def test_every_currency_in_use_has_as_many_digits_as_babel_says() -> None:
    ours = {code: minor_digits(code) for code in in_use() if code not in ISO_DIGITS_NOT_IN_CUSTOM}
    assert ours == {code: get_currency_precision(code) for code in ours}
    assert len(ours) > 130
    assert set(ours.values()) == {0, 2, 3}


@pytest.mark.parametrize(("currency", "digits"), ISO_DIGITS_NOT_IN_CUSTOM.items())
def test_where_custom_dropped_the_minor_unit_we_keep_to_the_standard(currency: str, digits: int) -> None:
    assert minor_digits(currency) == digits
    assert get_currency_precision(currency) < digits


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
