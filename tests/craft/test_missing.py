"""What an order lacks, as a truth table: one row a fact, for every state."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from studio.craft.designs import Design, Finger, Measured, Profile
from studio.craft.missing import Deposit, Missing, OrderFacts, RingFacts, missing, ring_facts
from studio.craft.orders import State
from studio.craft.particulars import NOT_ASKED, Inscription, Marks, Particulars, Risk, Stone, Surface, Whose
from studio.craft.reckonings import reckon
from tests.builders import a_design, a_finger

ALL_KNOWN = OrderFacts(
    state=State.DRAFT,
    has_phone=True,
    has_wanted_day=True,
    has_promised_day=True,
    has_bench_date=True,
    deposit=Deposit.SETTLED,
    rings=(RingFacts(1), RingFacts(2)),
)
NOTHING = Missing()
BEFORE_YES = (State.DRAFT, State.QUOTED)
BEFORE_BENCH = (*BEFORE_YES, State.AGREED)
WHILE_OPEN = (*BEFORE_BENCH, State.AT_THE_BENCH)

TABLE: tuple[tuple[str, Mapping[str, object], Missing, tuple[State, ...]], ...] = (
    ("all is known", {}, NOTHING, tuple(State)),
    ("no phone", {"has_phone": False}, Missing(quote=("phone",)), BEFORE_YES),
    ("no wanted day", {"has_wanted_day": False}, Missing(quote=("wanted day",)), BEFORE_YES),
    (
        "a size told, not measured",
        {"rings": (RingFacts(1), RingFacts(2, is_told=True))},
        Missing(quote=("measured finger of ring 2",)),
        BEFORE_YES,
    ),
    (
        "a size between two",
        {"rings": (RingFacts(1, is_between=True),)},
        Missing(bench=("size of ring 1",)),
        BEFORE_BENCH,
    ),
    (
        "a size between two, as told",
        {"rings": (RingFacts(1, is_told=True, is_between=True),)},
        Missing(quote=("measured finger of ring 1",), bench=("size of ring 1",)),
        BEFORE_YES,
    ),
    ("no bench date", {"has_bench_date": False}, Missing(bench=("bench date",)), BEFORE_BENCH),
    ("the deposit is open", {"deposit": Deposit.OPEN}, Missing(bench=("deposit",)), BEFORE_BENCH),
    ("no deposit is asked for", {"deposit": Deposit.NOT_ASKED}, NOTHING, tuple(State)),
    (
        "a warning without a reason",
        {"rings": (RingFacts(1, reasons_wanted=("narrow-gauge",)),)},
        Missing(bench=("reason for narrow gauge on ring 1",)),
        BEFORE_BENCH,
    ),
    ("no promised day", {"has_promised_day": False}, Missing(nice=("promised day",)), WHILE_OPEN),
    (
        "finish not asked",
        {"rings": (RingFacts(1), RingFacts(2, is_finish_asked=False))},
        Missing(nice=("finish of ring 2",)),
        BEFORE_YES,
    ),
    (
        "inscription not asked",
        {"rings": (RingFacts(1, is_inscription_asked=False),)},
        Missing(nice=("inscription of ring 1",)),
        BEFORE_YES,
    ),
    (
        "an inscription not read back",
        {"rings": (RingFacts(1, is_read_back=False),)},
        Missing(bench=("inscription read back of ring 1",)),
        BEFORE_BENCH,
    ),
    (
        "stones not asked",
        {"rings": (RingFacts(1, is_stones_asked=False),)},
        Missing(nice=("stones of ring 1",)),
        BEFORE_YES,
    ),
    (
        "marks not asked",
        {"rings": (RingFacts(1, is_marks_asked=False),)},
        Missing(nice=("marks of ring 1",)),
        BEFORE_YES,
    ),
    (
        "the risk of a customer's stone not answered",
        {"rings": (RingFacts(1, is_risk_answered=False),)},
        Missing(bench=("risk of the stones of ring 1",)),
        BEFORE_BENCH,
    ),
    (
        "nothing at all",
        {
            "has_phone": False,
            "has_wanted_day": False,
            "has_promised_day": False,
            "has_bench_date": False,
            "deposit": Deposit.OPEN,
            "rings": (RingFacts(1, is_told=True), RingFacts(2, is_between=True)),
        },
        Missing(
            quote=("phone", "wanted day", "measured finger of ring 1"),
            bench=("bench date", "deposit", "size of ring 2"),
            nice=("promised day",),
        ),
        BEFORE_YES,
    ),
)

ASKED = Particulars(Surface.POLISHED, Surface.MATT, Inscription(), (), Marks())
HERS = Stone(whose=Whose.CUSTOMER, stated="sapphire")
ONE_FACT = tuple(row for row in TABLE if not (row[2].quote and row[2].bench))
"""The rows that hold up one thing: in the states they do not name, nothing."""


@pytest.mark.parametrize(
    ("changes", "lacks", "states"), [row[1:] for row in TABLE], ids=[row[0] for row in TABLE]
)
def test_each_fact_holds_up_what_it_must_in_the_states_it_must(
    changes: Mapping[str, object], lacks: Missing, states: tuple[State, ...]
) -> None:
    facts = replace(ALL_KNOWN, **changes)  # type: ignore[arg-type]  # each row names its own
    for state in states:
        assert missing(replace(facts, state=state)) == lacks


@pytest.mark.parametrize(
    ("changes", "lacks", "states"), [row[1:] for row in ONE_FACT], ids=[row[0] for row in ONE_FACT]
)
def test_in_every_other_state_nothing_waits_for_it(
    changes: Mapping[str, object], lacks: Missing, states: tuple[State, ...]
) -> None:
    facts = replace(ALL_KNOWN, **changes)  # type: ignore[arg-type]  # each row names its own
    for state in set(State) - set(states):
        assert missing(replace(facts, state=state)) == NOTHING, lacks


def test_what_is_known_of_a_ring_comes_from_its_finger_and_its_warnings() -> None:
    narrow = a_finger(gauge_width_mm=3.0)
    wide = a_design(width_mm=8.0)
    assert known(1, narrow, wide) == RingFacts(1, reasons_wanted=("narrow-gauge",))
    assert known(1, narrow, wide, "narrow-gauge") == RingFacts(1)
    told = a_finger(measured=Measured.TOLD, gauge_width_mm=None)
    plain = a_design(profile=Profile.FLAT)
    assert known(2, told, plain) == RingFacts(2, is_told=True)
    between = a_finger("L", to_label="N", to_circumference_mm=53.75)
    assert known(3, between, plain) == RingFacts(3, is_between=True)


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        (
            NOT_ASKED,
            {
                "is_finish_asked": False,
                "is_inscription_asked": False,
                "is_stones_asked": False,
                "is_marks_asked": False,
            },
        ),
        (replace(ASKED, marks=None), {"is_marks_asked": False}),
        (replace(ASKED, stones=None), {"is_stones_asked": False}),
        (replace(ASKED, stones=(HERS,)), {"is_risk_answered": False}),
        (replace(ASKED, stones=(replace(HERS, risk=Risk.CUSTOMER),)), {}),
        (replace(ASKED, stones=(Stone(stated="ruby"),)), {}),
        (replace(ASKED, outside=None), {"is_finish_asked": False}),
        (replace(ASKED, inscription=None), {"is_inscription_asked": False}),
        (replace(ASKED, inscription=Inscription("Ada")), {"is_read_back": False}),
        (replace(ASKED, inscription=Inscription("Ada", is_read_back=True)), {}),
    ],
)
def test_what_is_known_of_its_finish_and_inscription(asked: Particulars, expected: dict[str, Any]) -> None:
    finger, plain = a_finger(), a_design(profile=Profile.FLAT)
    assert ring_facts(1, finger, reckon(finger, plain), (), asked) == replace(RingFacts(1), **expected)


def known(position: int, finger: Finger, design: Design, *reasons: str) -> RingFacts:
    return ring_facts(position, finger, reckon(finger, design), reasons, ASKED)
