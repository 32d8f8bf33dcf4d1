"""The order confirmation: all that was agreed, restated after the yes. Nothing is asked or signed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from studio.craft.directions import apart
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.quote import quote_paper, tied, tied_ring
from studio.papers.quote_facts import Letterhead, QuoteFacts
from studio.papers.quote_parts import PriceLine, RingOnPaper
from studio.papers.quote_words import day_of_year

TEMPLATE = "confirmation"


@dataclass(frozen=True, slots=True)
class AgreedOn:
    """One yes: to the quote or the amendment `number`, on a day, by whom; the key of the variant chosen."""

    number: str
    on: date
    name: str
    variant: str | None = None


@dataclass(frozen=True, slots=True)
class ConfirmationFacts:
    """Everything a confirmation says, as plain values.

    `agreed` is what was agreed, under the confirmation's own number and day; `steps` are the yes to the quote
    and to each amendment, at least one, the first one first. Money is in minor units of `agreed.currency`;
    a deposit that `is_waived` is not open. `collects` is who else may collect, '' where nobody else is named.
    """

    agreed: QuoteFacts
    steps: tuple[AgreedOn, ...]
    collects: str
    asked_minor: int
    paid_minor: int
    paid_on: date | None = None
    is_waived: bool = False


@dataclass(frozen=True, slots=True)
class ConfirmationPaper:
    """All that the paper shows, ready to print. `tax` is None where there is none."""

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    agreed: str
    rings: tuple[RingOnPaper, ...]
    settled: tuple[tuple[str, str], ...]
    lines: tuple[PriceLine, ...]
    tax: PriceLine | None
    total: str
    sums: tuple[PriceLine, ...]
    terms: tuple[str, ...]
    small_print: tuple[str, ...]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Order confirmation {self.number}, {self.customer}"


def confirmation_paper(facts: ConfirmationFacts) -> ConfirmationPaper:
    """The confirmation put into words and drawings. Raises ValueError without a yes, a ring or a line."""
    if not facts.steps:
        raise ValueError("a confirmation needs a yes")
    agreed = quote_paper(facts.agreed)
    return ConfirmationPaper(
        studio=agreed.studio,
        number=agreed.number,
        order_number=agreed.order_number,
        customer=agreed.customer,
        issued=agreed.issued,
        agreed=agreed_sentence(facts.steps),
        rings=agreed.rings,
        settled=(("Ready", agreed.ready), ("Collected by", _collected_by(agreed.customer, facts.collects))),
        lines=agreed.lines,
        tax=agreed.tax,
        total=agreed.total,
        sums=tuple(_sums(facts)),
        terms=tuple(term for term in agreed.terms if term != agreed.holds),
        small_print=agreed.small_print,
    )


def confirmation_to_print(paper: ConfirmationPaper) -> Paper:
    """The confirmation, to be printed."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def agreed_sentence(steps: Sequence[AgreedOn]) -> str:
    """What was agreed when and by whom.

    'Agreed on 26 November 2026 by Ines Radley: quote 2026-118-q1, variant B. Amended on 1 December 2026:
    2026-118-a1, agreed by Ines Radley. All of it stands here as amended.'
    """
    first, *later = steps
    chosen = "" if first.variant is None else f", variant {first.variant.upper()}"
    told = [
        f"Agreed on {day_of_year(first.on)} by {apart(first.name)}: quote {first.number}{chosen}.",
        *(f"Amended on {day_of_year(one.on)}: {one.number}, agreed by {apart(one.name)}." for one in later),
    ]
    return " ".join([*told, "All of it stands here as amended."] if later else told)


def _collected_by(customer: str, collects: str) -> str:
    """'Ines Radley, or Tom Radley'."""
    return f"{customer}, or {apart(collects)}" if collects else customer


def _sums(facts: ConfirmationFacts) -> Iterable[PriceLine]:
    """What was paid, what of the deposit is open, and what is left at collection."""

    def line(text: str, minor: int) -> PriceLine:
        return PriceLine(text, money_words(minor, facts.agreed.currency))

    if facts.paid_minor:
        on = "" if facts.paid_on is None else f" on {day_of_year(facts.paid_on)}"
        yield line(f"Deposit, paid{on}", facts.paid_minor)
    is_short = facts.paid_minor < facts.asked_minor and not facts.is_waived
    if is_short:
        yield line("Deposit, still open", facts.asked_minor - facts.paid_minor)
    total_minor = sum(one.net_minor + one.tax_minor for one in facts.agreed.lines)
    left = total_minor - facts.paid_minor
    if left < 0:
        yield line("We give back", -left)
    else:
        rest = facts.asked_minor - facts.paid_minor if is_short else 0
        yield line("Balance at collection", max(0, left - rest))


def _tied(paper: ConfirmationPaper) -> ConfirmationPaper:
    """The paper with its figures tied to their units and days to their months, so that no line parts them."""
    return replace(
        paper,
        issued=tied(paper.issued),
        agreed=tied(paper.agreed),
        rings=tuple(map(tied_ring, paper.rings)),
        settled=tuple((label, tied(words)) for label, words in paper.settled),
        sums=tuple(replace(one, text=tied(one.text)) for one in paper.sums),
        terms=tuple(map(tied, paper.terms)),
    )
