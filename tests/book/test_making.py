"""Proofs signed, orders handed over with what they were made as, and what is said of the fit, in the book."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.as_made import known_of
from studio.book.bench_records import BenchDraft, put_bench_record
from studio.book.bench_work import Deed, do_at_bench, ring_at_bench
from studio.book.bench_work_errors import StepRefused
from studio.book.customers import customer
from studio.book.document_papers import issued_document_to_print
from studio.book.errors import VersionStale
from studio.book.fit_answers import answer_fit
from studio.book.hand_over import hand_over
from studio.book.in_hand import count, in_hand
from studio.book.making_errors import NothingToProve, NotToHandOver, NotWorn, ProofChanged
from studio.book.making_reads import fit_answers
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver, RingGiven
from studio.book.order_list_values import HandWhy
from studio.book.order_values import Order, OrderChanges
from studio.book.orders import change_order, move_order, order
from studio.book.outwork import Back, Sending, add_outworker, send_out, take_back
from studio.book.people import PROGRAM
from studio.book.proofs import sign_proof
from studio.book.studio import change_studio, studio
from studio.book.whereabouts import things_of_order
from studio.book.whereabouts_errors import ThingOut
from studio.craft.bench_work import What, WhyNotNow
from studio.craft.errors import Refused, Why
from studio.craft.fit_feedback import Verdict
from studio.craft.orders import State
from studio.craft.outwork import Trade
from studio.craft.particulars import Inscription, Particulars
from studio.papers.printing import printed
from tests.builders import NOW, TODAY, a_ring, an_order, one_step
from tests.documents import taken_in
from tests.papers.printed import text_of

WORDS = "Ada & Jon"
LATER = NOW + timedelta(hours=2)
WEEKS = timedelta(weeks=3, hours=3)


def lettered(session: Session, state: State, text: str = WORDS) -> Order:
    ring = a_ring(particulars=Particulars(inscription=Inscription(text, is_read_back=True)))
    return an_order(session, state=state, rings=[ring])


def sign(session: Session, number: str, **changes: Any) -> Any:
    asked: dict[str, Any] = {"number": number, "position": 1, "text": WORDS, "read_by": "Ines Radley"}
    return sign_proof(session, **(asked | changes), actor=PROGRAM, now=LATER)


def tick(session: Session, number: str) -> None:
    deed = Deed(What.DONE, "inscribe", reason="shown in a test")
    do_at_bench(session, number=number, position=1, deed=deed, actor=PROGRAM, now=LATER)


def test_words_are_not_ticked_as_cut_before_their_proof_is_signed(session: Session) -> None:
    number = lettered(session, State.AT_THE_BENCH).number
    version = order(session, number).version
    with pytest.raises(StepRefused) as told:
        tick(session, number)
    assert told.value.why is WhyNotNow.PROOF_NOT_SIGNED
    proof = sign(session, number, read_by="  Ines   Radley ")
    assert (proof.text, proof.read_by, proof.signed_at) == (WORDS, "Ines Radley", LATER)
    tick(session, number)
    stands = order(session, number)
    assert (stands.proofs, stands.version) == ((proof,), version)
    assert ring_at_bench(session, number, 1).work.is_done("inscribe")
    assert [line.verb for line in stands.history].count("sign a proof") == 1


def test_words_changed_afterwards_void_the_tick(session: Session) -> None:
    stands = lettered(session, State.DRAFT)
    sign(session, stands.number)
    other = replace(
        stands.rings[0].draft,
        particulars=Particulars(inscription=Inscription("Ada & Jón", is_read_back=True)),
    )
    change_order(
        session, number=stands.number, version=stands.version, changes=OrderChanges(rings=(other,)),
        actor=PROGRAM, now=LATER,
    )  # fmt: skip
    with pytest.raises(ProofChanged):
        sign(session, stands.number)
    for to in (State.AGREED, State.AT_THE_BENCH):
        one_step(session, order(session, stands.number), to)
    with pytest.raises(StepRefused):
        tick(session, stands.number)
    sign(session, stands.number, text="Ada & Jón")
    tick(session, stands.number)


@pytest.mark.parametrize(("read_by", "why"), [(" ", Why.EMPTY), ("x" * 121, Why.TOO_LONG)])
def test_somebody_has_to_have_read_it(session: Session, read_by: str, why: Why) -> None:
    number = lettered(session, State.AGREED).number
    with pytest.raises(Refused) as told:
        sign(session, number, read_by=read_by)
    assert [(one.field, one.why) for one in told.value.refusals] == [("read_by", why)]
    assert order(session, number).proofs == ()


def test_without_words_there_is_nothing_to_sign(session: Session) -> None:
    for number in (an_order(session).number, lettered(session, State.CALLED_OFF).number):
        with pytest.raises(NothingToProve):
            sign(session, number)


def measured(session: Session, state: State = State.READY) -> Order:
    stands = an_order(session, state=state)
    put_bench_record(
        session, number=stands.number, position=1, record=BenchDraft(60.0, 61.2, closed_mm=57.1),
        actor=PROGRAM, now=NOW,
    )  # fmt: skip
    return order(session, stands.number)


def test_a_ring_is_kept_as_the_bench_measured_it_and_as_was_typed(session: Session) -> None:
    stands = measured(session)
    known = known_of(session, stands)[0]
    assert (known.figures.size_mm, known.figures.before_mm, known.figures.after_mm) == (57.1, 60.0, 61.2)
    asked = HandingOver({1: RingGiven(55.0, "O", 8.42, "A-77")})
    sheet = hand_over(
        session, number=stands.number, version=stands.version, asked=asked, actor=PROGRAM, now=LATER
    )
    now = order(session, stands.number)
    made = now.made[1]
    assert (now.state, sheet.number) == (State.HANDED_OVER, f"{stands.number}-h1")
    assert (made.label, made.figures.size_mm, made.figures.finished_g, made.figures.lot) == (
        "O",
        55.0,
        8.42,
        "A-77",
    )
    assert (made.figures.before_mm, made.figures.closed_mm) == (60.0, 57.1)
    assert made.ordered_mm == pytest.approx(stands.rings[0].reckoning.circumference_mm, abs=1e-3)
    assert made.is_otherwise
    assert [one.number for one in customer(session, now.customer.id).made] == [stands.number]
    words = " ".join(text_of(printed(issued_document_to_print(session, sheet.number))).split())
    assert "UK O, 55.00 mm round inside; ordered at" in words


def test_any_way_of_handing_over_keeps_what_was_made(session: Session) -> None:
    stands = measured(session)
    move_order(
        session, number=stands.number, to=State.HANDED_OVER, version=stands.version, actor=PROGRAM, now=LATER
    )
    assert order(session, stands.number).made[1].figures.size_mm == 57.1
    with pytest.raises(NotToHandOver):
        hand_over(
            session, number=stands.number, version=stands.version + 1, asked=HandingOver(),
            actor=PROGRAM, now=LATER,
        )  # fmt: skip


def sent_out(session: Session, number: str, thing: str) -> str:
    """The number of a slip with which a thing has gone to a setter."""
    worker = add_outworker(session, name="Hale", trade=Trade.SETTER, actor=PROGRAM, now=NOW)
    sending = Sending((thing,), worker.id, "Look at it.", 12_000, TODAY)
    return send_out(session, number=number, sending=sending, actor=PROGRAM, now=NOW).number


def test_goods_go_back_with_the_ring_and_nothing_more_than_came(session: Session) -> None:
    stands = an_order(session, state=State.READY)
    receipt = taken_in(session, stands.number, words="an old ring", weight_mg=2_140)
    taken_in(session, stands.number, words="its case")
    key, case = f"{receipt.number}/1", f"{stands.number}-r2/1"
    version = order(session, stands.number).version

    def handing(goods: dict[str, GoodGiven], version: int = version) -> Any:
        return hand_over(
            session, number=stands.number, version=version, asked=HandingOver(goods=goods),
            actor=PROGRAM, now=LATER,
        )  # fmt: skip

    with pytest.raises(Refused) as told:
        handing({key: GoodGiven(GoodEnd.BACK, 2_141), "2026-9-r1/1": GoodGiven(GoodEnd.BACK)})
    assert [(one.field, one.why) for one in told.value.refusals] == [
        ("back-r1-1", Why.HEAVIER_THAN_TAKEN_IN), ("goods", Why.UNKNOWN_CHOICE),
    ]  # fmt: skip
    with pytest.raises(VersionStale):
        handing({}, version - 1)
    at_the_setter = sent_out(session, stands.number, key)
    with pytest.raises(ThingOut):
        handing({})
    take_back(session, number=at_the_setter, back=Back(), actor=PROGRAM, now=LATER)
    sheet = handing({key: GoodGiven(GoodEnd.USED, 600), case: GoodGiven(GoodEnd.STAYS)})
    assert [(one.good.key, one.used_mg, one.weight_mg) for one in sheet.given_back] == [(key, 1_540, 600)]
    stands = order(session, stands.number)
    assert [good.key for good in stands.goods_held] == [case]
    found = things_of_order(session, stands.number, now=LATER)
    assert found is not None
    assert [one.key for one in found.things if one.good is not None] == [case]


def test_after_weeks_somebody_is_to_ask_how_it_fits_until_somebody_did(session: Session) -> None:
    stands = measured(session)
    move_order(
        session, number=stands.number, to=State.HANDED_OVER, version=stands.version, actor=PROGRAM, now=NOW
    )

    def whys(after: timedelta) -> list[HandWhy]:
        now = NOW + after
        lines = in_hand(session, today=TODAY + after, now=now)
        assert count(session, today=TODAY + after, now=now) == len(lines)
        return [line.hand.why for line in lines]

    assert [whys(timedelta(days=days)) for days in (20, 22, 78)] == [[], [HandWhy.FIT_NOT_ASKED], []]
    facts = studio(session)
    change_studio(session, facts=replace(facts, fit_weeks=0), actor=PROGRAM, now=NOW)
    assert whys(WEEKS) == []
    change_studio(session, facts=replace(studio(session), fit_weeks=5), actor=PROGRAM, now=NOW)
    assert (whys(WEEKS), whys(timedelta(weeks=6))) == ([], [HandWhy.FIT_NOT_ASKED])
    answered: dict[str, Any] = {"number": stands.number, "position": 1, "actor": PROGRAM, "now": NOW + WEEKS}
    answer_fit(session, verdict=Verdict.LOOSE, off_mm=0.6, words="turns in the cold", **answered)
    assert whys(timedelta(weeks=6)) == []
    told = order(session, stands.number).fits[1]
    ring = stands.rings[0]
    assert (told.verdict, told.off_mm, told.note) == (Verdict.LOOSE, 0.6, "turns in the cold")
    assert told.width_mm == ring.design.width_mm
    assert told.allowed_mm == pytest.approx(ring.reckoning.fit_mm, abs=1e-3)
    card = customer(session, stands.customer.id)
    assert card.fits[card.fingers[0].id].verdict is Verdict.LOOSE
    answer_fit(session, verdict=Verdict.RIGHT, **answered)
    answer_fit(session, verdict=Verdict.RIGHT, **answered)  # said again, nothing is written
    assert [one.verdict for one in fit_answers(session)] == [Verdict.RIGHT]
    said = [line.verb for line in order(session, stands.number).history]
    assert said.count("note what was said of the fit") == 2


def test_only_what_was_worn_fits_and_only_what_is_off_is_off_by_something(session: Session) -> None:
    ready, worn = (
        an_order(session, state=State.READY).number,
        an_order(session, state=State.HANDED_OVER).number,
    )
    told: dict[str, Any] = {"verdict": Verdict.RIGHT, "actor": PROGRAM, "now": LATER}
    for number, position in ((ready, 1), (worn, 2)):
        with pytest.raises(NotWorn):
            answer_fit(session, number=number, position=position, **told)
    refusals: tuple[tuple[dict[str, Any], Why], ...] = (
        ({"off_mm": 0.5}, Why.OFF_BY_NOTHING),
        ({"off_mm": 20.0, "verdict": Verdict.LOOSE}, Why.TOO_LARGE),
        ({"words": "x" * 301}, Why.TOO_LONG),
    )
    for changes, why in refusals:
        with pytest.raises(Refused) as refused:
            answer_fit(session, number=worn, position=1, **(told | changes))
        assert [one.why for one in refused.value.refusals] == [why]
    assert fit_answers(session) == ()
