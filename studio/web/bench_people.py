"""PINs and the devices of the bench: set by a person who is signed in by passphrase, never by a PIN."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from studio.book.bench_devices import LASTS, LONGEST_NAME, add_device, bench_devices, end_device
from studio.book.engine import session
from studio.book.errors import SignInRefused, SignInWaits
from studio.book.pin_errors import DeviceUnknown, PinRefused
from studio.book.pins import FEWEST, MOST, pin_holders, set_own_pin, set_pin
from studio.craft.directions import apart
from studio.craft.roles import Right
from studio.web.bench_hands import HREF as HANDS
from studio.web.bench_list import HREF as WORK
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined, FieldError, FieldErrors
from studio.web.reading import Reading, read_id
from studio.web.render import Place, page
from studio.web.security import Seat, cookie_key, requires, set_cookie, take_cookie
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.sign_in import as_passphrase
from studio.web.texts import read_text
from studio.web.wording import since_words

router = APIRouter()

HREF = "/bench/people"
Works = Annotated[Seat, requires(Right.MOVE_ORDERS)]
Keeps = Annotated[Seat, requires(Right.KEEP_PEOPLE)]


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person and their PIN; `user_id` names them in the form."""

    user_id: int
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class DeviceLine:
    """One device of the bench."""

    name: str
    words: str
    end_href: str


@dataclass(frozen=True, slots=True)
class BenchPeoplePage:
    """The page. `people` and `devices` are the owner's to keep, and empty for others."""

    title: str
    own: str
    people: tuple[PersonLine, ...]
    devices: tuple[DeviceLine, ...]
    pin_note: str
    device_name: str
    said: Said
    work_href: str = WORK
    own_pin_href: str = f"{HREF}/own-pin"
    pins_href: str = f"{HREF}/pins"
    devices_href: str = "/bench/devices"


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Works) -> HTMLResponse:
    """One's own PIN and this device; for the owner everybody's, and all devices."""
    return _page(request, seat)


@router.post(f"{HREF}/own-pin", response_class=HTMLResponse)
def own_pin(request: Request, seat: Works, typed: Typed) -> Response:
    """Set one's own PIN, by one's passphrase."""
    address = request.client.host if request.client else "unknown"
    try:
        with session(seat.engine) as book:
            set_own_pin(
                book,
                pin=_pin(typed.get("pin")),
                passphrase=as_passphrase(typed.get("passphrase")),
                address=address,
                actor=seat.actor,
                now=seat.now,
            )
    except (PinRefused, SignInRefused, SignInWaits) as error:
        answer = declined(error)
        field, words = "pin", answer.errors[0].message
        if not isinstance(error, PinRefused):
            field = "passphrase"
        if isinstance(error, SignInRefused):
            words = "This is not your passphrase. Try again."
        status = 422 if isinstance(error, SignInRefused) else answer.status_code
        said = to_put_right([FieldError(field, words)], {})
        return _page(request, seat, said, status=status)
    return RedirectResponse(HREF, status_code=303)


@router.post(f"{HREF}/pins", response_class=HTMLResponse)
def pin_of(request: Request, seat: Keeps, typed: Typed) -> Response:
    """The owner sets somebody's PIN."""
    try:
        user_id = read_id(typed.get("user_id"), "user_id")
        with session(seat.engine) as book:
            set_pin(book, user_id=user_id, pin=_pin(typed.get("new_pin")), actor=seat.actor, now=seat.now)
    except PinRefused as error:
        words = declined(error).errors[0].message
        said = to_put_right([FieldError(f"new_pin-{user_id}", words)], {})
        return _page(request, seat, said, status=422)
    return RedirectResponse(HREF, status_code=303)


@router.post("/bench/devices", response_class=HTMLResponse)
def set_up(request: Request, seat: Works, typed: Typed) -> Response:
    """Make this browser a device of the bench: whoever set it up is signed out of it."""
    asked = Reading(typed, "")

    def name_of(value: object, field: str) -> str:
        name = " ".join(read_text(value, field, longest=LONGEST_NAME).split())
        if not name:
            raise FieldErrors([FieldError(field, "Give the device a name: 'Tablet by the window'.")])
        return name

    name = asked.read("device", name_of)
    try:
        asked.stop()
    except FieldErrors as found:
        said = to_put_right(found.errors, typed_texts(typed, "device"))
        return _page(request, seat, said, status=422)
    if seat.actor.id is None:
        raise Declined(409, "A program is no device of the bench.")
    with session(seat.engine) as book:
        key = add_device(
            book, name=name or "", sign_in_key=cookie_key(request), actor=seat.actor, now=seat.now
        )
    response = RedirectResponse(HANDS, status_code=303)
    take_cookie(request, response)
    set_cookie(request, response, key, seconds=LASTS // timedelta(seconds=1), is_bench=True)
    return response


@router.post("/bench/devices/{device_id}/end", response_class=HTMLResponse)
def end(seat: Keeps, device_id: str) -> Response:
    """Let a device open nothing from now on."""
    if not (device_id.isascii() and device_id.isdigit() and len(device_id) <= 9):
        raise DeviceUnknown
    with session(seat.engine) as book:
        end_device(book, device_id=int(device_id), actor=seat.actor, now=seat.now)
    return RedirectResponse(f"{HREF}#devices", status_code=303)


def _pin(typed: object) -> str:
    return typed.strip() if isinstance(typed, str) else ""


def _page(request: Request, seat: Seat, said: Said | None = None, *, status: int = 200) -> HTMLResponse:
    keeps = seat.may(Right.KEEP_PEOPLE)
    with session(seat.engine) as book:
        people = pin_holders(book)
        devices = bench_devices(book, now=seat.now) if keeps else ()
    own = next((one for one in people if one.user_id == seat.actor.id), None)
    told = said or Said()
    context = BenchPeoplePage(
        title="PINs and devices at the bench",
        own="You have a PIN." if own is not None and own.has_pin else "You have no PIN yet.",
        people=tuple(
            PersonLine(one.user_id, apart(one.name), "has a PIN" if one.has_pin else "no PIN yet")
            for one in people
            if keeps and one.user_id != seat.actor.id
        ),
        devices=tuple(
            DeviceLine(
                apart(one.name),
                f"set up by {apart(one.set_up_by)}, {since_words(one.created_at, seat.zone, seat.today)}",
                f"/bench/devices/{one.id}/end",
            )
            for one in devices
        ),
        pin_note=f"{FEWEST} to {MOST} digits",
        device_name=told.typed.get("device", ""),
        said=told,
    )
    return page(request, "bench/people.html", context, place=Place.BENCH, status=status)
