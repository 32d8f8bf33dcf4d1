"""The page of the studio's practice: every figure editable, dated, with its source, nothing typed lost."""

from datetime import timedelta

import pytest

from studio.book.orders import order
from studio.book.practices import practice_history, practice_on
from studio.craft.designs import Profile
from studio.craft.practice import COMMON_PRACTICE, FitRow, Practice
from studio.craft.practice_figures import Choice, Figure, figures, value_at
from studio.craft.roles import Role
from studio.web.counter_stored import ring_form
from studio.web.practice_form import field_of, field_words, practice_texts
from tests.builders import TODAY, an_order
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.shown import Shown

ADDRESS = "/studio/practice"
SAVE = "Keep this practice"
DAY = timedelta(days=1)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def save(morning: Morning, typed: dict[str, str]) -> tuple[int, str, Shown]:
    """Send the form with what stands, `typed` put in."""
    return morning.send(ADDRESS, morning.see(ADDRESS).form(ADDRESS).filled(SAVE) | typed)


def stands(morning: Morning, ahead: int = 0) -> Practice:
    with morning.book() as book:
        return practice_on(book, TODAY + ahead * DAY)


def test_a_new_book_shows_common_practice_and_says_so(morning: Morning) -> None:
    page = morning.see(ADDRESS)
    assert "All of it is common practice, no source, as written down on Wed 25 Nov 2026." in page.words
    assert "Nothing was changed yet." in page.words
    lists = {field_of(one.path) for one in figures() if isinstance(one, Choice)}
    stands = {name: text for name, text in practice_texts(COMMON_PRACTICE).items() if name not in lists}
    assert stands.items() <= page.form(ADDRESS).fields.items()
    assert ("Practice", ADDRESS) in morning.see("/studio").links


@pytest.mark.parametrize(
    "figure", [one for one in figures() if isinstance(one, Figure)], ids=lambda one: one.path
)
def test_every_figure_can_be_changed_and_says_since_when_and_why(morning: Morning, figure: Figure) -> None:
    value = round(figure.low + (figure.high - figure.low) * 0.37, 3)
    name = field_of(figure.path)
    status, where, _ = save(morning, {name: f"{value} {figure.unit}", "source": "our own trials"})
    assert (status, where) == (303, f"{ADDRESS}#changes")
    assert value_at(stands(morning), figure.path) == value
    page = morning.see(ADDRESS)
    assert page.by_id(f"{name}-said") == "our own trials, from 25 Nov 2026"
    with morning.book() as book:
        (entry,) = practice_history(book)
    assert set(entry.changed) == {figure.path}
    assert f"{figure.label}: " in page.by_id("changes")


def test_every_choice_can_be_changed(morning: Morning) -> None:
    for choice in (one for one in figures() if isinstance(one, Choice)):
        other = next(key for key in choice.words if key != _key(value_at(stands(morning), choice.path)))
        assert save(morning, {field_of(choice.path): other})[0] == 303
        assert _key(value_at(stands(morning), choice.path)) == other
        assert save(morning, {field_of(choice.path): "neither"})[0] == 422


def _key(value: object) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def test_the_fit_rule_is_typed_row_by_row(morning: Morning) -> None:
    typed = {
        "fit-common-0-up": "5", "fit-common-0-add": "0.25", "fit-common-1-up": "", "fit-common-1-add": " ",
        "fit-common-4-up": "12 mm", "fit-common-4-add": "+1,5", "fit-common-wider": "2",
    }  # fmt: skip
    assert save(morning, typed)[0] == 303
    assert stands(morning).fit_rule == (
        FitRow(5.0, 0.25), FitRow(8.0, 1.0), FitRow(10.0, 1.25), FitRow(12.0, 1.5), FitRow(None, 2.0),
    )  # fmt: skip
    page = morning.see(ADDRESS)
    assert (
        "Fit: to 5 mm +0.25, to 8 mm +1, to 10 mm +1.25, to 12 mm +1.5, wider +2; it was to 4 mm 0"
        in page.words
    )


def test_a_section_has_a_rule_of_its_own_until_it_is_emptied(morning: Morning) -> None:
    typed = {"fit-court-0-up": "8", "fit-court-0-add": "0", "fit-court-wider": "0.5"}
    assert save(morning, typed)[0] == 303
    own = (FitRow(8.0, 0.0), FitRow(None, 0.5))
    assert (stands(morning).fit_rows(Profile.COURT), stands(morning).fit_rows(Profile.FLAT)) == (
        own, COMMON_PRACTICE.fit_rule,
    )  # fmt: skip
    assert "Court: its own rule" in morning.see(ADDRESS).words
    assert save(morning, dict.fromkeys(typed, ""))[0] == 303
    assert stands(morning).fit_rows(Profile.COURT) == COMMON_PRACTICE.fit_rule
    assert "Fit, court: as the others; it was to 8 mm 0, wider +0.5" in morning.see(ADDRESS).words


def test_what_is_to_be_put_right_stands_beside_its_field_and_nothing_typed_is_lost(morning: Morning) -> None:
    typed = {
        "figure-kerf-mm": "9", "figure-trim-each-end-mm": "abc", "figure-doubt-day-mm": "",
        "fit-common-1-up": "3", "fit-common-2-add": "", "fit-court-wider": "77", "fit-common-wider": "",
        "figure-finishing-loss-percent": "1,234", "from_day": "24 Nov 2026", "source": "a book",
    }  # fmt: skip
    status, _, page = save(morning, typed)
    assert status == 422
    assert page.form(ADDRESS).fields.items() >= typed.items()
    for name, words in {
        "figure-kerf-mm": "This has to be 0 to 2 mm.",
        "figure-trim-each-end-mm": "We cannot read 'abc' as a trim at each end. Type it like 6 or 6.5.",
        "figure-doubt-day-mm": "This is not given yet.",
        "figure-finishing-loss-percent": "1,234 could be a thousand or a fraction.",
        "fit-common-1-up": "This row has to be wider than 4 mm.",
        "fit-common-2-add": "This is not given yet.",
        "fit-common-wider": "This is not given yet.",
        "fit-court-wider": "This has to be −5 to 5 mm.",
    }.items():
        assert page.by_id(f"f-{name}-wrong").startswith(words)
        assert any(href == f"#f-{name}" and text.startswith(field_words()[name]) for text, href in page.links)
    assert stands(morning) is COMMON_PRACTICE


def test_a_day_that_is_past_is_said_beside_it(morning: Morning) -> None:
    status, _, page = save(morning, {"figure-kerf-mm": "0.3", "from_day": "24 Nov 2026"})
    assert (status, page.by_id("f-from-day-wrong")) == (
        422, "This day is past. Figures hold from today on, or from a day to come.",
    )  # fmt: skip


def test_a_change_of_a_day_to_come_waits_and_later_ones_leave_it_alone(morning: Morning) -> None:
    assert save(morning, {"figure-kerf-mm": "0.35", "from_day": "2 Dec 2026"})[0] == 303
    page = morning.see(ADDRESS)
    assert "Still to come From Wed 2 Dec 2026: One saw cut: 0.31 to 0.35 mm" in page.words
    assert page.form(ADDRESS).fields["figure-kerf-mm"] == "0.31"
    assert save(morning, {"figure-trim-each-end-mm": "0.6", "from_day": "9 Dec 2026"})[0] == 303
    assert save(morning, {"figure-finishing-loss-percent": "4"})[0] == 303
    assert [(stands(morning, n).kerf_mm, stands(morning, n).trim_each_end_mm) for n in (0, 7, 14)] == [
        (0.31, 0.5), (0.35, 0.5), (0.35, 0.6),
    ]  # fmt: skip
    assert {stands(morning, n).finishing_loss_percent for n in (0, 7, 14)} == {4.0}


def test_two_owners_at_once_see_both_versions(morning: Morning) -> None:
    mine = morning.see(ADDRESS).form(ADDRESS).filled(SAVE) | {"figure-kerf-mm": "0.2"}
    assert save(morning, {"figure-kerf-mm": "0.25"})[0] == 303
    status, _, page = morning.send(ADDRESS, mine)
    assert status == 409
    assert "Somebody else changed the practice meanwhile" in page.words
    assert "One saw cut you typed 0.2 stands now 0.25" in page.words
    assert page.form(ADDRESS).fields["figure-kerf-mm"] == "0.2"
    assert morning.send(ADDRESS, page.form(ADDRESS).filled(SAVE))[0] == 303
    assert stands(morning).kerf_mm == 0.2


def test_the_form_sent_twice_is_kept_once(morning: Morning) -> None:
    sent = morning.see(ADDRESS).form(ADDRESS).filled(SAVE) | {"figure-kerf-mm": "0.2"}
    assert [morning.send(ADDRESS, sent)[0] for _ in range(2)] == [303, 303]
    with morning.book() as book:
        assert len(practice_history(book)) == 1


def test_older_changes_stand_on_pages_of_their_own(morning: Morning) -> None:
    for place in range(22):
        assert save(morning, {"figure-kerf-mm": f"0.{10 + place}"})[0] == 303
    page = morning.see(ADDRESS)
    assert page.by_id("changes").count("put in Wed 25 Nov, 10:00, Maren") == 20
    assert "0.31 to 0.1 mm" in morning.see(page.link("Older changes").partition("#")[0]).by_id("changes")


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_the_practice_is_the_owners_alone(morning: Morning, role: Role) -> None:
    assert morning.see(ADDRESS, role).status == 403
    assert morning.send(ADDRESS, {}, role)[0] == 403


def fields_of(morning: Morning, number: str) -> dict[str, str]:
    """The counter's fields of an order's ring as they stand."""
    with morning.book() as book:
        found = order(book, number)
    return dict(ring_form(found, found.rings[0], "Europe/London").values)


def test_the_counter_the_api_and_the_order_go_by_the_studios_practice(morning: Morning) -> None:
    with morning.book() as book:
        an_order(book)
    before = morning.see("/orders/2026-1").words
    assert save(morning, {"figure-trim-each-end-mm": "2.5"})[0] == 303
    with morning.book() as book:
        an_order(book)
        old, new = (order(book, f"2026-{serial}").rings[0].reckoning for serial in (1, 2))
    assert (old.trim_mm, new.trim_mm) == (1.0, 5.0)
    assert morning.see("/orders/2026-1").words == before
    marks = {number: f"{found.mark_mm:.1f}" for number, found in (("2026-1", old), ("2026-2", new))}
    for number, mark in marks.items():
        assert mark in morning.see(f"/orders/{number}").words
        fields = fields_of(morning, number)
        assert mark in morning.send(f"/counter/figures?order={number}&ring=1", fields)[2].words
    other = fields_of(morning, "2026-1") | {"alloy": "silver-925"}
    page = morning.send("/counter/figures?order=2026-1&ring=1", other)[2]
    assert marks["2026-2"] in page.words  # changed, it is reckoned by the practice of today
    ring = {
        "finger": {"system": "uk", "size": "O½", "measured": "gauge", "gauge_width_mm": 6},
        "profile": "flat", "width": 6, "thickness": 1.6, "alloy": "gold-750-yellow", "pattern": "hammered",
    }  # fmt: skip
    told = morning.house.ask("POST", "/api/reckonings", json=ring).json()
    assert told["blank"]["mark_mm"] == round(new.mark_mm, 3)
    source = next(one["source"] for one in told["working"] if one["figure"] == "blank.mark_mm")
    assert source == "trim for squaring both ends: our own figure, from 25 Nov 2026"
