"""The walk around issued quotes, with orders that offer a choice and agreed ones that are amended."""

from dataclasses import replace
from functools import partial
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule

from studio.book.amendments import amendable, amending_of, put_amending, withdraw_amendment
from studio.book.order_values import Amending, Order
from studio.book.orders import RingDraft, order
from studio.book.quotes import Quote, issue_quote, paper_of_issued
from studio.book.variants import add_variant, drop_variant
from tests.laws.as_issued import as_issued
from tests.laws.frozen import RINGS, WORDS, FrozenPapers

WAYS: tuple[dict[str, Any], ...] = (
    {"width_mm": 5.0},
    {"alloy": "silver-925"},
    {"alloy": "platinum-950-ru", "width_mm": 3.5},
    {},
)


class FrozenAndAmended(FrozenPapers):
    """The same book; a quote may offer a choice, and what was agreed may be amended, again and again."""

    numbers = FrozenPapers.numbers

    def stored(self) -> list[Order]:
        """Every order of which a quote was issued."""
        return [order(self.session, one) for one in {one.rpartition("-")[0] for one in self.issued}]

    @rule(
        target=numbers,
        rings=st.sampled_from(RINGS[:2]),
        ways=st.lists(st.sampled_from(WAYS), max_size=2),
        minor=st.sampled_from((None, 1, 5_000, 90_000)),
    )
    def take_and_agree(
        self, rings: tuple[RingDraft, ...], ways: list[dict[str, Any]], minor: int | None
    ) -> str:
        """An order that is agreed on the same day, its last way chosen where there is a choice."""
        number = str(self.take(rings, "", ()))
        for way in ways:
            self.offer(number, way)
        self.issue(number, b"%PDF-1.7 agreed")
        self.say_yes(number, minor)
        return number

    @rule(number=numbers, way=st.sampled_from(WAYS))
    def offer(self, number: str, way: dict[str, Any]) -> None:
        """One more way to make it."""
        stands = order(self.session, number)
        rings = [replace(ring.draft, design=replace(ring.design, **way)) for ring in stands.rings]
        told: dict[str, Any] = {"number": number, "version": stands.version, "rings": rings}
        self.attempt("variant", lambda by: add_variant(self.session, **told, **by))

    @rule(number=numbers)
    def offer_no_longer(self, number: str) -> None:
        """The last way is dropped, also while a quote that offers it waits."""
        told: dict[str, Any] = {"number": number, "key": "b", "version": self.version(number)}
        self.attempt("drop", lambda by: drop_variant(self.session, **told, **by))

    @rule(
        number=numbers,
        way=st.sampled_from(WAYS),
        rings=st.sampled_from((None, None, *RINGS)),
        words=st.sampled_from(WORDS),
        minor=st.sampled_from((0, 1, 2_600, 700_001)),
    )
    def amend(self, number: str, way: dict[str, Any], rings: Any, words: str, minor: int) -> None:
        """An agreed order is amended: its rings, its words, a charge."""
        stands = order(self.session, number)
        if stands.agreement is None:
            return
        begun = stands.amending or amending_of(stands)
        changed = tuple(replace(ring, design=replace(ring.design, **way)) for ring in begun.rings)
        text = "The blank that was cut" if minor else ""
        amending = replace(begun, rings=rings or changed, words=words, charge_text=text, charge_minor=minor)
        self.attempt("put", partial(self.put, number, amending))
        self.attempt("amend", partial(self.issue_amendment, number, amending))

    def put(self, number: str, amending: Amending, by: dict[str, Any]) -> None:
        put_amending(self.session, number=number, version=self.version(number), amending=amending, **by)

    def issue_amendment(self, number: str, amending: Amending, by: dict[str, Any]) -> None:
        draft = amendable(self.session, number, amending=amending, **by)
        made = issue_quote(self.session, draft=draft, pdf=b"%PDF-1.7 amended", **by).number
        self.issued[made] = as_issued(self.session, made)

    @rule(number=numbers)
    def withdraw(self, number: str) -> None:
        """The amendment that waits is withdrawn."""
        waits = order(self.session, number).open_amendment
        if waits is not None:
            told: dict[str, Any] = {"number": waits.number}
            self.attempt("withdraw", lambda by: withdraw_amendment(self.session, **told, **by))

    @invariant()
    def what_is_paid_and_what_is_left_is_the_total(self) -> None:
        """And what is agreed is one of the sums that stand in the quote that was said yes to."""
        for stands in self.stored():
            agreement = stands.agreement
            if agreement is None:
                continue
            agreed = next(one for one in stands.quotes if one.number == agreement.quote_number)
            assert agreement.total_minor in {one.total_minor for one in agreed.variants or (agreed,)}
            assert 0 <= agreement.deposit_asked_minor <= agreement.total_minor
            waits = stands.open_amendment
            if waits is not None:
                self.check_sums(waits, agreement.total_minor)

    def check_sums(self, waits: Quote, agreed_minor: int) -> None:
        """Its lines are its total, and its paper's sums lead from the old one to what is left."""
        assert sum(line.net_minor for line in waits.lines) == waits.net_minor
        assert waits.net_minor + waits.tax_minor == waits.total_minor
        paper = paper_of_issued(self.session, waits.number)
        assert paper.amended is not None
        sums = {line.text: round(float(line.amount.strip("£").replace(",", "")) * 100) for line in paper.sums}
        agreed, *_ = sums.values()
        more = sums.get("More by", 0) - sums.get("Less by", 0)
        assert (agreed, agreed + more) == (agreed_minor, waits.total_minor)
        if "Paid so far" in sums:
            left = sums.get("Left to pay at collection", 0) - sums.get("We give back", 0)
            assert sums["Paid so far"] + left == waits.total_minor
