"""Metal promised and not yet bought: what lies aside serves its own order alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.promised import Aside, Promised, PromisedRing, per_gram, promised

RINGS = st.lists(
    st.builds(
        PromisedRing,
        order=st.sampled_from(("2026-1", "2026-2", "2026-3")),
        alloy=st.sampled_from(("silver-925", "gold-750-yellow")),
        issue_mg=st.integers(1, 50_000),
        quoted_minor=st.integers(0, 10**7),
    ),
    max_size=12,
)
ASIDE = st.dictionaries(
    st.tuples(st.sampled_from(("2026-1", "2026-2", "2026-9")), st.sampled_from(("silver-925", "copper"))),
    st.integers(0, 60_000),
)


def test_the_worked_example() -> None:
    ring = PromisedRing("2026-1", "silver-925", 6200, 868)
    assert promised([ring], {("2026-1", "silver-925"): 4000}) == (
        Promised("silver-925", 1, 6200, 4000, 2200, 308),
    )


def test_what_lies_aside_serves_its_own_order_and_its_own_metal() -> None:
    ring = PromisedRing("2026-1", "silver-925", 6200, 868)
    for key in (("2026-2", "silver-925"), ("2026-1", "gold-750-yellow")):
        (found,) = promised([ring], {key: 9000})
        assert (found.aside_mg, found.to_buy_mg) == (0, 6200)


def test_a_ring_that_nobody_quoted_leaves_the_money_open() -> None:
    rings = [PromisedRing("2026-1", "silver-925", 6200, None), PromisedRing("2026-2", "silver-925", 100, 5)]
    (found,) = promised(rings, {})
    assert (found.to_buy_mg, found.quoted_minor) == (6300, None)


@given(rings=RINGS, aside=ASIDE)
def test_grams_add_up_and_nothing_serves_twice(
    rings: list[PromisedRing], aside: dict[tuple[str, str], int]
) -> None:
    found = promised(rings, aside)
    assert sum(one.issue_mg for one in found) == sum(ring.issue_mg for ring in rings)
    assert sum(one.rings for one in found) == len(rings)
    for one in found:
        assert one.aside_mg + one.to_buy_mg == one.issue_mg
        needs: dict[str, int] = {}
        for ring in rings:
            if ring.alloy == one.alloy:
                needs[ring.order] = needs.get(ring.order, 0) + ring.issue_mg
        assert one.aside_mg == sum(
            min(need, aside.get((order, one.alloy), 0)) for order, need in needs.items()
        )
        quoted = sum(ring.quoted_minor or 0 for ring in rings if ring.alloy == one.alloy)
        assert one.quoted_minor is not None
        assert 0 <= one.quoted_minor <= quoted + len(rings)


@pytest.mark.parametrize(
    ("aside", "difference"),
    [
        (Aside(9_000, 450_00, 6_000, 312_00), -12_00),
        (Aside(6_000, 330_00, 6_000, 312_00), 18_00),
        (Aside(2_000, 110_00, 6_000, 312_00), 6_00),  # what is still to buy is not compared
        (Aside(9_000, 450_00, 6_000, 300_00), 0),
        (Aside(9_000, None, 6_000, 312_00), None),
        (Aside(9_000, 450_00, 6_000, None), None),
        (Aside(9_000, 450_00, 0, None), None),
    ],
)
def test_what_lies_aside_is_compared_for_what_the_order_needs_of_it(
    aside: Aside, difference: int | None
) -> None:
    assert aside.difference_minor == difference


def test_a_price_of_a_gram_is_rounded_half_up() -> None:
    assert [per_gram(450_00, 9_000), per_gram(1, 2_000), per_gram(100, 3_000)] == [50_00, 1, 33]
