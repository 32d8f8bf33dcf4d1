"""The table of what suppliers sell: put in, put right, dropped."""

import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.practices import practice_on
from studio.book.studio import currency_of
from studio.book.supplies import KeptSupply, drop_supply, put_supply, supplies
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.craft.own_alloys import short_name
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.roles import Right
from studio.craft.units import figure_words, from_micrometres, from_milligrams, shown_length
from studio.web.amounts import shown_amount
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice, ChoiceGroup, alloy_groups
from studio.web.counter_page import ErrorLine
from studio.web.keeping import keep
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.supply_reading import WORDS, read_supply
from studio.web.wording import counted, days_words, opened, wire_words

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
HREF = "/metal/suppliers"
NEW = "new"
NOTHING = Said()


@dataclass(frozen=True, slots=True)
class SupplyForm(OneOfMany):
    """One supply as a line and as a form."""

    number: str
    what: str
    told: str
    action: str
    version: int
    texts: dict[str, str]
    said: Said
    is_open: bool


@dataclass(frozen=True, slots=True)
class SuppliersPage:
    """The page."""

    heading_note: str
    supplies: tuple[SupplyForm, ...]
    new: SupplyForm
    kinds: tuple[Choice, ...]
    no_alloy: Choice
    alloys: tuple[ChoiceGroup, ...]
    profiles: tuple[Choice, ...]
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    sees_cost: bool
    currency: str
    form_key: str
    title: str = "What suppliers sell"
    href: str = HREF
    buying_href: str = "/metal/buying"


@router.get("/metal/suppliers", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.post("/metal/suppliers", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in what a supplier sells."""
    return _put(request, seat, typed, NEW)


@router.post("/metal/suppliers/{supply_id}", response_class=HTMLResponse)
def change(request: Request, seat: Keeper, typed: Typed, supply_id: int) -> Response:
    """Put right what a supplier sells."""
    return _put(request, seat, typed, str(supply_id))


@router.post("/metal/suppliers/{supply_id}/off", response_class=HTMLResponse)
def drop(request: Request, seat: Keeper, typed: Typed, supply_id: int) -> Response:
    """Take it off the table."""

    def work(book: Session) -> None:
        version = read_id(typed.get("version"), "version")
        drop_supply(book, supply_id=supply_id, version=version, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, key=str(supply_id), texts={}, work=work)


def _put(request: Request, seat: Seat, typed: Mapping[str, object], key: str) -> Response:
    texts = typed_texts({name: typed.get(f"{name}-{key}") for name in WORDS}, *WORDS)

    def work(book: Session) -> None:
        known = next((one for one in supplies(book) if str(one.id) == key), None)
        supply = read_supply(
            texts,
            practice_on(book, seat.today),
            currency_of(book),
            None if known is None else known.supply,
            sees_cost=seat.may(Right.SEE_COST),
        )
        put_supply(
            book,
            supply=supply,
            supply_id=None if key == NEW else int(key),
            version=None if key == NEW else read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )

    return _done(request, seat, typed, key=key, texts=texts, work=work)


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    key: str,
    texts: dict[str, str],
    work: Callable[[Session], None],
) -> Response:
    def stands(book: Session) -> dict[str, str]:
        found = next((_texts(one, currency_of(book)) for one in supplies(book) if str(one.id) == key), {})
        return {name: text for name, text in found.items() if name != "least_charge" or sees_cost}

    sees_cost = seat.may(Right.SEE_COST)
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(request, seat, said, status, key),
        stands=stands,
        heading="Somebody else changed this meanwhile",
    )


def _page(
    request: Request, seat: Seat, said: Said = NOTHING, status: int = 200, key: str = ""
) -> HTMLResponse:
    with session(seat.engine) as book:
        found, practice, currency = supplies(book), practice_on(book, seat.today), currency_of(book)
    kinds = {PieceKind.SHEET: "Sheet", PieceKind.STRIP: "Strip", PieceKind.WIRE: "Wire"}
    its = said if key == NEW else NOTHING
    texts = its.typed or {"kind": str(PieceKind.SHEET)}
    is_open = bool(its.typed) or not found
    note = f"{opened(counted(len(found), 'size', 'sizes'))} from which what is short can be ordered"
    context = SuppliersPage(
        heading_note=note if found else "Nobody has said yet what is sold, so nothing can be ordered",
        supplies=tuple(_form(one, said if key == str(one.id) else NOTHING, currency) for one in found),
        new=SupplyForm(NEW, "", "", HREF, 0, texts, its, is_open),
        kinds=tuple(Choice(kind, words) for kind, words in kinds.items()),
        no_alloy=Choice("", "Not chosen yet"),
        alloys=alloy_groups(practice.offered_alloys),
        profiles=(
            Choice("", "none, it is flat"),
            *(Choice(profile, PROFILE_NAMES[profile]) for profile in Profile),
        ),
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, key),
        sees_cost=seat.may(Right.SEE_COST),
        currency=currency,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "suppliers/page.html", context, place=Place.METAL, status=status)


def _form(one: KeptSupply, said: Said, currency: str) -> SupplyForm:
    sold = one.supply
    name = str(sold.kind) if sold.profile is None else wire_words(sold.profile)
    thick = figure_words(from_micrometres(sold.thickness_um))
    wide = figure_words(from_micrometres(sold.least_width_um))
    size = f"{thick} thick" if sold.profile is None else f"{wide} × {thick}"
    told = [
        f"{'from ' if sold.width_step_um else ''}{wide} wide",
        f"{shown_length(from_micrometres(sold.least_length_um))} mm long and more",
        f"lead {days_words(sold.lead_days)}",
        f"spare {days_words(sold.spare_days)}",
    ]
    return SupplyForm(
        str(one.id),
        f"{sold.supplier}: {short_name(sold.alloy)} {name} {size}",
        ", ".join([*told, sold.note] if sold.note else told),
        f"{HREF}/{one.id}",
        one.version,
        _texts(one, currency) | said.typed,
        said,
        bool(said.typed or said.heading),
    )


def _texts(one: KeptSupply, currency: str) -> dict[str, str]:
    sold = one.supply
    lengths = ("thickness", "least_width", "length_step", "least_length", "most_length")
    return {
        "supplier": sold.supplier,
        "alloy": sold.alloy,
        "kind": str(sold.kind),
        "profile": sold.profile or "",
        **{name: shown_length(from_micrometres(getattr(sold, f"{name}_um"))) for name in lengths},
        "width_step": shown_length(from_micrometres(sold.width_step_um)) if sold.width_step_um else "",
        "least_mass": figure_words(from_milligrams(sold.least_mass_mg), 3) if sold.least_mass_mg else "",
        "least_charge": shown_amount(sold.least_charge_minor, currency) if sold.least_charge_minor else "",
        "lead_days": str(sold.lead_days),
        "spare_days": str(sold.spare_days),
        "note": sold.note,
    }
