"""Confirmations and receipts for the tests: one of each kind that is looked at."""

from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

from studio.craft.goods import GivenBack, Good
from studio.craft.particulars import Risk, Setting, Stone, Whose
from studio.papers.confirmation import AgreedOn, ConfirmationFacts, confirmation_paper, confirmation_to_print
from studio.papers.goods import GoodsFacts, goods_paper, goods_to_print
from studio.papers.house_words import COMMON_CUSTODY
from studio.papers.printing import printed
from tests.papers.quotes import QUOTES, WRENFOLD

AGREED = AgreedOn("2026-118-q1", date(2026, 11, 26), "Ines Radley")


def a_confirmation(kind: str = "hammered-flat", **changes: Any) -> ConfirmationFacts:
    """Confirmation 2026-118-c1 of one of the quotes, its deposit of 672.00 paid on 27 November."""
    facts = ConfirmationFacts(
        agreed=replace(QUOTES[kind], number="2026-118-c1", issued_on=date(2026, 12, 1)),
        steps=(AGREED,),
        collects="",
        asked_minor=67200,
        paid_minor=67200,
        paid_on=date(2026, 11, 27),
    )
    return replace(facts, **changes)


CONFIRMATIONS: dict[str, ConfirmationFacts] = {
    "paid": a_confirmation(),
    "engraved": a_confirmation("engraved", collects="Tom Radley"),
    "pair": a_confirmation("pair", asked_minor=117384, paid_minor=0, paid_on=None),
    "amended": a_confirmation(
        steps=(
            replace(AGREED, variant="b"),
            AgreedOn("2026-118-a1", date(2026, 12, 1), "Ines Radley"),
        ),
        paid_minor=50000,
    ),
    "without-tax": a_confirmation("without-tax", asked_minor=5000, paid_minor=0, is_waived=True),
}
"""One confirmation of each kind that is looked at."""

HEIRLOOM = Stone(
    1, Whose.CUSTOMER, "oval", "5 x 3 mm", "sapphire", "corundum", "a chip at the girdle", "£400",
    Setting.BEZEL, Risk.CUSTOMER,
)  # fmt: skip
TAKEN_IN = (
    Good("2026-118-r1", 1, 1, 1, HEIRLOOM, bag="A-17"),
    Good("2026-118-r1", 2, 2, 1, Stone(3, Whose.CUSTOMER, risk=Risk.STUDIO), bag="A-17"),
    Good("2026-118-r1", 3, words="A thin old ring, for its gold", weight_mg=2_140, bag="A-17"),
)


def goods_facts(**changes: Any) -> GoodsFacts:
    """Receipt 2026-118-r1 for an heirloom, three small stones and an old ring."""
    facts = GoodsFacts(
        studio=WRENFOLD,
        number="2026-118-r1",
        order_number="2026-118",
        customer="Ines Radley",
        issued_on=date(2026, 11, 26),
        by="Ivo",
        taken_in=TAKEN_IN,
        custody=COMMON_CUSTODY,
    )
    return replace(facts, **changes)


GOODS: dict[str, GoodsFacts] = {
    "taken-in": goods_facts(),
    "given-back": goods_facts(
        number="2026-118-b1",
        taken_in=(),
        custody="",
        given_back=(GivenBack(TAKEN_IN[0]), GivenBack(TAKEN_IN[2], 1_980)),
        left=(TAKEN_IN[1],),
        note="The old ring was assayed first; it lost what was scraped off.",
    ),
}
"""One receipt of each kind that is looked at."""


@cache
def document(kind: str) -> bytes:
    """The PDF of one of the documents that are looked at."""
    if kind in GOODS:
        return printed(goods_to_print(goods_paper(GOODS[kind])))
    return printed(confirmation_to_print(confirmation_paper(CONFIRMATIONS[kind])))
