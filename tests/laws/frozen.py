"""A walk in which everything around issued quotes is changed, while they are watched."""

import shutil
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, invariant, rule
from sqlmodel import Session

from studio.book.bench_records import BenchDraft, put_bench_record
from studio.book.customers import change_customer, customer
from studio.book.errors import BookError
from studio.book.gauges import GaugeDraft, gauges, put_gauge
from studio.book.metal_prices import add_metal_price
from studio.book.orders import (
    CustomerDraft,
    OrderChanges,
    OrderTerms,
    RingDraft,
    change_order,
    move_order,
    order,
    take_order,
)
from studio.book.payment_values import Sum
from studio.book.payments import take_payment
from studio.book.people import PROGRAM
from studio.book.practices import changed, practice_on, put_practice
from studio.book.quotes import (
    SentHow,
    agree,
    issue_quote,
    note_sent,
    put_pdf,
    quotable,
)
from studio.book.rates import put_rates
from studio.book.settling import settle_size
from studio.book.studio import change_studio, studio
from studio.clock import day_of
from studio.craft.designs import GaugeKind, System
from studio.craft.errors import Refused
from studio.craft.hallmark import HallmarkRule
from studio.craft.orders import State
from studio.craft.own_alloys import OwnAlloy, Part
from studio.craft.particulars import Inscription, Particulars, Stone, Surface
from studio.craft.practice_figures import Figure, figures
from studio.craft.rates import Extra, MetalPrice, WeightUnit
from tests.builders import NOW, a_design, a_finger, a_narrowly_measured_ring, a_ring
from tests.laws.as_issued import AsIssued, as_issued
from tests.laws.life import quick_book
from tests.quoting import RATES

WORDS = ("Matt inside.", "Ada & Jon", "<b>", "", "Σήμερα", "x" * 120)
LEAF = OwnAlloy("own-leaf", "Leaf", "gold-750-yellow", 750, (Part("Au", 750), Part("Cu", 250)), None, "")
TOLD = Particulars(Surface.MATT, Surface.POLISHED, Inscription("Ada & Jon"), (Stone(stated="ruby"),))
RINGS = (
    (a_ring(),),
    (a_ring(particulars=TOLD), a_ring(a_finger("R"), a_design(alloy="silver-925"))),
    (a_narrowly_measured_ring(),),
    (a_ring(a_finger("J", to_label="M", to_circumference_mm=a_finger("M").circumference_mm)),),
    (a_ring(design=a_design(alloy=LEAF.key)),),
)
PRACTICE = tuple(one for one in figures() if isinstance(one, Figure))
PAPERS = (b"%PDF-1.7 one", b"%PDF-1.7 two", b"%PDF-1.7 three", None)


class FrozenPapers(RuleBasedStateMachine):
    """One studio's book; whatever verb is done, every quote that was issued is what it was."""

    numbers: Bundle[str] = Bundle("numbers")

    def __init__(self, founded: Path, place: Path, done: Counter[str]) -> None:
        super().__init__()
        self.engine = quick_book(Path(shutil.copy(founded, place)))
        self.session = Session(self.engine)
        self.now: datetime = NOW
        self.issued: dict[str, AsIssued] = {}
        self.done = done

    def attempt(self, name: str, verb: Callable[[dict[str, Any]], object]) -> bool:
        """Do the verb a minute later; a refusal is an answer, too. Says whether it was done."""
        self.now += timedelta(minutes=1)
        try:
            verb({"actor": PROGRAM, "now": self.now})
        except (BookError, Refused):
            return False
        self.done[name] += 1
        return True

    def quotes_of(self, number: str) -> list[str]:
        return [one for one in self.issued if one.rpartition("-")[0] == number]

    def put_paper(self, one: str, pdf: bytes, told: dict[str, Any]) -> None:
        put_pdf(self.session, number=one, pdf=pdf, now=told["now"])

    def note_sent(self, one: str, told: dict[str, Any]) -> None:
        note_sent(self.session, number=one, how=SentHow.MAIL, to="Ada", **told)

    def version(self, number: str) -> int:
        return order(self.session, number).version

    @invariant()
    def every_quote_is_as_it_was_issued(self) -> None:
        for number, kept in self.issued.items():
            assert as_issued(self.session, number) == kept, number

    @rule(
        target=numbers,
        rings=st.sampled_from(RINGS),
        words=st.sampled_from(WORDS),
        pdfs=st.lists(st.sampled_from(PAPERS), max_size=2),
    )
    def take(self, rings: tuple[RingDraft, ...], words: str, pdfs: Sequence[bytes | None]) -> str:
        terms = OrderTerms(NOW.date() + timedelta(days=30), bench_on=NOW.date(), note=words, collects=words)
        whose = CustomerDraft("Jorun Müller", "01632 960 715")
        own = [ring.design.alloy for ring in rings if ring.design.alloy == LEAF.key]
        if own and not practice_on(self.session, day_of(self.now, "Europe/London")).own_alloys:
            self.put_in_an_alloy(750)
        self.now += timedelta(minutes=1)
        taken = take_order(
            self.session, customer=whose, terms=terms, rings=rings, actor=PROGRAM, now=self.now
        )
        for pdf in pdfs:
            self.issue(taken.number, pdf)
        return taken.number

    @rule(number=numbers, pdf=st.sampled_from(PAPERS))
    def issue(self, number: str, pdf: bytes | None) -> None:
        def verb(told: dict[str, Any]) -> None:
            draft = quotable(self.session, number, now=self.now)
            made = issue_quote(self.session, draft=draft, pdf=pdf, **told).number
            self.issued[made] = as_issued(self.session, made)

        self.attempt("issue", verb)

    @rule(number=numbers, pdf=st.sampled_from(PAPERS[:3]))
    def make_its_paper(self, number: str, pdf: bytes) -> None:
        """The first paper is kept, and no later one."""
        for one in self.quotes_of(number):
            self.attempt("paper", partial(self.put_paper, one, pdf))
            if self.issued[one].pdf is None:
                made = as_issued(self.session, one)
                assert (made.pdf, made.paper) == (pdf, self.issued[one].paper)
                self.issued[one] = made

    @rule(percent=st.integers(0, 95), minor=st.integers(1, 90_000), days=st.integers(1, 60))
    def change_the_rates(self, percent: int, minor: int, days: int) -> None:
        share = Decimal(percent)
        rates = replace(
            RATES, labour_hour_minor=minor, overhead_percent=share, margin_percent=share, tax_percent=share,
            deposit_percent=share, assay_minor=minor, step_minor=minor % 700, valid_days=days,
            extra_margin_percent={Extra.ASSAY: share}, consumables_minor=minor // 7,
            minutes={name: days + at for at, name in enumerate(RATES.minutes)},
        )  # fmt: skip
        self.attempt("rates", lambda told: put_rates(self.session, rates=rates, **told))

    @rule(metal=st.sampled_from(("gold", "silver", "copper")), price=st.integers(1, 9_999))
    def change_a_price(self, metal: str, price: int) -> None:
        today = day_of(self.now, "Europe/London")
        dearer = MetalPrice(metal, Decimal(price) / 10, WeightUnit.G, today, "a list")
        self.attempt("price", lambda told: add_metal_price(self.session, price=dearer, **told))

    @rule(words=st.sampled_from(WORDS))
    def change_the_studio(self, words: str) -> None:
        facts = replace(
            studio(self.session), name=f"Wren {words}", subtitle=words, address=words, phone="1", email=words,
            hallmark_rule=HallmarkRule.CONVENTION, tax_name=f"T {words}", returns=words,
            small_print=words, hallmark_note=words, allergy_note=words, resizing_note=words,
        )  # fmt: skip
        self.attempt("studio", lambda told: change_studio(self.session, facts=facts, **told))

    @rule(figure=st.sampled_from(PRACTICE), share=st.floats(0, 1), ahead=st.integers(0, 3))
    def change_the_practice(self, figure: Figure, share: float, ahead: int) -> None:
        day = day_of(self.now, "Europe/London") + timedelta(days=ahead)
        value = round(figure.low + (figure.high - figure.low) * share, 2)
        self.put_practice({figure.path: value}, day)

    @rule(fineness=st.sampled_from((750, 585)))
    def put_in_an_alloy(self, fineness: int) -> None:
        parts = (Part("Au", fineness), Part("Cu", 1000 - fineness))
        leaf = replace(LEAF, fineness=fineness, parts=parts, name=f"Leaf {fineness}")
        self.put_practice({"own_alloys": (leaf,)}, day_of(self.now, "Europe/London"))

    def put_practice(self, changes: dict[str, Any], day: Any) -> None:
        def verb(told: dict[str, Any]) -> None:
            practice = changed(practice_on(self.session, day), changes)
            put_practice(self.session, practice=practice, from_day=day, source="our trials", **told)

        self.attempt("practice", verb)

    @rule(correction=st.floats(-0.4, 0.4), width=st.sampled_from((3.0, 6.0)))
    def calibrate(self, correction: float, width: float) -> None:
        known = gauges(self.session)
        draft = GaugeDraft("Wide", GaugeKind.SET, System.UK, width, 1.25, round(correction, 2), NOW.date())
        gauge_id = known[0].gauge.id if known else None
        self.attempt("gauge", lambda told: put_gauge(self.session, gauge=draft, gauge_id=gauge_id, **told))

    @rule(number=numbers, rings=st.sampled_from(RINGS), words=st.sampled_from(WORDS), by_gauge=st.booleans())
    def change_an_order(
        self, number: str, rings: tuple[RingDraft, ...], words: str, *, by_gauge: bool
    ) -> None:
        by = gauges(self.session)
        if by_gauge and by and by[0].gauge.width_mm == 6.0:
            rings = tuple(replace(ring, finger=replace(ring.finger, gauge=by[0].gauge)) for ring in rings)
        promised_at = self.now + timedelta(days=9)
        changes = OrderChanges(rings=rings, note=words, collects=words, promised_at=promised_at)
        self.attempt(
            "order",
            lambda told: change_order(
                self.session, number=number, version=self.version(number), changes=changes, **told
            ),
        )

    @rule(number=numbers, words=st.sampled_from(WORDS))
    def change_the_customer(self, number: str, words: str) -> None:
        whose = order(self.session, number).customer.id
        stands = customer(self.session, whose)
        draft = CustomerDraft(f"Somebody {words}", "01632 960 244", f"{len(words)}@x.example")
        self.attempt(
            "customer",
            lambda told: change_customer(
                self.session, customer_id=whose, version=stands.version, draft=draft, note_text=words, **told
            ),
        )

    @rule(number=numbers, to=st.sampled_from(State))
    def move(self, number: str, to: State) -> None:
        self.attempt(
            "move",
            lambda told: move_order(
                self.session, number=number, version=self.version(number), to=to, reason="asked for", **told
            ),
        )

    @rule(number=numbers, minor=st.sampled_from((None, 1, 5_000)))
    def say_yes(self, number: str, minor: int | None) -> None:
        found = order(self.session, number).quotes
        if found:
            why = None if minor else "an old customer"
            yes: dict[str, Any] = {
                "name": "Ada",
                "variant": found[-1].variants[-1].key if found[-1].variants else None,
                "deposit": None if minor is None else Sum(minor),
                "without_deposit": why,
                "reason": "It still holds.",
            }
            self.attempt("yes", lambda told: agree(self.session, quote=found[-1].number, **yes, **told))

    @rule(number=numbers)
    def go_on(self, number: str) -> None:
        """What a good day brings: a yes, its deposit, a size settled, a bench record, a sending."""
        self.say_yes(number, 1)
        self.attempt(
            "deposit",
            lambda told: take_payment(
                self.session, number=number, version=self.version(number), money=Sum(1), **told
            ),
        )
        self.attempt(
            "settle",
            lambda told: settle_size(
                self.session, number=number, position=1, version=self.version(number), size="K", **told
            ),
        )
        record = BenchDraft(60.0, 61.0, 56.0, None, "hammer", "")
        self.attempt(
            "bench",
            lambda told: put_bench_record(self.session, number=number, position=1, record=record, **told),
        )
        for one in self.quotes_of(number):
            self.attempt("sent", partial(self.note_sent, one))

    @rule(by=st.sampled_from((timedelta(days=1), timedelta(days=40), timedelta(days=400))))
    def time_goes_by(self, by: timedelta) -> None:
        self.now += by

    def teardown(self) -> None:
        self.session.close()
        self.engine.dispose()
