"""Gauges and their calibration: a change moves new orders and leaves old ones, and their papers, alone."""

from dataclasses import replace
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

import pytest
from sqlmodel import Session, col, select

from studio.book.audit import AuditRow
from studio.book.customer_tables import FingerRow
from studio.book.errors import GaugeUnknown, VersionStale
from studio.book.gauges import (
    GaugeDraft,
    StudioGauge,
    gauges,
    gauges_in_use,
    put_gauge,
    usual_gauge,
)
from studio.book.order_reads import order
from studio.book.order_values import RingDraft
from studio.book.orders import OrderChanges, change_order
from studio.book.people import PROGRAM
from studio.book.practices import changed, practice_on, put_practice
from studio.book.quotes import paper_of_issued, quote_pdf
from studio.book.ring_practices import gauges_for, workshop
from studio.book.settling import settle_size
from studio.craft.designs import Finger, GaugeKind, System
from studio.craft.errors import Refused, Why
from studio.craft.orders import State
from studio.craft.practice import FitRow
from studio.papers.bench_sheet import RingToMake, bench_sheets
from studio.papers.printing import printed
from studio.papers.quote import quote_to_print
from tests.builders import NOW, TODAY, a_finger, a_ring, an_order
from tests.quoting import a_quote, put_figures

WIDE = GaugeDraft(
    "Wide set", GaugeKind.SET, System.UK, 6.0, 0.625, 0.12, date(2026, 11, 3), "against the master stick"
)
LATER = NOW + timedelta(days=2)


def put(session: Session, draft: GaugeDraft = WIDE, **given: Any) -> StudioGauge:
    return put_gauge(session, gauge=draft, actor=PROGRAM, now=NOW, **given)


def calibrate(session: Session, correction_mm: float = -0.3) -> StudioGauge:
    """The wide set calibrated anew."""
    (known,) = gauges(session)
    draft = replace(known.draft, correction_mm=correction_mm, calibrated_on=TODAY)
    return put(session, draft, gauge_id=known.gauge.id, version=known.version)


def measured(session: Session, **changes: Any) -> Finger:
    """A finger as the wide set measures it now."""
    return a_finger(gauge=gauges_in_use(session)[0], **changes)


def test_a_gauge_reads_back_as_it_was_put_in(session: Session) -> None:
    put(session)
    put(session, GaugeDraft("Stick", GaugeKind.STICK, System.US, None, 1.277, -0.05))
    wide, stick = sorted(gauges(session), key=lambda one: one.gauge.id)
    assert (wide.draft, wide.version) == (WIDE, 1)
    assert (stick.gauge.width_mm, stick.gauge.correction_mm, stick.gauge.calibrated_on) == (None, -0.05, None)
    assert usual_gauge(session) is None


def test_one_gauge_is_the_usual_one(session: Session) -> None:
    first = put(session, replace(WIDE, is_usual=True))
    second = put(session, replace(WIDE, name="Narrow set", width_mm=2.5, is_usual=True))
    assert usual_gauge(session) == second.gauge
    put(session, replace(second.draft, is_put_away=True), gauge_id=second.gauge.id)
    assert usual_gauge(session) is None
    assert gauges_in_use(session) == (first.gauge,)


def test_a_change_is_one_entry_with_what_was_and_is_and_saying_it_again_is_none(session: Session) -> None:
    put(session)
    calibrate(session)
    calibrate(session)
    entries = session.exec(
        select(AuditRow).where(col(AuditRow.verb).like("%gauge")).order_by(col(AuditRow.id))
    ).all()
    assert [entry.verb for entry in entries] == ["add a gauge", "change a gauge"]
    assert (entries[1].old, entries[1].new) == (
        {"gauge": 1, "correction_mm": 0.12, "calibrated_on": "2026-11-03"},
        {"gauge": 1, "correction_mm": -0.3, "calibrated_on": "2026-11-25"},
    )


@pytest.mark.parametrize(
    ("changes", "field", "why"),
    [
        ({"name": " "}, "name", Why.EMPTY),
        ({"name": "x" * 41}, "name", Why.TOO_LONG),
        ({"name": "narrow SET"}, "name", Why.NAME_TAKEN),
        ({"note": "x" * 501}, "note", Why.TOO_LONG),
        ({"width_mm": 0.1}, "width_mm", Why.TOO_SMALL),
        ({"kind": GaugeKind.STICK}, "width_mm", Why.NO_WIDTH),
        ({"step_mm": 0.0}, "step_mm", Why.TOO_SMALL),
        ({"correction_mm": 9.0}, "correction_mm", Why.TOO_LARGE),
        ({"calibrated_on": TODAY + timedelta(days=1)}, "calibrated_on", Why.DAY_TO_COME),
    ],
)
def test_a_gauge_that_cannot_stand_is_refused(
    session: Session, changes: dict[str, Any], field: str, why: Why
) -> None:
    put(session, replace(WIDE, name="Narrow set"))
    with pytest.raises(Refused) as refused:
        put(session, replace(WIDE, **changes))
    assert [(one.field, one.why) for one in refused.value.refusals] == [(field, why)]


def test_an_unknown_gauge_and_an_older_version_are_told(session: Session) -> None:
    known = put(session)
    with pytest.raises(GaugeUnknown):
        put(session, gauge_id=9)
    with pytest.raises(VersionStale):
        put(session, replace(WIDE, note="new"), gauge_id=known.gauge.id, version=7)


def test_a_calibration_moves_new_orders_and_leaves_old_ones_alone(session: Session) -> None:
    put(session)
    an_order(session, rings=[a_ring(measured(session))])
    before = order(session, "2026-1").rings
    calibrate(session)
    an_order(session, rings=[a_ring(measured(session))])
    assert order(session, "2026-1").rings == before
    rings = [order(session, f"2026-{serial}").rings[0] for serial in (1, 2)]
    assert [ring.finger.correction_mm for ring in rings] == [0.12, -0.3]
    assert [round(ring.reckoning.circumference_mm, 3) for ring in rings] == [55.745, 55.325]
    assert [ring.finger.gauge.calibrated_on for ring in rings if ring.finger.gauge] == [
        date(2026, 11, 3), TODAY,
    ]  # fmt: skip


def test_a_ring_saved_again_keeps_the_calibration_of_its_day_until_it_is_measured_anew(
    session: Session,
) -> None:
    put(session)
    an_order(session, rings=[a_ring(measured(session))])
    before = order(session, "2026-1")
    calibrate(session)
    again = workshop(session, TODAY, before).as_measured(a_ring(measured(session)))
    assert again.finger == before.rings[0].finger
    put_rings(session, a_ring(measured(session)))
    assert order(session, "2026-1") == before
    put_rings(session, a_ring(measured(session), taken_at=LATER))
    assert order(session, "2026-1").rings[0].finger.correction_mm == -0.3


def test_another_size_by_the_same_gauge_is_measured_by_its_calibration_of_today(session: Session) -> None:
    put(session)
    an_order(session, rings=[a_ring(measured(session))])
    calibrate(session)
    put_rings(session, a_ring(measured(session, label="P", circumference_mm=56.25)))
    assert order(session, "2026-1").rings[0].finger.correction_mm == -0.3
    assert len(session.exec(select(FingerRow)).all()) == 1


def put_rings(session: Session, *rings: RingDraft) -> None:
    stands = order(session, "2026-1")
    change_order(
        session,
        number="2026-1",
        version=stands.version,
        changes=OrderChanges(rings=rings),
        actor=PROGRAM,
        now=LATER,
    )


def test_a_gauge_put_away_still_stands_with_the_fingers_it_measured(session: Session) -> None:
    known = put(session)
    an_order(session, rings=[a_ring(measured(session))])
    put(session, replace(WIDE, is_put_away=True), gauge_id=known.gauge.id)
    assert gauges_for(session) == ()
    assert gauges_for(session, order(session, "2026-1")) == (known.gauge,)


def test_a_size_settled_later_goes_by_the_gauge_and_the_practice_it_was_agreed_with(session: Session) -> None:
    put(session)
    ranged = measured(session, to_label="Q", to_circumference_mm=57.5)
    an_order(session, state=State.AGREED, rings=[a_ring(ranged)])
    calibrate(session)
    move_practice(session)
    version = order(session, "2026-1").version
    settled = settle_size(
        session, number="2026-1", position=1, version=version, size="P", actor=PROGRAM, now=LATER
    )
    figures = settled.rings[0].reckoning
    assert (settled.rings[0].finger.correction_mm, figures.trim_mm) == (0.12, 1.0)
    assert figures.circumference_mm == pytest.approx(56.25 + 0.12)


def move_practice(session: Session) -> None:
    """Every figure of the practice that a ring is reckoned by, changed."""
    practice = changed(
        practice_on(session, TODAY),
        {
            "fit_rule": (FitRow(None, 2.0),), "trim_each_end_mm": 2.0, "kerf_mm": 0.6, "doubt.day_mm": 0.9,
            "finishing_loss_percent": 9.0, "finishing_allowance_mm": 0.2,
            "priors.hammered/flat.mean_percent": 3.0, "knuckle.much_mm": 0.0,
        },
    )  # fmt: skip
    put_practice(session, practice=practice, from_day=TODAY, source="", actor=PROGRAM, now=NOW)


def sheets(session: Session, number: str) -> str:
    """The hash of an order's bench sheets, printed as of one day."""
    found = order(session, number)
    rings = [
        RingToMake(
            number=found.number,
            version=1,
            position=ring.position,
            count=len(found.rings),
            customer=found.customer.name,
            bench_on=None,
            promised_at=None,
            wanted_on=None,
            reckoning=ring.reckoning,
            taken_by=ring.taken_by,
            taken_on=ring.taken_at.date(),
            reasons=ring.reasons,
            note="",
            address="http://127.0.0.1",
            printed_on=TODAY,
        )
        for ring in found.rings
    ]
    return sha256(printed(bench_sheets(rings, title="Bench sheet"))).hexdigest()


def test_no_change_of_figures_moves_a_paper_of_an_order_taken_before(session: Session) -> None:
    put_figures(session)
    put(session)
    an_order(session, rings=[a_ring(measured(session))])
    number = a_quote(session, order(session, "2026-1"), pdf=None).number
    paper = printed(quote_to_print(paper_of_issued(session, number)))
    before = sheets(session, "2026-1")
    calibrate(session)
    move_practice(session)
    session.expire_all()
    assert sheets(session, "2026-1") == before
    assert printed(quote_to_print(paper_of_issued(session, number))) == paper
    an_order(session, rings=[a_ring(measured(session))])
    assert sheets(session, "2026-2") != before


def test_the_bytes_of_an_issued_quote_stay(session: Session) -> None:
    put_figures(session)
    put(session)
    an_order(session, rings=[a_ring(measured(session))])
    number = a_quote(session, order(session, "2026-1"), pdf=b"%PDF-1.7 hers").number
    calibrate(session)
    move_practice(session)
    assert quote_pdf(session, number) == b"%PDF-1.7 hers"
