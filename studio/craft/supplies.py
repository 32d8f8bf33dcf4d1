"""What suppliers sell: in which sizes they cut it, from what length and weight on, and how soon it is there.

All figures of a supply are the studio's own.
"""

from dataclasses import dataclass
from datetime import date

from studio.craft.designs import Profile, Stock
from studio.craft.drawer import ALIKE_MM, LENGTH_MM, THICKNESS_MM, WIDTH_MM, Measures, PieceKind
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.needs import CutKind
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


def check_thing(supply: Supply, length_um: int, width_um: int, path: str = "") -> None:
    """Raises `Refused` for a size the supplier does not cut to, with the next that it does.

    A strip in steps of 10 mm from 50 to 500: 135 long is not sold, 140 is. A wire has its width alone.
    """
    found = []
    for name, asked, sold in (
        ("length", length_um, length_sold(length_um, supply)),
        ("width", width_um, width_sold(width_um, supply)),
    ):
        if sold != asked:
            high = None if sold is None else from_micrometres(sold)
            refused = Refusal(
                f"{path}{name}", Why.NOT_SOLD, f"{from_micrometres(asked):g}", high=high, unit="mm"
            )
            found.append(refused)
    if found:
        raise Refused(*found)


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


def length_sold(fill_um: int, supply: Supply) -> int | None:
    """The shortest length that is sold and not under what is needed, in µm; None beyond the longest."""
    length = rounded_up(max(fill_um, supply.least_length_um), supply.length_step_um, supply.least_length_um)
    return None if length > supply.most_length_um else length


def width_sold(across_um: int, supply: Supply) -> int | None:
    """The least width that is sold and not under what is needed, in µm; None beyond the widest.

    A wire has its own alone.
    """
    if supply.kind is PieceKind.WIRE or across_um <= supply.least_width_um:
        return supply.least_width_um
    if not supply.width_step_um:
        return None
    width = rounded_up(across_um, supply.width_step_um, supply.least_width_um)
    return None if width > to_micrometres(WIDTH_MM.high) else width


def rounded_up(um: int, step_um: int, least_um: int) -> int:
    """The first size from the least on, by whole steps, that is not under."""
    return least_um + -(-(um - least_um) // step_um) * step_um


def longest_sold(um: int, supply: Supply) -> int:
    """The longest length that is sold and not over `um`."""
    return um - (um - supply.least_length_um) % supply.length_step_um
