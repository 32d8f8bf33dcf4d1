"""What the week's page and the API read of the book: the need, the drawer, and what is planned together."""

from dataclasses import dataclass
from datetime import date, timedelta
from urllib.parse import urlencode

from starlette.requests import Request

from studio.book.cuts import BookedCut, cuts_booked
from studio.book.engine import session
from studio.book.piece_reads import Piece, pieces
from studio.book.practices import practice_on
from studio.book.purchase_reads import rings_ordered_for
from studio.book.week import Week, week_need
from studio.book.week_groups import cut_groups, lying
from studio.clock import monday_of
from studio.craft.blades import THOUSANDTHS_IN, kerf_mm
from studio.craft.needs import CutGroup, LyingPiece
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.practice import MillTerms, Practice
from studio.web.days import read_date
from studio.web.errors import Findings
from studio.web.security import Seat

FIRST_DAY, LAST_DAY = date(2000, 1, 10), date(2100, 12, 20)
LONGEST = timedelta(days=366)


@dataclass(frozen=True, slots=True)
class Window:
    """Which bench days and states are looked at, and the saw blade, '' for the practice's own cut.

    `told` is what could not be read of it.
    """

    monday: date
    until: date | None = None
    states: frozenset[State] = COUNTED_FOR_THE_WEEK
    blade: str = ""
    told: str = ""
    status: int = 200

    @property
    def query(self) -> str:
        """The window as it stands in an address."""
        asked = {"from": self.monday.isoformat()}
        if self.until is not None:
            asked["to"] = self.until.isoformat()
        if len(self.states) == 1:
            asked["state"] = next(iter(self.states))
        if self.blade:
            asked["blade"] = self.blade
        return urlencode(asked)

    @property
    def href(self) -> str:
        """The page of this window."""
        return f"/week?{self.query}"

    @property
    def states_words(self) -> str:
        """', agreed only', or nothing where all are counted that may be."""
        return f", {next(iter(self.states))} only" if len(self.states) == 1 else ""


def read_window(request: Request, seat: Seat) -> Window:
    """The window of `?from=`, `?to=` and `?state=`; this week, and what is wrong, where it is none."""
    found, asked = Findings(), request.query_params
    day = found.take(lambda: read_date(asked.get("from"), "from", today=seat.today))
    until = found.take(lambda: read_date(asked.get("to"), "to", today=seat.today))
    monday = monday_of(min(max(day or seat.today, FIRST_DAY), LAST_DAY))
    if until is not None and not monday <= until <= monday + LONGEST:
        found.add("to", "The last day has to lie within a year after the first.")
    state = asked.get("state", "")
    if state and state not in COUNTED_FOR_THE_WEEK:
        found.add("state", "Only orders agreed or at the bench need metal.")
    blade = asked.get("blade", "")
    if blade and blade not in THOUSANDTHS_IN:
        found.add("blade", "We know no saw blade of this number.")
    if found.errors:
        told = f"{found.errors[0].message} This is the week of today."
        return Window(monday_of(seat.today), told=told, status=422)
    states = frozenset({State(state)}) if state else COUNTED_FOR_THE_WEEK
    return Window(monday, until, states, blade)


@dataclass(frozen=True, slots=True)
class WeekAtHand:
    """A week with its need, the drawer as planning sees it, the groups, and the latest cuts.

    `ordered` are the rings whose metal is on its way.
    """

    week: Week
    drawer: tuple[Piece, ...]
    lying: tuple[LyingPiece, ...]
    groups: tuple[CutGroup, ...]
    mill: MillTerms
    kerf_mm: float
    cuts: tuple[BookedCut, ...]
    ordered: frozenset[str]


def kerf_of(asked: Window, practice: Practice) -> float:
    """What one saw cut takes, in mm: by the blade that is chosen, else by the practice."""
    return kerf_mm(asked.blade) if asked.blade else practice.kerf_mm


def week_at_hand(seat: Seat, asked: Window) -> WeekAtHand:
    """The need of a window, the drawer, and what is planned together, as they stand in the book."""
    with session(seat.engine) as book:
        found = week_need(book, monday=asked.monday, today=seat.today, until=asked.until, states=asked.states)
        drawer, practice = pieces(book), practice_on(book, seat.today)
        kerf = kerf_of(asked, practice)
        groups = cut_groups(found, drawer, kerf)
        return WeekAtHand(
            found,
            drawer,
            lying(drawer),
            groups,
            practice.mill,
            kerf,
            cuts_booked(book),
            rings_ordered_for(book),
        )
