"""Amounts as they stand on paper."""

from functools import lru_cache

from babel.numbers import format_currency, get_currency_symbol

from studio.craft.money import from_minor, minor_digits

_LOCALE = "en_GB"


@lru_cache(maxsize=4096)
def money_words(minor: int, currency: str) -> str:
    """An amount of minor units with its sign: GBP 168000 is '£1,680.00', JPY 1680 'JP¥1,680'.

    Digits after the point are the currency's own by ISO 4217, as the amounts are counted (the locale's list
    drops them for some). A sign that ends in a letter keeps its distance: 'KWD 1.680', with a no-break space.
    """
    gap = "\N{NO-BREAK SPACE}" if get_currency_symbol(currency, locale=_LOCALE)[-1].isalpha() else ""
    digits = minor_digits(currency)
    places = f".{'0' * digits}" if digits else ""
    return format_currency(
        from_minor(minor, currency), currency, f"¤{gap}#,##0{places}", locale=_LOCALE, currency_digits=False
    )
