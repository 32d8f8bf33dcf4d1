"""The metal ledger of a month or a year as its page shows it, down to the head of its chain."""

import re
import secrets
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from sqlmodel import Session

from studio.book.ledger_entries import kept_because
from studio.book.ledger_reads import LedgerLine, ledger_balances, ledger_head_row, ledger_lines
from studio.book.months import MonthOfYear
from studio.book.practices import practice_on
from studio.craft.ledger import BY_HAND, INSIDE, OPERATIONS, Account, Pot, fine_mg, jobs, losses
from studio.craft.metals import Alloy
from studio.craft.roles import Right
from studio.web.counter_choices import Choice, ChoiceGroup, alloy_groups
from studio.web.counter_page import ErrorLine
from studio.web.ledger_words import (
    OPERATION_WORDS,
    HeadWords,
    LedgerEntry,
    alloy_name,
    entry,
    grams,
    head_of_chain,
    percent_of,
)
from studio.web.many_forms import SeveralForms, lines_of
from studio.web.months import month_words, read_month
from studio.web.security import Seat
from studio.web.sent_back import Said

HREF = "/metal/ledger"
MOVEMENTS_HREF = "/metal/movements"
MOST_ROWS = 200
"""So many rows stand on the page, the latest; the CSV has all of them."""
WORDS = {
    "what": "What",
    "alloy": "Metal",
    "mass": "Weight",
    "ring": "Of ring",
    "operation": "In which work",
    "note": "Note",
    "why": "Why",
}
_YEAR = re.compile(r"[12][0-9]{3}")


@dataclass(frozen=True, slots=True)
class Period:
    """A month or a year of the ledger."""

    key: str
    words: str
    first: date
    last: date
    before: tuple[str, str]
    after: tuple[str, str]


@dataclass(frozen=True, slots=True)
class BalanceRow:
    """What the studio, or a customer, has of one alloy in each account inside, in g."""

    metal: str
    held: tuple[str, ...]
    together: str
    fine: str


@dataclass(frozen=True, slots=True)
class MovedSum:
    """What moved of one alloy in one way in the period."""

    what: str
    metal: str
    way: str
    grams: str


@dataclass(frozen=True, slots=True)
class JobRow:
    """One ring's metal in the period, in g, and what came off it in percent."""

    ring: str
    href: str
    metal: str
    issued: str
    returned: str
    in_ring: str
    lemel: str
    lost: str
    at_bench: str
    off: str


@dataclass(frozen=True, slots=True)
class LossRow:
    """What one kind of work took off one alloy."""

    work: str
    metal: str
    lemel: str
    lost: str
    percent: str


@dataclass(frozen=True, slots=True)
class LedgerPage(SeveralForms):
    """The page."""

    title: str
    period: Period
    accounts: tuple[str, ...]
    own: tuple[BalanceRow, ...]
    customers: tuple[BalanceRow, ...]
    sums: tuple[MovedSum, ...]
    jobs: tuple[JobRow, ...]
    losses: tuple[LossRow, ...]
    rows: tuple[tuple[LedgerEntry, bool], ...]
    rows_left: int
    head: HeadWords | None
    year_href: str
    months: tuple[tuple[str, str], ...]
    moves: tuple[Choice, ...]
    alloys: tuple[ChoiceGroup, ...]
    no_alloy: Choice
    works: tuple[Choice, ...]
    words: Mapping[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    said_of: str
    form_key: str
    links: tuple[tuple[str, str], ...]
    href: str = HREF
    movements_href: str = MOVEMENTS_HREF


def read_period(text: str) -> Period:
    """A month or a year as the address has it, '2026-11' or '2026'; 404 for what is neither."""
    if _YEAR.fullmatch(text) and text > "1900":
        year = int(text)
        before, after = (f"{HREF}/{year - 1}", str(year - 1)), (f"{HREF}/{year + 1}", str(year + 1))
        return Period(text, text, date(year, 1, 1), date(year, 12, 31), before, after)
    of = read_month(text)
    near = [of.moved(step) for step in (-1, 1)]
    before, after = [(f"{HREF}/{one}", month_words(one)) for one in near]
    return Period(str(of), month_words(of), of.first, of.last, before, after)


def ledger_context(book: Session, seat: Seat, of: Period, said: Said, key: str) -> LedgerPage:
    """The page of a period; `said` is what came back of the form of row `key`, '' for the first form."""
    lines = ledger_lines(book, first=of.first, last=of.last)
    held = ledger_balances(book, until=of.last)
    head = ledger_head_row(book, until=of.last)
    practice = practice_on(book, seat.today)
    alloys = practice.alloys
    owners = {line.moved.owner_id: line.owner for line in lines}
    moved = [line.moved for line in lines]
    months = [MonthOfYear(of.first.year, number) for number in range(1, 13)] if len(of.key) == 4 else []
    return LedgerPage(
        title=f"Metal of {of.words}",
        period=of,
        accounts=tuple(str(account) for account in INSIDE),
        own=_balances(held, alloys, lambda owner: owner == 0, owners),
        customers=_balances(held, alloys, lambda owner: owner != 0, owners),
        sums=_sums(lines, alloys),
        jobs=tuple(
            JobRow(
                one.ring, f"/orders/{one.ring.partition('/')[0]}", alloy_name(alloys, one.alloy),
                grams(one.issued_mg), grams(one.returned_mg), grams(one.in_ring_mg), grams(one.lemel_mg),
                grams(one.lost_mg), grams(one.at_bench_mg), percent_of(one.off_bp),
            )
            for one in jobs(moved)
        ),
        losses=tuple(
            LossRow(
                OPERATION_WORDS.get(one.operation, one.operation), alloy_name(alloys, one.alloy),
                grams(one.lemel_mg), grams(one.lost_mg), percent_of(one.lost_bp),
            )
            for one in losses(moved)
        ),
        rows=tuple((entry(line, alloys, seat), _may_correct(line)) for line in reversed(lines[-MOST_ROWS:])),
        rows_left=max(0, len(lines) - MOST_ROWS),
        head=None if head is None else head_of_chain(head, seat.zone),
        year_href="" if months else f"{HREF}/{of.first.year}",
        months=tuple((f"{HREF}/{one}", month_words(one)) for one in months),
        moves=tuple(Choice(what, str(what)) for what in BY_HAND),
        alloys=alloy_groups(practice.offered_alloys),
        no_alloy=Choice("", "Not chosen yet"),
        works=(Choice("", "not said"), *(Choice(work, OPERATION_WORDS[work]) for work in OPERATIONS)),
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, key) if key else said.lines,
        said_of=key,
        form_key=secrets.token_urlsafe(18),
        links=(
            ("/metal/count", "Stock-take"),
            *((("/metal/refiner", "The refiner"),) if seat.may(Right.KEEP_BOOKS) else ()),
        ),
    )  # fmt: skip


def _may_correct(line: LedgerLine) -> bool:
    has_piece = bool(line.from_mark or line.to_mark)
    return line.corrected_by is None and not kept_because(line.moved.what, has_piece=has_piece)


def _balances(
    held: Mapping[Pot, int],
    alloys: Mapping[str, Alloy],
    is_theirs: Callable[[int], bool],
    owners: Mapping[int | None, str],
) -> tuple[BalanceRow, ...]:
    found: dict[tuple[str, int], dict[Account, int]] = defaultdict(dict)
    for pot, mass in held.items():
        if pot.account in INSIDE and is_theirs(pot.owner_id):
            found[pot.alloy, pot.owner_id][pot.account] = mass
    rows = []
    for (alloy, owner), masses in sorted(found.items()):
        together = sum(masses.values())
        fineness = alloys[alloy].fineness if alloy in alloys else 0
        whose = f", {owners.get(owner) or f'customer {owner}'}" if owner else ""
        rows.append(
            BalanceRow(
                f"{alloy_name(alloys, alloy)}{whose}",
                tuple(grams(masses[account]) if masses.get(account) else "" for account in INSIDE),
                grams(together),
                grams(fine_mg(together, fineness)) if fineness else "",
            )
        )
    return tuple(rows)


def _sums(lines: tuple[LedgerLine, ...], alloys: Mapping[str, Alloy]) -> tuple[MovedSum, ...]:
    found: dict[tuple[str, str, str], int] = defaultdict(int)
    for line in lines:
        moved = line.moved
        whose = "" if moved.owner_id is None else ", customers'"
        way = f"{moved.source} to {moved.target}"
        found[str(moved.what), f"{alloy_name(alloys, moved.alloy)}{whose}", way] += moved.mass_mg
    return tuple(
        MovedSum(what, metal, way, grams(mass)) for (what, metal, way), mass in sorted(found.items())
    )
