"""Many clients at one served book."""

from pathlib import Path

from tests.faults.load import Ledger, clients
from tests.running import a_served_book

CLIENTS = 8


def take_at_once(home: Path, token: str, *, orders: int) -> list[int]:
    """The serials that eight clients were told for `orders` orders, a multiple of eight, in no order."""
    ledger = Ledger()
    with (
        a_served_book(home) as served,
        clients({f"c{one}": token for one in range(CLIENTS)}, served.base_url, ledger, orders // CLIENTS),
    ):
        pass
    assert ledger.refused == [], ledger.refused
    assert ledger.unanswered == []
    return [int(saved.number.rpartition("-")[2]) for saved in ledger.orders.values()]
