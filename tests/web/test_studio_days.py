"""The studio's closed days, and a promise counted back over them at the counter."""

import pytest

from studio.book.studio import studio, studio_days
from studio.craft.open_days import NOT_SAID, DaysNeeded
from studio.craft.roles import Role
from tests.web.counter_desk import part, typed, words
from tests.web.house import House, a_ring, an_order
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

SAVE = "Save for the papers"
TOLD = {
    "closed_weekdays": "Sun, monday",
    "closed_on": "26 Dec\n25 Dec 2026\n2026-12-25",
    "making_days": "3",
    "assay_days": "5",
    "finishing_days": "1",
}


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def save(morning: Morning, **told: str) -> tuple[int, str, Shown]:
    form = morning.see("/studio").form("/studio/facts")
    return morning.send("/studio/facts", form.filled(SAVE) | {"hallmark_rule": "uk"} | told)


def date_notes(morning: Morning, **changed: str) -> str:
    headers = morning._cookie(Role.COUNTER)
    answer = morning.house.browse(
        "POST", "/counter/figures", Role.COUNTER, headers=headers, data=typed(wanted_on="", **changed)
    )
    return words(part(answer.text, "date-notes"))


def test_days_are_kept_and_come_back_in_words(morning: Morning) -> None:
    assert save(morning, **TOLD)[0] == 303
    with morning.book() as book:
        kept, facts = studio_days(book), studio(book)
    assert kept.needed == DaysNeeded(3, 5, 1)
    assert kept.open.closed_weekdays == {0, 6}
    assert facts.closed_on == "2026-12-25\n2026-12-26"
    fields = morning.see("/studio").form("/studio/facts").fields
    assert fields["closed_weekdays"] == "Monday, Sunday"
    assert fields["closed_on"] == "Fri 25 Dec 2026\nSat 26 Dec 2026"
    assert save(morning)[0] == 303, "what comes back can be saved again"
    with morning.book() as book:
        assert studio_days(book) == kept


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("closed_weekdays", "Sun, Moonday", "Moonday is no weekday. Type it like Sunday."),
        ("closed_weekdays", "s", "s is no weekday. Type it like Sunday."),
        ("closed_weekdays", "mo tu we th fr sa su", "Closed every day? Leave one open."),
        ("closed_on", "\n".join(["25 Dec"] * 201), "At most 200 days have room. Leave past ones out."),
        ("making_days", "121", None),
        ("assay_days", "soon", None),
    ],
)
def test_what_is_no_day_is_told_at_its_field(
    morning: Morning, field: str, value: str, sentence: str | None
) -> None:
    status, _, page = save(morning, **TOLD | {field: value})
    wrong = page.described[f"f-{field.replace('_', '-')}-wrong"]
    assert status == 422
    assert sentence is None or wrong == sentence
    assert page.form("/studio/facts").fields["finishing_days"] == "1"
    with morning.book() as book:
        assert studio_days(book) == NOT_SAID


def test_a_promise_is_counted_back_over_closed_days_and_the_assay(morning: Morning) -> None:
    """By hand, back from Friday 18 December 2026, without Sundays and Mondays: 17 16 15 12 11 10 9 8 5."""
    save(morning, **TOLD)
    assert "to be begun by Sat 5 Dec" in date_notes(morning, promised_on="18 Dec 2026")
    plain = {"alloy": "silver-925", "width": "3", "thickness": "1.2"}
    assert "to be begun by Sat 12 Dec" in date_notes(morning, promised_on="18 Dec 2026", **plain)
    late = date_notes(morning, promised_on="18 Dec 2026", bench_on="8 Dec 2026")
    assert "It takes 9 open days with the assay: to be begun by Sat 5 Dec." in late


def test_setting_engraving_and_plating_take_days_of_their_own(morning: Morning) -> None:
    """Back from Friday 18 December 2026, without Sundays and Mondays: 17 16 15 12 11 10 9 8 5 4 3 2 1."""
    save(morning, **TOLD, setting_days="2", engraving_days="1", plating_days="1")
    with morning.book() as book:
        assert studio_days(book).needed == DaysNeeded(3, 5, 1, 2, 1, 1)
    work = {
        "stones.asked": "some",
        "stones.0.count": "3",
        "stones.0.stated": "ruby",
        "inscription.face": "inside",
        "inscription.text": "Ada",
        "finish.outside": "plated",
    }
    assert "to be begun by Sat 5 Dec" in date_notes(morning, promised_on="18 Dec 2026")
    assert "to be begun by Tue 1 Dec" in date_notes(morning, promised_on="18 Dec 2026", **work)
    late = date_notes(morning, promised_on="18 Dec 2026", bench_on="8 Dec 2026", **work)
    assert "It takes 13 open days with the assay, engraving, setting and plating: to be begun" in late


def test_over_the_api_an_order_is_counted_back_with_its_steps_and_its_warning(morning: Morning) -> None:
    save(morning, **TOLD, setting_days="2", engraving_days="1", plating_days="1")
    house = morning.house
    work = {"stones": [{"stated": "ruby"}], "inscription": {"text": "Ada"}, "finish": {"outside": "plated"}}
    ring = a_ring(alloy="gold-750-yellow", **work)
    days_of = {"wanted_on": "2026-12-19", "promised_at": "2026-12-18T11:00:00Z", "bench_on": "2026-12-08"}
    taken = house.ask("POST", "/api/orders", Role.COUNTER, json=an_order(rings=[ring], **days_of))
    path = f"/api/orders/{taken.json()['number']}"
    assert house.ask("GET", path, Role.MAKER).json()["days"] == {
        "bench_on_latest": "2026-12-01",
        "open_days": 13,
        "steps": [
            {"what": "making", "from": "2026-12-01", "to": "2026-12-03"},
            {"what": "assay", "from": "2026-12-04", "to": "2026-12-10"},
            {"what": "engraving", "from": "2026-12-11", "to": "2026-12-11"},
            {"what": "setting", "from": "2026-12-12", "to": "2026-12-15"},
            {"what": "finishing", "from": "2026-12-16", "to": "2026-12-16"},
            {"what": "plating", "from": "2026-12-17", "to": "2026-12-17"},
        ],
        "short_by_days": 0,
        "warning": "It takes 13 open days with the assay, engraving, setting and plating:"
        " to be begun by Tue 1 Dec.",
    }
    soon = {"version": 1, "promised_at": "2026-12-03T11:00:00Z", "bench_on": None}
    days = house.ask("PATCH", path, Role.COUNTER, json=soon).json()["days"]
    assert days["short_by_days"] == 7
    assert days["warning"].endswith(": 7 days short, even begun today.")
    none = {"version": 2, "promised_at": None, "wanted_on": None}
    assert house.ask("PATCH", path, Role.COUNTER, json=none).json()["days"] is None


def test_over_the_api_a_studio_that_said_nothing_has_no_days(morning: Morning) -> None:
    taken = morning.house.ask("POST", "/api/orders", Role.COUNTER, json=an_order())
    path = f"/api/orders/{taken.json()['number']}"
    assert morning.house.ask("GET", path, Role.COUNTER).json()["days"] is None


def test_what_will_not_fit_is_said_and_by_how_much(morning: Morning) -> None:
    """Today is Wednesday 25 November 2026; by hand, 25 26 27 28 November and 1 2 December are open: 9 - 6."""
    save(morning, **TOLD)
    told = date_notes(morning, promised_on="3 Dec 2026")
    assert "It takes 9 open days with the assay: 3 days short, even begun today." in told
    assert "when we are closed" in date_notes(morning, promised_on="21 Dec 2026")
    assert "when we are closed" in date_notes(morning, promised_on="25 Dec 2026")


def test_a_studio_that_said_nothing_is_told_nothing(morning: Morning) -> None:
    told = date_notes(morning, promised_on="26 Nov 2026")
    assert "begun" not in told
    assert "short" not in told
