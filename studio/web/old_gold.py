"""Old gold bought in: the form with its worth, the register, the note to sign, and the file of all of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.metal_prices import metal_prices
from studio.book.old_gold import (
    OldGoldDraft,
    Seller,
    buy_old_gold,
    forget_seller,
    old_gold,
    register,
    strike_old_gold,
)
from studio.book.practices import practice_on
from studio.book.studio import currency_of, letterhead_of, studio
from studio.craft.designs import Limits
from studio.craft.ledger import fine_mg
from studio.craft.old_gold import LONGEST_DESCRIPTION, USUAL_PERCENT, Worth, price_of, worth_of
from studio.craft.payments import Method
from studio.craft.roles import Right
from studio.craft.units import to_milligrams
from studio.papers.old_gold import OldGoldFacts, old_gold_to_print
from studio.papers.quote_facts import Letterhead
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.errors import Declined, FieldError
from studio.web.forms import long_text
from studio.web.keeping import keep
from studio.web.ledger_words import alloy_name
from studio.web.old_gold_page import HREF, WORDS, old_gold_csv, old_gold_page, worth_words
from studio.web.printing import pdf_answer, printed_while_asked
from studio.web.reading import Reading, sure
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Buyer = Annotated[Seat, requires(Right.SEE_PRICE)]
Keeper = Annotated[Seat, requires(Right.KEEP_BOOKS)]
MASS_G = Limits(0.001, 100_000)


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Buyer) -> HTMLResponse:
    """The form and the register."""
    return old_gold_page(request, seat)


@router.get(f"{HREF}.csv", response_class=Response)
def listed(seat: Keeper) -> Response:
    """The whole register as a file."""
    with session(seat.engine) as book:
        found, alloys = register(book, limit=None), practice_on(book, seat.today).alloys
    headers = {"Content-Disposition": 'attachment; filename="old-gold.csv"'}
    return Response(old_gold_csv(found, alloys), media_type="text/csv; charset=utf-8", headers=headers)


@router.post(HREF, response_class=HTMLResponse)
def bought(request: Request, seat: Buyer, typed: Typed) -> Response:
    """Buy it, or only say what it is worth."""
    texts = typed_texts(typed, *WORDS)
    if typed.get("act") == "worth":
        return _worth(request, seat, texts)

    def work(book: Session) -> None:
        draft = _read(book, seat, texts)
        buy_old_gold(book, draft=draft, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work)


@router.post(f"{HREF}/{{number}}/strike", response_class=HTMLResponse)
def struck(request: Request, seat: Keeper, typed: Typed, number: int) -> Response:
    """Strike an entry, with the reason."""
    texts = {"why": typed_texts(typed, f"why-{number}")[f"why-{number}"]}

    def work(book: Session) -> None:
        strike_old_gold(book, number=number, why=texts["why"], actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key=str(number))


@router.post(f"{HREF}/{{number}}/forget", response_class=HTMLResponse)
def forgotten(request: Request, seat: Keeper, typed: Typed, number: int) -> Response:
    """Forget a seller who need not be kept any more."""

    def work(book: Session) -> None:
        forget_seller(book, number=number, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts={}, work=work, key=str(number))


@router.get(f"{HREF}/{{number}}.pdf", response_class=Response)
async def note_to_sign(request: Request, seat: Buyer, number: int) -> Response:
    """The note that the seller signs; none once the seller is forgotten."""
    facts = await run_in_threadpool(_facts, seat, number)
    paper = await printed_while_asked(request, old_gold_to_print(facts))
    return pdf_answer(paper, f"old-gold-{number}.pdf")


def _facts(seat: Seat, number: int) -> OldGoldFacts:
    with session(seat.engine) as book:
        found, facts = old_gold(book, number), studio(book)
        alloys = practice_on(book, seat.today).alloys
    if found.seller is None:
        raise Declined(404, "The seller of this entry is forgotten, and the note with them.")
    return OldGoldFacts(
        studio=Letterhead(**letterhead_of(facts)),
        number=found.number,
        bought_on=found.bought_on,
        seller=found.seller.name,
        address=found.seller.address,
        identity=found.seller.identity,
        description=found.description,
        marks=found.marks,
        tested=found.tested,
        metal=alloy_name(alloys, found.alloy),
        fineness=found.fineness,
        mass_mg=found.mass_mg,
        fine_mg=fine_mg(found.mass_mg, found.fineness),
        paid_minor=found.paid_minor,
        currency=found.currency,
        method=found.method,
        by=found.bought_by,
    )


@dataclass(frozen=True, slots=True)
class _Metal:
    """What is bought: alloy, fineness in parts per thousand, mass in mg, and the share that is offered."""

    alloy: str
    fineness: int
    mass_mg: int
    percent: Decimal


def _read(book: Session, seat: Seat, texts: Mapping[str, str]) -> OldGoldDraft:
    asked = Reading(texts, "")
    metal = _metal(book, seat, asked, texts)
    paid = asked.needed("paid", read_amount(currency_of(book)), "amount paid")
    method = asked.choice("method", Method) or Method.NOT_SAID
    words = {
        name: asked.read(name, _words) or ""
        for name in ("description", "marks", "tested", "seller", "identity")
    }
    address = asked.read("address", long_text(LONGEST_DESCRIPTION)) or ""
    if texts.get("is_theirs") != "yes":
        asked.add("is_theirs", "Ask the seller: without their word it is not bought.")
    asked.stop()
    bought = sure(metal)
    worth = _worth_of(book, seat, bought)
    return OldGoldDraft(
        alloy=bought.alloy,
        fineness=bought.fineness,
        mass_mg=bought.mass_mg,
        description=words["description"],
        paid_minor=sure(paid),
        method=method,
        seller=Seller(words["seller"], address, words["identity"]),
        is_theirs=True,
        marks=words["marks"],
        tested=words["tested"],
        worth_minor=None if worth is None else worth.offer_minor,
    )


def _words(value: object, field: str) -> str:
    return read_text(value, field, longest=LONGEST_DESCRIPTION)


def _metal(book: Session, seat: Seat, asked: Reading, texts: Mapping[str, str]) -> _Metal | None:
    """What is bought, None where something of it is wrong, which is written down in `asked`."""
    alloy = practice_on(book, seat.today).alloys.get(texts["alloy"])
    if alloy is None or not alloy.fineness:
        asked.add("alloy", "Choose the metal.")
    fineness = None if alloy is None else float(alloy.fineness)
    if asked.has("fineness"):
        fineness = asked.number("fineness", Limits(1, 1000), "‰")
    mass = asked.mass("mass", MASS_G)
    if mass is None and not asked.is_wrong("mass"):
        asked.add("mass", "The weight is not given yet.")
    share: float | None = float(USUAL_PERCENT)
    if asked.has("percent"):
        share = asked.number("percent", Limits(1, 100), "%")
    if alloy is None or fineness is None or mass is None or share is None:
        return None
    return _Metal(alloy.key, round(fineness), to_milligrams(mass), Decimal(str(share)))


def _worth_of(book: Session, seat: Seat, bought: _Metal) -> Worth | None:
    """What it is worth by today's price, None where its metal has none."""
    metal = practice_on(book, seat.today).alloys[bought.alloy].metal
    price = price_of(metal, metal_prices(book, seat.today))
    if price is None:
        return None
    currency = currency_of(book)
    return worth_of(bought.mass_mg, bought.fineness, price, currency, percent=bought.percent)


def _worth(request: Request, seat: Seat, texts: dict[str, str]) -> HTMLResponse:
    """The page again with what it is worth; nothing is bought."""
    asked = Reading(texts, "")
    with session(seat.engine) as book:
        bought, currency = _metal(book, seat, asked, texts), currency_of(book)
        worth = None if bought is None or asked.found.errors else _worth_of(book, seat, bought)
    if bought is None or worth is None:
        found = asked.found.errors or [FieldError("alloy", "No price of this metal is entered for today.")]
        return old_gold_page(request, seat, to_put_right(found, texts), status=422)
    told = worth_words(worth, bought.percent, currency)
    return old_gold_page(request, seat, Said(typed=texts), worth=told)


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    texts: dict[str, str],
    work: Callable[[Session], None],
    key: str = "",
) -> Response:
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: old_gold_page(request, seat, said, status=status, key=key),
    )
