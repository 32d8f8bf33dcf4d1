"""Whose hands are at the bench: on a device of the bench a maker chooses their name and types a PIN."""

import re
from dataclasses import dataclass

from fastapi import APIRouter
from sqlalchemy import Engine
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio import clock
from studio.book.bench_devices import AtDevice, at_device, step_away, take_over
from studio.book.engine import session
from studio.book.errors import SignInWaits
from studio.book.pin_errors import PinWrong
from studio.book.pins import pin_holders
from studio.web.bench_list import HREF as WORK
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.render import page
from studio.web.security import bench_key
from studio.web.sign_in import local_path

router = APIRouter()

HREF = "/bench/hands"
_AN_ID = re.compile(r"[1-9][0-9]{0,8}")
_BENCH = re.compile(r"/bench(/[0-9a-z-]+/[0-9]+(\?step=[0-9a-z-]*)?)?")


@dataclass(frozen=True, slots=True)
class Hands:
    """One person to choose; `is_chosen` is who was chosen last, or works on the device."""

    value: str
    name: str
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class HandsPage:
    """The page; `wrong` is the sentence after a try that failed, `now` who works on the device."""

    title: str
    device: str
    people: tuple[Hands, ...]
    now: str
    next: str
    wrong: str
    action: str = HREF
    sign_in_href: str = "/sign-in"


@router.get(HREF)
def show_hands(request: Request, next: str = "") -> Response:  # noqa: A002  the address says ?next=
    """The names of those who have a PIN; a browser that is no device of the bench is led to sign in."""
    device = _device(request)
    return _not_here() if device is None else _page(request, device, next)


@router.post(HREF)
def take_hands(request: Request, typed: Typed) -> Response:
    """Somebody works on the device from now on, or nobody: 303 back to the work, or the page again."""
    key, device, now = bench_key(request), _device(request), clock.now()
    if key is None or device is None:
        return _not_here()
    wanted = str(typed.get("next", ""))
    if typed.get("act") == "away":
        if device.maker is not None:
            with session(_engine(request)) as book:
                step_away(book, key=key, actor=device.maker, now=now)
        return RedirectResponse(HREF, status_code=303)
    chosen = str(typed.get("maker", ""))
    if not _AN_ID.fullmatch(chosen):
        return _page(request, device, wanted, wrong="Choose your name first.", status=422)
    try:
        with session(_engine(request)) as book:
            take_over(book, key=key, user_id=int(chosen), pin=str(typed.get("pin", "")), now=now)
    except (PinWrong, SignInWaits) as error:
        answer = declined(error)
        words = answer.errors[0].message
        response = _page(request, device, wanted, chosen, wrong=words, status=answer.status_code)
        response.headers.update(answer.headers or {})
        return response
    return RedirectResponse(_back_to_work(wanted), status_code=303)


def _page(
    request: Request, device: AtDevice, wanted: str, chosen: str = "", *, wrong: str = "", status: int = 200
) -> Response:
    with session(_engine(request)) as book:
        holders = [one for one in pin_holders(book) if one.has_pin]
    now = device.maker
    context = HandsPage(
        title="Whose hands",
        device=device.name,
        people=tuple(
            Hands(str(one.user_id), one.name, is_chosen=str(one.user_id) == chosen) for one in holders
        ),
        now="" if now is None else now.name,
        next=_back_to_work(wanted),
        wrong=wrong,
    )
    return page(request, "bench/hands.html", context, status=status, is_bare=True)


def _back_to_work(wanted: str) -> str:
    """Where the maker came from, if that is work at the bench: a PIN leads nowhere else."""
    return wanted if _BENCH.fullmatch(local_path(wanted)) else WORK


def _not_here() -> Response:
    return RedirectResponse(f"/sign-in?next={WORK}", status_code=303)


def _device(request: Request) -> AtDevice | None:
    key = bench_key(request)
    if key is None:
        return None
    with session(_engine(request)) as book:
        return at_device(book, key=key, now=clock.now())


def _engine(request: Request) -> Engine:
    engine: Engine = request.app.state.engine
    return engine
