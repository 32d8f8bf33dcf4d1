"""The Studio page's rates and minutes: empty in a new book, dated, and never lost while they are typed."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from studio.book.people import PROGRAM
from studio.book.rates import put_rates, rates_entry, rates_on
from studio.craft.minutes import minute_rows
from studio.craft.rates import Rates
from studio.craft.roles import Role
from studio.web.studio_rates import GROUPS, rates_texts
from tests.builders import NOW, TODAY
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.priced import RATES
from tests.web.shown import Form, Shown

SAVE = "Keep these rates"
DAY = timedelta(days=1)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def form(morning: Morning) -> Form:
    return morning.see("/studio").form("/studio/rates")


def save(morning: Morning, **typed: str) -> tuple[int, str, Shown]:
    """Send the form with what stands, `typed` put in."""
    return morning.send("/studio/rates", form(morning).filled(SAVE) | typed)


def put_in(morning: Morning, rates: Rates = RATES, now: datetime = NOW) -> None:
    with morning.book() as book:
        put_rates(book, rates=rates, actor=PROGRAM, now=now)


def stands(morning: Morning) -> Rates | None:
    with morning.book() as book:
        return rates_on(book, TODAY + 400 * DAY)


def test_a_new_book_has_no_figure_of_money_or_minutes(morning: Morning) -> None:
    page = morning.see("/studio")
    fields = page.form("/studio/rates").fields
    typed = {name: value for name, value in fields.items() if name not in {"idempotency_key", "since"}}
    assert len(typed) == 17 + len(minute_rows())
    assert set(typed.values()) == {""}
    assert "Missing before a quote can be made the rates the minutes at the bench" in page.words
    assert "None are put in yet" in page.words
    assert "No price is put in yet." in page.words


def test_rates_are_put_in_as_typed_and_say_since_when_and_by_whom(morning: Morning) -> None:
    answer = save(morning, **rates_texts(RATES))
    assert answer[:2] == (303, "/studio#rates")
    assert stands(morning) == RATES
    page = morning.see("/studio")
    assert "Since Wed 25 Nov, 10:00, put in by Maren" in page.words
    assert "Missing" not in page.words
    assert rates_texts(RATES).items() <= page.form("/studio/rates").fields.items()


def test_each_save_is_a_new_dated_row_and_the_old_one_stays(morning: Morning) -> None:
    put_in(morning, now=NOW - DAY)
    assert save(morning, labour_hour_minor="52.50")[0] == 303
    with morning.book() as book:
        before, after = rates_entry(book, TODAY - DAY), rates_entry(book, TODAY)
    assert before is not None
    assert after is not None
    assert (before.rates.labour_hour_minor, after.rates.labour_hour_minor) == (48_00, 52_50)
    assert (after.since, after.entered_by) == (TODAY, "Maren")


@pytest.mark.parametrize("name", [one.name for group in GROUPS for one in group.fields])
def test_every_rate_can_be_changed_on_the_page(morning: Morning, name: str) -> None:
    put_in(morning)
    assert save(morning, **{name: "21"})[0] == 303
    changed = stands(morning)
    assert changed is not None
    assert changed != RATES
    assert rates_texts(changed) == rates_texts(RATES) | {name: "21.00" if name.endswith("_minor") else "21"}


@pytest.mark.parametrize("row", minute_rows())
def test_every_minute_can_be_changed_on_the_page(morning: Morning, row: str) -> None:
    put_in(morning)
    assert save(morning, **{f"minutes.{row}": "37"})[0] == 303
    assert stands(morning) == replace(RATES, minutes={**RATES.minutes, row: 37})


def test_minutes_left_empty_are_named_and_hold_up_the_rings_that_need_them(morning: Morning) -> None:
    put_in(morning)
    assert save(morning, **{"minutes.solder": "", "minutes.pattern:hammered": " "})[0] == 303
    words = morning.see("/studio").words
    assert "Missing for rings that need them" in words
    assert "minutes for 'Work the pattern, hammered' minutes for 'Solder the seam'" in words


def test_many_empty_minutes_are_counted(morning: Morning) -> None:
    put_in(morning, replace(RATES, minutes={}))
    assert f"the minutes of {len(minute_rows())} operations" in morning.see("/studio").words


def test_what_is_to_be_put_right_is_said_beside_its_field_and_nothing_typed_is_lost(
    morning: Morning,
) -> None:
    put_in(morning)
    typed = {
        "labour_hour_minor": "forty",
        "margin_percent": "95",
        "tax_percent": "",
        "extra_margin.assay": "x",
        "valid_days": "0",
        "minutes.weigh": "ten",
    }
    status, _, page = save(morning, **typed)
    assert status == 422
    assert page.title.startswith("Six things to put right: Studio")
    for words, href in [
        ("The hour, an hour at the bench: We cannot read this as a number. Type it like 48 or 48.50.",
         "#f-labour-hour-minor"),
        ("Margin, on our own work: This has to be below 95 %.", "#f-margin-percent"),
        ("Margin, on the assay: We cannot read this as a number. Type it like 48 or 48.50.",
         "#f-extra-margin-assay"),
        ("Sum, tax: This is not given yet.", "#f-tax-percent"),
        ("Quote, good for: This has to be 1 to 3650 days.", "#f-valid-days"),
        ("Weigh out: This has to be a whole number.", "#f-minutes-weigh"),
    ]:  # fmt: skip
        assert (words, href) in page.links
        assert page.described[href[1:] + "-wrong"] in words
    fields = page.form("/studio/rates").fields
    assert typed.items() <= fields.items()
    assert fields["overhead_percent"] == "25"
    assert stands(morning) == RATES


def test_a_row_of_minutes_that_no_ring_asks_for_is_refused(morning: Morning) -> None:
    put_in(morning)
    assert save(morning, **{"minutes.engrave": "5"})[0] == 422


def test_two_owners_at_once_see_both_versions_and_keep_their_typing(morning: Morning) -> None:
    put_in(morning)
    mine = form(morning).filled(SAVE, labour_hour_minor="60", tax_percent="19")
    save(morning, labour_hour_minor="55")
    status, _, page = morning.send("/studio/rates", mine)
    assert status == 409
    assert "Somebody else put in rates meanwhile" in page.words
    assert "The hour, an hour at the bench you typed 60 stands now 55.00" in page.words
    assert page.form("/studio/rates").fields["tax_percent"] == "19"
    again = page.form("/studio/rates").filled(SAVE)
    assert morning.send("/studio/rates", again)[0] == 303
    kept = stands(morning)
    assert kept is not None
    assert (kept.labour_hour_minor, kept.tax_percent) == (60_00, Decimal(19))


def test_the_form_sent_twice_is_kept_once(morning: Morning) -> None:
    put_in(morning)
    sent = form(morning).filled(SAVE, labour_hour_minor="60")
    assert [morning.send("/studio/rates", sent)[0] for _ in range(2)] == [303, 303]


def test_a_studio_without_pence_types_whole_yen(morning: Morning) -> None:
    facts = morning.see("/studio").form("/studio/facts")
    assert morning.send("/studio/facts", facts.fields | {"hallmark_rule": "uk", "currency": "jpy"})[0] == 303
    status, _, page = save(morning, **rates_texts(RATES))
    assert (status, page.described["f-labour-hour-minor-wrong"]) == (
        422, "JPY has no places after the point.",
    )  # fmt: skip
    whole = {name: text.replace(".00", "00") for name, text in rates_texts(RATES).items()}
    assert save(morning, **whole)[0] == 303
    yen = stands(morning)
    assert yen is not None
    assert (yen.currency, yen.labour_hour_minor) == ("JPY", 4800)


@pytest.mark.parametrize("role", [Role.COUNTER, Role.MAKER])
def test_the_studio_page_is_the_owners_alone(morning: Morning, role: Role) -> None:
    assert morning.see("/studio", role).status == 403
    assert ("Studio", "/studio") not in morning.see("/", role).links
    assert ("Studio", "/studio") in morning.see("/").links
    assert morning.send("/studio/rates", {}, role)[0] == 403
