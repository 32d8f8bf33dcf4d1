"""What has to be bought: the shortfall of all planned bench days, counted with what is on its way."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request

from studio.book.engine import session
from studio.book.metal_prices import metal_prices
from studio.book.piece_reads import pieces
from studio.book.practices import practice_on
from studio.book.purchase_reads import Purchase, latest_purchase, ordered_pieces, purchases
from studio.book.rates import rates_on
from studio.book.studio import currency_of, studio_days
from studio.book.supplies import KeptSupply, supplies
from studio.book.week import Week, week_need
from studio.book.week_groups import cut_groups, lying
from studio.clock import monday_of
from studio.craft.alloys import density_g_cm3
from studio.craft.buying import NeededThing, ToBuy, to_buy
from studio.craft.metals import Alloy
from studio.craft.needs import CutGroup, GroupPlan, NeededBlank, groups_of, kind_of
from studio.craft.open_days import OpenDays
from studio.craft.pricing import PriceMissing, metal_minor
from studio.craft.rates import MetalPrice, Rates
from studio.craft.units import to_micrometres
from studio.web.awaited import while_asked
from studio.web.plan_board import PlanBoard
from studio.web.security import Seat
from studio.web.week_reading import LONGEST, WeekAtHand

PATIENCE_S = 8.0
"""How long a reader waits for better plans than first-fit, so that nothing is bought twice."""


@dataclass(frozen=True, slots=True)
class BuyingAtHand:
    """What the book says for the list: blanks, drawer, what is on its way, supplies, prices, days."""

    week: Week
    groups: tuple[CutGroup, ...]
    supplies: tuple[KeptSupply, ...]
    purchases: tuple[Purchase, ...]
    latest: int
    alloys: dict[str, Alloy]
    days: OpenDays
    prices: dict[str, MetalPrice]
    rates: Rates | None
    currency: str
    kerf_um: int
    today: date

    def cost_minor(self, line: ToBuy) -> int | None:
        """What a line costs at the day's price with the studio's premium, the supplier's least at the least.

        None while a price or the rates are not known.
        """
        if line.supply is None:
            return None
        return self.metal_minor(line.kind.alloy, line.mass_mg, line.supply.least_charge_minor)

    def metal_minor(self, alloy: str, mass_mg: int, least_minor: int = 0) -> int | None:
        """What so many mg of an alloy cost to buy, without the waste of making."""
        if self.rates is None:
            return None
        bought = replace(self.rates, waste_percent=self.rates.waste_percent * 0)
        try:
            return max(least_minor, metal_minor(self.alloys[alloy], mass_mg, self.prices, bought))
        except PriceMissing:
            return None


@dataclass(frozen=True, slots=True)
class Buying:
    """The list: what is to be bought, those to be ordered first before all others.

    `yielded` are the rings that the drawer and what is on its way yield together.
    """

    hand: BuyingAtHand
    lines: tuple[ToBuy, ...]
    yielded: frozenset[str]


async def buying(request: Request, seat: Seat) -> Buying:
    """The list of what is short of all planned bench days, from this week on."""
    hand = await run_in_threadpool(_at_hand, seat)
    board: PlanBoard = request.app.state.plan_board
    found = await while_asked(request, board.settled(hand.groups, PATIENCE_S))
    plans = [one.best for one in found]
    due = {blank.ring for group in hand.groups for blank in group.blanks}
    short = {one.blank for plan in plans for one in plan.unplaced}
    return Buying(hand, lines_of(hand, plans), frozenset(due - short))


def lines_of(hand: BuyingAtHand, plans: Sequence[GroupPlan]) -> tuple[ToBuy, ...]:
    """What to order for the blanks that these plans leave out."""
    due = _due(hand.week)
    lines = []
    for group, plan in zip(hand.groups, plans, strict=True):
        left = {one.blank for one in plan.unplaced}
        needed = [NeededThing(blank, due[blank.ring]) for blank in group.blanks if blank.ring in left]
        if needed and group.kind.alloy in hand.alloys:
            lines.append(
                to_buy(
                    group.kind,
                    needed,
                    [(one.id, one.supply) for one in hand.supplies],
                    kerf_um=hand.kerf_um,
                    density_g_cm3=density_g_cm3(hand.alloys[group.kind.alloy]),
                    days=hand.days,
                    today=hand.today,
                )
            )
    return tuple(sorted(lines, key=lambda one: (one.order_by or one.needed_on, one.kind.alloy)))


def _at_hand(seat: Seat) -> BuyingAtHand:
    with session(seat.engine) as book:
        monday = monday_of(seat.today)
        week = week_need(book, monday=monday, today=seat.today, until=monday + LONGEST)
        practice = practice_on(book, seat.today)
        blanks = [blank for group in cut_groups(week, (), practice.kerf_mm) for blank in group.blanks]
        kerf_um = to_micrometres(practice.kerf_mm)
        lie = (*lying(pieces(book)), *ordered_pieces(book))
        return BuyingAtHand(
            week=week,
            groups=groups_of(blanks, lie, kerf_um),
            supplies=supplies(book),
            purchases=purchases(book),
            latest=latest_purchase(book),
            alloys=dict(practice.alloys),
            days=studio_days(book).open,
            prices=metal_prices(book, seat.today),
            rates=rates_on(book, seat.today),
            currency=currency_of(book),
            kerf_um=kerf_um,
            today=seat.today,
        )


def sold_at(seat: Seat, hand: WeekAtHand) -> Callable[[Sequence[NeededBlank]], date | None]:
    """Gives the last day to order blanks of one kind of a week, by what suppliers sell now."""
    with session(seat.engine) as book:
        sold = [(one.id, one.supply) for one in supplies(book)]
        days = studio_days(book).open
        alloys = practice_on(book, seat.today).alloys
    due = _due(hand.week)

    def order_by(blanks: Sequence[NeededBlank]) -> date | None:
        kind = kind_of(blanks[0])
        if kind.alloy not in alloys:
            return None
        return to_buy(
            kind,
            [NeededThing(blank, due[blank.ring]) for blank in blanks],
            sold,
            kerf_um=to_micrometres(hand.kerf_mm),
            density_g_cm3=density_g_cm3(alloys[kind.alloy]),
            days=days,
            today=seat.today,
        ).order_by

    return order_by


def _due(week: Week) -> dict[str, date]:
    """The bench day of every ring, by its name."""
    return {f"{ring.number}/{ring.position}": ring.bench_on for line in week.need for ring in line.rings}
