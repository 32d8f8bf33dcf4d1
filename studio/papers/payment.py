"""Receipts for money: what was paid or given back, how, and what is left."""

from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from studio.craft.directions import apart
from studio.craft.payments import Account, Method
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import day_of_year

TEMPLATE = "payment"
_HOW = {
    Method.NOT_SAID: "",
    Method.CASH: "in cash",
    Method.CARD: "by card",
    Method.TRANSFER: "by bank transfer",
    Method.CHEQUE: "by cheque",
    Method.OTHER: "",
}


@dataclass(frozen=True, slots=True)
class PaymentFacts:
    """Everything a receipt for money says; below 0 `amount_minor` was given back.

    `paid_minor` is what was paid in all with it, `due_minor` what is owed, None while nobody said.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued_on: date
    by: str
    amount_minor: int
    paid_minor: int
    due_minor: int | None
    currency: str
    method: Method
    reference: str
    on: date


@dataclass(frozen=True, slots=True)
class PaymentPaper:
    """All that the paper shows, ready to print."""

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    is_return: bool
    amount: str
    lead: str
    facts: tuple[tuple[str, str], ...]
    sums: tuple[tuple[str, str], ...]

    @property
    def kind(self) -> str:
        """What the paper is called before its number."""
        return "Money given back" if self.is_return else "Receipt"

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"{self.kind} {self.number}, {self.customer}"

    @property
    def hand(self) -> tuple[str, str]:
        """Who signs for what."""
        return ("Received by", self.customer if self.is_return else apart(self.studio.name))


def payment_paper(facts: PaymentFacts) -> PaymentPaper:
    """The receipt put into words."""
    is_return = facts.amount_minor < 0
    amount = money_words(abs(facts.amount_minor), facts.currency)
    how = f" {_HOW[facts.method]}" if _HOW[facts.method] else ""
    day = day_of_year(facts.on)
    lead = (
        f"We gave back {amount}{how} on {day}."
        if is_return
        else f"We received {amount}{how} on {day}, with thanks."
    )
    facts_told = [("For", f"order {facts.order_number}")]
    if facts.reference:
        facts_told.append(("Reference", apart(facts.reference)))
    facts_told.append(("Given back by" if is_return else "Taken by", apart(facts.by)))
    return PaymentPaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        issued=day_of_year(facts.issued_on),
        is_return=is_return,
        amount=amount,
        lead=lead,
        facts=tuple(facts_told),
        sums=tuple(_sums(facts)),
    )


def payment_to_print(paper: PaymentPaper) -> Paper:
    """The receipt as it goes to the printer."""
    return Paper(TEMPLATE, (partial(replace, paper),), paper.title)


def _sums(facts: PaymentFacts) -> list[tuple[str, str]]:
    """What is owed, paid so far, and left; nothing where nobody said what is owed."""
    account = Account(facts.due_minor, facts.paid_minor)

    def money(minor: int) -> str:
        return money_words(minor, facts.currency)

    if account.due_minor is None:
        return [("Paid in all so far", money(account.paid_minor))]
    told = [("Price", money(account.due_minor)), ("Paid in all so far", money(account.paid_minor))]
    if account.back_minor:
        return [*told, ("Still to give back", money(account.back_minor))]
    return [*told, ("Left to pay", money(account.left_minor))]
