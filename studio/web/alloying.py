"""Fine metal and master alloy: what goes into the crucible for a wanted fineness. Nothing is written down."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.craft.alloying import AlloyingRefused, Melt, lowered, melt, raised
from studio.craft.designs import Limits
from studio.craft.roles import Right
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.errors import FieldErrors
from studio.web.many_forms import lines_of
from studio.web.reading import Reading, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts

router = APIRouter()

Reckoner = Annotated[Seat, requires(Right.RECKON)]
FINENESS, MASS_G = Limits(0, 1000), Limits(0.01, 10000)
WORDS = {
    "way": "To do",
    "wanted": "Fineness wanted",
    "grams": "Grams",
    "fine": "Fineness of the finer metal",
    "other": "Fineness of the other",
}
_WAYS = (
    Choice("melt", "Melt this much of it"),
    Choice("raise", "Raise this much of the less fine metal"),
    Choice("lower", "Bring down this much of the finer metal"),
)
_FIRST = {"way": "melt", "wanted": "750", "grams": "", "fine": "1000", "other": "0"}
_NOTHING = Said()


@dataclass(frozen=True, slots=True)
class AlloyingPage:
    """The page. `answer` is what goes in and what comes out, `working` how that came about."""

    title: str
    words: dict[str, str]
    texts: dict[str, str]
    ways: tuple[Choice, ...]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    answer: tuple[tuple[str, str], ...]
    working: str
    href: str = "/alloying"


@router.get("/alloying", response_class=HTMLResponse)
def shown(request: Request, seat: Reckoner) -> HTMLResponse:  # noqa: ARG001  the seat guards
    """The form, and the answer for what stands in the address."""
    asked = dict(request.query_params)
    if not asked:
        return _page(request, _FIRST)
    texts = typed_texts(asked, *WORDS)
    try:
        found, working = _reckoned(asked)
    except FieldErrors as refused:
        return _page(request, texts, said=to_put_right(refused.errors, texts), status=422)
    return _page(request, texts, found=found, working=working)


def _reckoned(asked: dict[str, str]) -> tuple[Melt, str]:
    reading = Reading(asked, "")
    wanted = reading.number("wanted", FINENESS, "in 1000")
    grams = reading.number("grams", MASS_G, "g")
    fine, other = reading.number("fine", FINENESS, "in 1000"), reading.number("other", FINENESS, "in 1000")
    for name, value in (("wanted", wanted), ("grams", grams), ("fine", fine), ("other", other)):
        if value is None and not reading.is_wrong(name):
            reading.add(name, "This is not given yet.")
    reading.stop()
    goal, mass, finer, less = (Decimal(f"{sure(value):.10g}") for value in (wanted, grams, fine, other))
    try:
        if asked.get("way") == "raise":
            found, working = raised(goal, mass, less, finer), "grams × (wanted − other) ÷ (finer − wanted)"
        elif asked.get("way") == "lower":
            found, working = lowered(goal, mass, finer, less), "grams × (finer − wanted) ÷ (wanted − other)"
        else:
            found, working = (
                melt(goal, mass, finer, less),
                "finer : other = (wanted − other) : (finer − wanted)",
            )
    except AlloyingRefused as refused:
        reading.add("wanted", refused.why)
    reading.stop()
    return found, working


def _page(
    request: Request,
    texts: dict[str, str],
    *,
    said: Said = _NOTHING,
    found: Melt | None = None,
    working: str = "",
    status: int = 200,
) -> HTMLResponse:
    answer: tuple[tuple[str, str], ...] = ()
    if found is not None:
        answer = (
            ("Finer metal", f"{found.fine_g:.2f} g"),
            ("The other", f"{found.other_g:.2f} g"),
            ("Together", f"{found.total_g:.2f} g"),
            ("Fineness that gives", f"{found.fineness:.1f} in 1000"),
        )
    context = AlloyingPage(
        title="Fine metal and master alloy",
        words=WORDS,
        texts=texts,
        ways=_WAYS,
        said=said,
        error_lines=lines_of(said, WORDS),
        answer=answer,
        working=working,
    )
    return page(request, "studio/alloying.html", context, place=Place.WEEK, status=status)
