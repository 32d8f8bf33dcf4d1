"""The page of old gold: the form that buys it, and the register as the page and the file show it."""

import csv
import io
import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.old_gold import OldGold, register
from studio.book.practices import practice_on
from studio.book.studio import currency_of
from studio.craft.directions import apart
from studio.craft.ledger import fine_mg
from studio.craft.metals import Alloy
from studio.craft.money import from_minor
from studio.craft.old_gold import USUAL_PERCENT, Worth
from studio.craft.payments import Method
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign, shown_percent
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.days import full_day_words
from studio.web.ledger_words import alloy_name, grams
from studio.web.many_forms import SeveralForms, lines_of
from studio.web.month_csv import BOM, cell
from studio.web.render import Place, page
from studio.web.security import Seat
from studio.web.sent_back import Said

HREF = "/metal/old-gold"
_NOTHING = Said()
WORDS = {
    "description": "What it is",
    "marks": "Marks on it",
    "alloy": "Metal",
    "fineness": "Fineness",
    "tested": "How it was tested",
    "mass": "Weight",
    "percent": "Share offered",
    "paid": "Paid",
    "method": "How it is paid",
    "seller": "Seller",
    "address": "Address",
    "identity": "Paper shown",
    "is_theirs": "The seller declares that it is theirs to sell",
    "why": "Why it is struck",
}
CSV_HEAD = (
    "Number", "Day", "What", "Marks", "Metal", "Fineness", "Tested", "Weight, g", "Fine, g", "Worth then",
    "Paid", "Currency", "How", "Seller", "Address", "Paper shown", "Kept until", "Bought by", "Struck",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class OldGoldEntry:
    """One entry of the register, ready to show; '' for what who sits there may not do or see."""

    number: str
    day: str
    what: str
    metal: str
    grams: str
    fine: str
    paid: str
    seller: str
    kept: str
    struck: str
    paper_href: str
    strike_href: str
    forget_href: str


@dataclass(frozen=True, slots=True)
class OldGoldPage(SeveralForms):
    """The page. `worth` is what the form's metal is worth, '' until it is asked."""

    entries: tuple[OldGoldEntry, ...]
    alloys: tuple[Choice, ...]
    no_alloy: Choice
    methods: tuple[Choice, ...]
    words: Mapping[str, str]
    said: Said
    said_of: str
    error_lines: tuple[ErrorLine, ...]
    worth: str
    currency: str
    usual: str
    csv_href: str
    may_strike: bool
    form_key: str
    title: str = "Old gold"
    ledger_href: str = "/metal/ledger"
    href: str = HREF


def old_gold_page(
    request: Request, seat: Seat, said: Said = _NOTHING, *, status: int = 200, key: str = "", worth: str = ""
) -> HTMLResponse:
    """The page, with what is to be put right in the form of entry `key`, '' for the one that buys."""
    with session(seat.engine) as book:
        found, alloys = register(book), practice_on(book, seat.today).alloys
        currency = currency_of(book)
    keeps = seat.may(Right.KEEP_BOOKS)
    fine = [(name, alloy) for name, alloy in alloys.items() if alloy.fineness]
    context = OldGoldPage(
        entries=tuple(_entry(one, alloys, seat, keeps=keeps) for one in found),
        alloys=tuple(Choice(name, alloy_name(alloys, name)) for name, _ in fine),
        no_alloy=Choice("", "Not chosen yet"),
        methods=tuple(Choice(one, str(one)) for one in Method),
        words=WORDS,
        said=said,
        said_of=key,
        error_lines=lines_of(said, WORDS, key) if key else said.lines,
        worth=worth,
        currency=currency_sign(currency),
        usual=f"{shown_percent(USUAL_PERCENT)} %",
        csv_href=f"{HREF}.csv" if keeps else "",
        may_strike=keeps,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "old_gold/page.html", context, place=Place.METAL, status=status)


def worth_words(worth: Worth, percent: Decimal, currency: str) -> str:
    """What it is worth in a sentence.

    '3.157 g fine. By today's price £205.84; at 85 % £174.96.'
    """
    return (
        f"{grams(worth.fine_mg)} g fine. By today's price {money_words(worth.whole_minor, currency)}; "
        f"at {shown_percent(percent)} % {money_words(worth.offer_minor, currency)}."
    )


def old_gold_csv(found: Sequence[OldGold], alloys: Mapping[str, Alloy]) -> bytes:
    """The register in UTF-8, with the mark by which spreadsheets tell that it is, and no formula in it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(CSV_HEAD)
    for one in found:
        seller = one.seller
        worth = "" if one.worth_minor is None else f"{from_minor(one.worth_minor, one.currency):f}"
        row = (
            str(one.number),
            one.bought_on.isoformat(),
            one.description,
            one.marks,
            alloy_name(alloys, one.alloy),
            str(one.fineness),
            one.tested,
            grams(one.mass_mg),
            grams(fine_mg(one.mass_mg, one.fineness)),
            worth,
            f"{from_minor(one.paid_minor, one.currency):f}",
            one.currency,
            str(one.method),
            "" if seller is None else seller.name,
            "" if seller is None else seller.address.replace("\n", ", "),
            "" if seller is None else seller.identity,
            one.keep_until.isoformat(),
            one.bought_by,
            one.struck,
        )
        writer.writerow([cell(value) for value in row])
    return f"{BOM}{text.getvalue()}".encode()


def _entry(one: OldGold, alloys: Mapping[str, Alloy], seat: Seat, *, keeps: bool) -> OldGoldEntry:
    where = f"{HREF}/{one.number}"
    marks = f", marked {apart(one.marks)}" if one.marks else ""
    seller, kept = "forgotten", ""
    if one.seller is not None:
        seller = apart(one.seller.name)
        kept = f"kept until {full_day_words(one.keep_until)}"
        if one.may_be_forgotten(seat.today):
            kept = f"need not be kept since {full_day_words(one.keep_until)}"
        if keeps:
            kept = f"{apart(one.seller.address)}, {apart(one.seller.identity)}, {kept}"
    may_forget = keeps and one.may_be_forgotten(seat.today)
    return OldGoldEntry(
        number=str(one.number),
        day=full_day_words(one.bought_on),
        what=f"{apart(one.description)}{marks}",
        metal=f"{alloy_name(alloys, one.alloy)}, {one.fineness} ‰",
        grams=grams(one.mass_mg),
        fine=grams(fine_mg(one.mass_mg, one.fineness)),
        paid=money_words(one.paid_minor, one.currency),
        seller=seller,
        kept=kept,
        struck=apart(one.struck),
        paper_href=f"{where}.pdf" if one.seller is not None and not one.struck else "",
        strike_href=f"{where}/strike" if keeps and not one.struck else "",
        forget_href=f"{where}/forget" if may_forget else "",
    )
