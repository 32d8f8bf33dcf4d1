"""All that is held for customers: what, whose, where, worth how much, and what it is insured for."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.custody import custody_head
from studio.book.custody_reads import HeldGood, all_held
from studio.book.engine import session
from studio.book.studio import studio
from studio.craft.custody import Exposure, exposure
from studio.craft.directions import apart
from studio.craft.goods import weight_words
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.days import day_words
from studio.web.ledger_words import HeadWords, head_of_chain
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.whereabouts_page import place_words
from studio.web.wording import counted, opened

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.QUOTE)]
HREF = "/custody"


@dataclass(frozen=True, slots=True)
class HeldEntry:
    """One line that is held, ready to show."""

    key: str
    what: str
    facts: str
    order: str
    order_href: str
    customer: str
    customer_href: str
    weight: str
    value: str
    lies: str
    since: str
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CustodyPage:
    """The page. `over` says that more is held than insured, '' where it is not."""

    title: str
    note: str
    held: tuple[HeldEntry, ...]
    total: str
    insured: str
    over: str
    head: HeadWords | None


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """What is held now, the longest first, and what it is worth beside what it is insured for."""
    with session(seat.engine) as book:
        held, facts, head = all_held(book), studio(book), custody_head(book)
    worth = exposure((one.good.value_minor for one in held), facts.insured_minor)
    context = CustodyPage(
        title="Held for customers",
        note=counted(len(held), "line of goods", "lines of goods") if held else "Nothing is held",
        held=tuple(_entry(one, facts.currency, seat) for one in held),
        total=_total(worth, facts.currency),
        insured="No limit is set: the studio's page takes it. Ask the insurer."
        if worth.limit_minor is None
        else f"Insured for {money_words(worth.limit_minor, facts.currency)}.",
        over=""
        if not worth.over_minor
        else f"{money_words(worth.over_minor, facts.currency)} more is held than is insured.",
        head=None if head is None else head_of_chain(head, seat.zone),
    )
    return page(request, "custody/page.html", context, place=Place.ORDERS)


def _entry(one: HeldGood, currency: str, seat: Seat) -> HeldEntry:
    good = one.good
    facts = [f"bag {apart(good.bag)}" if good.bag else "", apart(good.condition)]
    condition = good.stone.condition if good.stone is not None else ""
    return HeldEntry(
        key=good.key,
        what=opened(apart(good.words if good.stone is None else good.line)),
        facts=", ".join(part for part in (*facts, apart(condition)) if part),
        order=one.order_number,
        order_href=f"/orders/{one.order_number}#papers",
        customer=apart(one.customer),
        customer_href=f"/customers/{one.customer_id}",
        weight="" if good.weight_mg is None else weight_words(good.weight_mg),
        value="not said" if good.value_minor is None else money_words(good.value_minor, currency),
        lies=place_words(one.lies),
        since=day_words(one.since.date(), today=seat.today),
        photos=tuple(f"/orders/{one.order_number}/pictures/{picture}.jpg" for picture in one.pictures),
    )


def _total(worth: Exposure, currency: str) -> str:
    told = f"{money_words(worth.held_minor, currency)} by what was declared"
    if worth.without_value:
        told += f"; {counted(worth.without_value, 'line has no value', 'lines have no value')}"
    return f"{told}."
