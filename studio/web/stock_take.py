"""The stock-take: what is weighed against the book, a reason for each difference; and the way of a piece."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.ledger_entries import LONGEST_NOTE, Counted, take_stock
from studio.book.ledger_reads import ledger_balances, ledger_lines
from studio.book.piece_errors import PieceUnknown
from studio.book.piece_reads import pieces
from studio.book.practices import practice_on
from studio.book.row_ids import LARGEST_ID
from studio.craft.designs import Limits
from studio.craft.ledger import Account, Pot
from studio.craft.roles import Right
from studio.craft.units import to_milligrams
from studio.web.bodies import Typed
from studio.web.counter_page import ErrorLine
from studio.web.drawer_page import HREF as DRAWER_HREF
from studio.web.drawer_page import piece_words
from studio.web.keeping import keep
from studio.web.ledger_page import HREF as LEDGER_HREF
from studio.web.ledger_words import LedgerEntry, alloy_name, entry, grams
from studio.web.many_forms import SeveralForms, lines_of
from studio.web.reading import Reading
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
HREF = "/metal/count"
_NOTHING = Said()
_BOXES = (Account.SCRAP, Account.LEMEL)
_MASS_G = Limits(0, 100_000)


@dataclass(frozen=True, slots=True)
class CountLine:
    """One thing to weigh: `key` sets its fields apart, `by_book` is what the book says in g.

    `name` is short: a piece's mark.
    """

    key: str
    name: str
    what: str
    where: str
    by_book: str


@dataclass(frozen=True, slots=True)
class CountPage(SeveralForms):
    """The page."""

    lines: tuple[CountLine, ...]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str
    said_of: str = ""
    title: str = "Stock-take"
    ledger_href: str = LEDGER_HREF
    href: str = HREF


@dataclass(frozen=True, slots=True)
class WayPage:
    """The way of one piece through the ledger."""

    title: str
    mark: str
    what: str
    gone: str
    rows: tuple[LedgerEntry, ...]
    drawer_href: str = DRAWER_HREF
    ledger_href: str = LEDGER_HREF


@router.get("/metal/count", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.post("/metal/count", response_class=HTMLResponse)
def count(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Write down what was weighed; what is left empty was not weighed."""
    with session(seat.engine) as book:
        known = {line.key: line for line in _lines(book, seat)}
    names = [f"{key}.{name}" for key in known for name in ("mass", "reason")]
    groups = {key: group for key, group in typed.items() if isinstance(group, Mapping)}
    texts = typed_texts(
        {f"{key}.{name}": text for key, of in groups.items() for name, text in of.items()}, *names
    )

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        counted = []
        for key in known:
            mass = asked.mass(f"{key}.mass", _MASS_G)
            reason = asked.read(
                f"{key}.reason", lambda value, field: read_text(value, field, longest=LONGEST_NOTE)
            )
            if mass is None:
                continue
            kind, _, rest = key.partition("-")
            if kind == "piece":
                one = Counted(to_milligrams(mass), int(rest), reason=reason or "", field=key)
            else:
                account = next(box for box in _BOXES if box.name.lower() == kind)
                one = Counted(to_milligrams(mass), None, account, rest, reason or "", key)
            counted.append(one)
        asked.stop()
        take_stock(book, counted=counted, actor=seat.actor, now=seat.now)

    words = {name: name for name in names}
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=words,
        href=f"/metal/ledger/{seat.today:%Y-%m}",
        work=work,
        again=lambda said, status: _page(request, seat, said, status),
    )


@router.get("/metal/pieces/{piece_id}", response_class=HTMLResponse)
def way(request: Request, seat: Keeper, piece_id: int) -> HTMLResponse:
    """The way of one piece: where it came from, what it became, where it went."""
    with session(seat.engine) as book:
        found = pieces(book, ids=[piece_id]) if 0 < piece_id <= LARGEST_ID else ()
        if not found:
            raise PieceUnknown(piece_id)
        lines = ledger_lines(book, piece_id=piece_id)
        alloys = practice_on(book, seat.today).alloys
    (piece,) = found
    context = WayPage(
        title=f"The way of {piece.mark}",
        mark=piece.mark,
        what=f"{alloy_name(alloys, piece.measures.alloy)} {piece_words(piece)}",
        gone=piece.gone,
        rows=tuple(entry(line, alloys, seat) for line in lines),
    )
    return page(request, "piece_way/page.html", context, place=Place.METAL)


def _lines(book: Session, seat: Seat) -> list[CountLine]:
    alloys = practice_on(book, seat.today).alloys
    found = [
        CountLine(
            f"piece-{one.id}",
            one.mark,
            f"{one.mark}, {alloy_name(alloys, one.measures.alloy)} {piece_words(one)}",
            one.place,
            grams(to_milligrams(one.mass_g)),
        )
        for one in pieces(book)
    ]
    held = ledger_balances(book)
    boxes = sorted({(pot.account, pot.alloy) for pot in held if pot.account in _BOXES and not pot.owner_id})
    return found + [
        CountLine(
            f"{account.name.lower()}-{alloy}",
            f"{str(account).capitalize()}, {alloy_name(alloys, alloy)}",
            f"{str(account).capitalize()}, {alloy_name(alloys, alloy)}",
            "",
            grams(held[Pot(account, alloy)]),
        )
        for account, alloy in boxes
    ]


def _page(request: Request, seat: Seat, said: Said = _NOTHING, status: int = 200) -> HTMLResponse:
    with session(seat.engine) as book:
        lines = tuple(_lines(book, seat))
    whats = {f"{line.key}.{name}": line.name for line in lines for name in ("mass", "reason")}
    wrong = lines_of(said, whats)
    context = CountPage(lines, said, wrong, secrets.token_urlsafe(18))
    return page(request, "stock_take/page.html", context, place=Place.METAL, status=status)
