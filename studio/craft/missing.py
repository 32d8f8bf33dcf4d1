"""What an order does not know yet: what holds up its quote, what holds up the bench, what is good to have."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from studio.craft.designs import Finger, Measured
from studio.craft.hallmark import is_precious
from studio.craft.mends import Mends
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning

BEFORE_THE_BENCH = BEFORE_AGREEMENT | {State.AGREED}
DEPOSIT = "deposit"
"""The word for an open deposit among what the bench waits for: a reason does instead."""


class Deposit(StrEnum):
    """How it stands with the deposit of an order."""

    NOT_ASKED = "not asked"  # the quote asks for none, or the yes is older than the quotes
    OPEN = "open"
    SETTLED = "settled"  # all that was asked for is paid, or a reason was given to begin without


@dataclass(frozen=True, slots=True)
class RingFacts:
    """What is known of one ring: its place, its finger, and the warnings that want a reason and have none.

    `is_risk_answered` unless nobody said who bears the risk of setting a stone of the customer's;
    `is_read_back` unless it has an inscription that was not read back yet.
    """

    position: int
    is_told: bool = False
    is_between: bool = False
    reasons_wanted: tuple[str, ...] = ()
    is_finish_asked: bool = True
    is_inscription_asked: bool = True
    is_read_back: bool = True
    is_stones_asked: bool = True
    is_risk_answered: bool = True
    is_marks_asked: bool = True


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """What is known of an order."""

    state: State
    has_phone: bool
    has_wanted_day: bool
    has_promised_day: bool
    has_bench_date: bool
    deposit: Deposit
    rings: tuple[RingFacts, ...]
    has_open_amendment: bool = False
    mends: Mends | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    """What is not yet asked, in words ('phone', 'bench date'): for a quote, the bench, and good to have."""

    quote: tuple[str, ...] = ()
    bench: tuple[str, ...] = ()
    nice: tuple[str, ...] = ()


def missing(facts: OrderFacts) -> Missing:
    """What is missing in the order's state: one that is at the bench no longer waits for its bench date.

    A quote waits for a telephone number, the wanted day and a finger measured for every ring; the bench for
    its date, the deposit or a reason to begin without, every size known, and a reason for each warning that
    asks for one. A size measured as somewhere between two is quoted at the larger end and holds up the bench
    alone. The bench waits too for the answer to an amendment,
    for an inscription to be read back, and for who bears the risk of setting a
    stone of the customer's. A promised day is good to have, and so is to have asked for the finish, for an
    inscription, for stones and for marks, and of an order that mends an earlier ring why and who pays for it.
    'measured finger of ring 2', 'finish of ring 1', 'cause of the remake'.
    """
    quote: list[str] = []
    bench: list[str] = []
    if facts.state in BEFORE_AGREEMENT:
        quote += ["phone"] * (not facts.has_phone) + ["wanted day"] * (not facts.has_wanted_day)
        quote += [f"measured finger of ring {ring.position}" for ring in facts.rings if ring.is_told]
    if facts.state in BEFORE_THE_BENCH:
        bench += ["bench date"] * (not facts.has_bench_date)
        bench += [DEPOSIT] * (facts.deposit is Deposit.OPEN)
        bench += ["answer to the amendment"] * facts.has_open_amendment
        bench += [f"size of ring {ring.position}" for ring in facts.rings if ring.is_between]
        bench += [
            f"reason for {code.replace('-', ' ')} on ring {ring.position}"
            for ring in facts.rings
            for code in ring.reasons_wanted
        ]
        bench += [
            f"inscription read back of ring {ring.position}" for ring in facts.rings if not ring.is_read_back
        ]
        bench += [
            f"risk of the stones of ring {ring.position}" for ring in facts.rings if not ring.is_risk_answered
        ]
    is_open = facts.state in BEFORE_THE_BENCH or facts.state is State.AT_THE_BENCH
    nice = ["promised day"] * (is_open and not facts.has_promised_day)
    if facts.state in BEFORE_AGREEMENT:
        nice += [f"finish of ring {ring.position}" for ring in facts.rings if not ring.is_finish_asked]
        nice += [
            f"inscription of ring {ring.position}" for ring in facts.rings if not ring.is_inscription_asked
        ]
        nice += [f"stones of ring {ring.position}" for ring in facts.rings if not ring.is_stones_asked]
        nice += [f"marks of ring {ring.position}" for ring in facts.rings if not ring.is_marks_asked]
    if is_open and facts.mends is not None:
        nice += [f"cause of the {facts.mends.kind}"] * (facts.mends.cause is None)
        nice += [f"who pays for the {facts.mends.kind}"] * (facts.mends.paid_by is None)
    return Missing(tuple(quote), tuple(bench), tuple(nice))


def ring_facts(
    position: int,
    finger: Finger,
    reckoning: Reckoning,
    reasons_given: Iterable[str],
    particulars: Particulars = NOT_ASKED,
) -> RingFacts:
    """What is known of one ring; `reasons_given` are the codes of warnings somebody gave a reason for."""
    given = frozenset(reasons_given)
    to_cut = particulars.words_to_cut
    return RingFacts(
        position,
        is_told=finger.measured is Measured.TOLD,
        is_between=finger.to_label is not None,
        reasons_wanted=tuple(
            caveat.code for caveat in reckoning.caveats if caveat.needs_reason and caveat.code not in given
        ),
        is_finish_asked=particulars.is_finish_asked,
        is_inscription_asked=particulars.inscription is not None,
        is_stones_asked=particulars.stones is not None,
        is_risk_answered=particulars.is_risk_answered,
        is_marks_asked=particulars.marks is not None or not is_precious(reckoning.alloy),
        is_read_back=to_cut is None or to_cut.is_read_back,
    )
