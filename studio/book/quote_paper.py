"""The paper of a quote, made from what the book keeps of it and from nothing else."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from sqlmodel import Session, col, select

from studio.book.errors import QuoteUnknown
from studio.book.frozen import breakdown_read, rings_read
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import QuoteDraft
from studio.clock import day_of
from studio.craft.hallmark import HallmarkRule
from studio.papers.quote import quote_paper
from studio.papers.quote_facts import Amends, Letterhead, OtherWay, QuotedRing, QuoteFacts
from studio.papers.quote_parts import QuotePaper


def paper_of(draft: QuoteDraft) -> QuotePaper:
    """The paper as it would be issued: what the page shows that reads it back, and what is rendered."""
    return quote_paper(quote_facts(draft.frozen))


def paper_of_issued(session: Session, number: str) -> QuotePaper:
    """The paper of a quote that was issued without one, as it stood then. Raises `QuoteUnknown`."""
    frozen = session.exec(select(QuoteRow.frozen).where(col(QuoteRow.number) == number)).one_or_none()
    if frozen is None:
        raise QuoteUnknown(number)
    return quote_paper(quote_facts(frozen))


def quote_facts(frozen: Mapping[str, Any]) -> QuoteFacts:
    """Everything a quote says, out of what the book keeps of it; nothing of cost, margin or minutes."""
    studio = frozen["studio"]
    zone = studio["time_zone"]
    breakdown = breakdown_read(frozen["breakdown"])
    wanted_on = frozen["wanted_on"]
    return QuoteFacts(
        studio=Letterhead(
            **{name: studio[name] for name in ("name", "subtitle", "address", "phone", "email")}
        ),
        number=frozen["number"],
        order_number=frozen["order"],
        customer=frozen["customer"],
        issued_on=date.fromisoformat(frozen["issued_on"]),
        valid_until=date.fromisoformat(frozen["valid_until"]),
        rings=_quoted(frozen["rings"], zone),
        hallmark=HallmarkRule(studio["hallmark_rule"]),
        ready_at=_local(frozen["promised_at"], zone),
        wanted_on=None if wanted_on is None else date.fromisoformat(wanted_on),
        currency=breakdown.currency,
        lines=breakdown.lines,
        deposit_minor=breakdown.deposit_minor,
        tax_percent=Decimal(frozen["rates"]["tax_percent"]),
        tax_name=studio["tax_name"],
        returns=studio["returns"],
        small_print=studio["small_print"],
        notes=tuple(studio.get(f"{name}_note", "") for name in ("hallmark", "allergy", "resizing")),
        amends=_amends(frozen["amends"], zone) if "amends" in frozen else None,
        others=tuple(_other_way(one, zone) for one in frozen.get("variants", ())),
    )


def _amends(kept: Mapping[str, Any], zone: str) -> Amends:
    agreed_on, wanted_on = kept["agreed_on"], kept["wanted_on"]
    return Amends(
        number=kept["number"],
        agreed_on=None if agreed_on is None else day_of(datetime.fromisoformat(agreed_on), zone),
        rings=_quoted(kept["rings"], zone),
        ready_at=_local(kept["promised_at"], zone),
        wanted_on=None if wanted_on is None else date.fromisoformat(wanted_on),
        total_minor=kept["total_minor"],
        paid_minor=kept["paid_minor"],
        words=kept["words"],
    )


def _local(moment: str | None, zone: str) -> datetime | None:
    return None if moment is None else datetime.fromisoformat(moment).astimezone(ZoneInfo(zone))


def _other_way(kept: Mapping[str, Any], zone: str) -> OtherWay:
    price = breakdown_read(kept["breakdown"])
    return OtherWay(kept["key"], _quoted(kept["rings"], zone), price.lines, price.deposit_minor)


def _quoted(kept: Sequence[Mapping[str, Any]], zone: str) -> tuple[QuotedRing, ...]:
    return tuple(
        QuotedRing(ring.reckoning, day_of(ring.taken_at, zone), ring.particulars) for ring in rings_read(kept)
    )
