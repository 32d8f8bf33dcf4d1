"""What was typed on an order's page beside what stands there by now."""

from studio.book.order_values import Order
from studio.web.counter_page import TwoVersions
from studio.web.days import full_day_words
from studio.web.order_mends import mends_texts
from studio.web.sent_back import both_versions


def two_versions(order: Order, typed: dict[str, str]) -> tuple[TwoVersions, ...]:
    """What was typed beside what stands in the order by now, for each field where the two differ."""
    bench_on = order.terms.bench_on
    stands = {
        "bench_on": full_day_words(bench_on) if bench_on else "",
        "note": order.terms.note,
        "avoid": order.terms.avoid or "",
        "collects": order.terms.collects,
        **mends_texts(order),
    }
    return both_versions(
        {
            "bench_on": "Bench date",
            "note": "Note",
            "avoid": "Metals to avoid",
            "collects": "Collected by",
            "mends_ring": "Ring it mends",
            "mends_kind": "It is a",
            "mends_cause": "Cause",
            "mends_words": "More about it",
            "mends_paid_by": "Who pays",
        },
        typed,
        stands,
    )
