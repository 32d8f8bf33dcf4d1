"""Proofs that stand, rings beside what was ordered, and what customers say of the fit: hand-made tables."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from studio.craft.as_made import AsMade, MadeFigures, measured_size_mm, size_words, weighed_g
from studio.craft.bench_work import BenchWork, Happened, What, bench_work
from studio.craft.designs import Profile, System
from studio.craft.fit_feedback import FitAnswer, Verdict, heard, shift_of, verdict_words
from studio.craft.operations import Does, Operation
from studio.craft.particulars import Inscription
from studio.craft.practice import COMMON_PRACTICE
from studio.craft.proofs import Proof, standing_proof, waits_for_proof

NOW = datetime(2026, 11, 25, 10, tzinfo=UTC)
WORDS = Inscription("Ada & Jon")
CUT = Operation("inscribe", "Cut the inscription", "inside", (), does=frozenset({Does.ENGRAVES}))
POLISH = Operation("finish", "Finish", "all over", (), does=frozenset({Does.POLISHES}))


def a_proof(text: str = "Ada & Jon", reader: str = "Ines Radley") -> Proof:
    return Proof(1, text, reader, NOW, "Tilde")


@pytest.mark.parametrize(
    ("proofs", "words", "reader"),
    [
        ((), WORDS, None),
        ((a_proof(),), WORDS, "Ines Radley"),
        ((a_proof(), a_proof(reader="Tom")), WORDS, "Tom"),
        ((a_proof(),), Inscription("Ada & Jón"), None),
        ((a_proof(), a_proof("Ada & Jón", "Tom")), WORDS, "Ines Radley"),
        ((a_proof(),), Inscription("Ada & Jon "), None),
        ((a_proof(),), None, None),
    ],
    ids=["none", "signed", "twice", "changed since", "changed and put back", "a blank more", "no words"],
)
def test_a_proof_stands_for_its_own_words_alone(
    proofs: tuple[Proof, ...], words: Inscription | None, reader: str | None
) -> None:
    found = standing_proof(proofs, words)
    assert (found.read_by if found else None) == reader
    assert waits_for_proof(CUT, words, found) is (words is not None and found is None)
    assert not waits_for_proof(POLISH, words, found)


def as_made(size_mm: float | None, label: str = "", ordered_mm: float = 54.375) -> AsMade:
    return AsMade(1, System.UK, label, ordered_mm, MadeFigures(size_mm=size_mm), "Tilde", NOW)


@pytest.mark.parametrize(
    ("made", "says"),
    [
        (as_made(55.0, "O"), "made at UK O, ordered at UK N½"),
        (as_made(54.375, "N½"), "made at UK N½, as ordered"),
        (as_made(54.52), "made at UK N½, as ordered"),
        (as_made(54.53), "made at UK N½, 54.53 mm round, ordered at 54.38"),
        (as_made(None), "its size was not measured"),
        (as_made(98.2), "made at 98.2 mm round, ordered at UK N½"),
    ],
)
def test_a_ring_is_told_beside_what_was_ordered(made: AsMade, says: str) -> None:
    assert size_words(made) == says


def test_the_size_is_what_was_measured_last_and_weights_are_those_of_their_steps() -> None:
    steps = tuple(replace(CUT, key=key) for key in ("weigh", "size", "finish"))

    def work(**figures: float) -> BenchWork:
        return bench_work(
            Happened(place, What.NOTED, key, NOW, "Tilde", figure=figure)
            for place, (key, figure) in enumerate(figures.items(), 1)
        )

    told = work(weigh=9.17, size=17.83, finish=8.42)
    assert measured_size_mm(steps, told, 56.9, None) == pytest.approx(56.0146, abs=1e-4)
    assert measured_size_mm(steps, work(), 56.9, None) == 56.9
    assert measured_size_mm(steps, work(), 56.9, 57.2) == 57.2
    assert (weighed_g(steps, told, "weigh"), weighed_g(steps, told, "finish")) == (9.17, 8.42)
    assert weighed_g(steps, work(), "finish") is None


def an_answer(verdict: Verdict, off_mm: float | None = None, **changes: object) -> FitAnswer:
    one = FitAnswer("2026-1/1", Profile.FLAT, 6.0, 0.5, verdict, off_mm)
    return replace(one, **changes)  # type: ignore[arg-type]  # its own fields


def test_the_shift_worked_out_by_hand() -> None:
    # four right, two loose by 0.6: mean -0.2, squares 4 x 0.04 + 2 x 0.16 = 0.48, over 5 is 0.3098 squared
    found = shift_of([0.0, 0.0, 0.0, 0.0, -0.6, -0.6])
    assert found is not None
    assert found.mean_mm == pytest.approx(-0.2)
    assert found.half_width_mm == pytest.approx(stats.t.ppf(0.95, 5) * 0.309839 / 6**0.5, rel=1e-5)
    assert not found.is_clear


def test_few_answers_suggest_nothing_and_many_alike_are_not_surer_than_their_scatter() -> None:
    assert shift_of([-0.6] * 4) is None
    found = shift_of([-0.6] * 5)
    assert found is not None
    assert found.half_width_mm == pytest.approx(stats.t.ppf(0.95, 4) * 0.3 / 5**0.5, rel=1e-9)
    assert found.is_clear


@given(st.lists(st.floats(-3, 3), min_size=5, max_size=40))
def test_tight_and_loose_are_each_others_mirror_and_the_mean_lies_among_the_answers(
    wants: list[float],
) -> None:
    found, mirrored = shift_of(wants), shift_of([-one for one in wants])
    assert found is not None
    assert mirrored is not None
    assert mirrored.mean_mm == pytest.approx(-found.mean_mm, abs=1e-9)
    assert mirrored.half_width_mm == pytest.approx(found.half_width_mm, abs=1e-9)
    assert min(wants) - 1e-9 <= found.mean_mm <= max(wants) + 1e-9


def test_answers_are_counted_by_kind_and_band_as_the_rule_has_them() -> None:
    told = heard(
        [
            an_answer(Verdict.RIGHT),
            an_answer(Verdict.LOOSE, 0.6),
            an_answer(Verdict.TIGHT, width_mm=4.1),
            an_answer(Verdict.RIGHT, width_mm=4.0, allowed_mm=0.0),
            an_answer(Verdict.RIGHT, width_mm=9.0, profile=Profile.COURT, allowed_mm=1.5),
            an_answer(Verdict.NO_ANSWER, width_mm=9.0),
        ],
        COMMON_PRACTICE,
    )
    counted = [(one.profile, one.band, one.tight, one.right, one.loose) for one in told]
    assert counted == [
        (Profile.FLAT, "up to 4 mm", 0, 1, 0),
        (Profile.FLAT, "over 4, up to 6 mm", 1, 1, 1),
        (Profile.COURT, "over 8, up to 10 mm", 0, 1, 0),
    ]
    assert [one.adds_mm for one in told][:2] == [0.0, 0.5]
    assert [one.shift for one in told] == [None] * 3
    assert told[1].allowed_mm == pytest.approx(0.5)


def test_what_nobody_measured_counts_as_half_a_size() -> None:
    assert (an_answer(Verdict.LOOSE).wants_mm, an_answer(Verdict.TIGHT).wants_mm) == (-0.625, 0.625)
    assert an_answer(Verdict.RIGHT).wants_mm == 0.0
    assert verdict_words(Verdict.LOOSE, 0.6) == "loose by 0.6 mm"
    assert verdict_words(Verdict.TIGHT, None) == "too tight"
