"""What is ticked at the bench teaches the next reckoning: made-up rings, measured through the pages."""

import re
from random import Random

from studio.book.engine import session
from studio.book.people import PROGRAM
from studio.clock import now
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import an_order
from tests.web.house import House
from tests.web.shown import Shown

# The belief before any ring of one's own: 'common practice, no source', see craft/stretch.py.
BELIEVED = 1.5
TRUTH, SPREAD = 2.6, 0.4
RINGS = 14
A_RING = (
    "finger.system=uk&finger.size=O&finger.measured=ring&profile=flat&width=6&thickness=1.6"
    "&alloy=gold-750-yellow&pattern=hammered&pattern_when=flat"
)
TOLD = ("Stretch to expect", "Stretch, low end", "Stretch, high end", "Mark")


def told(house: House) -> tuple[float, ...]:
    """What the counter expects of the next ring: the mean and its interval in percent, and the mark in mm."""
    words = Shown(house.browse("GET", f"/counter/came-about?{A_RING}", Role.COUNTER)).words
    found = [re.search(rf"{heading} ([\d.]+) (?:%|mm) =", words) for heading in TOLD]
    return tuple(float(one[1]) for one in found if one is not None)


def tick(house: House, number: str, figure: float) -> None:
    """Tick the step that is done now, with its figure, on the page of the ring."""
    where = f"/bench/{number}/1"
    form = Shown(house.browse("GET", where, Role.MAKER)).form(where)
    sent = dict(form.fields) | {"act": "done", "figure": f"{figure:.2f}"}
    assert house.browse("POST", where, Role.MAKER, data=sent).status_code == 303


def test_rings_ticked_at_the_bench_bring_a_wrong_belief_to_the_truth(house: House) -> None:
    chance = Random(7)  # noqa: S311  made-up rings, no secret
    expected, held = [told(house)], 0
    assert abs(expected[0][0] - BELIEVED) < 0.01
    for _ in range(RINGS):
        with session(house.engine) as book:
            number = an_order(book, state=State.AT_THE_BENCH, actor=PROGRAM, now=now()).number
        percent = chance.gauss(TRUTH, SPREAD)
        for figure in (9.2, 60.0, 60.0 * (1 + percent / 100)):
            tick(house, number, figure)
        _, low, high, _ = expected[-1]
        held += low <= percent <= high
        expected.append(told(house))
    assert abs(expected[-1][0] - TRUTH) < 0.25
    (_, low, high, mark), (_, low_now, high_now, mark_now) = expected[0], expected[-1]
    assert high_now - low_now < high - low
    assert mark_now < mark - 0.5  # what stretches more is marked shorter
    # Nine in ten are promised once the belief is right; of the first few it may miss more.
    assert held >= RINGS - 3
