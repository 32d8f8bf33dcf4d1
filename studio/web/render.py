"""Pages out of templates: each gets one dataclass ready to show, and the masthead above it."""

import re
from dataclasses import dataclass
from enum import Enum

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.ext import Extension
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book import in_hand
from studio.book.engine import session
from studio.book.studio import studio_name
from studio.craft.roles import Right
from studio.resources import templates_dir
from studio.web.days import day_words, full_day_words, moment_words
from studio.web.security import Seat
from studio.web.static_files import StaticFiles


class Place(Enum):
    """The places of the masthead, in its order: name, address, and the right it takes to see it."""

    IN_HAND = ("In hand", "/", Right.SEE_ORDERS)
    ORDERS = ("Orders", "/orders", Right.SEE_ORDERS)
    WEEK = ("Week", "/week", Right.SEE_WEEK)
    BENCH = ("Bench", "/bench", Right.MOVE_ORDERS)
    METAL = ("Metal", "/metal", Right.KEEP_DRAWER)
    CUSTOMERS = ("Customers", "/customers", Right.SEE_CONTACT)
    STUDIO = ("Studio", "/studio", Right.KEEP_RATES)

    def __init__(self, title: str, href: str, right: Right) -> None:
        self.title = title
        self.href = href
        self.right = right


@dataclass(frozen=True, slots=True)
class PlaceLink:
    """One place of the masthead. `count` is how many things need a hand, None where nothing is counted."""

    name: str
    href: str
    is_current: bool
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Masthead:
    """What stands above every page of somebody signed in."""

    studio_name: str
    places: tuple[PlaceLink, ...]
    in_hand_count: int
    moment: str  # 'Thu 26 Nov 2026, 14:05'
    person_name: str
    person_role: str
    sign_out_href: str = "/sign-out"


class Unindented(Extension):
    """Leaves one of the spaces that lines of a template begin with: a twentieth of the counter's page.

    One, since a block's tag takes the newline behind it, and words must not run into each other.
    """

    def preprocess(self, source: str, name: str | None, filename: str | None = None) -> str:  # noqa: ARG002  the base's signature
        """The template's text as it is compiled."""
        return _INDENT.sub(" ", source)


_INDENT = re.compile(r"^[ \t]+", re.MULTILINE)


def templates(static: StaticFiles) -> Environment:
    """The templates' environment: everything escaped, and a name that is not there is an error.

    `static_url('css/base.css')` gives an address that changes with the content. The filters `day_words`,
    `full_day_words` and `moment_words(zone)` say dates.
    """
    environment = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=[Unindented],
    )
    environment.globals["static_url"] = static.url
    environment.filters.update(day_words=day_words, full_day_words=full_day_words, moment_words=moment_words)
    return environment


def page(
    request: Request,
    template: str,
    context: object,
    *,
    place: Place | None = None,
    status: int = 200,
    is_bare: bool = False,
) -> HTMLResponse:
    """A whole page: the template sees `page` (the context) and `masthead`.

    `masthead` is None where nobody is signed in, and on a page that `is_bare` since it has a head of its own.
    Call it from a `def` route, after its own session is closed: the masthead reads the book.
    """
    seat: Seat | None = getattr(request.state, "seat", None)
    head = None if seat is None or is_bare else masthead(seat, place)
    return _answer(request, template, status, page=context, masthead=head)


def fragment(request: Request, template: str, context: object, *, status: int = 200) -> HTMLResponse:
    """A part of a page (`orders/_figures.html`): the template sees `page` alone."""
    return _answer(request, template, status, page=context)


def masthead(seat: Seat, place: Place | None) -> Masthead:
    """The masthead for who sits there, with `place` as the current one."""
    with session(seat.engine) as book:
        name = studio_name(book)
        count = in_hand.count(book, today=seat.today, now=seat.now)
    return Masthead(
        studio_name=name,
        places=tuple(
            PlaceLink(link.title, link.href, link is place, count if link is Place.IN_HAND else None)
            for link in Place
            if seat.may(link.right)
        ),
        in_hand_count=count,
        moment=moment_words(seat.now, seat.zone),
        person_name=seat.actor.name,
        person_role=seat.actor.role,
    )


def _answer(request: Request, template: str, status: int, **shown: object) -> HTMLResponse:
    environment: Environment = request.app.state.templates
    return HTMLResponse(environment.get_template(template).render(**shown), status_code=status)
