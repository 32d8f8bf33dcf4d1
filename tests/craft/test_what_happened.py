"""Estimate against actual: hand-made tables, and histories that always close."""

from hypothesis import given
from hypothesis import strategies as st

from studio.craft.what_happened import Allowance, RingHappened, StepHappened, allowances, steps_happened

PLAN = (("weigh", 5.0), ("anneal", 8.0), ("pattern:hammered", 40.0), ("anneal", 8.0))
TOOK = {"pattern:hammered": 65.0, "anneal": 12.0, "own-1": 10.0}


def test_planned_and_real_stand_side_by_side_a_row_once() -> None:
    assert steps_happened(PLAN, TOOK) == (
        StepHappened("weigh", 5, None),
        StepHappened("anneal", 16, 12),
        StepHappened("pattern:hammered", 40, 65),
        StepHappened("own-1", None, 10),
    )


def test_a_step_without_a_record_counts_as_planned_and_is_named() -> None:
    ring = RingHappened(steps_happened(PLAN, TOOK), 6200, 5410)
    assert (ring.planned, ring.took, ring.expected) == (61, 87, 92)
    assert ring.untold == ("weigh",)
    assert ring.loss_mg == 790
    assert RingHappened(ring.steps, 6200).loss_mg is None


def test_the_next_of_a_kind_is_allowed_the_mean_of_what_was_more() -> None:
    first = RingHappened(steps_happened(PLAN, TOOK))
    second = RingHappened(steps_happened(PLAN, {"pattern:hammered": 55.0, "weigh": 5.5}))
    assert allowances([first, second]) == (
        Allowance("pattern:hammered", 20, 2),
        Allowance("anneal", -4, 1),
    )
    assert allowances([]) == ()


ROWS = st.sampled_from(["weigh", "saw", "anneal", "solder", "finish:plain", "own-1"])
MINUTES = st.integers(0, 600).map(float)


@given(st.lists(st.tuples(ROWS, MINUTES)), st.dictionaries(ROWS, MINUTES), st.integers(1, 90_000), st.data())
def test_every_history_closes(
    plan: list[tuple[str, float]], took: dict[str, float], in_mg: int, data: st.DataObject
) -> None:
    out_mg = data.draw(st.integers(1, in_mg))
    ring = RingHappened(steps_happened(plan, took), in_mg, out_mg)
    assert ring.took == sum(took.values())
    assert ring.planned == sum(minutes for _, minutes in plan)
    untold = sum(minutes for row, minutes in plan if row not in took)
    assert ring.expected == sum(took.values()) + untold
    assert ring.loss_mg is not None
    assert in_mg - out_mg == ring.loss_mg
    assert [one.row for one in ring.steps] == list(dict.fromkeys([*(row for row, _ in plan), *took]))
