"""Hallmark and sponsor's mark of a ring: asked, priced, shown and kept with the quote."""

from typing import Any

import pytest
from sqlmodel import select

from studio.book.frozen import rings_read
from studio.book.live_price import price_of
from studio.book.orders import Order, order
from studio.book.quote_tables import QuoteRow
from studio.craft.hallmark import HallmarkRule, is_marked
from studio.craft.orders import State
from studio.craft.particulars import MarkPlace, Marks, MarkWish, Particulars
from studio.craft.rates import Extra
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.roles import Role
from studio.papers.particulars_words import marks_sentence
from studio.papers.quote_words import weight_sentence
from tests.builders import TODAY, a_design, a_finger, a_ring, an_order
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.house import a_ring as a_ring_body
from tests.web.house import an_order as an_order_body
from tests.web.morning import Morning, a_morning

PAGE = "/orders/2026-1"
FORM = f"{PAGE}/rings/1/marks"
EXEMPT, REQUIRED = (reckon(a_finger(), a_design(alloy=alloy)) for alloy in ("silver-925", "gold-750-yellow"))
BRASS = reckon(a_finger(), a_design(alloy="brass"))


def wish(hallmark: MarkWish) -> Marks:
    return Marks(hallmark)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        put_figures(book)
        an_order(book, rings=[a_ring(design=a_design(alloy="silver-925"))])
    return opened


def stands(morning: Morning) -> Order:
    with morning.book() as book:
        return order(book, "2026-1")


def send(
    morning: Morning, hallmark: str, sponsor: str = "yes", where: str = "inside shank"
) -> tuple[int, Any]:
    form = morning.see(PAGE, Role.COUNTER).form(FORM)
    typed = {"marks-ring-1-hallmark": hallmark, "marks-ring-1-sponsor": sponsor, "marks-ring-1-where": where}
    status, _, page = morning.send(FORM, form.fields | typed, Role.COUNTER)
    return status, page


@pytest.mark.parametrize(
    ("ring", "marks", "rule", "is_charged"),
    [
        (EXEMPT, None, HallmarkRule.UK, False),
        (EXEMPT, wish(MarkWish.AS_RULE), HallmarkRule.UK, False),
        (EXEMPT, wish(MarkWish.THOUGH_EXEMPT), HallmarkRule.UK, True),
        (EXEMPT, wish(MarkWish.THOUGH_EXEMPT), HallmarkRule.NONE, True),
        (EXEMPT, wish(MarkWish.NONE), HallmarkRule.CONVENTION, True),
        (REQUIRED, wish(MarkWish.NONE), HallmarkRule.UK, True),
        (REQUIRED, wish(MarkWish.NONE), HallmarkRule.NONE, False),
        (BRASS, wish(MarkWish.THOUGH_EXEMPT), HallmarkRule.UK, False),
    ],
)
def test_what_is_wished_is_charged_within_what_the_rule_asks(
    ring: Reckoning, marks: Marks | None, rule: HallmarkRule, *, is_charged: bool
) -> None:
    assert is_marked(ring, rule, marks) is is_charged


def test_a_mark_though_exempt_has_its_line_in_the_price(morning: Morning) -> None:
    def assays(marks: Marks | None) -> list[str]:
        with morning.book() as book:
            live = price_of(book, [EXEMPT], day=TODAY, particulars=[Particulars(marks=marks)])
        assert live.breakdown is not None
        return [one.text for one, _ in live.breakdown.rings[0].extras if one.kind is Extra.ASSAY]

    assert assays(None) == []
    assert assays(wish(MarkWish.THOUGH_EXEMPT)) == ["Its hallmark"]


def test_the_marks_are_asked_on_the_order_s_page_and_told_there(morning: Morning) -> None:
    assert "marks of ring 1" in stands(morning).missing.nice
    assert send(morning, "marked though exempt", "no", "outside")[0] == 303
    marks = Marks(MarkWish.THOUGH_EXEMPT, has_sponsor=False, where=MarkPlace.OUTSIDE)
    assert stands(morning).rings[0].particulars.marks == marks
    assert "marks of ring 1" not in stands(morning).missing.nice
    words = morning.see(PAGE, Role.MAKER).words
    assert "Marked though exempt, no sponsor's mark, outside" in words
    assert "ring 1, marks marked though exempt, no sponsor's mark, outside, before nothing" in words
    assert send(morning, "")[0] == 303
    assert stands(morning).rings[0].particulars.marks is None


def test_other_marks_make_a_quoted_order_a_draft_and_none_are_asked_after_the_yes(morning: Morning) -> None:
    with morning.book() as book:
        a_quote(book, stands(morning))
    assert send(morning, "marked though exempt")[0] == 303
    assert stands(morning).state is State.DRAFT
    with morning.book() as book:
        quote = a_quote(book, stands(morning))
        a_yes(book, quote)
        row = book.exec(select(QuoteRow).where(QuoteRow.number == quote.number)).one()
        (kept,) = rings_read(row.frozen["rings"])
    assert (kept.particulars.marks, kept.is_marked) == (Marks(MarkWish.THOUGH_EXEMPT), True)
    assert FORM not in [form.action for form in morning.see(PAGE, Role.COUNTER).forms]


def test_marks_that_have_no_place_are_told_at_their_field(morning: Morning) -> None:
    status, page = send(morning, "as the rule asks", "yes", "none")
    assert status == 422
    assert "Marks are struck somewhere" in page.by_id("f-marks-ring-1-where-wrong")
    assert page.form(FORM).fields["marks-ring-1-where"] == "none"
    assert send(morning, "no mark where the rule leaves it free", "no", "none")[0] == 303


def test_a_ring_changed_at_the_counter_keeps_its_marks(morning: Morning) -> None:
    send(morning, "marked though exempt")
    form = morning.see(f"{PAGE}/rings/1", Role.COUNTER).form(f"{PAGE}/rings/1")
    status, _, page = morning.send(form.action, form.fields | {"width": "5", "act": "save"}, Role.COUNTER)
    assert status == 303, page.words
    ring = stands(morning).rings[0]
    assert (ring.design.width_mm, ring.particulars.marks) == (5, Marks(MarkWish.THOUGH_EXEMPT))


def test_over_the_api_they_are_sent_and_given_back(morning: Morning) -> None:
    marks = {"hallmark": "no mark where the rule leaves it free", "sponsor": False, "where": "none"}
    house = morning.house
    body = an_order_body(rings=[a_ring_body(marks=marks)])
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=body)
    assert taken.status_code == 201, taken.text
    path = f"/api/orders/{taken.json()['number']}"
    (ring,) = house.ask("GET", path, Role.MAKER).json()["rings"]
    assert ring["marks"] == marks
    back = {name: value for name, value in ring.items() if name not in {"ring", "reckoning"}}
    same = house.ask("PATCH", path, Role.COUNTER, json={"version": 1, "rings": [back]})
    assert (same.status_code, same.json()["version"]) == (200, 1)
    body = an_order_body(rings=[a_ring_body(marks={"where": "none"})])
    refused = house.ask("POST", "/api/orders", Role.COUNTER, json=body)
    assert [one["field"] for one in refused.json()["errors"]] == ["rings.0.marks.where"]


def test_the_customer_reads_what_was_wished() -> None:
    assert marks_sentence(None) == ""
    assert marks_sentence(wish(MarkWish.THOUGH_EXEMPT)) == (
        "Hallmarked though exempt; our sponsor's mark; inside the shank."
    )
    none = Marks(MarkWish.NONE, has_sponsor=False, where=MarkPlace.NONE)
    assert marks_sentence(none) == "No hallmark where the rule leaves it free; without our sponsor's mark."
    told = weight_sentence(EXEMPT, HallmarkRule.UK, wish(MarkWish.THOUGH_EXEMPT))
    assert told.endswith("finished; hallmarked")
    assert "hallmarked" not in weight_sentence(BRASS, HallmarkRule.UK, wish(MarkWish.THOUGH_EXEMPT))
