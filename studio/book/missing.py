"""What an order does not know yet, in words: for the quote, for the bench, and good to have."""

from collections.abc import Sequence

from studio.book.order_values import Missing, OrderRing, OrderTerms
from studio.craft.designs import Finger, Measured
from studio.craft.orders import BEFORE_AGREEMENT, State

BEFORE_THE_BENCH = BEFORE_AGREEMENT | {State.AGREED}


def missing_of(state: State, phone: str | None, terms: OrderTerms, rings: Sequence[OrderRing]) -> Missing:
    """What is missing in `state`: an order that is at the bench no longer waits for its bench date.

    A quote waits for a telephone number, the wanted day and a measured finger of every ring; the bench for
    its date, every size known, and a reason for each warning that asks for one. A promised day is good to
    have. 'bench date', 'measured finger of ring 2', 'reason for narrow gauge on ring 1'.
    """
    quote: list[str] = []
    bench: list[str] = []
    if state in BEFORE_AGREEMENT:
        quote += ["phone"] * (not phone) + ["wanted day"] * (terms.wanted_on is None)
        quote += [
            f"measured finger of ring {ring.position}" for ring in rings if not is_measured(ring.finger)
        ]
    if state in BEFORE_THE_BENCH:
        bench += ["bench date"] * (terms.bench_on is None)
        bench += [f"size of ring {ring.position}" for ring in rings if ring.finger.to_label is not None]
        bench += [
            f"reason for {code.replace('-', ' ')} on ring {ring.position}"
            for ring in rings
            for code in waiting_reasons(ring)
        ]
    is_open = state in BEFORE_THE_BENCH or state is State.AT_THE_BENCH
    nice = ("promised day",) if is_open and terms.promised_at is None else ()
    return Missing(tuple(quote), tuple(bench), nice)


def is_measured(finger: Finger) -> bool:
    """Whether the size was measured: not merely told, and not a range."""
    return finger.measured is not Measured.TOLD and finger.to_label is None


def waiting_reasons(ring: OrderRing) -> list[str]:
    """The codes of the ring's warnings that want a reason and have none."""
    return [
        caveat.code
        for caveat in ring.reckoning.caveats
        if caveat.needs_reason and not ring.reasons.get(caveat.code, "").strip()
    ]
