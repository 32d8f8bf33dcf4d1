"""What the papers say of the studio, as the Studio page shows and reads it."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date

from babel.core import get_global

from studio.book.studio import Studio
from studio.craft.hallmark import HallmarkRule
from studio.craft.old_gold import MOST_YEARS
from studio.papers.house_words import COUNTRY_NAMES, USUAL, Country
from studio.web.amounts import read_amount, read_count, shown_amount
from studio.web.counter_choices import Choice
from studio.web.errors import FieldError, FieldErrors
from studio.web.forms import long_text, short_text
from studio.web.reading import Reading, read_id, sure
from studio.web.sent_back import Said
from studio.web.studio_days import DAYS_WORDS, days_texts, read_days
from studio.web.studio_invoices import INVOICES_WORDS, invoices_texts, read_invoices, usual_invoices
from studio.web.studio_kept import KEPT_WORDS, kept_texts, read_kept
from studio.web.texts import LONGEST_ADDRESS, read_email, read_name, read_phone

LONGEST_TERMS = 2_000
MOST_FIT_WEEKS = 52
RULES = {
    HallmarkRule.UK: "United Kingdom",
    HallmarkRule.CONVENTION: "Convention countries",
    HallmarkRule.NONE: "No rule",
}
_NOTES = ("hallmark_note", "allergy_note", "resizing_note", "custody_note")
FACTS_WORDS = {
    "name": "Name",
    "subtitle": "Below it",
    "address": "Address",
    "phone": "Phone",
    "email": "E-mail",
    "hallmark_rule": "Hallmark rule",
    "currency": "Currency",
    "tax_name": "Tax is called",
    "returns": "Returns",
    "small_print": "Small print",
    "country": "Country",
    "hallmark_note": "On hallmarks",
    "allergy_note": "On allergy",
    "resizing_note": "On resizing",
    "custody_note": "On goods taken in",
    "insured": "Customers' goods insured for",
    "seller_years": "Who sold old gold, kept for",
    **DAYS_WORDS,
    "fit_weeks": "Ask how it fits, after",
    **KEPT_WORDS,
    **INVOICES_WORDS,
}
"""The form's fields and their words."""


@dataclass(frozen=True, slots=True)
class FactsForm:
    """What the papers say of the studio, as it stands or as it was typed."""

    name: str
    subtitle: str
    address: str
    phone: str
    email: str
    hallmark_rule: str
    currency: str
    tax_name: str
    returns: str
    small_print: str
    country: str
    hallmark_note: str
    allergy_note: str
    resizing_note: str
    custody_note: str
    insured: str
    seller_years: str
    closed_weekdays: str
    closed_on: str
    fit_weeks: str
    making_days: str
    assay_days: str
    finishing_days: str
    setting_days: str
    engraving_days: str
    plating_days: str
    kept_agreed: str
    kept_cut: str
    kept_bench: str
    kept_ready: str
    tax_number: str
    invoice_prefix: str
    invoices_on_account: str
    invoice_note: str
    rules: tuple[Choice, ...]
    countries: tuple[Choice, ...]


def facts_form(facts: Studio, said: Said) -> FactsForm:
    """The form with what stands, or with what was typed and could not be kept."""
    texts = {name: said.typed.get(name, text) for name, text in facts_texts(facts).items()}
    return FactsForm(
        **texts,
        rules=tuple(Choice(rule, words) for rule, words in RULES.items()),
        countries=tuple(Choice(country, words) for country, words in COUNTRY_NAMES.items()),
    )


def with_usual_words(texts: Mapping[str, str]) -> Said:
    """The form as typed, with the words to begin with for the country that is chosen; nothing is kept yet.

    Raises `FieldErrors` at `country` where there are none for it.
    """
    country = Country(texts["country"]) if texts["country"] in set(Country) else Country.ELSEWHERE
    words = USUAL.get(country)
    if words is None:
        raise FieldErrors(
            [FieldError("country", "Choose a country; for others we have no words to begin with.")]
        )
    return Said(
        heading="Words to begin with",
        sentences=(
            "Nothing is saved yet. They are no legal advice: have them read by somebody who knows the law.",
        ),
        typed=dict(texts) | asdict(words) | usual_invoices(country),
    )


def facts_texts(facts: Studio) -> dict[str, str]:
    """What stands, as the form's fields show it."""
    return {
        "name": facts.name,
        "subtitle": facts.subtitle,
        "address": facts.address,
        "phone": facts.phone,
        "email": facts.email,
        "hallmark_rule": facts.hallmark_rule,
        "currency": facts.currency,
        "tax_name": facts.tax_name,
        "returns": facts.returns,
        "small_print": facts.small_print,
        "country": facts.country,
        "hallmark_note": facts.hallmark_note,
        "allergy_note": facts.allergy_note,
        "resizing_note": facts.resizing_note,
        "custody_note": facts.custody_note,
        "insured": "" if facts.insured_minor is None else shown_amount(facts.insured_minor, facts.currency),
        "seller_years": str(facts.seller_years),
        **days_texts(facts),
        "fit_weeks": str(facts.fit_weeks or ""),
        **kept_texts(facts),
        **invoices_texts(facts),
    }


def read_facts(raw: Mapping[str, object], stands: Studio, today: date) -> Studio:
    """The studio as typed; raises `FieldErrors` with all that is to be put right."""
    asked = Reading(raw, "")
    name = asked.needed("name", read_name, "name")
    subtitle = asked.read("subtitle", short_text)
    address = asked.read("address", long_text(LONGEST_ADDRESS))
    phone, email = asked.read("phone", read_phone), asked.read("email", read_email)
    rule = asked.choice("hallmark_rule", HallmarkRule)
    if not asked.has("hallmark_rule"):
        asked.add("hallmark_rule", "The hallmark rule is not chosen yet.")
    currency = asked.needed("currency", read_currency, "currency")
    tax_name = asked.needed("tax_name", short_text, "name of the tax")
    returns = asked.read("returns", long_text(LONGEST_TERMS))
    small_print = asked.read("small_print", long_text(LONGEST_TERMS))
    country = asked.choice("country", Country)
    notes = {name: asked.read(name, long_text(LONGEST_TERMS)) or "" for name in _NOTES}
    days = asked.found.take(lambda: read_days(raw, today))
    kept = asked.found.take(lambda: read_kept(raw))
    invoices = asked.found.take(lambda: read_invoices(raw))
    weeks = (
        asked.read("fit_weeks", read_count(0, MOST_FIT_WEEKS, "week", "weeks"))
        if asked.has("fit_weeks")
        else 0
    )
    insured = (
        asked.read("insured", read_amount(currency or stands.currency)) if asked.has("insured") else None
    )
    years = (
        asked.read("seller_years", read_count(1, MOST_YEARS, "year", "years"))
        if asked.has("seller_years")
        else stands.seller_years
    )
    version = asked.read("version", read_id)
    asked.stop()
    return replace(
        stands,
        name=sure(name),
        subtitle=subtitle or "",
        address=address or "",
        phone=phone or "",
        email=email or "",
        hallmark_rule=sure(rule),
        currency=sure(currency),
        tax_name=sure(tax_name),
        returns=returns or "",
        small_print=small_print or "",
        country=country or Country.ELSEWHERE,
        hallmark_note=notes["hallmark_note"],
        allergy_note=notes["allergy_note"],
        resizing_note=notes["resizing_note"],
        custody_note=notes["custody_note"],
        **asdict(sure(days)),
        insured_minor=insured if "insured" in raw else stands.insured_minor,
        seller_years=years or stands.seller_years,
        fit_weeks=(weeks or 0) if "fit_weeks" in raw else stands.fit_weeks,
        **asdict(sure(kept)),
        **asdict(sure(invoices)),
        version=sure(version),
    )


def read_currency(value: object, field: str) -> str:
    """A currency by its three letters in ISO 4217, in capitals."""
    code = short_text(value, field).upper()
    if code not in get_global("all_currencies"):
        raise FieldErrors([FieldError(field, "We know no such currency. Type its three letters: GBP.")])
    return code
