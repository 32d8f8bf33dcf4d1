"""Signing a proof, handing over, and asking how a ring fits, through the pages of the app and its API."""

from datetime import timedelta

import pytest

from studio.book.fit_answers import answer_fit
from studio.book.orders import order
from studio.book.outwork import Sending, add_outworker, send_out
from studio.book.people import PROGRAM
from studio.craft.designs import Measured
from studio.craft.fit_feedback import Verdict
from studio.craft.orders import State
from studio.craft.outwork import Trade
from studio.craft.particulars import Inscription, Particulars
from studio.craft.roles import Role
from tests.builders import NOW, a_ring, an_order
from tests.documents import taken_in
from tests.web.house import House
from tests.web.morning import Morning, a_morning

PAGE = "/orders/2026-1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def lettered(morning: Morning, state: State, text: str = "Ada & Jón") -> None:
    with morning.book() as book:
        ring = a_ring(particulars=Particulars(inscription=Inscription(text, is_read_back=True)))
        an_order(book, state=state, rings=[ring])


def test_the_counter_signs_on_the_order_s_page_and_the_sheet_says_so(morning: Morning) -> None:
    lettered(morning, State.AGREED)
    page = morning.see(PAGE, Role.COUNTER)
    assert "The proof of the words is not signed yet: nothing is cut before." in page.words
    form = page.form(f"{PAGE}/rings/1/proof")
    assert form.fields["proof-ring-1"] == "Jorun Müller"
    status, _, again = morning.send(form.action, form.filled(**{"proof-ring-1": " "}), Role.COUNTER)
    assert (status, "1 thing" in again.words or "One thing to put right" in again.words) == (422, True)
    changed = form.filled(proof_text="Ada & Jon")
    assert "The words were changed meanwhile." in morning.send(form.action, changed, Role.COUNTER)[2].words
    assert morning.send(form.action, form.filled(), Role.COUNTER)[0] == 303
    signed = "The proof is read and signed by Jorun Müller, 10:00, ticked by Ivo."
    assert signed in morning.see(PAGE).words
    assert not [one for one in morning.see(PAGE).forms if one.action == form.action]
    assert not [one for one in morning.see(PAGE, Role.MAKER).forms if one.action == form.action]


def test_the_bench_is_refused_until_a_maker_has_ticked_the_proof(morning: Morning) -> None:
    lettered(morning, State.AT_THE_BENCH)
    step = "/bench/2026-1/1?step=inscribe"
    ticking = morning.see(step, Role.MAKER).form("/bench/2026-1/1")
    typed = ticking.filled(press="Done, next", reason="a test")
    status, _, page = morning.send(ticking.action, typed, Role.MAKER)
    assert status == 409
    assert "The proof of these words is not signed yet. Read them back and sign it first." in page.words
    page = morning.see(step, Role.MAKER)
    assert page.link("The proof on paper") == f"{PAGE}/rings/1/inscription.pdf"
    signing = page.form("/bench/2026-1/1/proof")
    assert morning.send(signing.action, signing.filled(**{"proof-ring-0": ""}), Role.MAKER)[0] == 422
    status, where, _ = morning.send(signing.action, signing.filled(**{"proof-ring-0": "Tilde"}), Role.MAKER)
    assert (status, where) == (303, step)
    ticking = morning.see(step, Role.MAKER).form("/bench/2026-1/1")
    typed = ticking.filled(press="Done, next", reason="a test")
    assert morning.send(ticking.action, typed, Role.MAKER)[0] == 303


def test_an_order_is_handed_over_with_what_is_typed_and_nothing_typed_is_lost(morning: Morning) -> None:
    with morning.book() as book:
        stands = an_order(book, state=State.READY)
        taken_in(book, stands.number, words="an old ring", weight_mg=2_140)
    assert morning.see(PAGE, Role.COUNTER).link("Hand it over") == f"{PAGE}/hand-over"
    assert "Hand it over" not in morning.see(PAGE, Role.MAKER).words
    form = morning.see(f"{PAGE}/hand-over", Role.COUNTER).form(f"{PAGE}/hand-over")
    typed = {
        "size-1": "Ö",
        "weight-1": "8,42",
        "lot-1": "A-77",
        "end-r1-1": "is in the ring",
        "back-r1-1": "3",
    }
    status, _, page = morning.send(form.action, form.filled(**typed), Role.COUNTER)
    assert status == 422
    assert "Final size" in page.words
    again = page.form(form.action)
    assert {name: again.fields[name] for name in typed} == typed
    status, _, page = morning.send(again.action, again.filled(**{"size-1": "O"}), Role.COUNTER)
    assert (status, "no more can go back" in page.words) == (422, True)
    last = page.form(form.action).filled(**{"size-1": "O", "back-r1-1": "0.6"})
    status, where, _ = morning.send(form.action, last, Role.COUNTER)
    assert (status, where) == (303, f"{PAGE}#papers")
    page = morning.see(PAGE, Role.COUNTER)
    assert page.link("2026-1-h1") == "/documents/2026-1-h1.pdf"
    assert "Made at UK O, ordered at UK" in page.words
    told = morning.house.ask("GET", "/api/orders/2026-1").json()
    made = told["as_made"][0]
    assert (made["size"], made["size_mm"], made["finished_g"], made["lot"]) == ("O", 55.0, 8.42, "A-77")
    assert told["documents"][-1]["kind"] == "hand-over"
    card = morning.see(f"/customers/{stands.customer.id}", Role.COUNTER)
    assert "Made for them before" in card.words
    closed = morning.see(f"{PAGE}/hand-over", Role.COUNTER)
    assert "Only what is ready is handed over." in closed.words
    assert morning.send(form.action, last | {"idempotency_key": ""}, Role.COUNTER)[0] == 409


def test_a_ring_that_is_out_is_not_handed_over_and_what_was_typed_stands(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book, state=State.READY).number
    form = morning.see(f"/orders/{number}/hand-over", Role.COUNTER).form(f"/orders/{number}/hand-over")
    with morning.book() as book:
        worker = add_outworker(book, name="Hale", trade=Trade.SETTER, actor=PROGRAM, now=NOW)
        sending = Sending((f"{number}/1",), worker.id, "Set the stone.", 12_000, NOW.date())
        send_out(book, number=number, sending=sending, actor=PROGRAM, now=NOW)
    status, _, page = morning.send(form.action, form.filled(**{"lot-1": "A-77"}), Role.COUNTER)
    assert status == 409
    assert "Nothing was handed over" in page.words
    assert f"{number}-w1" in page.words
    assert page.form(form.action).fields["lot-1"] == "A-77"


def test_the_next_one_begins_as_it_was_made_and_says_how_it_fitted(morning: Morning) -> None:
    with morning.book() as book:
        stands = an_order(book, state=State.READY)
    form = morning.see(f"{PAGE}/hand-over").form(f"{PAGE}/hand-over")
    assert morning.send(form.action, form.filled(**{"size-1": "O"}))[0] == 303
    fit = morning.see(f"{PAGE}/fit", Role.COUNTER).form(f"{PAGE}/fit")
    assert morning.send(fit.action, fit.filled(), Role.COUNTER)[0] == 422
    assert morning.send(fit.action, fit.filled(**{"off-1": "0.5"}), Role.COUNTER)[0] == 422
    wrong = {"verdict-1": "right", "off-1": "0.5"}
    status, _, page = morning.send(fit.action, fit.filled(**wrong), Role.COUNTER)
    assert (status, page.form(fit.action).fields["off-1"]) == (422, "0.5")
    told = {"verdict-1": "loose", "off-1": "0.6", "words-1": "turns"}
    assert morning.send(fit.action, fit.filled(**told), Role.COUNTER)[0] == 303
    assert "Loose by 0.6 mm" in morning.see(PAGE).words
    fields = morning.see("/orders/new?like=2026-1/1", Role.COUNTER).form("/orders").fields
    assert (fields["finger.size"], fields["finger.measured"]) == ("O", Measured.RING)
    assert fields["note"].startswith("Same again as 2026-1/1: made at UK O, ordered at UK")
    assert fields["note"].endswith("; begun as it was made, loose by 0.6 mm last time.")
    counter = morning.see(f"/orders/new?customer={stands.customer.id}", Role.COUNTER)
    assert "loose by 0.6 mm last time" in " ".join(
        button for form in counter.forms for button in form.buttons
    )
    again = fields | {"wanted_on": "19 Dec 2099", "act": "save"}
    assert morning.send("/orders", again, Role.COUNTER)[0] == 303
    with morning.book() as book:
        ring = order(book, "2026-2").rings[0]
    assert ring.reckoning.circumference_mm == pytest.approx(55.0), "no fit is added to what was made"


def test_after_three_weeks_in_hand_asks_and_the_studio_sees_what_was_said(
    morning: Morning, monkeypatch: pytest.MonkeyPatch
) -> None:
    with morning.book() as book:
        for _ in range(6):
            an_order(book, state=State.HANDED_OVER)
        for at in range(2, 7):
            answer_fit(
                book, number=f"2026-{at}", position=1, verdict=Verdict.LOOSE, off_mm=0.6,
                actor=PROGRAM, now=NOW,
            )  # fmt: skip
    morning = a_morning(morning.house, monkeypatch, NOW + timedelta(weeks=3, hours=1))
    page = morning.see("/", Role.COUNTER)
    assert "and nobody has asked yet how it fits." in page.words
    assert f"{PAGE}/fit" in [href for words, href in page.links if words.startswith("Ask how it fits")]
    assert "Ask how it fits" not in morning.see("/", Role.MAKER).words
    heard = morning.see("/studio/practice/fit")
    assert "0 too tight, 0 right, 5 loose" in heard.words
    assert "−0.60 ± 0.29 mm" in heard.words
    assert morning.see("/studio/practice").link("What customers said of the fit") == "/studio/practice/fit"
