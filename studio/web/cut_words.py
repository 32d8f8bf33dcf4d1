"""The words of a cutting plan, for the page and for the paper."""

from collections.abc import Sequence

from studio.craft.cutting import Opened
from studio.craft.needs import CutGroup, GroupPlan, LyingPiece, NeededBlank
from studio.craft.own_alloys import short_name
from studio.craft.units import figure_words, from_micrometres
from studio.web.week_reading import WeekAtHand
from studio.web.wording import family_name, order_short, wire_words


def names_of(hand: WeekAtHand) -> dict[str, tuple[str, ...]]:
    """What may be written on each blank, the longest first."""
    names = {
        f"{ring.number}/{ring.position}": family_name(ring.customer_name)
        for line in hand.week.need
        for ring in line.rings
    }
    blanks = [blank for group in hand.groups for blank in group.blanks]
    return {blank.ring: _written(blank, names[blank.ring], blanks) for blank in blanks}


def kind_words(group: CutGroup) -> str:
    """'925 silver, strip 1.5', '935 silver, round wire 2'."""
    kind = group.kind
    stock = "strip" if kind.profile is None else wire_words(kind.profile)
    return f"{short_name(kind.alloy)}, {stock} {figure_words(kind.thickness_um / 1000)}"


def piece_cut_words(opened: Opened, piece: LyingPiece) -> str:
    """'sheet 1.5, 198 × 24'."""
    sides = f"{figure_words(opened.length_um / 1000)} × {figure_words(piece.width_um / 1000)}"
    kind = "offcut" if piece.is_offcut else str(piece.kind)
    return f"{kind} {figure_words(piece.thickness_um / 1000)}, {sides}"


def _written(blank: NeededBlank, name: str, blanks: Sequence[NeededBlank]) -> tuple[str, ...]:
    """What may be written on a blank, the longest first: '109 Castagne, 64.7', '109, 64.7', '109'."""
    mark = f"{from_micrometres(blank.mark_um):.1f}"
    is_one = sum(one.order == blank.order for one in blanks) == 1
    short = order_short(blank.order if is_one else blank.ring)
    return f"{short} {name}, {mark}", f"{short}, {mark}", short


def steps_of(opened: Opened, words: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The order of the cuts: 'Rip 8 wide; saw off 109 Castagne, 64.7; 104 Pellenor, 59.2'.

    Nothing is ripped where a strip is as wide as the piece, as of every wire.
    """
    told = []
    for strip in opened.strips:
        off = "; ".join(words.get(cut.blank, (cut.blank,))[0] for cut in strip.cuts)
        is_whole = strip.width_um == opened.width_um
        wide = figure_words(strip.width_um / 1000)
        told.append(f"Saw off {off}" if is_whole else f"Rip {wide} wide; saw off {off}")
    return tuple(told)


def proof_words(plan: GroupPlan, *, is_over: bool) -> str:
    """What is proved of a plan, or how far it may be from the best."""
    if plan.is_proved:
        return "proved, no plan opens less metal"
    gap = 100 * (plan.opened_area_um2 / plan.bound_area_um2 - 1) if plan.bound_area_um2 else 100.0
    told = f"opens at most {gap:.1f} % more metal than the best plan"
    return told if is_over else f"{told}; still looking for a better one"
