"""The way in and out: name and passphrase, one-time links, and leaving."""

import unicodedata
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Annotated, ClassVar

from fastapi import APIRouter
from sqlalchemy import Engine
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio import clock
from studio.book import sign_in as sign_ins
from studio.book.engine import session
from studio.book.errors import NameTaken, PassphraseRefused, SignInRefused, SignInWaits
from studio.book.links import OpenLink, enter_by_link, look_at_link
from studio.book.passphrases import SHORTEST
from studio.book.sign_in import SignedIn
from studio.book.studio import studio
from studio.craft.drawing import Svg, lying_ring
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import FieldErrors
from studio.web.reading import Reading
from studio.web.render import page
from studio.web.security import Seat, cookie_key, requires, seat_of, set_cookie, take_cookie
from studio.web.texts import read_name
from studio.web.wording import counted, opened

router = APIRouter()

_RING_PX = 440


@dataclass(frozen=True, slots=True)
class SignInPage:
    """The sign-in page; `wrong` is the sentence after a try that failed, and the name is kept."""

    title: str
    studio_name: str
    drawing: Svg
    name: str = ""
    next: str = ""
    wrong: str = ""

    @property
    def described_by(self) -> str:
        """The id of the sentence that the fields are described by."""
        return "wrong" if self.wrong else ""


@dataclass(frozen=True, slots=True)
class ErrorLine:
    """One line of what is to put right: where it stands, and the words beside the field."""

    href: str
    text: str


@dataclass(frozen=True, slots=True)
class EnterPage:
    """The page of a one-time link. `is_first` asks for the studio's and the owner's name as well."""

    heading: str
    lead: str
    studio_name: str
    drawing: Svg
    person: str
    is_first: bool
    typed_studio: str = ""
    typed_name: str = ""
    errors: dict[str, str] = field(default_factory=dict)

    error_note: ClassVar[str] = "The passphrase is asked again, everything else is kept."

    @property
    def passphrase_note(self) -> str:
        """What a passphrase takes; left out where the sentence beside the field says it."""
        if self.errors.get("passphrase"):
            return ""
        return f"At least {SHORTEST} signs. Four or five words together are easy to remember."

    @property
    def title(self) -> str:
        """The words of the tab: what is to put right comes first."""
        return f"{self.error_heading}: {self.heading}" if self.error_lines else self.heading

    @property
    def error_heading(self) -> str:
        """'Two things to put right'."""
        return opened(counted(len(self.error_lines), "thing to put right", "things to put right"))

    @property
    def error_lines(self) -> tuple[ErrorLine, ...]:
        """Each thing to put right, with its field."""
        return tuple(
            ErrorLine(f"#f-{name.replace('_', '-')}", words) for name, words in self.errors.items() if words
        )


@router.get("/sign-in")
def show_sign_in(request: Request, next: str = "") -> Response:  # noqa: A002  the address says ?next=
    """The page to sign in on; who is signed in already is led on."""
    seat = seat_of(request)
    if seat is not None and not seat.is_bench:
        return RedirectResponse(local_path(next), status_code=303)
    return page(request, "sign_in/page.html", _sign_in_page(request, next=next))


@router.post("/sign-in")
def sign_in(request: Request, typed: Typed) -> Response:
    """Try name and passphrase: 303 to where the reader wanted to go, or the page again with a sentence."""
    name, wanted = str(typed.get("name", ""))[:200], str(typed.get("next", ""))
    address = request.client.host if request.client else "unknown"
    try:
        with session(_engine(request)) as book:
            signed_in = sign_ins.sign_in(
                book,
                name=name,
                passphrase=as_passphrase(typed.get("passphrase")),
                address=address,
                now=clock.now(),
            )
    except (SignInRefused, SignInWaits) as error:
        answer = declined(error)
        shown = _sign_in_page(request, name=name, next=wanted, wrong=answer.errors[0].message)
        response: Response = page(request, "sign_in/page.html", shown, status=answer.status_code)
        response.headers.update(answer.headers or {})
        return response
    return _led_in(request, signed_in, local_path(wanted))


@router.post("/sign-out")
def sign_out(request: Request, seat: Annotated[Seat, requires(Right.SEE_ORDERS)]) -> Response:
    """End this sign-in and lead to the sign-in page."""
    key = cookie_key(request)
    if key is not None:
        with session(seat.engine) as book:
            sign_ins.sign_out(book, key=key)
    response = RedirectResponse("/sign-in", status_code=303)
    take_cookie(request, response)
    return response


@router.get("/enter/{key}")
def show_link(request: Request, key: str) -> Response:
    """What a one-time link opens: in the demo the book at once, else the page to set a passphrase on.

    A HEAD request and a browser's prefetch only look.
    """
    seat = seat_of(request)
    if seat is not None and not seat.is_bench:
        return RedirectResponse("/", status_code=303)
    only_looks = bool(request.scope.get("is_head")) or "sec-purpose" in request.headers
    with session(_engine(request)) as book:
        if request.app.state.links_open_at_once and not only_looks:
            return _led_in(request, enter_by_link(book, key=key, now=clock.now()), "/")
        link = look_at_link(book, key=key, now=clock.now())
        shown = _enter_page(book, link)
    return page(request, "sign_in/enter.html", shown)


@router.post("/enter/{key}")
def enter(request: Request, key: str, typed: Typed) -> Response:
    """Use a one-time link up: set the passphrase, on the first start also the names, and sign in."""
    with session(_engine(request)) as book:
        link = look_at_link(book, key=key, now=clock.now())
        try:
            signed_in = _enter_with(book, key, link, typed)
        except FieldErrors as wrong:
            shown = _enter_page(book, link, typed, wrong.by_field)
            return page(request, "sign_in/enter.html", shown, status=422)
    return _led_in(request, signed_in, "/")


def local_path(wanted: str) -> str:
    """`wanted` if it leads to a place in this book, else the first page: never to another site."""
    is_local = wanted.startswith("/") and not wanted.startswith(("//", "/\\"))
    is_plain = wanted.isascii() and wanted.isprintable() and "\\" not in wanted and len(wanted) <= 500
    leads_in_circles = wanted.startswith(("/sign-in", "/sign-out", "/enter/", "/bench/hands"))
    return wanted if is_local and is_plain and not leads_in_circles else "/"


def as_passphrase(typed: object) -> str:
    """A passphrase as it is compared: in one form of Unicode, so that every keyboard types the same."""
    return unicodedata.normalize("NFC", typed) if isinstance(typed, str) else ""


def _enter_with(book: Session, key: str, link: OpenLink, typed: Typed) -> SignedIn:
    fields = Reading(typed, "")
    studio_name = fields.needed("studio_name", read_name, "studio's name") if link.is_first else None
    own_name = fields.needed("name", read_name, "name") if link.is_first else None
    passphrase = as_passphrase(typed.get("passphrase"))
    if not passphrase:
        fields.add("passphrase", f"Choose a passphrase of at least {SHORTEST} signs.")
    fields.stop()
    try:
        return enter_by_link(
            book, key=key, now=clock.now(), passphrase=passphrase, own_name=own_name, studio_name=studio_name
        )
    except (PassphraseRefused, NameTaken) as error:
        raise FieldErrors(declined(error).errors) from error


def _led_in(request: Request, signed_in: SignedIn, where: str) -> Response:
    """Onward with the cookie of a fresh sign-in; one the browser held before is ended."""
    old = cookie_key(request)
    if old is not None:
        with session(_engine(request)) as book:
            sign_ins.sign_out(book, key=old)
    response = RedirectResponse(where, status_code=303)
    left = signed_in.ends_at - clock.now()
    set_cookie(request, response, signed_in.key, seconds=left // timedelta(seconds=1))
    return response


def _sign_in_page(request: Request, *, name: str = "", next: str = "", wrong: str = "") -> SignInPage:  # noqa: A002  as in the address
    with session(_engine(request)) as book:
        studio_name = _full_name(book)
    return SignInPage("Sign in", studio_name, lying_ring(None, _RING_PX), name, next, wrong)


def _enter_page(
    book: Session, link: OpenLink, typed: Typed | None = None, errors: dict[str, str] | None = None
) -> EnterPage:
    given = typed or {}
    person = link.user.name
    return EnterPage(
        heading="Open the book" if link.is_first else f"Welcome, {person}",
        lead=(
            "A new book starts with the studio's name, yours, and a passphrase only you know."
            if link.is_first
            else "Choose a passphrase. From now on it opens the book with your name."
        ),
        studio_name=_full_name(book),
        drawing=lying_ring(None, _RING_PX),
        person=person,
        is_first=link.is_first,
        typed_studio=str(given.get("studio_name", "")),
        typed_name=str(given.get("name", "")),
        errors={name: (errors or {}).get(name, "") for name in ("studio_name", "name", "passphrase")},
    )


def _full_name(book: Session) -> str:
    """'Wrenfold, goldsmiths'; '' before the studio has a name."""
    facts = studio(book)
    return f"{facts.name}, {facts.subtitle}" if facts.name and facts.subtitle else facts.name


def _engine(request: Request) -> Engine:
    engine: Engine = request.app.state.engine
    return engine
