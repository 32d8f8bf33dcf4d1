"""A finger measured on two days: kept, read back, and surer."""

import pytest

from studio.book.orders import order
from tests.builders import a_finger, a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

PAGE = "/orders/2026-1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def test_a_second_measure_is_kept_and_said_wherever_the_finger_is(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book, rings=[a_ring(a_finger(is_on_two_days=True)), a_ring()])
        twice, once = order(book, "2026-1").rings
    assert (twice.finger.is_on_two_days, once.finger.is_on_two_days) == (True, False)
    assert twice.reckoning.doubt.plus_minus_mm < once.reckoning.doubt.plus_minus_mm
    assert "gauge 6 mm wide, on two days, warm hands" in morning.see(PAGE).words
    at_the_counter = [morning.see(f"{PAGE}/rings/{place}").form(f"{PAGE}/rings/{place}") for place in (1, 2)]
    assert [form.fields.get("finger.two_days") for form in at_the_counter] == ["yes", None]
