"""Where every gram went: the metal ledger of a month or a year, and what is written into it by hand."""

import re
import secrets
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from studio.book.engine import session
from studio.book.ledger_entries import (
    LONGEST_NOTE,
    ByHand,
    correct_movement,
    enter_by_hand,
    kept_because,
)
from studio.book.ledger_reads import LedgerLine, ledger_balances, ledger_head, ledger_lines
from studio.book.months import MonthOfYear
from studio.book.practices import practice_on
from studio.craft.chain import head_words
from studio.craft.designs import Limits
from studio.craft.ledger import (
    BY_HAND,
    INSIDE,
    OPERATIONS,
    Account,
    MetalMove,
    Pot,
    fine_mg,
    jobs,
    losses,
)
from studio.craft.metals import Alloy
from studio.craft.roles import Right
from studio.craft.units import to_milligrams
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice, ChoiceGroup, alloy_groups
from studio.web.counter_page import ErrorLine
from studio.web.keeping import keep
from studio.web.ledger_words import (
    OPERATION_WORDS,
    LedgerEntry,
    alloy_name,
    entry,
    grams,
    ledger_csv,
    percent_of,
)
from studio.web.many_forms import SeveralForms, lines_of
from studio.web.months import month_words, read_month
from studio.web.reading import Reading, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
HREF = "/metal/ledger"
MOST_ROWS = 200
"""So many rows stand on the page, the latest; the CSV has all of them."""
MASS_G = Limits(0.001, 100_000)
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
_NOTHING = Said()


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
    head: tuple[str, str] | None
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
    href: str = HREF


@router.get("/metal/ledger", response_class=HTMLResponse)
def now(seat: Keeper) -> Response:
    """Leads to the month that runs."""
    return RedirectResponse(f"{HREF}/{seat.today:%Y-%m}", status_code=303)


@router.get("/metal/ledger/{period}.csv", response_class=Response)
def listed(period: str, seat: Keeper) -> Response:
    """The rows of a month or a year as CSV."""
    asked = read_period(period)
    with session(seat.engine) as book:
        lines = ledger_lines(book, first=asked.first, last=asked.last)
        alloys = practice_on(book, seat.today).alloys
    headers = {"Content-Disposition": f'attachment; filename="metal-{asked.key}.csv"'}
    return Response(ledger_csv(lines, alloys), media_type="text/csv; charset=utf-8", headers=headers)


@router.get("/metal/ledger/{period}", response_class=HTMLResponse)
def shown(request: Request, period: str, seat: Keeper) -> HTMLResponse:
    """The ledger of a month or a year."""
    return _page(request, seat, read_period(period))


@router.post("/metal/movements", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Write a movement down."""
    texts = typed_texts(typed, "what", "alloy", "mass", "ring", "operation", "note")

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        what = asked.choice("what", MetalMove)
        if what not in BY_HAND and not asked.is_wrong("what"):
            asked.add("what", "What happened is not chosen yet.")
        if texts["alloy"] not in practice_on(book, seat.today).alloys:
            asked.add("alloy", "The metal is not chosen yet.")
        mass = asked.mass("mass", MASS_G)
        if mass is None and not asked.is_wrong("mass"):
            asked.add("mass", "The weight is not given yet.")
        words = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_NOTE))
        asked.stop()
        made = ByHand(
            sure(what),
            texts["alloy"],
            to_milligrams(sure(mass)),
            texts["ring"],
            texts["operation"],
            words or "",
        )
        enter_by_hand(book, asked=made, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key="")


@router.post("/metal/movements/{number}/correction", response_class=HTMLResponse)
def correct(request: Request, seat: Keeper, typed: Typed, number: int) -> Response:
    """Take a movement back by one the other way."""
    texts = typed_texts({"why": typed.get(f"why-{number}")}, "why")

    def work(book: Session) -> None:
        why = read_text(texts["why"], "why", longest=LONGEST_NOTE)
        correct_movement(book, number=number, why=why, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key=str(number))


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


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    texts: dict[str, str],
    work: Callable[[Session], None],
    key: str,
) -> Response:
    here = f"{seat.today:%Y-%m}"
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=f"{HREF}/{here}",
        work=work,
        again=lambda said, status: _page(request, seat, read_period(here), said, status=status, key=key),
        stands=lambda _: {},
        heading="",
    )


def _page(
    request: Request, seat: Seat, of: Period, said: Said = _NOTHING, *, status: int = 200, key: str = ""
) -> HTMLResponse:
    with session(seat.engine) as book:
        lines = ledger_lines(book, first=of.first, last=of.last)
        held = ledger_balances(book, until=of.last)
        head = ledger_head(book, until=of.last)
        practice = practice_on(book, seat.today)
    alloys = practice.alloys
    owners = {line.moved.owner_id: line.owner for line in lines}
    moved = [line.moved for line in lines]
    months = [MonthOfYear(of.first.year, number) for number in range(1, 13)] if len(of.key) == 4 else []
    context = LedgerPage(
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
        head=None if head is None else (str(head[0]), head_words(head[1])),
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
    )  # fmt: skip
    return page(request, "ledger/page.html", context, place=Place.METAL, status=status)


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
                tuple(grams(masses.get(account, 0)) for account in INSIDE),
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
