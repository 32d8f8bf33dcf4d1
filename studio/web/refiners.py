"""The refiner's lots: sent with what they should bring, settled by what was paid, both side by side."""

import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.ledger_reads import Lot, ledger_balances, lots
from studio.book.practices import practice_on
from studio.book.refiners import LONGEST_NOTE, LotDraft, Outcome, send_lot, settle_lot
from studio.book.studio import currency_of
from studio.craft.designs import Limits
from studio.craft.directions import apart
from studio.craft.ledger import LotKind
from studio.craft.metals import Alloy
from studio.craft.refining import CREDITED_PERCENT
from studio.craft.roles import Right
from studio.craft.units import to_milligrams
from studio.papers.money import money_words
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.days import day_words
from studio.web.keeping import keep
from studio.web.ledger_page import HREF as LEDGER_HREF
from studio.web.ledger_words import alloy_name, grams, percent_of
from studio.web.many_forms import SeveralForms, lines_of
from studio.web.reading import Reading, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_BOOKS)]
HREF = "/metal/refiner"
_NOTHING = Said()
_MASS_G, _FINE_G = Limits(0.001, 100_000), Limits(0, 100_000)
_SENT = ("refiner", "kind", "alloy", "mass", "credited")
_SAID = ("assay", "paid_fine", "charges", "paid", "returned", "note")
WORDS = {
    "refiner": "Refiner",
    "kind": "What it is",
    "alloy": "Metal",
    "mass": "Weight",
    "credited": "Expected of the fine metal",
    "assay": "Assay",
    "paid_fine": "Fine metal paid",
    "charges": "Charges",
    "paid": "Paid, charges taken off",
    "returned": "Sent back",
    "note": "Note",
}


@dataclass(frozen=True, slots=True)
class LotLine:
    """One lot: what was sent and expected, and what came of it."""

    number: str
    what: str
    sent: str
    sent_on: str
    fine: str
    expected: str
    assay: str
    paid: str
    difference: str
    money: str
    is_short: bool
    is_open: bool
    note: str


@dataclass(frozen=True, slots=True)
class RefinersPage(SeveralForms):
    """The page."""

    there: tuple[tuple[str, str], ...]
    lots: tuple[LotLine, ...]
    kinds: tuple[Choice, ...]
    alloys: tuple[Choice, ...]
    no_alloy: Choice
    words: Mapping[str, str]
    said: Said
    said_of: str
    error_lines: tuple[ErrorLine, ...]
    currency: str
    usual: str
    form_key: str
    title: str = "The refiner"
    ledger_href: str = LEDGER_HREF
    href: str = HREF


@router.get("/metal/refiner", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.post("/metal/refiner", response_class=HTMLResponse)
def send(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Send a lot."""
    texts = typed_texts(typed, *_SENT)

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        kind = asked.choice("kind", LotKind) or LotKind.SCRAP
        mass = asked.mass("mass", _MASS_G)
        if mass is None and not asked.is_wrong("mass"):
            asked.add("mass", "The weight is not given yet.")
        credited = asked.number("credited", Limits(0.01, 100), "%")
        refiner = asked.read("refiner", lambda value, field: read_text(value, field, longest=60))
        asked.stop()
        percent = CREDITED_PERCENT[kind] if credited is None else Decimal(str(credited))
        lot = LotDraft(refiner or "", kind, texts["alloy"], to_milligrams(sure(mass)), round(percent * 100))
        send_lot(book, lot=lot, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key="")


@router.post("/metal/refiner/{lot_id}", response_class=HTMLResponse)
def settle(request: Request, seat: Keeper, typed: Typed, lot_id: int) -> Response:
    """Keep what the refiner said and paid of a lot."""
    texts = typed_texts({name: typed.get(f"{name}-{lot_id}") for name in _SAID}, *_SAID)

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        money = read_amount(currency_of(book))
        assay = asked.needed("assay", lambda value, field: _whole(asked, value, field), "assay")
        fine = asked.mass("paid_fine", _FINE_G)
        if fine is None and not asked.is_wrong("paid_fine"):
            asked.add("paid_fine", "The fine metal paid is not given yet.")
        charges = asked.read("charges", lambda value, field: 0 if value is None else money(value, field))
        paid = asked.needed("paid", money, "amount")
        returned = asked.mass("returned", _FINE_G)
        words = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_NOTE))
        asked.stop()
        outcome = Outcome(
            sure(assay),
            to_milligrams(sure(fine)),
            charges or 0,
            sure(paid),
            to_milligrams(returned or 0),
            words or "",
        )
        settle_lot(book, lot_id=lot_id, outcome=outcome, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key=str(lot_id))


def _whole(asked: Reading, value: object, field: str) -> int | None:
    text = str(value).strip()
    if text.isascii() and text.isdigit() and len(text) < 5:
        return int(text)
    asked.add(field, "This has to be parts per thousand, like 748.")
    return None


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    texts: dict[str, str],
    work: Callable[[Session], None],
    key: str,
) -> Response:
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(request, seat, said, status=status, key=key),
    )


def _page(
    request: Request, seat: Seat, said: Said = _NOTHING, *, status: int = 200, key: str = ""
) -> HTMLResponse:
    with session(seat.engine) as book:
        found, held = lots(book), ledger_balances(book)
        alloys, currency = practice_on(book, seat.today).alloys, currency_of(book)
    boxes = {LotKind.SCRAP.account, LotKind.LEMEL.account}
    there = [(pot, mass) for pot, mass in held.items() if pot.account in boxes and not pot.owner_id]
    keys = [key for key, alloy in alloys.items() if alloy.fineness and key in {pot.alloy for pot, _ in there}]
    usual = ", ".join(f"{kind} {percent:f} %" for kind, percent in CREDITED_PERCENT.items())
    context = RefinersPage(
        there=tuple((f"{alloy_name(alloys, pot.alloy)}, {pot.account}", grams(mass)) for pot, mass in there),
        lots=tuple(_line(one, alloys, seat) for one in found),
        kinds=tuple(Choice(kind, str(kind)) for kind in LotKind),
        alloys=tuple(Choice(key, alloy_name(alloys, key)) for key in keys),
        no_alloy=Choice("", "Not chosen yet"),
        words=WORDS,
        said=said,
        said_of=key,
        error_lines=lines_of(said, WORDS, key) if key else said.lines,
        currency=currency,
        usual=usual,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "refiners/page.html", context, place=Place.METAL, status=status)


def _line(one: Lot, alloys: Mapping[str, Alloy], seat: Seat) -> LotLine:
    said = one.settled
    money = ""
    if said is not None:
        money = f"{money_words(said.paid_minor, one.currency)} paid"
        apart_minor = said.difference_minor()
        if apart_minor:
            word = "more" if apart_minor > 0 else "less"
            money += f", {money_words(abs(apart_minor), one.currency)} {word} than expected"
    percent = "" if said is None else percent_of(said.difference_bp)
    return LotLine(
        number=str(one.id),
        what=f"{alloy_name(alloys, one.alloy)}, {one.kind}, {apart(one.refiner)}",
        sent=grams(one.lot.mass_mg),
        sent_on=day_words(one.sent_on, today=seat.today),
        fine=grams(one.lot.fine_mg),
        expected=grams(one.lot.expected_mg),
        assay="" if said is None else str(said.assay_fineness),
        paid="" if said is None else grams(said.paid_fine_mg),
        difference="" if said is None else f"{grams(said.difference_mg)} ({percent} %)",
        money=money,
        is_short=said is not None and said.difference_mg < 0,
        is_open=said is None,
        note=one.note,
    )
