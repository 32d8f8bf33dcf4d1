"""What is agreed of an order: the quote and its amendments with the yes to each, and all that they say."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from sqlmodel import Session, col, select

from studio.book.frozen import as_agreed, ring_kept
from studio.book.order_values import Order
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import Agreement
from studio.book.studio import Studio, letterhead_of
from studio.craft.hallmark import HallmarkRule

"""What a confirmation says of the studio as it is today; its words are those of the agreed quote."""


@dataclass(frozen=True, slots=True)
class AgreedStep:
    """One yes: to the quote or the amendment of this number, who said it, and when (UTC, ISO)."""

    number: str
    name: str
    at: str
    variant: str | None
    frozen: Any


def agreed_steps(session: Session, agreement: Agreement) -> tuple[AgreedStep, ...]:
    """The yes to the quote and to each amendment after it, the first one first."""
    steps: list[AgreedStep] = []
    number: str | None = agreement.quote_number
    while number is not None:
        row, yes = session.exec(
            select(QuoteRow, AgreementRow)
            .join(AgreementRow, col(AgreementRow.quote_id) == col(QuoteRow.id))
            .where(col(QuoteRow.number) == number)
            .order_by(col(AgreementRow.id).desc())
            .limit(1)
        ).one()
        steps.append(AgreedStep(number, yes.name, yes.agreed_at.isoformat(), yes.variant, row.frozen))
        number = row.frozen["amends"]["number"] if "amends" in row.frozen else None
    return tuple(reversed(steps))


def frozen_confirmation(
    found: Order,
    *,
    agreement: Agreement,
    steps: Sequence[AgreedStep],
    facts: Studio,
    number: str,
    issued_on: date,
) -> dict[str, Any]:
    """All that stands on a confirmation, as plain JSON values.

    Price, terms and hallmark rule are those of the agreed quote; the rings and days are the order's, with a
    size that was settled since; how to reach the studio is as of today.
    """
    last = steps[-1]
    agreed = as_agreed(last.frozen, last.variant)
    rule = HallmarkRule(agreed["studio"]["hallmark_rule"])
    terms, paid_on = found.terms, agreement.paid_on
    kept = {
        "number": number,
        "order": found.number,
        "issued_on": issued_on.isoformat(),
        "valid_until": agreed["valid_until"],
        "studio": agreed["studio"] | letterhead_of(facts) | {"time_zone": facts.time_zone},
        "customer": found.customer.name,
        "collects": terms.collects,
        "wanted_on": None if terms.wanted_on is None else terms.wanted_on.isoformat(),
        "promised_at": None if terms.promised_at is None else terms.promised_at.isoformat(),
        "rings": [ring_kept(ring, rule) for ring in found.rings],
        "rates": {"tax_percent": agreed["rates"]["tax_percent"]},
        "breakdown": agreed["breakdown"],
        "agreed": [{name: part for name, part in asdict(step).items() if name != "frozen"} for step in steps],
        "deposit": {
            "asked_minor": agreement.deposit_asked_minor,
            "paid_minor": agreement.paid_minor or None,
            "is_waived": agreement.without_deposit is not None,
            "on": None if paid_on is None else paid_on.isoformat(),
        },
    }
    plain: dict[str, Any] = json.loads(json.dumps(kept))  # as it will read when it comes out of the book
    return plain
