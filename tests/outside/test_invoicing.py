"""Tax within an amount and final invoices against examples that others publish, for each country's rate."""

from decimal import Decimal
from fractions import Fraction

import pytest

from studio.craft.invoicing import InvoiceLine, OnAccount, Taxed, on_account, order_invoice, tax_within
from studio.craft.money import share


@pytest.mark.parametrize(
    ("percent", "gross", "net", "tax"),
    [
        # Great Britain, 20 %: net 200, VAT 40, with VAT 240. Source: the International Association of
        # Bookkeepers' forum, bookkeepers.org.uk, thread 85461
        ("20", 240_00, 200_00, 40_00),
        # the same thread, 5 %: net 200, VAT 10, with VAT 210; and 17.5 % as it was: 200, 35, 235
        ("5", 210_00, 200_00, 10_00),
        ("17.5", 235_00, 200_00, 35_00),
        # Ireland, 23 %: 25,000 holds 4,674.80 VAT and 20,325.20 net. Source: easycalculation.com, 'Ireland
        # VAT calculator', section 'Remove tax'
        ("23", 25_000_00, 20_325_20, 4_674_80),
        # Germany, 19 %: a car of 10,000.00 holds 1,596.64, net 8,403.36. Source: the page
        # 'Rechentrick: schnell netto brutto' of matheretter.de
        ("19", 10_000_00, 8_403_36, 1_596_64),
        # Germany, 19 %: shoes of 250.00 hold 39.92; a computer of 1,000.00 holds 159.66, net 840.34. Source:
        # wandernundmehr.at, 'Wie viel Mehrwertsteuer ist in 100 Euro enthalten'
        ("19", 250_00, 210_08, 39_92),
        ("19", 1_000_00, 840_34, 159_66),
        # Germany, 7 %: 107 holds 7. Source: feeddi.de, 'Wie rechne ich die Umsatzsteuer heraus'
        ("7", 107_00, 100_00, 7_00),
        # France, 20 %: 120 TTC are 100 HT and 20 TVA; from memory of the ministry of economy's page on
        # prices with and without tax
        ("20", 120_00, 100_00, 20_00),
        # France, 5.5 %: 105.50 TTC are 100 HT; from memory of the same
        ("5.5", 105_50, 100_00, 5_50),
    ],
)
def test_the_tax_within_an_amount_is_as_published(percent: str, gross: int, net: int, tax: int) -> None:
    assert tax_within(gross, Decimal(percent)) == Taxed(net, tax)


@pytest.mark.parametrize(
    ("percent", "fraction"),
    [
        # Source: Croner-i, British VAT Reporter 14-200 (VATA 1994, s. 19): 1/6 at 20 %, 3/23 at 15 %
        ("20", Fraction(1, 6)),
        ("15", Fraction(3, 23)),
        # Source: bookkeepers.org.uk, thread 85461: 1/21 at 5 %, 7/47 at 17.5 %
        ("5", Fraction(1, 21)),
        ("17.5", Fraction(7, 47)),
        # Source: feeddi.de, as above: 19/119 and 7/107
        ("19", Fraction(19, 119)),
        ("7", Fraction(7, 107)),
    ],
)
def test_the_published_fraction_of_an_amount_is_its_tax(percent: str, fraction: Fraction) -> None:
    gross = fraction.denominator * 1_000_000
    assert tax_within(gross, Decimal(percent)).tax_minor == fraction.numerator * 1_000_000


def test_a_final_invoice_takes_what_was_invoiced_on_account_off_as_an_adviser_shows() -> None:
    # Source: ratundtat.at, September 2007, 'Richtige Ausstellung von Schluss- und Teilrechnungen': 10,000
    # net, 2,000 tax (20 %), 12,000; twice 1,000, 200, 1,200 on account; 8,000, 1,600, 9,600 are left
    twenty, whole = Decimal(20), Taxed(10_000_00, 2_000_00)
    paid: tuple[OnAccount, ...] = ()
    for number in ("1", "2"):
        paid += (OnAccount(number, twenty, on_account(1_200_00, twenty, whole=whole, before=paid)),)
    found = order_invoice(
        [InvoiceLine("All of it", twenty, whole)],
        before=paid,
        paid_minor=sum(one.taxed.gross_minor for one in paid),
    )
    assert [one.taxed for one in paid] == [Taxed(1_000_00, 200_00)] * 2
    assert found.invoiced == Taxed(8_000_00, 1_600_00)
    assert found.left_minor == 9_600_00


def test_an_american_sales_tax_is_added_to_the_price_and_found_in_it_again() -> None:
    # Source: Thomson Reuters, 'Bracket system examples': the whole dollars of 750.50 at Florida's 6 %: 45.00
    assert share(750_00, Decimal(6)) == 45_00
    assert tax_within(795_00, Decimal(6)) == Taxed(750_00, 45_00)
    # Source: nyc.gov, service 2389: 4.5 % of the city, 4 % of the state and 0.375 % for its transport are
    # 8.875 %; worked by hand: 1,000.00 with them is 1,088.75
    rate = Decimal("4.5") + Decimal(4) + Decimal("0.375")
    assert rate == Decimal("8.875")
    assert tax_within(1_088_75, rate) == Taxed(1_000_00, 88_75)
