"""The drawer in a browser: pieces are put in, put right, set aside and taken out."""

from typing import Any

import pytest

from studio.book.piece_reads import Piece, pieces
from studio.craft.roles import Role
from tests.builders import an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning

PAGE = "/metal"
TYPED = {
    "kind-new": "sheet",
    "alloy-new": "silver-925",
    "length-new": "19.8 cm",
    "width-new": "24",
    "thickness-new": "1,5",
    "mass-new": "73.8",
    "place-new": "top drawer",
    "lot-new": "A-77",
}


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def put(morning: Morning, *, role: Role = Role.OWNER, **changes: Any) -> tuple[int, str]:
    form = morning.see(PAGE, role).form(PAGE)
    typed = TYPED | {f"{name}-new": value for name, value in changes.items()}
    status, _, page = morning.send(PAGE, form.filled(**typed), role)
    return status, page.words


def lying(morning: Morning) -> tuple[Piece, ...]:
    with morning.book() as book:
        return pieces(book)


@pytest.mark.parametrize("role", Role)
def test_a_piece_is_put_in_and_stands_on_the_page(morning: Morning, role: Role) -> None:
    assert put(morning, role=role)[0] == 303
    words = morning.see(PAGE, role).words
    assert "925 silver 73.80 g" in words
    assert "S-001 sheet 198 × 24 × 1.5 73.80 g top drawer, lot A-77" in words


def test_a_wire_of_equal_sides_has_one_size_and_a_gauge_is_read(morning: Morning) -> None:
    sides: dict[str, Any] = {
        "kind": "wire",
        "profile": "round",
        "thickness": "12 ga",
        "width": "",
        "mass": "",
    }
    assert put(morning, **sides)[0] == 303
    (wire,) = lying(morning)
    assert wire.measures.width_mm == wire.measures.thickness_mm == pytest.approx(2.053)
    assert "round wire 2.05, 198 long" in morning.see(PAGE).words


@pytest.mark.parametrize(
    ("name", "typed", "sentence"),
    [
        ("alloy", "", "The metal is not chosen yet."),
        ("length", "", "The length is not given yet."),
        ("width", "wide", "We cannot read"),
        ("thickness", "150", "0.1 to 20"),
        ("mass", "60", "Its measures give 73.85 g. Look at both again"),
        ("kind", "wire", "The section of the wire is not chosen yet."),
        ("order", "2026-99", "There is no order"),
        ("is_customers", "yes", "order is not given yet"),
    ],
)
def test_what_is_no_piece_is_put_right_beside_its_field(
    morning: Morning, name: str, typed: str, sentence: str
) -> None:
    status, words = put(morning, **dict[str, Any]({name: typed}))
    assert status == 422
    assert sentence in words
    assert lying(morning) == ()


def test_a_weight_that_is_right_all_the_same_is_taken(morning: Morning) -> None:
    assert put(morning, mass="60")[0] == 422
    assert put(morning, mass="60", is_sure="yes")[0] == 303
    assert lying(morning)[0].mass_g == 60


def test_what_was_paid_is_the_owners_to_see_and_stays_when_others_change_the_piece(morning: Morning) -> None:
    put(morning, paid="95.00")
    assert "£95.00" in morning.see(PAGE).words
    seen = morning.see(PAGE, Role.MAKER)
    assert "95.00" not in seen.words
    form = seen.form(f"{PAGE}/1")
    assert morning.send(f"{PAGE}/1", form.filled(**{"place-1": "safe"}), Role.MAKER)[0] == 303
    assert (lying(morning)[0].paid_minor, lying(morning)[0].place) == (9500, "safe")


def test_a_piece_is_set_aside_and_freed(morning: Morning) -> None:
    put(morning)
    with morning.book() as book:
        mine, other = an_order(book).number, an_order(book).number
    way = f"{PAGE}/1/aside"
    form = morning.see(PAGE).form(way)
    assert morning.send(way, form.filled(**{"aside-1": mine}))[0] == 303
    assert f"for {mine}" in morning.see(PAGE).words
    status, _, page = morning.send(way, form.filled(**{"aside-1": other, "idempotency_key": "again"}))
    assert status == 409
    assert f"S-001 is set aside for order {mine}." in page.words
    assert morning.send(way, morning.see(PAGE).form(way).fields)[0] == 303
    assert lying(morning)[0].order is None


def test_a_piece_is_taken_out_with_a_word_why(morning: Morning) -> None:
    put(morning)
    way = f"{PAGE}/1/out"
    form = morning.see(PAGE).form(way)
    assert morning.send(way, form.filled(**{"why-1": ""}))[0] == 422
    assert morning.send(way, form.filled(**{"why-1": "sold", "idempotency_key": "again"}))[0] == 303
    assert "The drawer is empty" in morning.see(PAGE).words


def test_of_two_people_at_one_piece_the_second_is_told(morning: Morning) -> None:
    put(morning)
    form = morning.see(PAGE).form(f"{PAGE}/1")
    assert morning.send(f"{PAGE}/1", form.filled(**{"place-1": "safe"}))[0] == 303
    again = form.filled(**{"place-1": "bench", "idempotency_key": "again"})
    status, _, page = morning.send(f"{PAGE}/1", again)
    assert status == 409
    assert "Somebody else had this piece in hand meanwhile" in page.words
    assert page.form(f"{PAGE}/1").fields["place-1"] == "bench"  # nothing typed is lost
    assert "safe" in page.words
    assert morning.send(f"{PAGE}/1", page.form(f"{PAGE}/1").fields)[0] == 303
    assert lying(morning)[0].place == "bench"


def test_an_unknown_order_is_told_beside_the_field_it_was_typed_in(morning: Morning) -> None:
    form = morning.see(PAGE).form(PAGE)
    _, _, page = morning.send(PAGE, form.filled(**TYPED | {"order-new": "2026-99"}))
    assert "There is no order" in page.by_id("f-order-new-wrong")
    put(morning)
    way = f"{PAGE}/1/aside"
    _, _, page = morning.send(way, morning.see(PAGE).form(way).filled(**{"aside-1": "2026-99"}))
    assert "There is no order" in page.by_id("f-aside-1-wrong")


def test_what_was_paid_is_not_told_to_a_maker_who_comes_second(morning: Morning) -> None:
    put(morning, paid="95.00")
    form = morning.see(PAGE, Role.MAKER).form(f"{PAGE}/1")
    assert morning.send(f"{PAGE}/1", form.filled(**{"place-1": "safe"}), Role.MAKER)[0] == 303
    again = form.filled(**{"place-1": "bench", "idempotency_key": "again"})
    status, _, page = morning.send(f"{PAGE}/1", again, Role.MAKER)
    assert status == 409
    assert "95.00" not in page.words
