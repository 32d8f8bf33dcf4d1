"""Invoices, invoices on account, and credit notes: what is charged, its tax, and what is left to pay."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import partial

from studio.craft.directions import apart
from studio.craft.invoicing import NOTHING, AtRate, InvoiceKind, InvoiceLine, Taxed, by_rate, summed
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.quote import tied
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_parts import PriceLine
from studio.papers.quote_words import day_of_year

TEMPLATE = "invoice"
KIND_WORDS = {
    InvoiceKind.INVOICE: "Invoice",
    InvoiceKind.ON_ACCOUNT: "Invoice on account",
    InvoiceKind.CREDIT_NOTE: "Credit note",
}


@dataclass(frozen=True, slots=True)
class Before:
    """A paper that this one speaks of: an invoice taken off, or the one that is credited.

    `percent` and `taxed` are what it invoiced at one rate, less what was credited of that.
    """

    number: str
    issued_on: date
    percent: Decimal = Decimal(0)
    taxed: Taxed = NOTHING


@dataclass(frozen=True, slots=True)
class InvoiceFacts:
    """Everything an invoice says, as plain values. Money in minor units of `currency`.

    `rings` say what each ring is, in a sentence. `supplied_on` is the day the goods were handed over, None
    where that was not yet; `paid_on` the day of the payment an invoice on account is for. `lines` are what is
    charged, or credited; `on_account` what was invoiced of it before; `paid_minor` what was paid besides.
    `credits` and `reason` are a credit note's. `note` is the studio's own word,
    a paragraph a line, and not said on a credit note.
    """

    studio: Letterhead
    kind: InvoiceKind
    number: str
    order_number: str
    customer: str
    issued_on: date
    currency: str
    lines: tuple[InvoiceLine, ...]
    rings: tuple[str, ...] = ()
    customer_address: str = ""
    tax_name: str = ""
    tax_number: str = ""
    supplied_on: date | None = None
    paid_on: date | None = None
    on_account: tuple[Before, ...] = ()
    paid_minor: int = 0
    credits: Before | None = None
    reason: str = ""
    note: str = ""

    @property
    def has_tax(self) -> bool:
        """Whether tax is charged; where it is not, the paper speaks of none."""
        return any(line.percent for line in self.lines) or any(one.percent for one in self.on_account)

    @property
    def invoiced(self) -> Taxed:
        """What the paper charges, or credits: its lines less what was invoiced on account."""
        return summed(line.taxed for line in self.lines) - summed(one.taxed for one in self.on_account)


@dataclass(frozen=True, slots=True)
class LineOnPaper:
    """One line, ready to print: how many of what, at which rate, one of it and all of it without tax."""

    text: str
    quantity: str
    rate: str
    unit_price: str
    net: str


@dataclass(frozen=True, slots=True)
class SumOnPaper:
    """One row of the sums by rate, ready to print: without tax, the tax, and both."""

    text: str
    net: str
    tax: str
    gross: str
    is_last: bool = False


@dataclass(frozen=True, slots=True)
class InvoicePaper:
    """All that the paper shows, ready to print. Without tax `sums` are empty, and no rate is told."""

    studio: Letterhead
    kind: str
    number: str
    order_number: str
    customer: str
    address: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    tax_name: str
    lines: tuple[LineOnPaper, ...]
    sums: tuple[SumOnPaper, ...]
    less: tuple[PriceLine, ...]
    total: PriceLine
    settled: tuple[PriceLine, ...]
    paragraphs: tuple[str, ...]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"{self.kind} {self.number}, {self.customer}"


def invoice_paper(facts: InvoiceFacts) -> InvoicePaper:
    """The invoice put into words. Raises ValueError without a line, and for a credit note of nothing."""
    if not facts.lines:
        raise ValueError("an invoice needs a line")
    if (facts.kind is InvoiceKind.CREDIT_NOTE) is (facts.credits is None):
        raise ValueError("a credit note, and nothing else, names the invoice it takes back")
    return InvoicePaper(
        studio=facts.studio,
        kind=KIND_WORDS[facts.kind],
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        address=tuple(apart(line.strip()) for line in facts.customer_address.splitlines() if line.strip()),
        facts=tuple(_facts(facts)),
        tax_name=apart(facts.tax_name) if facts.has_tax else "",
        lines=tuple(_line(line, facts.currency) for line in facts.lines),
        sums=tuple(_sums(facts)) if facts.has_tax else (),
        less=() if facts.has_tax else tuple(_less(one, facts.currency) for one in facts.on_account),
        total=PriceLine(_total_words(facts), _money(facts.invoiced.gross_minor, facts.currency)),
        settled=tuple(_settled(facts)),
        paragraphs=_paragraphs(facts),
    )


def invoice_to_print(paper: InvoicePaper) -> Paper:
    """The invoice, to be printed."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def _paragraphs(facts: InvoiceFacts) -> tuple[str, ...]:
    """The studio's own word, which asks for payment; nothing is paid by a credit note."""
    if facts.kind is InvoiceKind.CREDIT_NOTE:
        return ()
    return tuple(line.strip() for line in facts.note.splitlines() if line.strip())


def _money(minor: int, currency: str) -> str:
    """The amount with its sign, one below 0 with a minus as wide as a figure."""
    return money_words(minor, currency).replace("-", "\N{MINUS SIGN}")


def percent_words(percent: Decimal) -> str:
    """'20 %'; '5.5 %'."""
    plain = f"{percent:f}"
    return f"{plain.rstrip('0').rstrip('.') if '.' in plain else plain}\N{NO-BREAK SPACE}%"


def _facts(facts: InvoiceFacts) -> list[tuple[str, str]]:
    """What is said once, each with its label; what is as the day of issue is not said again."""
    told = [("Date of issue", day_of_year(facts.issued_on))]
    if facts.supplied_on not in {None, facts.issued_on}:
        told.append(("Date of supply", _day(facts.supplied_on)))
    if facts.paid_on is not None:
        told.append(("Payment received", _day(facts.paid_on)))
    if facts.has_tax and facts.tax_number:
        told.append((f"{apart(facts.tax_name)} number", apart(facts.tax_number)))
    if facts.credits is not None:
        told.append(("Credits", f"invoice {facts.credits.number} of {day_of_year(facts.credits.issued_on)}"))
        told.append(("Reason", apart(facts.reason)))
    several = len(facts.rings) > 1
    told += [(f"Ring {at}" if several else "The ring", words) for at, words in enumerate(facts.rings, 1)]
    return told


def _day(day: date | None) -> str:
    return "" if day is None else day_of_year(day)


def _line(line: InvoiceLine, currency: str) -> LineOnPaper:
    net_minor = line.taxed.net_minor
    if net_minor % line.quantity:
        raise ValueError("the price of one has to be in whole minor units")
    return LineOnPaper(
        text=apart(line.text),
        quantity=str(line.quantity),
        rate=percent_words(line.percent),
        unit_price=_money(net_minor // line.quantity, currency),
        net=_money(net_minor, currency),
    )


def _sums(facts: InvoiceFacts) -> list[SumOnPaper]:
    """All lines at each rate, what was invoiced of them before, and what this paper says of each rate."""

    def row(text: str, taxed: Taxed, *, is_last: bool = False) -> SumOnPaper:
        amounts = (taxed.net_minor, taxed.tax_minor, taxed.gross_minor)
        net, tax, gross = (_money(minor, facts.currency) for minor in amounts)
        return SumOnPaper(text, net, tax, gross, is_last)

    charged = by_rate(AtRate(line.percent, line.taxed) for line in facts.lines)
    rows = [row(f"At {percent_words(one.percent)}", one.taxed) for one in charged]
    if facts.on_account:
        rows += [
            row(f"Less {_named(one)}, at {percent_words(one.percent)}", -one.taxed)
            for one in facts.on_account
        ]
        left = by_rate([*charged, *(AtRate(one.percent, -one.taxed) for one in facts.on_account)])
        rows += [
            row(f"This invoice at {percent_words(one.percent)}", one.taxed, is_last=len(left) == 1)
            for one in left
        ]
    if len({line.percent for line in facts.lines} | {one.percent for one in facts.on_account}) > 1:
        rows.append(row("Together", facts.invoiced, is_last=True))
    return rows


def _named(one: Before) -> str:
    return f"invoice {one.number} of {day_of_year(one.issued_on)}"


def _less(one: Before, currency: str) -> PriceLine:
    """What was invoiced before, where there is no tax to tell apart."""
    return PriceLine(f"Less {_named(one)}", _money(-one.taxed.gross_minor, currency))


def _total_words(facts: InvoiceFacts) -> str:
    match facts.kind:
        case InvoiceKind.CREDIT_NOTE:
            return "Credited"
        case _:
            return "This invoice" if facts.on_account else "Total"


def _settled(facts: InvoiceFacts) -> list[PriceLine]:
    """What was paid, and what is left to pay or goes back; a credit note says neither."""
    if facts.kind is InvoiceKind.CREDIT_NOTE:
        return []
    paid, left = facts.paid_minor, facts.invoiced.gross_minor - facts.paid_minor
    rows = [PriceLine("Paid", _money(paid, facts.currency))] if paid else []
    words = "We give back" if left < 0 else "Left to pay"
    return [*rows, PriceLine(words, _money(abs(left), facts.currency))]


def _tied(paper: InvoicePaper) -> InvoicePaper:
    """The paper with days tied to their months and figures to their units, so that no line parts them."""
    return replace(
        paper,
        facts=tuple((label, tied(words)) for label, words in paper.facts),
        sums=tuple(replace(one, text=tied(one.text)) for one in paper.sums),
        less=tuple(replace(one, text=tied(one.text)) for one in paper.less),
    )
