"""The week's blanks and the drawer, put together for planning."""

from collections.abc import Iterable

from studio.book.piece_reads import Piece
from studio.book.week import Week
from studio.craft.needs import CutGroup, LyingPiece, NeededBlank, groups_of
from studio.craft.units import to_micrometres, to_milligrams


def cut_groups(week: Week, drawer: Iterable[Piece], kerf_mm: float) -> tuple[CutGroup, ...]:
    """What is planned together, the blanks of each in the order of their bench dates."""
    blanks = [
        (
            ring.bench_on,
            place,
            NeededBlank(
                f"{ring.number}/{ring.position}",
                ring.number,
                ring.customer_id,
                line.alloy,
                line.profile,
                line.stock,
                to_micrometres(line.thickness_mm),
                to_micrometres(line.width_mm),
                to_micrometres(ring.mark_mm),
                to_milligrams(ring.issue_g),
            ),
        )
        for place, line in enumerate(week.need)
        for ring in line.rings
    ]
    kinds = {line.alloy: place for place, line in reversed(list(enumerate(week.need)))}
    in_order = sorted(blanks, key=lambda one: (kinds[one[2].alloy], one[0], one[1]))
    return groups_of([blank for _, _, blank in in_order], lying(drawer), to_micrometres(kerf_mm))


def lying(drawer: Iterable[Piece]) -> tuple[LyingPiece, ...]:
    """The pieces as planning sees them."""
    return tuple(
        LyingPiece(
            id=one.id,
            mark=one.mark,
            kind=one.measures.kind,
            alloy=one.measures.alloy,
            profile=one.measures.profile,
            length_um=to_micrometres(one.measures.length_mm),
            width_um=to_micrometres(one.measures.width_mm),
            thickness_um=to_micrometres(one.measures.thickness_mm),
            mass_mg=to_milligrams(one.mass_g),
            is_offcut=one.is_offcut,
            owner_id=one.owner_id,
            order=one.order,
            version=one.version,
        )
        for one in drawer
    )
