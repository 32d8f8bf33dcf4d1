"""What blanks are needed, which pieces they may be cut from, and what is short.

Blanks of one alloy, form of stock and thickness are planned together; wire also by its section and width. A
customer's own metal and what is set aside goes into rounds of its own, before the studio's.
"""

from collections.abc import Generator, Iterable, Sequence
from dataclasses import dataclass, replace

from studio.craft.cutting import Blank, Opened, Plan, Unplaced, WhyUnplaced
from studio.craft.cutting import Stock as CutStock
from studio.craft.designs import Profile, Stock
from studio.craft.drawer import ALIKE_MM, Measures, PieceKind, Rolled, rolled_down
from studio.craft.practice import MillTerms
from studio.craft.units import from_micrometres, to_micrometres

_ALIKE_UM = to_micrometres(ALIKE_MM)


@dataclass(frozen=True, slots=True)
class NeededBlank:
    """The blank of one ring, named '2026-118/1'. Lengths in µm, the metal to issue in mg."""

    ring: str
    order: str
    customer_id: int
    alloy: str
    profile: Profile
    stock: Stock
    thickness_um: int
    width_um: int
    mark_um: int
    issue_mg: int


@dataclass(frozen=True, slots=True)
class LyingPiece:
    """A piece in the drawer, as far as planning goes. `order` has it set aside, `owner_id` owns it."""

    id: int
    mark: str
    kind: PieceKind
    alloy: str
    profile: Profile | None
    length_um: int
    width_um: int
    thickness_um: int
    mass_mg: int
    is_offcut: bool
    owner_id: int | None
    order: str | None
    version: int

    def is_for(self, blank: NeededBlank) -> bool:
        """Whether this ring may have it: not what is set aside for another, nor another customer's."""
        return self.order in {None, blank.order} and self.owner_id in {None, blank.customer_id}

    @property
    def is_kept(self) -> bool:
        """Whether it is only for some: set aside, or a customer's own."""
        return self.order is not None or self.owner_id is not None


@dataclass(frozen=True, slots=True)
class CutKind:
    """What is planned together. `profile` and `width_um` are a wire's, None for strip."""

    alloy: str
    stock: Stock
    thickness_um: int
    profile: Profile | None = None
    width_um: int | None = None


@dataclass(frozen=True, slots=True)
class CutGroup:
    """The blanks of one kind in the order in which they are due, and the pieces they may be cut from."""

    kind: CutKind
    blanks: tuple[NeededBlank, ...]
    pieces: tuple[LyingPiece, ...]
    kerf_um: int


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """The plan of one kind: its rounds put together. `opened` names its pieces by their marks."""

    opened: tuple[Opened, ...]
    unplaced: tuple[Unplaced, ...]
    opened_area_um2: int
    bound_area_um2: int
    is_proved: bool
    seconds: float


@dataclass(frozen=True, slots=True)
class Shortage:
    """One blank that no piece yields.

    `enough` is a piece that weighs enough and is too short or too narrow for it, None where there is none;
    `rolled` a thicker one with what it becomes when it is rolled down.
    """

    blank: NeededBlank
    why: WhyUnplaced
    enough: LyingPiece | None
    rolled: tuple[LyingPiece, Rolled] | None


def kind_of(blank: NeededBlank) -> CutKind:
    """What this blank is planned with."""
    if blank.stock is Stock.STRIP:
        return CutKind(blank.alloy, blank.stock, blank.thickness_um)
    return CutKind(blank.alloy, blank.stock, blank.thickness_um, blank.profile, blank.width_um)


def groups_of(
    blanks: Iterable[NeededBlank], pieces: Sequence[LyingPiece], kerf_um: int
) -> tuple[CutGroup, ...]:
    """The blanks by kind, in the order of their first, each with its pieces; a piece goes to one kind only.

    Stock passes for a thickness within 0.02 mm of it, and goes to the nearest.
    """
    found: dict[CutKind, list[NeededBlank]] = {}
    for blank in blanks:
        found.setdefault(kind_of(blank), []).append(blank)
    kinds = list(found)
    lying: dict[CutKind, list[LyingPiece]] = {kind: [] for kind in kinds}
    for piece in pieces:
        near = [kind for kind in kinds if _passes(piece, kind)]
        if near:
            lying[min(near, key=lambda kind: abs(kind.thickness_um - piece.thickness_um))].append(piece)
    return tuple(CutGroup(kind, tuple(found[kind]), tuple(lying[kind]), kerf_um) for kind in kinds)


def _passes(piece: LyingPiece, kind: CutKind) -> bool:
    if piece.alloy != kind.alloy or abs(piece.thickness_um - kind.thickness_um) > _ALIKE_UM:
        return False
    if kind.stock is Stock.STRIP:
        return piece.kind is not PieceKind.WIRE
    is_alike = piece.profile is kind.profile and piece.kind is PieceKind.WIRE
    return is_alike and kind.width_um is not None and abs(piece.width_um - kind.width_um) <= _ALIKE_UM


Task = tuple[tuple[CutStock, ...], tuple[Blank, ...]]


def rounds(group: CutGroup) -> Generator[Task, Plan, GroupPlan]:
    """Yields what is to be planned, is sent each plan, and returns them put together.

    First what is kept for an order or is a customer's own, each for those alone who may have it; then what is
    left on the studio's free pieces.
    """
    left = list(group.blanks)
    plans: list[Plan] = []
    kept = {(piece.order or "", piece.owner_id or 0) for piece in group.pieces if piece.is_kept}
    for order, owner in sorted(kept):
        mine = [one for one in group.pieces if (one.order or "", one.owner_id or 0) == (order, owner)]
        wanted = [blank for blank in left if mine[0].is_for(blank)]
        if wanted:
            plans.append((yield _task(group, mine, wanted)))
            without = {one.blank for one in plans[-1].unplaced}
            placed = {blank.ring for blank in wanted} - without
            left = [blank for blank in left if blank.ring not in placed]
    plans = [replace(plan, unplaced=()) for plan in plans]
    free = [piece for piece in group.pieces if not piece.is_kept]
    plans.append((yield _task(group, free, left)))
    return together(plans)


def together(plans: Sequence[Plan]) -> GroupPlan:
    """The plans of all rounds as one; what none of them places is what the last leaves out."""
    return GroupPlan(
        opened=tuple(piece for plan in plans for piece in plan.pieces),
        unplaced=plans[-1].unplaced,
        opened_area_um2=sum(plan.opened_area_um2 for plan in plans),
        bound_area_um2=sum(plan.bound_area_um2 for plan in plans),
        is_proved=all(plan.is_proved for plan in plans),
        seconds=sum(plan.seconds for plan in plans),
    )


def _task(group: CutGroup, pieces: Sequence[LyingPiece], blanks: Sequence[NeededBlank]) -> Task:
    width = group.kind.width_um
    return (
        tuple(
            CutStock(one.mark, one.length_um, width or one.width_um, is_offcut=one.is_offcut)
            for one in pieces
        ),
        tuple(Blank(one.ring, one.mark_um, width or one.width_um) for one in blanks),
    )


def shortages(
    group: CutGroup, plan: GroupPlan, drawer: Sequence[LyingPiece], mill: MillTerms
) -> tuple[Shortage, ...]:
    """What no piece yields, in the order in which it is due, with what could help.

    A piece that is opened by the plan is offered for nothing else.
    """
    blanks = {blank.ring: blank for blank in group.blanks}
    opened = {piece.stock for piece in plan.opened}
    found = []
    for one in plan.unplaced:
        blank = blanks[one.blank]
        free = [piece for piece in drawer if piece.mark not in opened and piece.is_for(blank)]
        heavy = [
            piece
            for piece in group.pieces
            if piece in free and piece.mass_mg >= blank.issue_mg and not _holds(piece, blank)
        ]
        enough = min(heavy, key=lambda piece: piece.mass_mg, default=None)
        found.append(Shortage(blank, one.why, enough, _to_roll(blank, free, mill)))
    return tuple(found)


def _holds(piece: LyingPiece, blank: NeededBlank) -> bool:
    return piece.length_um >= blank.mark_um and piece.width_um >= blank.width_um


def _to_roll(
    blank: NeededBlank, free: Sequence[LyingPiece], mill: MillTerms
) -> tuple[LyingPiece, Rolled] | None:
    """The lightest thicker piece that yields the blank once it is rolled down; None where none does."""
    if blank.stock is not Stock.STRIP:
        return None
    thickness = from_micrometres(blank.thickness_um)
    found = []
    for piece in free:
        if piece.alloy == blank.alloy:
            rolled = rolled_down(_measures(piece), thickness, mill)
            if rolled is not None and (
                rolled.length_mm >= from_micrometres(blank.mark_um)
                and rolled.width_mm >= from_micrometres(blank.width_um)
            ):
                found.append((piece, rolled))
    return min(found, key=lambda one: (one[0].mass_mg, one[0].id), default=None)


def _measures(piece: LyingPiece) -> Measures:
    return Measures(
        piece.kind,
        piece.alloy,
        from_micrometres(piece.length_um),
        from_micrometres(piece.width_um),
        from_micrometres(piece.thickness_um),
        piece.profile,
    )
