"""Receipts for money for the tests: one of each kind that is looked at."""

from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

from studio.craft.payments import Method
from studio.papers.payment import PaymentFacts, payment_paper, payment_to_print
from studio.papers.printing import printed
from tests.papers.quotes import WRENFOLD


def a_payment(**changes: Any) -> PaymentFacts:
    """Receipt 2026-118-p1 for 672.00 of 1,680.00."""
    facts = PaymentFacts(
        studio=WRENFOLD,
        number="2026-118-p1",
        order_number="2026-118",
        customer="Ines Radley",
        issued_on=date(2026, 11, 27),
        by="Ivo",
        amount_minor=67_200,
        paid_minor=67_200,
        due_minor=168_000,
        currency="GBP",
        method=Method.TRANSFER,
        reference="slip 0481",
        on=date(2026, 11, 26),
    )
    return replace(facts, **changes)


PAYMENTS: dict[str, PaymentFacts] = {
    "deposit": a_payment(),
    "all-of-it": a_payment(number="2026-118-p2", amount_minor=100_800, paid_minor=168_000),
    "given-back": a_payment(number="2026-118-p2", amount_minor=-20_000, paid_minor=47_200, due_minor=40_000),
    "nobody-said": a_payment(due_minor=None, method=Method.NOT_SAID, reference=""),
    "yen": a_payment(amount_minor=25_000, paid_minor=25_000, due_minor=180_000, currency="JPY"),
}
"""One receipt of each kind that is looked at."""


@cache
def receipt(kind: str) -> bytes:
    """The PDF of one of them."""
    return printed(payment_to_print(payment_paper(PAYMENTS[kind])))
