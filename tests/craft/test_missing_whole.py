"""Every combination of what may be known of an order, held against one list of rules.


A rule is a row: the list a word stands in, the word, the states in which it is asked for, and when it is
missing. Rows stand in the order in which they are told; those of a ring name it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from studio.craft.designs import Finger, Measured
from studio.craft.mends import Cause, MendKind, Mends, PaidBy
from studio.craft.missing import Deposit, Missing, OrderFacts, RingFacts, missing, ring_facts
from studio.craft.orders import State
from studio.craft.particulars import Inscription, Marks, Particulars, Risk, Stone, Surface, Whose
from studio.craft.reckonings import Reckoning, reckon
from tests.builders import a_design, a_finger

OfRing = tuple[bool, ...]
"""What is amiss with a ring, in the order of `AMISS`."""


class Told(NamedTuple):
    """What is known of an order without its rings."""

    phone: bool = True
    wanted: bool = True
    promised: bool = True
    bench: bool = True
    deposit: Deposit = Deposit.SETTLED
    amended: bool = False
    mends: Mends | None = None


class Rule(NamedTuple):
    """One row; `missing` answers for an order, and `of_ring` names what is amiss with a ring instead."""

    stands_in: str
    word: str
    states: str
    missing: Callable[[Told], bool] = lambda _: True
    of_ring: str = ""


def mends_without(name: str) -> Callable[[Told], bool]:
    """Whether an order mends an earlier ring and nobody said this of it."""
    return lambda told: told.mends is not None and getattr(told.mends, name) is None


UNTIL_YES = "draft, quoted"
UNTIL_BENCH = "draft, quoted, agreed"
WHILE_MADE = "draft, quoted, agreed, at the bench"
RULES = (
    Rule("quote", "phone", UNTIL_YES, lambda told: not told.phone),
    Rule("quote", "wanted day", UNTIL_YES, lambda told: not told.wanted),
    Rule("quote", "measured finger of ring {}", UNTIL_YES, of_ring="told"),
    Rule("bench", "bench date", UNTIL_BENCH, lambda told: not told.bench),
    Rule("bench", "deposit", UNTIL_BENCH, lambda told: told.deposit == "open"),
    Rule("bench", "answer to the amendment", UNTIL_BENCH, lambda told: told.amended),
    Rule("bench", "size of ring {}", UNTIL_BENCH, of_ring="between"),
    Rule("bench", "reason for narrow gauge on ring {}", UNTIL_BENCH, of_ring="no reason"),
    Rule("bench", "inscription read back of ring {}", UNTIL_BENCH, of_ring="not read back"),
    Rule("bench", "risk of the stones of ring {}", UNTIL_BENCH, of_ring="no risk"),
    Rule("nice", "promised day", WHILE_MADE, lambda told: not told.promised),
    Rule("nice", "finish of ring {}", UNTIL_YES, of_ring="no finish"),
    Rule("nice", "inscription of ring {}", UNTIL_YES, of_ring="no inscription"),
    Rule("nice", "stones of ring {}", UNTIL_YES, of_ring="no stones"),
    Rule("nice", "marks of ring {}", UNTIL_YES, of_ring="no marks"),
    Rule(
        "nice",
        "cause of the {kind}",
        WHILE_MADE,
        mends_without("cause"),
    ),
    Rule(
        "nice",
        "who pays for the {kind}",
        WHILE_MADE,
        mends_without("paid_by"),
    ),
)
AMISS = (
    "told", "between", "no reason", "no finish", "no inscription", "not read back", "no stones", "no risk",
    "no marks",
)  # fmt: skip
RINGS: dict[OfRing, RingFacts] = {
    amiss: RingFacts(
        1,
        is_told=amiss[0],
        is_between=amiss[1],
        reasons_wanted=("narrow-gauge",) if amiss[2] else (),
        is_finish_asked=not amiss[3],
        is_inscription_asked=not amiss[4],
        is_read_back=not amiss[5],
        is_stones_asked=not amiss[6],
        is_risk_answered=not amiss[7],
        is_marks_asked=not amiss[8],
    )
    for amiss in product((False, True), repeat=len(AMISS))
}


def the_rules_say(state: State, told: Told, rings: Sequence[OfRing]) -> Missing:
    lists: dict[str, list[str]] = {"quote": [], "bench": [], "nice": []}
    kind = told.mends.kind if told.mends else ""
    for rule in ASKED_IN[state]:
        if rule.of_ring:
            place = AMISS.index(rule.of_ring)
            found = [rule.word.format(at) for at, amiss in enumerate(rings, 1) if amiss[place]]
        else:
            found = [rule.word.format(kind=kind)] if rule.missing(told) else []
        lists[rule.stands_in] += found
    return Missing(**{name: tuple(words) for name, words in lists.items()})


ASKED_IN = {state: [rule for rule in RULES if state in rule.states.split(", ")] for state in State}


def test_the_rules_name_every_state_and_everything_that_may_be_amiss() -> None:
    named = {state for rule in RULES for state in rule.states.split(", ")}
    assert named <= set(State)
    assert set(State) - named == {State.READY, State.HANDED_OVER, State.CALLED_OFF}
    assert {rule.of_ring for rule in RULES} - {""} == set(AMISS)
    assert len(RINGS) == 2 ** len(AMISS)


BOTH = (True, False)
MENDS = (
    None,
    *(
        Mends("2026-1", 1, kind, cause, "", paid_by)
        for kind, cause, paid_by in product(MendKind, (None, Cause.LOST), (None, PaidBy.STUDIO))
    ),
)


def every_order() -> Iterator[tuple[State, Told]]:
    for state, phone, wanted, promised, bench, deposit in product(State, BOTH, BOTH, BOTH, BOTH, Deposit):
        yield state, Told(phone, wanted, promised, bench, deposit)


def order_facts(state: State, told: Told, *rings: RingFacts) -> OrderFacts:
    return OrderFacts(state, *told[:5], rings, has_open_amendment=told.amended, mends=told.mends)


def test_an_order_of_one_ring_misses_what_the_rules_say_whatever_is_known_of_it() -> None:
    asked = 0
    for state, told in every_order():
        for amiss, ring in RINGS.items():
            facts = order_facts(state, told, ring)
            assert missing(facts) == the_rules_say(state, told, (amiss,)), facts
            asked += 1
    assert asked == 7 * 2**4 * 3 * 2**9


def test_an_open_amendment_and_what_an_order_mends_are_told_beside_all_the_rest() -> None:
    """With each thing amiss with the ring alone, with none and with all."""
    some = [amiss for amiss in RINGS if sum(amiss) in {0, 1, len(AMISS)}]
    asked = 0
    for (state, told), is_amended, mends in product(every_order(), BOTH, MENDS):
        whole = told._replace(amended=is_amended, mends=mends)
        for amiss in some if told.phone and told.wanted else some[:1]:
            facts = order_facts(state, whole, RINGS[amiss])
            assert missing(facts) == the_rules_say(state, whole, (amiss,)), facts
            asked += 1
    assert asked == 7 * 2**2 * 3 * 2 * len(MENDS) * (len(some) + 3)


def test_two_rings_are_told_apart_whatever_is_amiss_with_either() -> None:
    """All pairs of rings while everything is asked for, and each thing amiss with either in every state."""
    whole = Told()
    alone = [amiss for amiss in RINGS if sum(amiss) <= 1]
    several = [amiss for amiss in RINGS if sum(amiss) in {0, 1, 2, len(AMISS)}]
    pairs = [(State.DRAFT, first, second) for first, second in product(several, several)]
    pairs += [(state, first, second) for state, first, second in product(State, alone, alone)]
    second_rings = {amiss: replace(ring, position=2) for amiss, ring in RINGS.items()}
    for state, first, second in pairs:
        facts = order_facts(state, whole, RINGS[first], second_rings[second])
        assert missing(facts) == the_rules_say(state, whole, (first, second)), facts


def test_an_order_without_rings_misses_what_is_its_own() -> None:
    for state, told in every_order():
        assert missing(order_facts(state, told)) == the_rules_say(state, told, ())


SURFACES = (None, Surface.MATT)
INSCRIPTIONS = {
    "not asked": None,
    "none wanted": Inscription(),
    "not read back": Inscription("Ada"),
    "read back": Inscription("Ada", is_read_back=True),
    "none wanted, ticked all the same": Inscription(is_read_back=True),
}
OURS, HERS = Stone(stated="ruby"), Stone(whose=Whose.CUSTOMER, stated="sapphire")
HERS_AT_HER_RISK = Stone(whose=Whose.CUSTOMER, stated="sapphire", risk=Risk.CUSTOMER)
HERS_AT_OUR_RISK = Stone(whose=Whose.CUSTOMER, stated="sapphire", risk=Risk.STUDIO)
STONES: dict[str, tuple[Stone, ...] | None] = {
    "not asked": None,
    "none wanted": (),
    "ours": (OURS,),
    "no risk": (HERS,),
    "her risk": (HERS_AT_HER_RISK,),
    "our risk": (HERS_AT_OUR_RISK,),
    "one of three without": (OURS, HERS_AT_HER_RISK, HERS),
    "all with": (OURS, HERS_AT_HER_RISK, HERS_AT_OUR_RISK),
}


def fingers() -> Iterator[tuple[bool, bool, bool, Finger, Reckoning]]:
    """Every way a size is known: is it only told, is it a range, does it want a reason."""
    for measured, gauge, is_between in product((*Measured, None), (3.0, 8.0, None), (False, True)):
        to = a_finger("R") if is_between else None
        finger = a_finger(
            measured=measured,
            gauge_width_mm=gauge,
            to_label=to and to.label,
            to_circumference_mm=to and to.circumference_mm,
        )
        # A width beside a size that nobody says how it was measured is that of a gauge.
        wants_a_reason = gauge == 3.0 and measured in {Measured.GAUGE, None}
        reckoning = reckon(finger, a_design(width_mm=8.0))
        yield measured is Measured.TOLD, is_between, wants_a_reason, finger, reckoning


def test_what_is_amiss_with_a_ring_is_read_from_all_that_may_be_said_of_it() -> None:
    asked = 0
    for is_told, is_between, wants_a_reason, finger, reckoning in fingers():
        for (inside, outside), inscription, stones, reasons, marks in product(
            product(SURFACES, SURFACES),
            INSCRIPTIONS,
            STONES,
            ((), ("narrow-gauge",), ("told", "upright")),
            (None, Marks()),
        ):
            amiss = (
                is_told,
                is_between,
                wants_a_reason and "narrow-gauge" not in reasons,
                inside is None or outside is None,
                inscription == "not asked",
                inscription == "not read back",
                stones == "not asked",
                stones in {"no risk", "one of three without"},
                marks is None,
            )
            said = Particulars(inside, outside, INSCRIPTIONS[inscription], STONES[stones], marks)
            assert ring_facts(1, finger, reckoning, reasons, said) == RINGS[amiss], (finger, said, reasons)
            asked += 1
    assert asked == 4 * 3 * 2 * 2 * 2 * 5 * 8 * 3 * 2
