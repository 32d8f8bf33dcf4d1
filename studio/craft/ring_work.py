"""Which parts of the work the rings of an order go through, so that their days can be counted."""

from collections.abc import Iterable

from studio.craft.hallmark import HallmarkRule, Verdict, foresight, is_precious
from studio.craft.open_days import Work
from studio.craft.particulars import Marks, MarkWish, Particulars
from studio.craft.reckonings import Reckoning


def work_of(rings: Iterable[tuple[Reckoning, Particulars]], rule: HallmarkRule) -> Work:
    """All that any of the rings goes through; they are ready together.

    A ring that has to be weighed first may go to the assay office, so its days are counted.
    """
    found = list(rings)
    return Work(
        is_assayed=any(may_be_assayed(one, rule, told.marks) for one, told in found),
        is_engraved=any(told.words_to_cut is not None for _, told in found),
        is_set=any(told.stone_count > 0 for _, told in found),
        is_plated=any(told.is_plated for _, told in found),
    )


def may_be_assayed(reckoning: Reckoning, rule: HallmarkRule, marks: Marks | None) -> bool:
    """Whether the ring may have to go to the assay office, as far as can be foreseen and as it is wanted."""
    if marks is not None and marks.hallmark is MarkWish.THOUGH_EXEMPT:
        return is_precious(reckoning.alloy)
    foreseen = foresight(reckoning, rule)
    if foreseen is None:
        return False
    if marks is not None and marks.hallmark is MarkWish.NONE:
        return foreseen.verdict is Verdict.REQUIRED
    return foreseen.verdict is not Verdict.EXEMPT
