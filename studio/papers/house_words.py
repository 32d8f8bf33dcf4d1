"""Words a studio may begin with for its quotes: terms, the right to withdraw, hallmark, allergy, resizing.

They are drafts in plain English and no legal advice: law differs, changes, and asks for the customer's own
language. Every studio puts its own words in their place, after asking somebody who knows the law. What they
say of the law of a country is from memory of the acts that are named.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Country(StrEnum):
    """Countries there are words for; a studio elsewhere writes its own."""

    GREAT_BRITAIN = "gb"
    IRELAND = "ie"
    GERMANY = "de"
    FRANCE = "fr"
    UNITED_STATES = "us"
    ELSEWHERE = ""


COUNTRY_NAMES: Mapping[Country, str] = {
    Country.ELSEWHERE: "Elsewhere",
    Country.GREAT_BRITAIN: "Great Britain",
    Country.IRELAND: "Ireland",
    Country.GERMANY: "Germany",
    Country.FRANCE: "France",
    Country.UNITED_STATES: "United States",
}


@dataclass(frozen=True, slots=True)
class HouseWords:
    """What a quote says below the price, each a text of its own; what is empty is left out.

    `custody_note` stands on the receipt for goods taken in instead.
    """

    returns: str
    small_print: str
    hallmark_note: str
    allergy_note: str
    resizing_note: str
    custody_note: str


COMMON_CUSTODY = (
    "Your goods stay yours. We keep them with our own and give them back, or what is left of them, when the "
    "work is done or called off. Bring this receipt along when you collect them."
)
"""What a new studio's receipts say of goods taken in, until it writes its own; insurance is left to it."""
_TERMS = (
    "What is written here is what we make; every change is agreed in writing, with what it does to price and "
    "day. The deposit counts towards the price. The ring is yours once it is paid in full."
)
_RESIZING = (
    "Fingers change with heat and season: wear the ring for two weeks before you judge its fit. What "
    "resizing "
    "can do for it stands above; letters, patterns and settings may have to be worked anew."
)
_NICKEL = (
    "Tell us which metals your skin does not bear. What a ring may release of nickel is limited by law; the "
    "alloy is named on this quote, and we gladly tell what is in it."
)
_EU_FAULTS = "Your rights where a thing is faulty or not as agreed stay as they are."

ON_ACCOUNT = frozenset({Country.GREAT_BRITAIN, Country.IRELAND, Country.GERMANY, Country.FRANCE})
"""Where a payment before the hand-over usually has an invoice of its own, as its tax is owed at once.

From memory of Directive 2006/112/EC, articles 65 and 220, and of the Value Added Tax Act 1994, section 6.
"""
USUAL: Mapping[Country, HouseWords] = {
    Country.GREAT_BRITAIN: HouseWords(
        returns=(
            "This ring is made to your specification. The 14 days in which things bought at a distance "
            "can be "
            "given back do not apply to it (Consumer Contracts Regulations 2013, regulation 28). Your rights "
            "under the Consumer Rights Act 2015, where it is faulty or not as described, stay as they are."
        ),
        small_print=_TERMS,
        hallmark_note=(
            "Gold from 1 g, silver from 7.78 g, platinum from 0.5 g and palladium from 1 g are hallmarked by "
            "an assay office (Hallmarking Act 1973). The dealer's notice hangs in the shop."
        ),
        allergy_note=_NICKEL,
        resizing_note=_RESIZING,
        custody_note=COMMON_CUSTODY,
    ),
    Country.IRELAND: HouseWords(
        returns=(
            "This ring is made to your specification, so the right to withdraw within 14 days does not apply "
            f"to it (Directive 2011/83/EU, article 16(c), as taken into Irish law). {_EU_FAULTS}"
        ),
        small_print=_TERMS,
        hallmark_note=(
            "Articles of precious metal are hallmarked in Dublin as the Hallmarking Act 1981 asks; we "
            "tell you "
            "which marks your ring carries."
        ),
        allergy_note=_NICKEL,
        resizing_note=_RESIZING,
        custody_note=COMMON_CUSTODY,
    ),
    Country.GERMANY: HouseWords(
        returns=(
            "This ring is made to your specification, so there is no right to withdraw from a contract "
            "made at "
            f"a distance (§ 312g (2) no. 1 BGB). {_EU_FAULTS}"
        ),
        small_print=_TERMS,
        hallmark_note=(
            "Germany asks for no mark of an office. The fineness we strike is what we answer for, beside our "
            "own mark."
        ),
        allergy_note=_NICKEL,
        resizing_note=_RESIZING,
        custody_note=COMMON_CUSTODY,
    ),
    Country.FRANCE: HouseWords(
        returns=(
            "This ring is made to your specification, so there is no right to withdraw from a contract "
            "made at "
            f"a distance (Code de la consommation, article L221-28, 3°). {_EU_FAULTS}"
        ),
        small_print=_TERMS,
        hallmark_note=(
            "Gold and platinum from 3 g and silver from 30 g carry the mark of guarantee beside the maker's "
            "mark; lighter articles carry the maker's mark."
        ),
        allergy_note=_NICKEL,
        resizing_note=_RESIZING,
        custody_note=COMMON_CUSTODY,
    ),
    Country.UNITED_STATES: HouseWords(
        returns=(
            "This ring is made to your order and cannot be returned because of a change of mind. What your "
            "state's law gives you where it is faulty stays as it is."
        ),
        small_print=_TERMS,
        hallmark_note=(
            "Where we stamp a fineness our registered mark stands beside it, as the National Gold and Silver "
            "Stamping Act asks."
        ),
        allergy_note=(
            "Tell us which metals your skin does not bear; the alloy is named on this quote, and we gladly "
            "tell what is in it."
        ),
        resizing_note=_RESIZING,
        custody_note=COMMON_CUSTODY,
    ),
}
