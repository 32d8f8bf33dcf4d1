"""What to order of a supplier for the blanks that no piece yields, and by which day.

A supply is what one supplier sells of one alloy, form and thickness; all its figures are the studio's own.
What is ordered is rounded up to its steps and never under the need.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from studio.craft.designs import Profile, Stock
from studio.craft.drawer import ALIKE_MM, LENGTH_MM, THICKNESS_MM, WIDTH_MM, Measures, PieceKind
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.needs import CutKind, NeededBlank
from studio.craft.open_days import MOST_DAYS, OpenDays
from studio.craft.units import from_micrometres, to_micrometres, to_milligrams

_ALIKE_UM = to_micrometres(ALIKE_MM)
STEP_MM = 0.1
"""The finest step that anybody sells by: the measures of a piece are read to it, no source."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What a supplier sells: lengths in µm, masses in mg, days open days of the studio.

    A wire is as wide as `least_width_um` and has a `profile`. Sheet and strip are cut to every
    `width_step_um` from `least_width_um` on, to that width alone where the step is 0.
    """

    supplier: str
    alloy: str
    kind: PieceKind
    thickness_um: int
    least_width_um: int
    length_step_um: int
    least_length_um: int
    most_length_um: int
    lead_days: int
    spare_days: int
    profile: Profile | None = None
    width_step_um: int = 0
    least_mass_mg: int = 0
    least_charge_minor: int = 0
    note: str = ""

    def is_for(self, kind: CutKind) -> bool:
        """Whether blanks of this kind may be cut from it."""
        is_alike = abs(self.thickness_um - kind.thickness_um) <= _ALIKE_UM
        if self.alloy != kind.alloy or not is_alike:
            return False
        if kind.stock is Stock.STRIP:
            return self.kind is not PieceKind.WIRE
        return (
            self.kind is PieceKind.WIRE
            and self.profile is kind.profile
            and abs(self.least_width_um - (kind.width_um or 0)) <= _ALIKE_UM
        )

    def order_by(self, needed_on: date, days: OpenDays) -> date:
        """The last day to order what is needed on a day: the lead and the spare counted back in open days.

        Lead 3 and spare 1, closed at weekends: for Thursday 3 December 2026 it is Friday 27 November.
        """
        return days.before(needed_on, self.lead_days + self.spare_days)

    def expected_on(self, ordered_on: date, days: OpenDays) -> date:
        """The day by which what is ordered on a day is there: the lead in open days after it."""
        return days.after(ordered_on, self.lead_days)


@dataclass(frozen=True, slots=True)
class Whole:
    """One whole thing to order, in µm, with its mass in mg by its measures."""

    length_um: int
    width_um: int
    mass_mg: int


def check_supply(supply: Supply) -> None:
    """Raises `Refused` with every figure no supply can have."""
    found = [
        Refusal(field, Why.TOO_LARGE if um > to_micrometres(high) else Why.TOO_SMALL,
                f"{from_micrometres(um):g}", low, high, "mm")
        for field, um, low, high in (
            ("thickness", supply.thickness_um, THICKNESS_MM.low, THICKNESS_MM.high),
            ("least_width", supply.least_width_um, WIDTH_MM.low, WIDTH_MM.high),
            ("length_step", supply.length_step_um, STEP_MM, LENGTH_MM.high),
            ("least_length", supply.least_length_um, LENGTH_MM.low, LENGTH_MM.high),
            ("most_length", supply.most_length_um, from_micrometres(supply.least_length_um), LENGTH_MM.high),
            ("width_step", supply.width_step_um, STEP_MM if supply.width_step_um else 0, WIDTH_MM.high),
        )
        if not to_micrometres(low) <= um <= to_micrometres(high)
    ]  # fmt: skip
    found += [
        Refusal(field, Why.TOO_LARGE if days > MOST_DAYS else Why.TOO_SMALL, str(days), 0, MOST_DAYS, "days")
        for field, days in (("lead_days", supply.lead_days), ("spare_days", supply.spare_days))
        if not 0 <= days <= MOST_DAYS
    ]
    if not supply.supplier:
        found.append(Refusal("supplier", Why.EMPTY))
    if (supply.profile is None) == (supply.kind is PieceKind.WIRE):
        found.append(Refusal("profile", Why.EMPTY))
    if found:
        raise Refused(*found)


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


def mass_mg(supply: Supply, length_um: int, width_um: int, density_g_cm3: float) -> int:
    """What a whole piece of a supply weighs by its measures, in mg."""
    measures = Measures(
        supply.kind,
        supply.alloy,
        from_micrometres(length_um),
        from_micrometres(width_um),
        from_micrometres(supply.thickness_um),
        supply.profile,
    )
    return max(1, to_milligrams(measures.mass_g(density_g_cm3)))


_Sides = list[tuple[int, int]]


def _rows(blanks: Sequence[NeededBlank], supply: Supply, kerf_um: int) -> _Sides | None:
    made = []
    most = _down(supply.most_length_um, supply)
    for width, fill in _laid(blanks, most, kerf_um, is_wire=supply.kind is PieceKind.WIRE):
        sides = _length(fill, supply), _width(width, supply)
        if sides[0] is None or sides[1] is None:
            return None
        made.append((sides[0], sides[1]))
    return made


def _sheet(blanks: Sequence[NeededBlank], supply: Supply, kerf_um: int) -> _Sides | None:
    best: tuple[int, int] | None = None
    fill = -kerf_um
    for mark in sorted((blank.mark_um for blank in blanks), reverse=True):
        fill += mark + kerf_um
        length = _length(fill, supply)
        if length is None:
            break
        laid = _laid(blanks, length, kerf_um)
        length = _length(max(its for _, its in laid), supply)
        width = _width(sum(across for across, _ in laid) + kerf_um * (len(laid) - 1), supply)
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


def _length(fill_um: int, supply: Supply) -> int | None:
    length = _up(max(fill_um, supply.least_length_um), supply.length_step_um, supply.least_length_um)
    return None if length > supply.most_length_um else length


def _width(across_um: int, supply: Supply) -> int | None:
    if supply.kind is PieceKind.WIRE or across_um <= supply.least_width_um:
        return supply.least_width_um
    if not supply.width_step_um:
        return None
    width = _up(across_um, supply.width_step_um, supply.least_width_um)
    return None if width > to_micrometres(WIDTH_MM.high) else width


def _up(um: int, step_um: int, least_um: int) -> int:
    """The first size from the least on, by whole steps, that is not under."""
    return least_um + -(-(um - least_um) // step_um) * step_um


def _down(um: int, supply: Supply) -> int:
    return um - (um - supply.least_length_um) % supply.length_step_um


def _heavy_enough(made: _Sides, supply: Supply, mass: Callable[[int, int], int]) -> tuple[Whole, ...]:
    done = [Whole(length, width, mass(length, width)) for length, width in made]
    most = _down(supply.most_length_um, supply)
    while (short := supply.least_mass_mg - sum(one.mass_mg for one in done)) > 0:
        last = done[-1]
        if last.length_um == most:
            least = supply.least_length_um
            done.append(Whole(least, last.width_um, mass(least, last.width_um)))
            continue
        wanted = last.length_um * (last.mass_mg + short) // last.mass_mg
        length = min(most, _up(wanted, supply.length_step_um, supply.least_length_um))
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
