"""The label of a job envelope: a small page that says which order lies in it, and not whose."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import httpx
import pytest
from sqlalchemy import Engine

from studio.book.engine import session
from studio.book.order_values import CustomerDraft, Order
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.papers.label import EnvelopeToLabel, empty_labels, label, labels
from studio.papers.printing import printed
from tests.builders import a_design, a_ring, an_order, one_step
from tests.long_texts import LETTERS
from tests.papers.laid_out import glyphs, out_of_page, overlapping
from tests.papers.printed import catalogue, reader, text_of

ApiAs = Callable[[Role], httpx.Client]
MM = 72 / 25.4
ENVELOPE = EnvelopeToLabel(
    number="2026-118",
    customer="Ludwig van Beethoven",
    alloys=("750 yellow gold", "925 silver"),
    bench_on=date(2026, 12, 1),
    promised_at=datetime(2026, 12, 11, 10, tzinfo=UTC),
    wanted_on=None,
    address="https://book.wrenfold.example/orders/2026-118?sheet=q1",
    printed_on=date(2026, 11, 30),
)
WIDEST = replace(
    ENVELOPE,
    number="2026-10118",
    alloys=("750 white gold, 25 % palladium",) * 12,
    bench_on=date(2027, 9, 29),
    promised_at=datetime(2027, 9, 29, 10, tzinfo=UTC),
)


def the_label(envelope: EnvelopeToLabel) -> bytes:
    return printed(labels([envelope], title="Label"))


def written(engine: Engine, **facts: Any) -> Order:
    with session(engine) as book:
        return an_order(book, **facts)


def test_a_label_says_which_order_what_and_by_when() -> None:
    assert text_of(the_label(ENVELOPE)) == (
        "2026-118 L v B, 2 rings 750 yellow gold, 925 silver Bench Tue 1 Dec Promised Fri 11 Dec"
    )


@pytest.mark.parametrize(
    ("changes", "days"),
    [
        ({"bench_on": None, "promised_at": None}, ("No bench day yet", "No day promised")),
        ({"promised_at": None, "wanted_on": date(2027, 1, 5)}, ("Bench Tue 1 Dec", "Wanted Tue 5 Jan 2027")),
    ],
    ids=["no day", "wanted"],
)
def test_days_that_are_not_there_are_told(changes: dict[str, Any], days: tuple[str, ...]) -> None:
    assert label(replace(ENVELOPE, **changes)).days == days


@pytest.mark.parametrize(
    ("alloys", "words"),
    [
        (("750 yellow gold, 3N",), "750 yellow gold, 3N"),
        (("750 yellow gold, 3N",) * 2, "750 yellow gold, 3N"),
        (("750 yellow gold, 3N", "750 white gold, nickel"), "750 yellow gold, 750 white gold"),
    ],
    ids=["one", "a pair alike", "a pair of two"],
)
def test_an_alloy_is_named_once(alloys: tuple[str, ...], words: str) -> None:
    assert label(replace(ENVELOPE, alloys=alloys)).metal == words


def test_a_name_without_a_letter_leaves_the_rings_alone() -> None:
    assert label(replace(ENVELOPE, customer="♥", alloys=("925 silver",))).whose == "1 ring"


@pytest.mark.parametrize("envelope", [ENVELOPE, WIDEST], ids=["usual", "widest"])
def test_a_label_is_a_page_of_62_by_29_mm_and_all_of_it_lies_on_it(envelope: EnvelopeToLabel) -> None:
    pdf = the_label(envelope)
    (page,) = reader(pdf).pages
    assert float(page.mediabox.width) == pytest.approx(62 * MM, abs=0.01)
    assert float(page.mediabox.height) == pytest.approx(29 * MM, abs=0.01)
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert str(catalogue(pdf)["/Lang"]) == "en"


@pytest.mark.parametrize("script", LETTERS)
def test_the_longest_name_and_metal_of_a_script_neither_overlap_nor_fall_off(script: str) -> None:
    word = LETTERS[script] * 3
    name = " ".join([word] * 5)
    pdf = the_label(replace(WIDEST, customer=name, alloys=(f"{name}, its own", f"925 {word}", word)))
    assert len(reader(pdf).pages) == 1
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert 0 not in set(glyphs(pdf))
    words = text_of(pdf)
    assert "Bench Wed 29 Sep 2027 Promised Wed 29 Sep 2027" in words


def test_every_envelope_has_a_page_of_its_own() -> None:
    numbers = [f"2026-{place}" for place in range(1, 14)]
    pdf = printed(labels([replace(ENVELOPE, number=number) for number in numbers], title="Labels"))
    assert [text_of(pdf, page).split()[0] for page in range(1, 14)] == numbers


def test_a_week_without_any_says_so_on_one_label() -> None:
    pdf = printed(empty_labels(date(2026, 11, 30), date(2026, 12, 6)))
    assert text_of(pdf) == "No labels No ring is due at the bench, Mon 30 Nov to Sun 6 Dec 2026"
    assert out_of_page(pdf) == []


@pytest.mark.parametrize("state", [State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER])
def test_an_order_with_a_bench_sheet_has_a_label_without_name_or_contact(
    engine: Engine, api: httpx.Client, state: State
) -> None:
    customer = CustomerDraft("Jorun Müller", "01632 960 411", "jorun@mueller.example", "4 Quay\nPort")
    rings = [a_ring(), a_ring(design=a_design(alloy="silver-925"))]
    order = written(engine, state=state, customer=customer, rings=rings, bench_on=date(2026, 12, 1))
    answer = api.get(f"/orders/{order.number}/label.pdf")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == f'inline; filename="label-{order.number}.pdf"'
    assert text_of(answer.content).startswith(f"{order.number} J M, 2 rings ")
    told = f"{text_of(answer.content)} {reader(answer.content).metadata}"
    for secret in ("Jorun", "Müller", "01632", "411", "mueller", "Quay", "Port"):
        assert secret not in told
        assert secret.encode() not in answer.content


@pytest.mark.parametrize("state", [State.DRAFT, State.QUOTED, State.CALLED_OFF])
def test_an_order_without_a_bench_sheet_has_no_label(engine: Engine, api: httpx.Client, state: State) -> None:
    order = written(engine)
    if state is not State.DRAFT:
        with session(engine) as book:
            order = one_step(book, order, state)
    answer = api.get(f"/orders/{order.number}/label.pdf")
    assert answer.status_code == 409
    assert answer.json() == api.get(f"/orders/{order.number}/bench-sheet.pdf").json()
    assert api.get("/orders/2026-999/label.pdf").status_code == 404


@pytest.mark.parametrize("role", list(Role))
def test_whoever_prints_bench_sheets_prints_labels(engine: Engine, api_as: ApiAs, role: Role) -> None:
    order = written(engine, state=State.AGREED)
    for path in (f"/orders/{order.number}/label.pdf", "/week/labels.pdf"):
        assert api_as(role).get(path).status_code == 200


def test_a_week_has_a_label_for_each_order_due_in_it_by_day(engine: Engine, api: httpx.Client) -> None:
    def due(day: date, name: str, state: State = State.AGREED, rings: int = 1) -> None:
        written(engine, state=state, customer=CustomerDraft(name), bench_on=day, rings=[a_ring()] * rings)

    due(date(2026, 12, 6), "Sunday Person")
    due(date(2026, 11, 30), "Monday Person", State.AT_THE_BENCH, rings=2)
    due(date(2026, 12, 7), "Later Person")
    due(date(2026, 12, 1), "Draft Person", State.DRAFT)
    answer = api.get("/week/labels.pdf", params={"from": "2026-12-03"})
    assert answer.status_code == 200
    assert answer.headers["content-disposition"] == 'inline; filename="labels-2026-11-30.pdf"'
    pages = [text_of(answer.content, page) for page in range(1, len(reader(answer.content).pages) + 1)]
    assert ["M P, 2 rings" in pages[0], "S P, 1 ring" in pages[1], len(pages)] == [True, True, 2]
    information = reader(answer.content).metadata
    assert information is not None
    assert information.title == "Labels, Mon 30 Nov to Sun 6 Dec 2026"
    empty = api.get("/week/labels.pdf", params={"from": "2026-12-21"})
    assert "No labels" in text_of(empty.content)
    wrong = api.get("/week/labels.pdf", params={"from": "soon"})
    assert (wrong.status_code, wrong.json()["errors"][0]["field"]) == (422, "from")
