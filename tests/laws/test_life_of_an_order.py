"""Whatever is done to orders, in whatever turn, the book says the same as a plain model of it.

Hypothesis walks: it takes orders, changes, quotes, agrees, pays, moves, undoes, lets days go by, and comes
with stale versions. A refusal must be the expected one and must leave everything as it was.
"""

import shutil
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.stateful import (
    run_state_machine_as_test,
)

from studio.book import engine as engines
from studio.book.quotes import (
    quotable,
)
from studio.craft.orders import State
from tests.builders import TODAY
from tests.laws.life import PHONE, RINGS, LifeOfOrders, quick_book
from tests.laws.plain_order import MOVES
from tests.quoting import put_figures


@pytest.fixture
def priced_book(founded_book: Path, tmp_path: Path) -> Path:
    """A book with rates and prices and no order yet."""
    founded = Path(shutil.copy(founded_book, tmp_path / "priced.db"))
    engine = quick_book(founded)
    with engines.session(engine) as session:
        put_figures(session)
    engine.dispose()
    return founded


def test_every_life_of_an_order_is_the_one_the_model_foretells(priced_book: Path, tmp_path: Path) -> None:
    run_state_machine_as_test(
        lambda: LifeOfOrders(priced_book, tmp_path / "book.db"),  # type: ignore[arg-type]  # Hypothesis takes whatever makes a machine
        settings=settings(max_examples=18, stateful_step_count=30),
    )


@pytest.mark.parametrize(("start", "end"), sorted(MOVES))
def test_every_move_of_the_table_ends_where_the_model_says(
    start: State, end: State, priced_book: Path, tmp_path: Path
) -> None:
    life = LifeOfOrders(priced_book, tmp_path / "book.db")
    life.take(PHONE, TODAY, TODAY, RINGS[:1], 0)
    (stands,) = life.orders.values()
    if start is State.QUOTED:
        life.issue(quotable(life.session, stands.number, now=life.now), b"%PDF-1.7 one")
    elif start is State.CALLED_OFF:
        life.move(stands, start, "She asked for it.")
    while stands.state is not start:
        life.go_on(stands)
    life.move(stands, end, None)
    if MOVES[start, end]:
        assert stands.state is start
        life.move(stands, end, "She asked for it.")
    assert stands.state is end
    life.teardown()
