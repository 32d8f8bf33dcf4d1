import pytest
from babel import Locale
from babel.numbers import get_currency_precision

from studio.craft.money import minor_digits
from studio.papers.money import money_words


@pytest.mark.parametrize(
    ("minor", "currency", "words"),
    [
        (168000, "GBP", "£1,680.00"),
        (5, "GBP", "£0.05"),
        (0, "GBP", "£0.00"),
        (-500, "GBP", "-£5.00"),
        (10**12 + 1, "EUR", "€10,000,000,000.01"),
        (168000, "USD", "US$1,680.00"),
        (16800, "JPY", "JP¥16,800"),
        (1680500, "KWD", "KWD\N{NO-BREAK SPACE}1,680.500"),
        (168000, "CHF", "CHF\N{NO-BREAK SPACE}1,680.00"),
    ],
)
def test_an_amount_is_written_with_its_sign_and_its_own_digits(minor: int, currency: str, words: str) -> None:
    assert money_words(minor, currency) == words


def test_no_digit_of_an_amount_is_lost_in_any_currency() -> None:
    # The locale's own list shows fewer digits than ISO 4217 has for some currencies, such as IQD.
    locale = Locale("en", "GB")
    for currency in map(str, locale.currencies):
        digits = minor_digits(currency)
        shown = money_words(10**digits + 1 if digits else 1, currency)
        assert shown.endswith(f"1.{'0' * (digits - 1)}1" if digits else "1"), currency
    assert get_currency_precision("IQD") < minor_digits("IQD")
