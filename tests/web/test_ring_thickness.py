"""The measured thickness of the strip on the order's page, and the mark for it."""

import pytest

from studio.book.orders import order
from studio.craft.roles import Role
from tests.builders import a_ring, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

PAGE = "/orders/2026-1"
WAY = f"{PAGE}/rings/1/thickness"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        an_order(book, rings=[a_ring()])
    return found


@pytest.mark.parametrize("role", Role)
def test_the_mark_for_the_strip_as_it_measures(morning: Morning, role: Role) -> None:
    assert "Thickness of the strip, measured" in morning.see(PAGE, role).words
    page = morning.see(f"{WAY}?measured=1%2C63", role)
    assert "For 1.63 mm: mark " in page.words
    with morning.book() as book:
        (ring,) = order(book, "2026-1").rings
    # pi x 0.03 longer, and less by what the pattern stretches: 0.09 mm
    mark = ring.reckoning.mark_mm
    assert ring.design.thickness_mm == 1.6
    assert f"mark {mark + 0.094:.1f} mm" in page.words


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [("", "The thickness is not given yet."), ("thick", "We cannot read"), ("16", "Did you mean 1.6?")],
)
def test_what_is_no_thickness_is_put_right_beside_its_field(
    morning: Morning, typed: str, sentence: str
) -> None:
    page = morning.see(f"{WAY}?measured={typed}")
    assert page.status == 422
    assert sentence in page.words


def test_a_ring_that_is_not_there_has_no_strip(morning: Morning) -> None:
    assert morning.see(f"{PAGE}/rings/7/thickness?measured=1.6").status == 404
