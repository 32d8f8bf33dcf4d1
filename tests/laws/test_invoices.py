"""What holds for everything an order is invoiced, whatever is paid, invoiced and credited in which order."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.invoicing import (
    NOTHING,
    AtRate,
    InvoiceExceeded,
    InvoiceLine,
    OnAccount,
    Taxed,
    by_rate,
    credited,
    on_account,
    order_invoice,
    summed,
    tax_within,
)
from studio.craft.money import share

PERCENT = st.integers(0, 10_000).map(lambda hundredths: Decimal(hundredths) / 100)
NETS = st.lists(st.integers(0, 2_000_000), min_size=1, max_size=5)
STEPS = st.lists(
    st.tuples(
        st.sampled_from(("pay", "on account", "invoice", "credit", "whole")), st.integers(1, 3_000_000)
    ),
    max_size=25,
)


@dataclass
class Issued:
    """One paper of the order: what it says at each rate, and what was credited of it."""

    number: str
    is_on_account: bool
    sums: tuple[AtRate, ...]
    notes: list[tuple[AtRate, ...]] = field(default_factory=list)

    @property
    def said(self) -> Taxed:
        return summed(one.taxed for one in self.sums)

    @property
    def taken_back(self) -> Taxed:
        return summed(one.taxed for note in self.notes for one in note)

    @property
    def stands(self) -> bool:
        return not self.notes or self.said.gross_minor != self.taken_back.gross_minor


@dataclass
class Life:
    """An order with what was paid for it and all its papers, and what is taken on."""

    lines: Sequence[InvoiceLine]
    percent: Decimal
    paid_minor: int = 0
    papers: list[Issued] = field(default_factory=list)

    @property
    def whole(self) -> Taxed:
        return summed(line.taxed for line in self.lines)

    @property
    def before(self) -> list[OnAccount]:
        return [
            OnAccount(one.number, self.percent, one.said - one.taken_back)
            for one in self.papers
            if one.is_on_account
        ]

    @property
    def has_invoice(self) -> bool:
        return any(one.stands for one in self.papers if not one.is_on_account)

    def take(self, step: str, amount: int) -> None:
        number = str(len(self.papers))
        standing = [one for one in self.papers if one.stands]
        if step == "pay":
            self.paid_minor += amount
        elif step == "on account" and not self.has_invoice:
            left = self.whole.gross_minor - summed(one.taxed for one in self.before).gross_minor
            if amount > left:
                with pytest.raises(InvoiceExceeded):
                    on_account(amount, self.percent, whole=self.whole, before=self.before)
                return
            taxed = on_account(amount, self.percent, whole=self.whole, before=self.before)
            self.paid_minor += amount
            self.papers.append(Issued(number, is_on_account=True, sums=(AtRate(self.percent, taxed),)))
        elif step == "invoice" and not self.has_invoice:
            found = order_invoice(self.lines, before=self.before, paid_minor=self.paid_minor)
            assert found.left_minor == self.whole.gross_minor - self.paid_minor
            assert found.otherwise_paid_minor >= 0
            self.papers.append(Issued(number, is_on_account=False, sums=found.sums))
        elif step in {"credit", "whole"} and standing:
            paper = standing[amount % len(standing)]
            before = paper.taken_back.gross_minor
            left = paper.said.gross_minor - before
            is_whole = step == "whole"
            if amount > left and not is_whole:
                with pytest.raises(InvoiceExceeded):
                    credited(paper.sums, amount, before_minor=before)
                return
            paper.notes.append(credited(paper.sums, amount, before_minor=before, is_whole=is_whole))


@given(nets=NETS, percent=PERCENT, steps=STEPS)
def test_whatever_happens_the_papers_close_to_the_minor_unit_and_never_exceed_the_order(
    nets: list[int], percent: Decimal, steps: list[tuple[str, int]]
) -> None:
    life = Life([InvoiceLine("a line", percent, Taxed(net, share(net, percent))) for net in nets], percent)
    for step, amount in steps:
        life.take(step, amount)
        so_far = summed(one.said - one.taken_back for one in life.papers)
        assert 0 <= so_far.gross_minor <= life.whole.gross_minor
        for paper in life.papers:
            assert 0 <= paper.taken_back.gross_minor <= paper.said.gross_minor
            if not paper.stands:
                assert paper.taken_back == paper.said
        if life.has_invoice and not any(one.notes for one in life.papers):
            assert so_far == life.whole


@given(nets=NETS, percent=PERCENT, amounts=st.lists(st.integers(1, 1_000_000), max_size=8))
def test_on_account_neither_net_nor_tax_is_ever_more_than_the_orders(
    nets: list[int], percent: Decimal, amounts: list[int]
) -> None:
    whole = summed(Taxed(net, share(net, percent)) for net in nets)
    before: list[OnAccount] = []
    for amount in amounts:
        left = whole - summed(one.taxed for one in before)
        if left.gross_minor == 0:
            break
        taxed = on_account(min(amount, left.gross_minor), percent, whole=whole, before=before)
        assert taxed.gross_minor == min(amount, left.gross_minor)
        assert 0 <= taxed.net_minor <= left.net_minor
        assert 0 <= taxed.tax_minor <= left.tax_minor
        before.append(OnAccount("", percent, taxed))


@given(
    sums=st.lists(
        st.builds(AtRate, PERCENT, st.builds(Taxed, st.integers(0, 10**7), st.integers(0, 10**7))),
        min_size=1,
        max_size=3,
    ),
    parts=st.lists(st.integers(1, 10**7), max_size=6),
)
def test_the_parts_of_a_credit_sum_to_the_invoice_at_every_rate(sums: list[AtRate], parts: list[int]) -> None:
    whole = sum(one.taxed.gross_minor for one in sums)
    notes: list[tuple[AtRate, ...]] = []
    before = 0
    for part in parts:
        if before + part >= whole:
            break
        note = credited(sums, part, before_minor=before)
        assert sum(one.taxed.gross_minor for one in note) == part
        assert all(one.taxed.net_minor >= 0 and one.taxed.tax_minor >= 0 for one in note)
        notes.append(note)
        before += part
    notes.append(credited(sums, 0, before_minor=before, is_whole=True))
    for at, one in enumerate(sums):
        assert summed(note[at].taxed for note in notes) == one.taxed
    if whole > 0:
        with pytest.raises(InvoiceExceeded):
            credited(sums, 1, before_minor=whole)


@given(gross=st.integers(0, 10**9), percent=PERCENT)
def test_tax_within_is_that_which_would_be_put_on_its_net_within_a_minor_unit(
    gross: int, percent: Decimal
) -> None:
    found = tax_within(gross, percent)
    assert found.gross_minor == gross
    assert found.tax_minor >= 0
    assert abs(share(found.net_minor, percent) - found.tax_minor) <= 1


@given(
    parts=st.lists(
        st.builds(
            AtRate, PERCENT, st.builds(Taxed, st.integers(-(10**6), 10**6), st.integers(-(10**6), 10**6))
        )
    )
)
def test_the_sums_by_rate_are_all_of_it(parts: list[AtRate]) -> None:
    found = by_rate(parts)
    assert summed(one.taxed for one in found) == summed(one.taxed for one in parts)
    assert [one.percent for one in found] == sorted({one.percent for one in parts}, reverse=True)
    assert summed(()) == NOTHING
