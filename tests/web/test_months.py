"""The books of a month: the page and the list as CSV, for the owner alone."""

import csv
import io
from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from studio.book.months import Month, MonthOfYear, PaidLine, month_of
from studio.book.payment_values import Sum
from studio.book.payments import give_back
from studio.book.people import PROGRAM
from studio.craft.payments import Method
from studio.craft.roles import Role
from studio.web.month_csv import HEAD, month_csv
from studio.web.months import this_month_href
from tests.builders import NOW, an_order
from tests.invoicing import credited, invoiced, on_account, says
from tests.quoting import a_quote, a_yes, paid
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up

NOVEMBER = MonthOfYear(2026, 11)
PAGE = "/studio/months/2026-11"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with what happens in a month: payments, invoices, a credit note, money given back."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
        says(book)
        a_yes(book, a_quote(book, an_order(book)), deposit_minor=11_582)
        on_account(book, "2026-1-p1")
        paid(book, "2026-1", 5_000, method=Method.CARD, reference="=1+1")
        whole = invoiced(book, "2026-1")
        credited(book, whole.number, 1_000, why="@home, less")
        give_back(book, number="2026-1", money=Sum(1_000, Method.CARD, "slip 7"), actor=PROGRAM, now=NOW)
        a_yes(book, a_quote(book, an_order(book)), deposit_minor=None, now=NOW + timedelta(days=10))
        invoiced(book, "2026-2", now=NOW + timedelta(days=10))
    return opened


def rows_of(told: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(told.decode("utf-8-sig"), newline="")))


def found(morning: Morning, of: MonthOfYear = NOVEMBER) -> Month:
    with morning.book() as book:
        return month_of(book, of)


def test_a_month_knows_its_days_and_its_neighbours() -> None:
    assert (NOVEMBER.first, NOVEMBER.last) == (date(2026, 11, 1), date(2026, 11, 30))
    assert str(NOVEMBER.moved(2)) == "2027-01"
    assert str(MonthOfYear(2026, 1).moved(-1)) == "2025-12"
    assert MonthOfYear(2028, 2).last == date(2028, 2, 29)


def test_a_month_has_what_was_issued_and_paid_in_it_and_nothing_else(morning: Morning) -> None:
    month = found(morning)
    assert [one.number for one in month.invoices] == ["2026-0001", "2026-0002", "2026-0003"]
    assert [one.credits for one in month.invoices] == [None, None, "2026-0002"]
    assert [(one.number, one.amount_minor) for one in month.payments] == [
        ("2026-1-p1", 11_582), ("2026-1-p2", 5_000), ("2026-1-p3", -1_000),
    ]  # fmt: skip
    december = found(morning, NOVEMBER.moved(1))
    assert [one.number for one in december.invoices] == ["2026-0004"]
    assert december.payments == ()
    assert found(morning, NOVEMBER.moved(-1)) == Month(NOVEMBER.moved(-1), (), ())


def test_its_sums_are_those_of_its_papers_and_payments(morning: Morning) -> None:
    month = found(morning)
    (rate,) = month.rates
    assert rate.at.percent == Decimal(20)
    assert rate.at.taxed == month.invoiced("GBP")
    assert rate.at.taxed.gross_minor == sum(one.taxed.gross_minor for one in month.invoices)
    assert {one.method: one.amount_minor for one in month.methods} == {
        Method.CARD: 4_000, Method.NOT_SAID: 11_582,
    }  # fmt: skip


def test_a_reader_of_csv_comes_to_the_same_sums(morning: Morning) -> None:
    status, kind, told = morning.fetch(f"{PAGE}.csv")
    assert (status, kind) == (200, "text/csv; charset=utf-8")
    assert told.startswith("\N{ZERO WIDTH NO-BREAK SPACE}".encode())
    rows, month = rows_of(told), found(morning)
    sums: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for row in rows:
        if row["rate"]:
            assert Decimal(row["net"]) + Decimal(row["tax"]) == Decimal(row["total"])
            sums["net", row["rate"]] += Decimal(row["net"])
            sums["tax", row["rate"]] += Decimal(row["tax"])
        else:
            sums["paid", row["method"]] += Decimal(row["total"])
    taxed = month.invoiced("GBP")
    assert sums == {
        ("net", "20"): Decimal(taxed.net_minor) / 100,
        ("tax", "20"): Decimal(taxed.tax_minor) / 100,
        ("paid", "card"): Decimal(40),
        ("paid", "not said"): Decimal("115.82"),
    }
    assert [row["kind"] for row in rows] == [
        "invoice on account", "invoice", "credit note", "payment", "payment", "given back",
    ]  # fmt: skip
    assert tuple(rows[0]) == HEAD


def test_no_cell_of_words_begins_a_formula(morning: Morning) -> None:
    rows = rows_of(morning.fetch(f"{PAGE}.csv")[2])
    assert [row["reason"] for row in rows if row["reason"]] == ["'@home, less"]
    assert [row["reference"] for row in rows if row["reference"]] == ["'=1+1", "slip 7"]
    assert [row["total"] for row in rows if row["total"].startswith("-")] == ["-10.00", "-10.00"]


@pytest.mark.parametrize("begins", ["=", "+", "-", "@", "\t", "\r", "-1+", "+44 1632"])
def test_whatever_a_spreadsheet_would_reckon_with_has_an_apostrophe_before_it(begins: str) -> None:
    line = PaidLine(
        "2026-1-p1", date(2026, 11, 2), "2026-1", f"{begins}x", -1_000, "GBP", Method.CASH, f"{begins}y"
    )
    (row,) = rows_of(month_csv(Month(NOVEMBER, (), (line,))))
    assert (row["customer"], row["reference"]) == (f"'{begins}x", f"'{begins}y")
    assert row["total"] == "-10.00"
    yen = replace(line, currency="JPY")
    assert rows_of(month_csv(Month(NOVEMBER, (), (yen,))))[0]["total"] == "-1000"


def test_the_owner_sees_the_month_with_its_sums(morning: Morning) -> None:
    page = morning.see(PAGE)
    for said in (
        "Books of November 2026",
        "2026-0003 Credit note takes back 2026-0002: @home, less",
        "Invoiced, credit notes taken off Net Tax Total At 20 %",
        "2026-1-p3",
        "Paid, less what was given back Amount Card £40.00 Not said £115.82",
        "October 2026",
        "December 2026",
    ):
        assert said in page.words.replace("\N{NO-BREAK SPACE}", " "), page.words
    empty = morning.see("/studio/months/2026-10").words
    assert "No invoice was made in this month." in empty
    assert "Nothing was paid in this month." in empty


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_nobody_else_opens_the_books(morning: Morning, role: Role) -> None:
    for path in (PAGE, f"{PAGE}.csv"):
        assert morning.fetch(path, role)[0] == 403


@pytest.mark.parametrize("month", ["2026-13", "2026-00", "2026-1", "26-11", "2026-11-01", "x", "2899-12"])
def test_what_is_no_month_is_not_found(morning: Morning, month: str) -> None:
    for end in ("", ".csv"):
        assert morning.fetch(f"/studio/months/{month}{end}")[0] == 404


def test_the_studio_page_leads_to_the_books_of_this_month(morning: Morning) -> None:
    assert morning.see("/studio").link("Books of this month") == PAGE
    assert this_month_href(date(2026, 12, 1)) == "/studio/months/2026-12"
