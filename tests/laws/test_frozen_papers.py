"""A paper that was issued is a copy: bytes, figures and lines stay, whatever is changed afterwards."""

import shutil
from collections import Counter
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test

from studio.book import engine as engines
from studio.book.quotes import paper_of_issued
from studio.craft.orders import State
from studio.papers.printing import printed
from studio.papers.quote import quote_to_print
from tests.laws.frozen import PRACTICE, RINGS, FrozenPapers
from tests.laws.frozen_and_amended import WAYS, FrozenAndAmended
from tests.laws.life import quick_book
from tests.quoting import put_figures

VERBS = {
    "issue", "paper", "rates", "price", "studio", "practice", "gauge", "order", "customer", "move", "yes",
    "deposit", "settle", "bench", "sent",
}  # fmt: skip


@pytest.fixture
def priced_book(founded_book: Path, tmp_path: Path) -> Path:
    """A book with rates and prices and no order yet."""
    founded = Path(shutil.copy(founded_book, tmp_path / "priced.db"))
    engine = quick_book(founded)
    with engines.session(engine) as session:
        put_figures(session)
    engine.dispose()
    return founded


def test_whatever_is_chosen_and_amended_an_issued_paper_is_what_it_was(
    priced_book: Path, tmp_path: Path
) -> None:
    """Quotes with a choice, agreed ones and their amendments: stored row and paper stay, the sums agree."""
    done: Counter[str] = Counter()
    run_state_machine_as_test(
        lambda: FrozenAndAmended(priced_book, tmp_path / "book.db", done),  # type: ignore[arg-type]  # Hypothesis takes whatever makes a machine
        settings=settings(max_examples=14, stateful_step_count=30),
    )
    assert done["issue"] > 20
    assert min(done["amend"], done["variant"], done["yes"]) > 5
    assert len(VERBS & set(done)) > len(VERBS) / 2


def test_a_choice_and_three_amendments_leave_every_paper_as_it_was(priced_book: Path, tmp_path: Path) -> None:
    """The same walk by hand, so that every verb is done for certain."""
    done: Counter[str] = Counter()
    walk = FrozenAndAmended(priced_book, tmp_path / "book.db", done)
    number = walk.take(RINGS[1], "Ada & Jon", ())

    def check() -> None:
        walk.every_quote_is_as_it_was_issued()
        walk.what_is_paid_and_what_is_left_is_the_total()

    walk.offer(number, WAYS[0])
    walk.offer(number, WAYS[1])
    walk.issue(number, b"%PDF-1.7 a choice")
    walk.offer_no_longer(number)
    walk.offer(number, WAYS[2])
    walk.issue(number, b"%PDF-1.7 another choice")
    walk.say_yes(number, 5_000)
    check()
    for minor in (2_600, 0, 700_001):
        walk.amend(number, WAYS[2], None, "As told.", minor)
        check()
        walk.say_yes(number, None)
        check()
        walk.amend(number, WAYS[3], RINGS[0], "", minor)
        walk.change_the_rates(70, 12_345, 3)
        walk.change_a_price("gold", 9_999)
        walk.change_the_studio("<b>")
        check()
        walk.withdraw(number)
        check()
    assert {"variant", "drop", "put", "amend", "withdraw", "yes", "issue"} <= set(done)
    assert (done["amend"], done["withdraw"], done["yes"]) == (6, 3, 4)
    walk.teardown()


def test_a_paper_made_long_afterwards_is_the_paper_of_its_day(priced_book: Path, tmp_path: Path) -> None:
    """Its bytes are the same after everything it was made from became something else."""
    done: Counter[str] = Counter()
    walk = FrozenPapers(priced_book, tmp_path / "book.db", done)
    numbers = [walk.take(rings, "Ada & Jon", ()) for rings in RINGS[1::3]]
    for number in numbers:
        walk.issue(number, None)
    papers = {number: printed(quote_to_print(kept.paper)) for number, kept in walk.issued.items()}
    assert len(papers) == len(numbers)
    walk.change_the_rates(70, 12_345, 3)
    walk.change_a_price("gold", 9_999)
    walk.change_the_studio("<b>")
    walk.put_in_an_alloy(585)
    for figure in PRACTICE[::5]:
        walk.change_the_practice(figure, 0.9, 0)
    for number in numbers:
        walk.change_an_order(number, RINGS[2], "", by_gauge=False)
        walk.change_the_customer(number, "x")
        walk.issue(number, b"%PDF-1.7 another")
    ranged = walk.take(RINGS[3], "", (None,))
    walk.make_its_paper(ranged, b"%PDF-1.7 three")
    walk.make_its_paper(ranged, b"%PDF-1.7 four")
    walk.calibrate(0.1, 6.0)
    walk.go_on(ranged)
    walk.move(ranged, State.AT_THE_BENCH)
    assert set(done) == VERBS
    walk.time_goes_by(timedelta(days=800))
    for number, pdf in papers.items():
        assert printed(quote_to_print(paper_of_issued(walk.session, number))) == pdf, number
    assert len(walk.issued) == 2 * len(numbers) + 1
    walk.every_quote_is_as_it_was_issued()
    walk.teardown()
