"""A walk through one studio's book beside its plain model."""

import shutil
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    consumes,
    multiple,
    precondition,
    rule,
)
from sqlalchemy import Engine, event, text
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.orders import (
    UNSET,
    CustomerDraft,
    OrderChanges,
    OrderTerms,
    RingDraft,
    change_order,
    move_order,
    order,
    orders_page,
    state_counts,
    take_order,
)
from studio.book.payment_values import Sum
from studio.book.payments import give_back, take_payment
from studio.book.people import PROGRAM
from studio.book.quotes import (
    QuoteDraft,
    QuoteTerms,
    agree,
    issue_quote,
    put_pdf,
    quotable,
    quote_breakdown,
    quote_pdf,
    waive_deposit,
)
from studio.craft.designs import Measured
from studio.craft.orders import State
from tests.builders import NOW, TODAY, a_design, a_finger, a_narrowly_measured_ring, a_ring
from tests.laws.plain_order import FORWARD, MOVES, WAITS, No, PlainOrder, london_day
from tests.laws.sayings import the_book_says, the_model_says, what_it_says

PHONE = "01632 960 715"
MOST_ORDERS = 4
RINGS = tuple(
    replace(ring, taken_by="Ivo", taken_at=NOW)
    for ring in (
        a_ring(),
        a_ring(a_finger("M"), a_design(width_mm=4.0, alloy="silver-925")),
        a_narrowly_measured_ring(reasons={"narrow-gauge": "Tried on a wide sizer."}),
        a_narrowly_measured_ring(),
        a_ring(a_finger(measured=Measured.TOLD)),
        a_ring(a_finger("J", to_label="M", to_circumference_mm=a_finger("M").circumference_mm)),
    )
)
RING_LISTS = st.sampled_from((*[(ring,) for ring in RINGS], RINGS[:2], RINGS[1:4]))
DAYS = st.sampled_from((None, date(2026, 12, 19), date(2027, 1, 9)))
MOMENTS = st.sampled_from((None, NOW + timedelta(days=20)))
WORDS = st.sampled_from((None, "She asked for it."))
IS_STALE = st.sampled_from((False,) * 7 + (True,))
DEPOSITS = st.sampled_from(("all", "all", "part", "nothing", None, "too much"))


class LifeOfOrders(RuleBasedStateMachine):
    """One studio's book beside its plain model."""

    taken: Bundle[PlainOrder] = Bundle("taken")
    drafts: Bundle[QuoteDraft] = Bundle("drafts")

    def __init__(self, founded: Path, place: Path) -> None:
        super().__init__()
        self.path = Path(shutil.copy(founded, place))
        self.engine = quick_book(self.path)
        self.session = Session(self.engine, expire_on_commit=False)
        self.now: datetime = NOW
        self.orders: dict[str, PlainOrder] = {}
        self.phones: dict[int, str | None] = {}

    def compared(self, stands: PlainOrder, foretold: No | None, verb: Callable[[], object]) -> None:
        """Do the verb; the book then says what the model says, and after a refusal what it said before."""
        before = None
        if foretold is None:
            verb()
        else:
            before = order(self.session, stands.number)
            with pytest.raises(foretold.error) as caught:
                verb()
            assert what_it_says(caught.value, foretold.says) == foretold.says or foretold.says is None
        after = order(self.session, stands.number)
        assert the_book_says(after) == the_model_says(stands, self.phones[stands.customer_id])
        assert before is None or before == after

    def begin(self, stands: PlainOrder, *, is_stale: bool = False) -> dict[str, Any]:
        """A minute later; what every verb is told."""
        self.now += timedelta(minutes=1)
        stands.now = self.now
        version = stands.version - 1 if is_stale else stands.version
        return {"number": stands.number, "version": version, "actor": PROGRAM, "now": self.now}

    @precondition(lambda self: len(self.orders) < MOST_ORDERS)
    @rule(
        target=taken,
        is_known=st.booleans(),
        phone=st.sampled_from((PHONE, PHONE, None)),
        wanted_on=DAYS,
        bench_on=DAYS,
        rings=RING_LISTS,
        days_gone_well=st.integers(0, 4),
        ways=st.lists(st.integers(0, 2), max_size=3),
    )
    def take(  # noqa: PLR0917  Hypothesis hands every part over by its name
        self,
        phone: str | None,
        wanted_on: date | None,
        bench_on: date | None,
        rings: tuple[RingDraft, ...],
        days_gone_well: int,
        ways: Sequence[int] = (),
        *,
        is_known: bool = False,
    ) -> PlainOrder:
        terms = OrderTerms(wanted_on, bench_on=bench_on)
        customer: CustomerDraft | int = CustomerDraft("Jorun Müller", phone)
        if is_known and self.phones:
            customer = min(self.phones)
        found = take_order(
            self.session, customer=customer, terms=terms, rings=rings, actor=PROGRAM, now=self.now
        )
        self.phones.setdefault(found.customer.id, phone)
        year = london_day(self.now).year
        serial = 1 + sum(number.startswith(f"{year}-") for number in self.orders)
        stands = PlainOrder(f"{year}-{serial}", found.customer.id, terms, rings, self.now, self.now)
        assert found.number == stands.number
        self.orders[found.number] = stands
        self.compared(stands, None, lambda: None)
        for _ in range(days_gone_well):
            self.go_on(stands)
        self.move_as_the_table_allows(stands, ways)
        return stands

    @rule(by=st.sampled_from((timedelta(hours=9), timedelta(days=1), timedelta(days=16))))
    def time_goes_by(self, by: timedelta) -> None:
        self.now += by

    @rule(
        stands=taken,
        is_stale=IS_STALE,
        changes=st.builds(
            OrderChanges,
            wanted_on=st.just(UNSET) | DAYS,
            promised_at=st.just(UNSET) | MOMENTS,
            bench_on=st.just(UNSET) | DAYS,
            note=st.sampled_from((UNSET, "", "Matt inside.")),
            rings=st.just(UNSET) | RING_LISTS | st.just(()),
        ),
    )
    def change(self, stands: PlainOrder, changes: OrderChanges, *, is_stale: bool = False) -> None:
        told = self.begin(stands, is_stale=is_stale)
        foretold = stands.change(told["version"], changes)
        self.compared(stands, foretold, lambda: change_order(self.session, changes=changes, **told))

    @rule(stands=taken, phone=st.sampled_from((PHONE, "01632 960 244", None)))
    def change_the_number_to_ring(self, stands: PlainOrder, phone: str | None) -> None:
        changes = OrderChanges(customer=CustomerDraft("Jorun Müller", phone))
        told = self.begin(stands)
        self.phones[stands.customer_id] = phone
        self.compared(stands, None, lambda: change_order(self.session, changes=changes, **told))

    @rule(
        target=drafts,
        stands=taken,
        percent=st.sampled_from((None, None, "0", "101")),
        days=st.integers(1, 30),
    )
    def read_a_quote_back(self, stands: PlainOrder, percent: str | None, days: int) -> Any:
        self.begin(stands)
        terms = QuoteTerms(days, None if percent is None else Decimal(percent))
        made: list[QuoteDraft] = []

        def read_back() -> None:
            made.append(quotable(self.session, stands.number, terms=terms, now=self.now))

        foretold = stands.quotable(self.phones[stands.customer_id], is_refused=percent == "101")
        self.compared(stands, foretold, read_back)
        return multiple(*made)

    @rule(draft=consumes(drafts), paper=st.sampled_from((None, b"%PDF-1.7 one", b"%PDF-1.7 two")))
    def issue(self, draft: QuoteDraft, paper: bytes | None) -> None:
        stands = self.orders[draft.order_number]
        self.begin(stands)
        foretold = stands.issue(draft, paper)
        self.compared(
            stands,
            foretold,
            lambda: issue_quote(self.session, draft=draft, pdf=paper, actor=PROGRAM, now=self.now),
        )

    @rule(stands=taken, paper=st.sampled_from((b"%PDF-1.7 three", b"%PDF-1.7 four")))
    def make_the_papers(self, stands: PlainOrder, paper: bytes) -> None:
        self.begin(stands)
        for found in stands.quotes:
            found.paper = found.paper or paper
            put_pdf(self.session, number=found.draft.number, pdf=paper, now=self.now)

    @rule(
        stands=taken,
        back=st.sampled_from((0, 0, 0, 1)),
        name=st.sampled_from(("Jorun Müller", "Jorun Müller", "")),
        deposit=DEPOSITS,
        without=WORDS,
        reason=WORDS,
    )
    def say_yes(  # noqa: PLR0917  Hypothesis hands every part over by its name
        self,
        stands: PlainOrder,
        back: int,
        name: str,
        deposit: str | None,
        without: str | None,
        reason: str | None,
    ) -> None:
        if len(stands.quotes) <= back:
            return
        self.begin(stands)
        asked = stands.quotes[-1 - back]
        amount = amount_of(asked.draft, deposit)
        foretold = stands.agree(asked, name, amount, without, reason)
        self.compared(
            stands,
            foretold,
            lambda: agree(
                self.session,
                quote=asked.draft.number,
                name=name,
                deposit=None if amount is None else Sum(amount),
                without_deposit=without,
                reason=reason,
                actor=PROGRAM,
                now=self.now,
            ),
        )

    @rule(stands=taken, is_stale=IS_STALE, deposit=DEPOSITS, is_back=st.booleans())
    def pay(self, stands: PlainOrder, deposit: str | None, *, is_stale: bool, is_back: bool) -> None:
        told = self.begin(stands, is_stale=is_stale)
        amount = amount_of(stands.yes.quote.draft, deposit or "part") if stands.yes is not None else 100
        foretold = (stands.give_back if is_back else stands.pay)(told["version"], amount or 0)
        verb = give_back if is_back else take_payment
        self.compared(stands, foretold, lambda: verb(self.session, money=Sum(amount or 0), **told))

    @rule(stands=taken, is_stale=IS_STALE, without=WORDS)
    def begin_without(self, stands: PlainOrder, without: str | None, *, is_stale: bool) -> None:
        told = self.begin(stands, is_stale=is_stale)
        foretold = stands.begin_without(told["version"], without)
        self.compared(stands, foretold, lambda: waive_deposit(self.session, why=without, **told))

    @rule(stands=taken, is_stale=IS_STALE, to=st.sampled_from(State), reason=WORDS)
    def move(self, stands: PlainOrder, to: State, reason: str | None, *, is_stale: bool = False) -> None:
        told = self.begin(stands, is_stale=is_stale)
        foretold = stands.move(told["version"], to, reason)
        self.compared(stands, foretold, lambda: move_order(self.session, to=to, reason=reason, **told))

    @rule(stands=taken, ways=st.lists(st.integers(0, 2), min_size=1, max_size=4))
    def move_as_the_table_allows(self, stands: PlainOrder, ways: Sequence[int]) -> None:
        for way in ways:
            ends = [end for start, end in MOVES if start is stands.state]
            self.move(stands, ends[way % len(ends)], "She asked for it.")

    @rule(stands=taken)
    def go_on(self, stands: PlainOrder) -> None:
        """The next thing that a good day would bring, so that the walk also reaches the end of the road."""
        if stands.state in WAITS:
            whole = OrderChanges(wanted_on=TODAY, bench_on=TODAY, rings=RINGS[:1])
            self.change_the_number_to_ring(stands, PHONE)
            self.change(stands, whole)
            if stands.state is State.DRAFT:
                terms = QuoteTerms()
                draft = quotable(self.session, stands.number, terms=terms, now=self.now)
                self.issue(draft, b"%PDF-1.7 one")
            self.say_yes(stands, 0, "Jorun Müller", "all", None, "It still holds.")
        elif stands.state in FORWARD[:3]:
            self.move(stands, FORWARD[FORWARD.index(stands.state) + 1], None)

    def teardown(self) -> None:
        """Somebody else opens the book: all of it is there, whole, and says what the model says."""
        self.session.close()
        self.engine.dispose()
        opened = quick_book(self.path)
        with engines.session(opened) as session:
            for stands in self.orders.values():
                found = order(session, stands.number)
                assert the_book_says(found) == the_model_says(stands, self.phones[stands.customer_id])
                for quote, kept in zip(found.quotes, stands.quotes, strict=True):
                    assert quote_breakdown(session, quote.number) == kept.draft.breakdown
                    assert quote.lines == kept.draft.breakdown.lines
                    assert quote.valid_until == kept.draft.valid_until
                    if kept.paper is not None:
                        assert quote_pdf(session, quote.number) == kept.paper
            listed = [line.number for line in orders_page(session, now=self.now).items]
            assert listed == list(self.orders)[::-1]
            states = Counter(stands.state for stands in self.orders.values())
            assert state_counts(session) == {state: states[state] for state in State}
            assert session.connection().execute(text("PRAGMA integrity_check")).scalar_one() == "ok"
            assert not session.connection().execute(text("PRAGMA foreign_key_check")).all()
        opened.dispose()


def amount_of(draft: QuoteDraft, deposit: str | None) -> int | None:
    """The deposit as paid, in minor units."""
    price = draft.breakdown
    amounts = {"all": price.deposit_minor, "part": 100, "nothing": 0, "too much": price.total_minor + 1}
    return None if deposit is None else amounts[deposit]


def quick_book(path: Path) -> Engine:
    """The book without waiting for the disk: a power cut is no part of this law."""
    engine = engines.open_book(f"sqlite:///{path}")
    event.listen(engine, "connect", lambda opened, _: opened.execute("PRAGMA synchronous = OFF").close())
    return engine
