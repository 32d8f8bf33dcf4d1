"""The metal ledger: whatever moves, it closes to the milligram; fine metal, jobs and losses by hand."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.chain import GENESIS, chained, first_unfit, head_words, row_text
from studio.craft.ledger import (
    INSIDE,
    Account,
    Job,
    MetalMove,
    Movement,
    Pot,
    balances,
    fine_mg,
    jobs,
    losses,
    share_bp,
)
from studio.craft.refining import TROY_OUNCE_MG, RefinerLot, Settled, scrap_credit_minor
from studio.craft.units import to_milligrams

MOVEMENTS = st.lists(
    st.builds(
        Movement,
        st.sampled_from(MetalMove),
        st.sampled_from(Account),
        st.sampled_from(Account),
        st.sampled_from(["silver-925", "gold-750-yellow"]),
        st.integers(1, 10**9),
        st.sampled_from([None, 1, 2]),
        st.sampled_from(["", "2026-1/1", "2026-1/2"]),
        st.sampled_from(["", "saw", "file"]),
    ).filter(lambda one: one.source is not one.target),
    max_size=40,
)


def moved(what: MetalMove, source: Account, target: Account, mass_mg: int, work: str = "") -> Movement:
    return Movement(what, source, target, "silver-925", mass_mg, ring="2026-118/1", operation=work)


STORY = (
    moved(MetalMove.BOUGHT, Account.SUPPLIER, Account.DRAWER, 50_000),
    moved(MetalMove.ISSUED, Account.DRAWER, Account.BENCH, 5_600),
    moved(MetalMove.RETURNED, Account.BENCH, Account.SCRAP, 400),
    moved(MetalMove.LEMEL, Account.BENCH, Account.LEMEL, 150, "file"),
    moved(MetalMove.LOSS, Account.BENCH, Account.LOSS, 28, "polish"),
    moved(MetalMove.IN_A_RING, Account.BENCH, Account.SOLD, 5_022),
)


@given(MOVEMENTS)
def test_every_account_together_is_nothing_and_what_came_in_is_in_or_went_out(
    history: list[Movement],
) -> None:
    found = balances(history)
    keys = {(pot.alloy, pot.owner_id) for pot in found}
    for alloy, owner in keys:
        of = {pot.account: mass for pot, mass in found.items() if (pot.alloy, pot.owner_id) == (alloy, owner)}
        assert sum(of.values()) == 0
        within = sum(mass for account, mass in of.items() if account in INSIDE)
        crossed = sum(
            one.mass_mg * ((one.target in INSIDE) - (one.source in INSIDE))
            for one in history
            if (one.alloy, one.owner_id or 0) == (alloy, owner)
        )
        assert within == crossed


@given(MOVEMENTS)
def test_a_movement_and_its_correction_leave_every_balance_and_job_as_it_was(history: list[Movement]) -> None:
    corrected = [
        Movement(
            MetalMove.CORRECTION,
            one.target,
            one.source,
            one.alloy,
            one.mass_mg,
            one.owner_id,
            one.ring,
            one.operation,
        )
        for one in history
    ]
    assert balances([*history, *corrected]) == {}
    assert all(one.at_bench_mg == 0 for one in jobs([*history, *corrected]))


@given(MOVEMENTS)
def test_the_jobs_hold_what_the_bench_holds_for_rings(history: list[Movement]) -> None:
    of_rings = [one for one in history if one.ring]
    bench = sum(mass for pot, mass in balances(of_rings).items() if pot.account is Account.BENCH)
    assert sum(one.at_bench_mg for one in jobs(history)) == bench


def test_a_job_by_hand() -> None:
    (job,) = jobs(STORY)
    assert job == Job("2026-118/1", "silver-925", 0, 5_600, 400, 5_022, 150, 28)
    assert (job.at_bench_mg, job.off_bp) == (0, 342)  # 178 of 5,200: 3.42 %
    assert balances(STORY) == {
        Pot(Account.DRAWER, "silver-925"): 44_400,
        Pot(Account.SCRAP, "silver-925"): 400,
        Pot(Account.LEMEL, "silver-925"): 150,
        Pot(Account.LOSS, "silver-925"): 28,
        Pot(Account.SOLD, "silver-925"): 5_022,
        Pot(Account.SUPPLIER, "silver-925"): -50_000,
    }
    assert [(one.operation, one.lemel_mg, one.lost_mg, one.lost_bp) for one in losses(STORY)] == [
        ("file", 150, 0, 0),
        ("polish", 0, 28, 50),  # 28 of 5,600
    ]


def test_fine_metal_is_rounded_down() -> None:
    # parts per thousand: trade-facts, fineness; 5,601 x 0.925 = 5,180.925
    assert (fine_mg(10_000, 750), fine_mg(5_601, 925), fine_mg(1, 999)) == (7_500, 5_180, 0)
    assert (share_bp(168, 5_600), share_bp(1, 3), share_bp(1, 0)) == (300, 3_333, None)


def test_a_troy_ounce_is_480_grains() -> None:
    # the grain is 64.79891 mg exactly: international yard and pound agreement, 1959
    assert Decimal("31103.4768") == TROY_OUNCE_MG
    assert to_milligrams(float(TROY_OUNCE_MG) / 1000) == 31_103


def test_a_lot_beside_what_was_paid() -> None:
    lot = RefinerLot(412_000, 750, 9_700)
    assert (lot.fine_mg, lot.expected_mg) == (309_000, 299_730)
    said = Settled(lot, 748, 296_000, 15_000, 1_405_800)
    assert (said.difference_mg, said.difference_bp) == (-3_730, -124)
    assert said.difference_minor() == -17_904  # 3,730 of 296,000 parts of 14,208.00
    assert Settled(lot, 0, 0, 0, 0).difference_minor() is None


@pytest.mark.parametrize(
    ("metal", "price", "percent", "fee", "minor"),
    [
        ((8_420, 375), "6520", "95", 0, 19_554),
        ((2_140, 925), "102", "90", 0, 182),
        ((100, 375), "6520", "95", 500, 0),
    ],
)
def test_the_credit_for_scrap(metal: tuple[int, int], price: str, percent: str, fee: int, minor: int) -> None:
    paid = scrap_credit_minor(*metal, Decimal(price), credited_percent=Decimal(percent), fee_minor=fee)
    assert paid == minor


def test_a_chain_by_hand_and_every_way_to_break_it() -> None:
    text = row_text({"mass_mg": 5600, "alloy": "silver-925", "note": None})
    assert text == '{"alloy":"silver-925","mass_mg":5600}'
    first = chained(GENESIS, text)
    assert first == "df96f5dba592328213c5ed7c5f6140df39f1c45d8aecbd3c0c0d1ce6b1837df1"  # by sha256sum
    second = chained(first, "b")
    third = chained(second, "c")
    rows = [(1, text, first), (2, "b", second), (3, "c", third)]
    assert first_unfit(rows) is None
    assert first_unfit([(1, text, first), (2, "B", second), (3, "c", third)]) == 2
    assert first_unfit([(1, text, first), (3, "c", third)]) == 2
    assert first_unfit(rows[1:]) == 1
    assert head_words(third).split() == [third[at : at + 8] for at in range(0, 64, 8)]
    with pytest.raises(TypeError):
        row_text({"mass": 5.6})
