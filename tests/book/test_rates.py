"""Rates are entries with a day: new ones beside the old, none ever changed."""

from dataclasses import fields, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.errors import VersionStale
from studio.book.people import PROGRAM
from studio.book.rate_tables import RatesRow
from studio.book.rates import (
    put_rates,
    rates_entry,
    rates_missing,
    rates_on,
    rates_read,
    rates_shown,
)
from studio.book.studio import change_studio, studio
from studio.craft.errors import Refused, Why
from studio.craft.rates import Extra, Rates
from studio.craft.roles import Role
from tests.builders import NOW, TODAY
from tests.quoting import RATES

DAY = timedelta(days=1)


def put(session: Session, rates: Rates = RATES, now: Any = NOW, **facts: Any) -> int:
    return put_rates(session, rates=rates, actor=PROGRAM, now=now, **facts).version


def test_a_new_book_has_no_rates_and_says_so(session: Session) -> None:
    assert rates_on(session, TODAY) is None
    assert rates_missing(session, TODAY) == ("rates",)


def test_rates_read_back_as_they_were_put(session: Session, people: dict[Role, Actor]) -> None:
    put_rates(session, rates=RATES, actor=people[Role.OWNER], now=NOW)
    entry = rates_entry(session, TODAY)
    assert entry is not None
    assert (entry.rates, entry.since, entry.entered_at, entry.entered_by) == (RATES, TODAY, NOW, "Maren")
    assert rates_missing(session) == ()


def test_each_day_has_the_rates_that_counted_then(session: Session) -> None:
    first = put(session)
    dearer = replace(RATES, labour_hour_minor=5200)
    put(session, dearer, NOW + 3 * DAY)
    assert rates_on(session, TODAY - DAY) is None
    assert [rates_on(session, TODAY + ahead * DAY) for ahead in (0, 2, 3, 40)] == [
        RATES,
        RATES,
        dearer,
        dearer,
    ]
    assert session.get_one(RatesRow, first).labour_hour_minor == 4800


def test_on_one_day_the_last_entry_counts(session: Session) -> None:
    put(session)
    dearer = replace(RATES, tax_percent=Decimal("17.5"))
    put(session, dearer, NOW + timedelta(hours=1))
    assert rates_on(session, TODAY) == dearer
    assert len(session.exec(select(RatesRow)).all()) == 2


def test_saying_again_what_stands_writes_nothing(session: Session) -> None:
    version = put(session)
    same = replace(RATES, tax_percent=Decimal("20.00"))
    assert put(session, same, NOW + DAY) == version
    assert len(session.exec(select(RatesRow)).all()) == 1


def test_the_history_has_just_what_changed(session: Session) -> None:
    put(session)
    minutes = dict(RATES.minutes) | {"solder": 99}
    put(session, replace(RATES, tax_percent=Decimal("17.5"), minutes=minutes), NOW + DAY)
    entry = session.exec(select(AuditRow).where(AuditRow.verb == "put rates")).all()[-1]
    assert set(entry.new) == {"tax_percent", "minutes"}
    assert (entry.old["tax_percent"], entry.new["tax_percent"]) == ("20", "17.5")


def test_of_two_who_change_the_rates_at_once_the_second_is_told(session: Session) -> None:
    version = put(session, version=0)
    put(session, replace(RATES, waste_percent=Decimal(6)), version=version)
    with pytest.raises(VersionStale):
        put(session, replace(RATES, waste_percent=Decimal(7)), version=version)
    stands = rates_on(session, TODAY)
    assert stands is not None
    assert stands.waste_percent == 6


def test_rates_without_all_minutes_name_what_is_missing(session: Session) -> None:
    minutes = {
        row: minutes for row, minutes in RATES.minutes.items() if row not in {"pattern:hammered", "roll"}
    }
    put(session, replace(RATES, minutes=minutes))
    assert rates_missing(session) == (
        "minutes for 'Roll the pattern'",
        "minutes for 'Work the pattern, hammered'",
    )


def test_rates_in_another_currency_count_as_none(session: Session) -> None:
    put(session)
    change_studio(session, facts=replace(studio(session), currency="EUR"), actor=PROGRAM, now=NOW)
    assert rates_on(session, TODAY) is None
    with pytest.raises(Refused) as told:
        put(session)
    assert [refusal.field for refusal in told.value.refusals] == ["currency"]


@pytest.mark.parametrize(
    ("change", "field", "why"),
    [
        ({"labour_hour_minor": -1}, "labour_hour_minor", Why.TOO_SMALL),
        ({"step_minor": -5}, "step_minor", Why.TOO_SMALL),
        ({"overhead_percent": Decimal(-1)}, "overhead_percent", Why.TOO_SMALL),
        ({"overhead_percent": Decimal(1001)}, "overhead_percent", Why.TOO_LARGE),
        ({"tax_percent": Decimal("100.01")}, "tax_percent", Why.TOO_LARGE),
        ({"tax_percent": Decimal("7.125")}, "tax_percent", Why.TOO_LONG),
        ({"tax_percent": Decimal("NaN")}, "tax_percent", Why.NOT_A_NUMBER),
        ({"deposit_percent": Decimal(101)}, "deposit_percent", Why.TOO_LARGE),
        ({"margin_percent": Decimal(95)}, "margin_percent", Why.TOO_LARGE),
        ({"extra_margin_percent": {Extra.ASSAY: Decimal(96)}}, "extra_margin.assay", Why.TOO_LARGE),
        ({"valid_days": 0}, "valid_days", Why.TOO_SMALL),
        ({"stale_after_days": 4000}, "stale_after_days", Why.TOO_LARGE),
        ({"minutes": {"polish": 5}}, "minutes.polish", Why.UNKNOWN_CHOICE),
        ({"minutes": {"solder": -5}}, "minutes.solder", Why.TOO_SMALL),
    ],
)
def test_a_figure_that_cannot_stand_is_named(
    session: Session, change: dict[str, Any], field: str, why: Why
) -> None:
    with pytest.raises(Refused) as told:
        put(session, replace(RATES, **change))
    assert [(refusal.field, refusal.why) for refusal in told.value.refusals] == [(field, why)]
    assert rates_on(session, TODAY) is None


def test_all_that_cannot_stand_is_named_at_once(session: Session) -> None:
    with pytest.raises(Refused) as told:
        put(session, replace(RATES, valid_days=0, assay_minor=-1, tax_percent=Decimal(200)))
    assert {refusal.field for refusal in told.value.refusals} == {"valid_days", "assay_minor", "tax_percent"}


def test_what_a_quote_keeps_of_the_rates_reads_back() -> None:
    kept = rates_shown(RATES)
    assert set(kept) == {part.name for part in fields(Rates)}
    assert rates_read(kept) == RATES


def test_the_rates_of_a_day_to_come_do_not_count_before_it(session: Session) -> None:
    put(session, now=NOW + 2 * DAY)
    assert rates_on(session, date(2026, 11, 26)) is None
