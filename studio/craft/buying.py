"""What to order of a supplier for the blanks that no piece yields, and by which day.

What is ordered is rounded up to the supplier's steps and never under the need.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from studio.craft.drawer import PieceKind
from studio.craft.needs import CutKind, NeededBlank
from studio.craft.open_days import OpenDays
from studio.craft.supplies import Supply, length_sold, longest_sold, mass_mg, rounded_up, width_sold


@dataclass(frozen=True, slots=True)
class Whole:
    """One whole thing to order, in µm, with its mass in mg by its measures."""

    length_um: int
    width_um: int
    mass_mg: int


def wholes(
    blanks: Sequence[NeededBlank], supply: Supply, kerf_um: int, density_g_cm3: float
) -> tuple[Whole, ...] | None:
    """What to order so that all blanks can be cut from it; None where the supply has no such size.

    Sheet is one piece, its strips beside each other, of all lengths the one that weighs least; strip and
    wire are a piece for each row of blanks. Every side is rounded up to its step, and never a whole step too
    much but for the least that is sold; under the least weight the last piece is taken longer, then more.
    """
    if not blanks:
        return ()
    made = (
        _sheet(blanks, supply, kerf_um) if supply.kind is PieceKind.SHEET else _rows(blanks, supply, kerf_um)
    )
    if made is None:
        return None

    def mass(length_um: int, width_um: int) -> int:
        return mass_mg(supply, length_um, width_um, density_g_cm3)

    return _heavy_enough(made, supply, mass)


_Sides = list[tuple[int, int]]


def _rows(blanks: Sequence[NeededBlank], supply: Supply, kerf_um: int) -> _Sides | None:
    made = []
    most = longest_sold(supply.most_length_um, supply)
    for width, fill in _laid(blanks, most, kerf_um, is_wire=supply.kind is PieceKind.WIRE):
        sides = length_sold(fill, supply), width_sold(width, supply)
        if sides[0] is None or sides[1] is None:
            return None
        made.append((sides[0], sides[1]))
    return made


def _sheet(blanks: Sequence[NeededBlank], supply: Supply, kerf_um: int) -> _Sides | None:
    best: tuple[int, int] | None = None
    fill = -kerf_um
    for mark in sorted((blank.mark_um for blank in blanks), reverse=True):
        fill += mark + kerf_um
        length = length_sold(fill, supply)
        if length is None:
            break
        laid = _laid(blanks, length, kerf_um)
        length = length_sold(max(its for _, its in laid), supply)
        width = width_sold(sum(across for across, _ in laid) + kerf_um * (len(laid) - 1), supply)
        if length is not None and width is not None and (best is None or length * width < best[0] * best[1]):
            best = length, width
    return None if best is None else [best]


def _laid(
    blanks: Sequence[NeededBlank], most_um: int, kerf_um: int, *, is_wire: bool = False
) -> list[tuple[int, int]]:
    """Rows of blanks of one width, the longest first: the width of each and how far it is filled."""
    rows: list[tuple[int, int]] = []
    widths = [(0 if is_wire else blank.width_um, blank.mark_um) for blank in blanks]
    for width, mark in sorted(widths, reverse=True):
        for place, (across, fill) in enumerate(rows):
            if across == width and fill + kerf_um + mark <= most_um:
                rows[place] = (across, fill + kerf_um + mark)
                break
        else:
            rows.append((width, mark))
    return rows


def _heavy_enough(made: _Sides, supply: Supply, mass: Callable[[int, int], int]) -> tuple[Whole, ...]:
    done = [Whole(length, width, mass(length, width)) for length, width in made]
    most = longest_sold(supply.most_length_um, supply)
    while (short := supply.least_mass_mg - sum(one.mass_mg for one in done)) > 0:
        last = done[-1]
        if last.length_um == most:
            least = supply.least_length_um
            done.append(Whole(least, last.width_um, mass(least, last.width_um)))
            continue
        wanted = last.length_um * (last.mass_mg + short) // last.mass_mg
        length = min(most, rounded_up(wanted, supply.length_step_um, supply.least_length_um))
        if mass(length, last.width_um) < last.mass_mg + short:  # a piece is weighed in whole mg
            length = min(most, length + supply.length_step_um)
        done[-1] = Whole(length, last.width_um, mass(length, last.width_um))
    return tuple(done)


@dataclass(frozen=True, slots=True)
class NeededThing:
    """A blank with the day its ring is due at the bench."""

    blank: NeededBlank
    needed_on: date


@dataclass(frozen=True, slots=True)
class ToBuy:
    """Blanks of one kind that no piece yields: what to order of which supply, and by when.

    `supply` is None where no supplier is given that has such a size; `order_by` and `things` are then empty.
    """

    kind: CutKind
    blanks: tuple[NeededBlank, ...]
    needed_on: date
    supply: Supply | None = None
    supply_id: int | None = None
    things: tuple[Whole, ...] = ()
    order_by: date | None = None
    is_late: bool = False

    @property
    def mass_mg(self) -> int:
        """What is ordered, in mg by its measures."""
        return sum(one.mass_mg for one in self.things)


def to_buy(
    kind: CutKind,
    needed: Sequence[NeededThing],
    supplies: Iterable[tuple[int, Supply]],
    *,
    kerf_um: int,
    density_g_cm3: float,
    days: OpenDays,
    today: date,
) -> ToBuy:
    """What to order for blanks of one kind, of the supply that comes in time, and of those the lightest."""
    blanks = tuple(one.blank for one in needed)
    needed_on = min(one.needed_on for one in needed)
    found = []
    for number, supply in supplies:
        if supply.is_for(kind):
            things = wholes(blanks, supply, kerf_um, density_g_cm3)
            if things is not None:
                by = supply.order_by(needed_on, days)
                found.append(ToBuy(kind, blanks, needed_on, supply, number, things, by, by < today))
    return min(
        found,
        key=lambda one: (one.is_late, one.mass_mg, one.supply_id),
        default=ToBuy(kind, blanks, needed_on),
    )
