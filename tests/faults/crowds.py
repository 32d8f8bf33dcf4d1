"""Many clients at one served book."""

from collections.abc import Sequence
from contextlib import ExitStack

from tests.faults.load import Ledger, clients

CLIENTS = 8


def take_at_once(base_urls: Sequence[str], token: str, *, orders: int) -> list[int]:
    """The serials that eight clients were told for `orders` orders, a multiple of eight, in no order.

    They are shared out among the processes that serve the book at `base_urls`.
    """
    ledger = Ledger()
    with ExitStack() as at_work:
        for one in range(CLIENTS):
            base_url = base_urls[one % len(base_urls)]
            at_work.enter_context(clients({f"c{one}": token}, base_url, ledger, orders // CLIENTS))
    assert ledger.refused == [], ledger.refused
    assert ledger.unanswered == []
    return [int(saved.number.rpartition("-")[2]) for saved in ledger.orders.values()]
