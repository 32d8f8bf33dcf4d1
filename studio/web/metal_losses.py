"""What each kind of work takes off the metal: lemel and loss by operation, of what was issued."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.ledger_reads import ledger_lines
from studio.book.months import MonthOfYear
from studio.book.practices import practice_on
from studio.craft.drawing import Compared, Svg, compared_bars
from studio.craft.ledger import LossAt, losses, share_bp
from studio.craft.metals import Alloy
from studio.craft.roles import Right
from studio.web.ledger_page import read_period
from studio.web.ledger_words import OPERATION_WORDS, alloy_name, grams, percent_of
from studio.web.months import month_words
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import opened

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
HREF = "/metal/losses"
_WIDE, _NARROW = 620.0, 288.0


@dataclass(frozen=True, slots=True)
class WorkLoss:
    """One kind of work: what it gave to the lemel and what it lost, in g and in percent of the issue."""

    work: str
    lemel: str
    lemel_share: str
    lost: str
    lost_share: str
    is_total: bool = False


@dataclass(frozen=True, slots=True)
class MetalLoss:
    """One alloy: what was issued of it, its kinds of work, and their picture where anything was issued."""

    name: str
    key: str
    issued: str
    rows: tuple[WorkLoss, ...]
    wide: Svg | None
    narrow: Svg | None


@dataclass(frozen=True, slots=True)
class LossesPage:
    """The page of a month or a year."""

    title: str
    period: str
    times: tuple[tuple[str, str], ...]
    metals: tuple[MetalLoss, ...]
    links: tuple[tuple[str, str], ...]


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Keeper, of: str = "") -> HTMLResponse:
    """The losses of `?of=2026-11` or `?of=2026`; of the month that runs without one."""
    period = read_period(of or f"{seat.today:%Y-%m}")
    with session(seat.engine) as book:
        lines = ledger_lines(book, first=period.first, last=period.last)
        alloys = practice_on(book, seat.today).alloys
    near = [(href.rpartition("/")[2], words) for href, words in (period.before, period.after)]
    year = period.first.year
    if len(period.key) == 4:
        near += [(str(one), month_words(one)) for one in (MonthOfYear(year, place) for place in range(1, 13))]
    else:
        near.append((str(year), "The whole year"))
    context = LossesPage(
        title="What the work takes",
        period=period.words,
        times=tuple((f"{HREF}?of={key}", words) for key, words in near),
        metals=metal_losses(losses(line.moved for line in lines), alloys),
        links=(("/metal", "The drawer"), (f"/metal/ledger/{period.key}", "Where every gram went")),
    )
    return page(request, "metal_losses/page.html", context, place=Place.METAL)


def metal_losses(found: Sequence[LossAt], alloys: Mapping[str, Alloy]) -> tuple[MetalLoss, ...]:
    """The alloys of which anything came off, that with the most issued first."""
    by_alloy: defaultdict[str, list[LossAt]] = defaultdict(list)
    for one in found:
        by_alloy[one.alloy].append(one)
    parts = sorted(by_alloy.items(), key=lambda one: (-one[1][0].issued_mg, one[0]))
    return tuple(_metal(alloy_name(alloys, alloy), alloy, rows) for alloy, rows in parts)


def _metal(name: str, key: str, found: Sequence[LossAt]) -> MetalLoss:
    issued = found[0].issued_mg
    total = LossAt("", key, sum(one.lemel_mg for one in found), sum(one.lost_mg for one in found), issued)
    drawn = [
        Compared(_work(one), max(0.0, 100 * one.lemel_mg / issued), max(0.0, 100 * one.lost_mg / issued))
        for one in found
        if issued
    ]
    return MetalLoss(
        name=opened(name),
        key=key,
        issued=grams(issued) if issued else "",
        rows=(
            *(_row(_work(one), one) for one in found),
            *([_row("All work", total, is_total=True)] if len(found) > 1 else []),
        ),
        wide=_bars(drawn, name, _WIDE),
        narrow=_bars(drawn, name, _NARROW),
    )


def _work(one: LossAt) -> str:
    words = {**OPERATION_WORDS, "not said": "work not said"}
    return opened(words.get(one.operation, one.operation))


def _row(words: str, one: LossAt, *, is_total: bool = False) -> WorkLoss:
    return WorkLoss(
        words,
        grams(one.lemel_mg),
        percent_of(share_bp(one.lemel_mg, one.issued_mg)),
        grams(one.lost_mg),
        percent_of(one.lost_bp),
        is_total,
    )


def _bars(rows: Sequence[Compared], name: str, width: float) -> Svg | None:
    if not rows:
        return None
    label = f"{opened(name)}: percent of the issue swept up and lost; each figure stands in the table below"
    return compared_bars(rows, width=width, label=label, unit="%")
