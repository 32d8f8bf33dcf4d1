"""What an order is invoiced: tax within an amount, on account, the invoice, credit notes."""

from decimal import Decimal

import pytest

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

TWENTY, REDUCED = Decimal(20), Decimal(5)
WHOLE = Taxed(24_130, 4_826)
LINES = (
    InvoiceLine("The ring", TWENTY, Taxed(22_930, 4_586)),
    InvoiceLine("Hallmarking", TWENTY, Taxed(1_200, 240)),
)


def test_the_tax_within_the_worked_payment() -> None:
    assert tax_within(11_582, TWENTY) == Taxed(9_652, 1_930)
    assert tax_within(-11_582, TWENTY) == Taxed(-9_652, -1_930)


def test_half_a_minor_unit_of_tax_goes_up() -> None:
    assert tax_within(21, Decimal(10) / 4) == Taxed(20, 1)  # 21 x 2.5 / 102.5 = 0.512
    assert tax_within(3, TWENTY) == Taxed(2, 1)  # exactly one half


def test_without_tax_an_amount_is_all_net() -> None:
    assert tax_within(11_582, Decimal(0)) == Taxed(11_582, 0)


def test_the_worked_payments_on_account_fill_the_order_up() -> None:
    first = on_account(11_582, TWENTY, whole=WHOLE, before=())
    assert first == Taxed(9_652, 1_930)
    second = on_account(17_374, TWENTY, whole=WHOLE, before=(OnAccount("2026-0001", TWENTY, first),))
    assert second == Taxed(14_478, 2_896)
    assert first + second == WHOLE


def test_the_payment_that_fills_the_order_up_takes_what_is_left_of_the_tax() -> None:
    whole = Taxed(30, 3)  # three lines of 10 at 14 %, each rounded: 1 + 1 + 1, while 14 % of 30 is 4
    assert tax_within(33, Decimal(14)).tax_minor == 4
    assert on_account(33, Decimal(14), whole=whole, before=()) == whole


def test_a_payment_on_account_at_another_rate_than_before_keeps_its_own() -> None:
    before = (OnAccount("2026-0001", REDUCED, Taxed(10_000, 500)),)
    assert on_account(12_000, TWENTY, whole=WHOLE, before=before) == Taxed(10_000, 2_000)


@pytest.mark.parametrize("gross", [0, -100])
def test_a_payment_on_account_is_more_than_nothing(gross: int) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        on_account(gross, TWENTY, whole=WHOLE, before=())


def test_no_more_is_invoiced_on_account_than_the_order_comes_to() -> None:
    before = (OnAccount("2026-0001", TWENTY, Taxed(9_652, 1_930)),)
    with pytest.raises(InvoiceExceeded) as refused:
        on_account(17_375, TWENTY, whole=WHOLE, before=before)
    assert (refused.value.asked_minor, refused.value.left_minor) == (17_375, 17_374)


def test_the_worked_invoice_closes() -> None:
    before = (OnAccount("2026-0001", TWENTY, Taxed(9_652, 1_930)),)
    found = order_invoice(LINES, before=before, paid_minor=11_582)
    assert found.whole == WHOLE
    assert found.sums == (AtRate(TWENTY, Taxed(14_478, 2_896)),)
    assert found.invoiced.gross_minor == found.left_minor == 17_374
    assert found.otherwise_paid_minor == 0


def test_what_was_paid_without_an_invoice_of_its_own_is_taken_off_at_the_end() -> None:
    found = order_invoice(LINES, before=(), paid_minor=11_582)
    assert found.invoiced == WHOLE
    assert (found.otherwise_paid_minor, found.left_minor) == (11_582, 17_374)
    assert order_invoice(LINES, before=(), paid_minor=30_000).left_minor == 28_956 - 30_000


def test_what_was_credited_whole_of_a_payment_on_account_is_not_taken_off() -> None:
    found = order_invoice(LINES, before=(OnAccount("2026-0001", TWENTY, NOTHING),), paid_minor=0)
    assert found.on_account == ()
    assert found.invoiced == WHOLE


@pytest.mark.parametrize(("paid", "left"), [(20_000, 20_000), (40_000, 28_956), (-5, 0)])
def test_more_on_account_than_the_order_or_than_was_paid_waits_for_a_credit_note(
    paid: int, left: int
) -> None:
    before = (OnAccount("2026-0001", TWENTY, Taxed(25_000, 5_000)),)
    with pytest.raises(InvoiceExceeded) as refused:
        order_invoice(LINES, before=before, paid_minor=paid)
    assert (refused.value.asked_minor, refused.value.left_minor) == (30_000, left)


def test_an_invoice_needs_a_line() -> None:
    with pytest.raises(ValueError, match="line"):
        order_invoice((), before=(), paid_minor=0)


def test_the_sums_stand_by_rate_the_highest_first() -> None:
    parts = (AtRate(REDUCED, Taxed(100, 5)), *(AtRate(line.percent, line.taxed) for line in LINES))
    assert by_rate(parts) == (AtRate(TWENTY, Taxed(24_130, 4_826)), AtRate(REDUCED, Taxed(100, 5)))


def test_the_worked_credit_notes_sum_to_their_invoice() -> None:
    sums = (AtRate(TWENTY, Taxed(8_333, 1_667)),)
    first = credited(sums, 3_334)
    second = credited(sums, 3_333, before_minor=3_334)
    last = credited(sums, 0, before_minor=6_667, is_whole=True)
    assert [one.taxed.tax_minor for (one,) in (first, second, last)] == [556, 555, 556]
    assert summed(one.taxed for (one,) in (first, second, last)) == Taxed(8_333, 1_667)


def test_a_credit_note_over_two_rates_takes_its_share_of_each() -> None:
    sums = (AtRate(TWENTY, Taxed(10_000, 2_000)), AtRate(REDUCED, Taxed(4_000, 200)))
    half = credited(sums, 8_100)
    assert half == (AtRate(TWENTY, Taxed(5_000, 1_000)), AtRate(REDUCED, Taxed(2_000, 100)))
    assert credited(sums, 1, before_minor=8_100, is_whole=True) == half


def test_an_invoice_of_which_nothing_was_left_to_invoice_is_credited_whole() -> None:
    nothing_left = (AtRate(TWENTY, Taxed(-1, 1)),)
    assert credited(nothing_left, 0, is_whole=True) == nothing_left


@pytest.mark.parametrize("gross", [0, -1])
def test_a_credit_note_takes_something_back(gross: int) -> None:
    with pytest.raises(ValueError, match="takes something back"):
        credited((AtRate(TWENTY, Taxed(100, 20)),), gross)


def test_no_more_is_credited_than_is_left() -> None:
    with pytest.raises(InvoiceExceeded) as refused:
        credited((AtRate(TWENTY, Taxed(100, 20)),), 21, before_minor=100)
    assert (refused.value.asked_minor, refused.value.left_minor) == (21, 20)
