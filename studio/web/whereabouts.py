"""Where things lie: found by telephone or words, put down elsewhere in one step; the studio's lists."""

import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.outwork import add_outworker, drop_outworker
from studio.book.outwork_reads import Outworker, outworkers
from studio.book.places import StudioPlace, add_place, drop_place, places, put_down
from studio.book.whereabouts import running_things, things_of_people
from studio.book.whereabouts_errors import PlaceUnknown, ThingOut, ThingUnknown
from studio.craft.outwork import LONGEST_WORKER, LONGEST_WORKER_NOTE, Trade
from studio.craft.roles import Right
from studio.craft.whereabouts import LONGEST_PLACE
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.counter_choices import Choice
from studio.web.errors import FieldError, FieldErrors
from studio.web.keeping import keep
from studio.web.reading import Reading, read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text
from studio.web.whereabouts_page import OrderEntry, PersonEntry, order_entry, person_entries, with_words
from studio.web.wording import counted, opened

router = APIRouter()

HREF = "/whereabouts"
LISTS = "/whereabouts/lists"
LONGEST_QUERY = 100
MOST_SHOWN = 60
Sees = Annotated[Seat, requires(Right.SEE_ORDERS)]
Moves = Annotated[Seat, requires(Right.MOVE_ORDERS)]
Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
NOTHING = Said()
_WORDS = {"place": "Place"}
_LIST_WORDS = {"place_name": "Place", "worker_name": "Name", "trade": "Trade", "worker_note": "Note"}


@dataclass(frozen=True, slots=True)
class WhereaboutsPage:
    """The page: `people` where a telephone number was typed, else `orders`."""

    query: str
    note: str
    empty: str
    people: tuple[PersonEntry, ...]
    orders: tuple[OrderEntry, ...]
    places: tuple[Choice, ...]
    no_place: Choice
    place: str
    finds_by_phone: bool
    said: Said
    form_key: str
    title: str = "Where things lie"
    href: str = HREF
    lists_href: str = LISTS
    outwork_href: str = "/outwork"


@dataclass(frozen=True, slots=True)
class ListsPage:
    """The studio's places, and who works outside for it."""

    places: tuple[StudioPlace, ...]
    workers: tuple[Outworker, ...]
    trades: tuple[Choice, ...]
    said: Said
    form_key: str
    title: str = "Places and outside workers"
    places_href: str = "/whereabouts/places"
    workers_href: str = "/outwork/workers"
    href: str = HREF

    def text(self, name: str) -> str:
        """What was typed there."""
        return self.said.typed.get(name, "")


@router.get("/whereabouts", response_class=HTMLResponse)
def shown(request: Request, seat: Sees) -> HTMLResponse:
    """Everything of the running orders, or what `?q=` finds: a telephone number or words."""
    asked = request.query_params
    return _page(request, seat, asked.get("q", ""), asked.get("place", ""))


@router.post("/whereabouts", response_class=HTMLResponse)
def moved(request: Request, typed: Typed, seat: Moves) -> Response:
    """The thing whose button was pressed lies in the chosen place from now on."""
    texts = typed_texts(typed, "place", "q", "thing")
    query, thing = texts["q"][:LONGEST_QUERY], texts["thing"]

    def work(book: Session) -> None:
        if not texts["place"]:
            raise FieldErrors([FieldError("place", "Choose the place first, then press again.")])
        place_id = read_id(texts["place"], "place")
        number = "-".join(thing.partition("/")[0].split("-")[:2])
        try:
            put_down(book, number=number, thing=thing, place_id=place_id, actor=seat.actor, now=seat.now)
        except (ThingOut, ThingUnknown, PlaceUnknown) as refused:
            raise FieldErrors([FieldError("place", declined(refused).errors[0].message)]) from refused

    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=_WORDS,
        href=f"{HREF}?{urlencode({'q': query, 'place': texts['place']})}",
        work=work,
        again=lambda said, status: _page(request, seat, query, texts["place"], said=said, status=status),
    )


def place_choices(book: Session) -> tuple[Choice, ...]:
    """The studio's places as a list to choose from."""
    return tuple(Choice(str(one.id), one.name) for one in places(book))


def _page(
    request: Request, seat: Seat, asked: str, place: str, *, said: Said = NOTHING, status: int = 200
) -> HTMLResponse:
    query = " ".join(asked[:LONGEST_QUERY].split())
    by_phone = seat.may(Right.SEE_CONTACT)
    with session(seat.engine) as book:
        people = things_of_people(book, query, now=seat.now) if query and by_phone else ()
        found = () if people else running_things(book, now=seat.now)
        choices = place_choices(book)
    orders = tuple(order_entry(one, seat) for one in found)
    orders = with_words(orders, query) if query else orders
    context = WhereaboutsPage(
        query=query,
        note=_note(orders, is_by_phone=bool(people)),
        empty="Nothing of a running order is found by this." if query else "No order is running.",
        people=person_entries(people, seat),
        orders=orders[:MOST_SHOWN],
        places=choices,
        no_place=Choice("", "Choose the place"),
        place=place if place in {one.value for one in choices} else "",
        finds_by_phone=by_phone,
        said=said,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "whereabouts/page.html", context, place=Place.ORDERS, status=status)


def _note(orders: tuple[OrderEntry, ...], *, is_by_phone: bool) -> str:
    if is_by_phone:
        return "Found by telephone"
    count = sum(len(order.things) for order in orders)
    told = f"{opened(counted(count, 'thing', 'things'))} of {counted(len(orders), 'order', 'orders')}"
    return f"{told}, here of {MOST_SHOWN} orders" if len(orders) > MOST_SHOWN else told


@router.get("/whereabouts/lists", response_class=HTMLResponse)
def lists(request: Request, seat: Keeper) -> HTMLResponse:
    """The studio's own places, and its outside workers."""
    return _lists(request, seat)


@router.post("/whereabouts/places", response_class=HTMLResponse)
def new_place(request: Request, typed: Typed, seat: Keeper) -> Response:
    """Put a place on the list."""

    def work(book: Session) -> None:
        name = read_text(typed.get("place_name"), "place_name", longest=LONGEST_PLACE)
        add_place(book, name=name, actor=seat.actor, now=seat.now)

    return _kept(request, seat, typed, work)


@router.post("/whereabouts/places/{place_id}/off", response_class=HTMLResponse)
def no_place(request: Request, typed: Typed, seat: Keeper, place_id: int) -> Response:
    """Take a place off the list."""

    def work(book: Session) -> None:
        version = read_id(typed.get("version"), "version")
        drop_place(book, place_id=place_id, version=version, actor=seat.actor, now=seat.now)

    return _kept(request, seat, typed, work)


@router.post("/outwork/workers", response_class=HTMLResponse)
def new_worker(request: Request, typed: Typed, seat: Keeper) -> Response:
    """Put somebody on the list of outside workers."""

    def work(book: Session) -> None:
        asked = Reading(typed, "")
        name = asked.read("worker_name", lambda value, field: read_text(value, field, longest=LONGEST_WORKER))
        told = asked.read(
            "worker_note", lambda value, field: read_text(value, field, longest=LONGEST_WORKER_NOTE)
        )
        trade = asked.choice("trade", Trade)
        asked.stop()
        add_outworker(
            book,
            name=name or "",
            trade=trade or Trade.OTHER,
            words=told or "",
            actor=seat.actor,
            now=seat.now,
        )

    return _kept(request, seat, typed, work)


@router.post("/outwork/workers/{worker_id}/off", response_class=HTMLResponse)
def no_worker(request: Request, typed: Typed, seat: Keeper, worker_id: int) -> Response:
    """Take somebody off the list of outside workers."""

    def work(book: Session) -> None:
        version = read_id(typed.get("version"), "version")
        drop_outworker(book, outworker_id=worker_id, version=version, actor=seat.actor, now=seat.now)

    return _kept(request, seat, typed, work)


def _kept(
    request: Request, seat: Seat, typed: Mapping[str, object], work: Callable[[Session], None]
) -> Response:
    return keep(
        request,
        seat,
        typed,
        texts=typed_texts(typed, *_LIST_WORDS),
        words=_LIST_WORDS,
        href=LISTS,
        work=work,
        again=lambda said, status: _lists(request, seat, said, status),
        stands=lambda _: {},
        heading="Somebody else changed the list meanwhile",
    )


def _lists(request: Request, seat: Seat, said: Said = NOTHING, status: int = 200) -> HTMLResponse:
    with session(seat.engine) as book:
        context = ListsPage(
            places=places(book),
            workers=outworkers(book),
            trades=tuple(Choice(trade, opened(trade)) for trade in Trade),
            said=said,
            form_key=secrets.token_urlsafe(18),
        )
    return page(request, "whereabouts/lists.html", context, place=Place.ORDERS, status=status)
