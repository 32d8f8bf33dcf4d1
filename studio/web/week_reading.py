"""What the week's page and the API read of the book: the need, the drawer, and what is planned together."""

from dataclasses import dataclass
from datetime import date

from studio.book.cuts import BookedCut, cuts_booked
from studio.book.engine import session
from studio.book.piece_reads import Piece, pieces
from studio.book.practices import practice_on
from studio.book.week import Week, week_need
from studio.book.week_groups import cut_groups, lying
from studio.craft.needs import CutGroup, LyingPiece
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.practice import MillTerms
from studio.web.security import Seat


@dataclass(frozen=True, slots=True)
class WeekAtHand:
    """A week with its need, the drawer as planning sees it, the groups, and the latest cuts."""

    week: Week
    drawer: tuple[Piece, ...]
    lying: tuple[LyingPiece, ...]
    groups: tuple[CutGroup, ...]
    mill: MillTerms
    kerf_mm: float
    cuts: tuple[BookedCut, ...]


def week_at_hand(
    seat: Seat,
    monday: date,
    until: date | None = None,
    states: frozenset[State] = COUNTED_FOR_THE_WEEK,
) -> WeekAtHand:
    """The week that starts on `monday`, or the window until another day, as it stands in the book."""
    with session(seat.engine) as book:
        found = week_need(book, monday=monday, today=seat.today, until=until, states=states)
        drawer, practice = pieces(book), practice_on(book, seat.today)
        groups = cut_groups(found, drawer, practice.kerf_mm)
        return WeekAtHand(
            found, drawer, lying(drawer), groups, practice.mill, practice.kerf_mm, cuts_booked(book)
        )
