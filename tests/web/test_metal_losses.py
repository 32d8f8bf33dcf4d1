"""What the work takes, drawn: the bars say what the table says, and the operations sum to all work."""

import re

import pytest

from studio.craft.alloys import ALLOYS
from studio.craft.ledger import Account, MetalMove, Movement, losses
from studio.web.metal_losses import MetalLoss, metal_losses

SILVER, GOLD = "silver-925", "gold-750-yellow"


def moved(
    source: Account, target: Account, mass_mg: int, operation: str = "", alloy: str = SILVER
) -> Movement:
    return Movement(MetalMove.CORRECTION, source, target, alloy, mass_mg, operation=operation)


def bars(one: MetalLoss) -> list[tuple[str, float]]:
    assert one.wide is not None
    found = re.findall(r'data-kind="(\w+)" data-value="([^"]+)"', one.wide.markup)
    return [(kind, float(value)) for kind, value in found]


def test_each_work_stands_beside_the_issue_and_the_most_issued_metal_comes_first() -> None:
    gold, silver, copper = metal_losses(
        losses([
            moved(Account.DRAWER, Account.BENCH, 20_000, alloy=GOLD),
            moved(Account.BENCH, Account.LOSS, 100, "polish", GOLD),
            moved(Account.DRAWER, Account.BENCH, 10_000),
            moved(Account.BENCH, Account.LEMEL, 300, "file"),
            moved(Account.BENCH, Account.LOSS, 50, "file"),
            moved(Account.BENCH, Account.LOSS, 20),
            moved(Account.BENCH, Account.LEMEL, 7, "saw", "copper"),
        ]),
        ALLOYS,
    )  # fmt: skip
    assert (gold.rows[0].work, gold.rows[0].lost_share, len(gold.rows)) == ("Polishing", "0.50", 1)
    assert [(row.work, row.lemel, row.lemel_share, row.lost, row.lost_share) for row in silver.rows] == [
        ("Filing", "0.300", "3.00", "0.050", "0.50"),
        ("Work not said", "0.000", "0.00", "0.020", "0.20"),
        ("All work", "0.300", "3.00", "0.070", "0.70"),
    ]
    assert bars(silver) == [("planned", 3.0), ("real", 0.5), ("planned", 0.0), ("real", 0.2)]
    assert (copper.wide, copper.issued, copper.rows[0].lemel_share) == (None, "", "")


@pytest.mark.parametrize("parts", [(1, 2, 3), (700, 33, 5_000, 41), (9,)])
def test_the_bars_sum_to_all_work(parts: tuple[int, ...]) -> None:
    works = ("saw", "file", "roll", "solder")
    told = [moved(Account.BENCH, Account.LOSS, mass, work) for mass, work in zip(parts, works, strict=False)]
    (one,) = metal_losses(losses([moved(Account.DRAWER, Account.BENCH, 40_000), *told]), ALLOYS)
    lost = sum(value for kind, value in bars(one) if kind == "real")
    assert lost == pytest.approx(100 * sum(parts) / 40_000, rel=1e-5)
    assert one.rows[-1].lost_share == f"{lost + 1e-9:.2f}"
