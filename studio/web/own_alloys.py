"""The alloys the studio has added to the list: put in and changed by the owner, from today on."""

import secrets
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.practices import changed, newest_version, practice_on, put_practice
from studio.craft.alloys import ALLOYS, density_g_cm3
from studio.craft.errors import Refusal, Refused
from studio.craft.own_alloys import ELEMENT_NAMES, OwnAlloy, alloy_of
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice, ChoiceGroup, alloy_groups
from studio.web.counter_page import ErrorLine
from studio.web.errors import Declined
from studio.web.keeping import keep
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.own_alloy_reading import read_own_alloy
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_RATES)]
HREF = "/studio/alloys"
WORDS = {
    "name": "Name",
    "alike": "Worked like",
    "fineness": "Fineness",
    "parts": "Parts in 1000",
    "density": "Density",
    "note": "Where this is from",
    "is_put_away": "Put away",
}
"""The form's fields and their words."""
_NOTHING = Said()
_NEW = "new"


@dataclass(frozen=True, slots=True)
class AlloyForm(OneOfMany):
    """One alloy as a form: `texts` are its fields by name, `said` what is to be put right in it."""

    number: str
    heading: str
    summary: str
    action: str
    texts: dict[str, str]
    said: Said
    is_open: bool


@dataclass(frozen=True, slots=True)
class OwnAlloysPage:
    """The page. `version` is that of the practice, whose part the alloys are."""

    title: str
    heading_note: str
    alloys: tuple[AlloyForm, ...]
    new: AlloyForm
    alikes: tuple[ChoiceGroup, ...]
    no_alike: Choice
    elements: str
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    version: int
    form_key: str
    href: str = HREF
    studio_href: str = "/studio"
    alloying_href: str = "/alloying"


@router.get("/studio/alloys", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.post("/studio/alloys", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in one more alloy."""
    return _kept(request, seat, typed, _NEW)


@router.post("/studio/alloys/{key}", response_class=HTMLResponse)
def change(request: Request, seat: Keeper, typed: Typed, key: str) -> Response:
    """Let an alloy be as typed for what is taken from now on."""
    return _kept(request, seat, typed, key)


def _kept(request: Request, seat: Seat, typed: dict[str, object], key: str) -> Response:
    raw = {name: typed.get(f"{name}-{key}") for name in WORDS}

    def work(book: Session) -> None:
        base = practice_on(book, seat.today)
        own = base.own_alloys
        keys = [one.key for one in own]
        if key != _NEW and key not in keys:
            raise Declined(404, "There is no such alloy.")
        place = len(own) if key == _NEW else keys.index(key)
        made = read_own_alloy(raw, key if key != _NEW else "", frozenset(keys))
        after = (*own[:place], made, *own[place + 1 :])
        try:
            put_practice(
                book,
                practice=changed(base, {"own_alloys": after}),
                from_day=seat.today,
                source=made.note,
                version=read_id(typed.get("version"), "version"),
                actor=seat.actor,
                now=seat.now,
            )
        except Refused as refused:
            raise Refused(*(_of_the_form(one, place) for one in refused.refusals)) from None

    return keep(
        request,
        seat,
        typed,
        texts=typed_texts(raw, *WORDS),
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(request, seat, said, status, key),
        stands=lambda book: next(
            (_texts(one) for one in practice_on(book, seat.today).own_alloys if one.key == key), {}
        ),
        heading="Somebody else changed the practice meanwhile",
    )


def _of_the_form(refusal: Refusal, place: int) -> Refusal:
    """What the practice refuses of this alloy, by the field of its form."""
    return replace(refusal, field=refusal.field.removeprefix(f"own_alloys.{place}."))


def _page(
    request: Request, seat: Seat, said: Said = _NOTHING, status: int = 200, key: str = ""
) -> HTMLResponse:
    with session(seat.engine) as book:
        own, version = practice_on(book, seat.today).own_alloys, newest_version(book)
    context = OwnAlloysPage(
        title=f"{said.heading}: Alloys of our own" if said.heading else "Alloys of our own",
        heading_note="Besides the list: from their parts, their maker's density, or a carat alone",
        alloys=tuple(_form(one, said if one.key == key else _NOTHING) for one in own),
        new=_new(said if key == _NEW else _NOTHING, is_first=not own),
        alikes=alloy_groups(tuple(ALLOYS.values())),
        no_alike=Choice("", "Not chosen yet"),
        elements=", ".join(ELEMENT_NAMES),
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, key),
        version=version,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "studio/alloys.html", context, place=Place.STUDIO, status=status)


def _form(one: OwnAlloy, said: Said) -> AlloyForm:
    return AlloyForm(
        one.key,
        one.name,
        _summary(one),
        f"{HREF}/{one.key}",
        said.typed or _texts(one),
        said,
        bool(said.typed),
    )


def _new(said: Said, *, is_first: bool) -> AlloyForm:
    return AlloyForm(_NEW, "Put in an alloy", "", HREF, said.typed, said, is_first or bool(said.typed))


def _texts(one: OwnAlloy) -> dict[str, str]:
    """The alloy as its fields show it."""
    return {
        "name": one.name,
        "alike": one.alike,
        "fineness": str(one.fineness) if one.fineness else "",
        "parts": ", ".join(f"{part.element} {part.parts}" for part in one.parts),
        "density": "" if one.density is None else figure_words(one.density, 3),
        "note": one.note,
        "is_put_away": "yes" if one.is_put_away else "",
    }


def _summary(one: OwnAlloy) -> str:
    """'15.8 g/cm³, 14.7 to 16.9, worked like 750 yellow gold'."""
    alloy = alloy_of(one)
    words = [f"{figure_words(density_g_cm3(alloy), 3)} g/cm³"]
    if alloy.density_range is not None and not alloy.knows_parts:
        low, high = alloy.density_range
        words.append(f"between {low:g} and {high:g}, since only its fineness is known")
    words.append(f"worked like {ALLOYS[one.alike].name}")
    if one.is_put_away:
        words.append("put away")
    return ", ".join(words)
