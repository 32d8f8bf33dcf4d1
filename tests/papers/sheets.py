"""Rings to make, for the sheets' tests."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from studio.craft.designs import Finger, Pattern, PatternWhen, Profile, System, design
from studio.craft.hallmark import HallmarkRule
from studio.craft.reckonings import Reckoning, reckon
from studio.papers.bench_sheet import RingToMake
from tests.builders import a_finger


def a_reckoning(
    profile: Profile = Profile.FLAT,
    width_mm: float | None = 6.0,
    thickness_mm: float | None = 1.6,
    alloy: str = "gold-750-yellow",
    finger: Finger | None = None,
    **changes: Any,
) -> Reckoning:
    """A plain flat band of 750 yellow gold, 6 x 1.6 mm, UK O½, unless told otherwise."""
    return reckon(finger or a_finger(), design(profile, width_mm, thickness_mm, alloy, **changes))


def a_ring(reckoning: Reckoning | None = None, **changes: Any) -> RingToMake:
    """The only ring of order 2026-118, due at the bench on 1 December."""
    ring = RingToMake(
        number="2026-118",
        version=3,
        position=1,
        count=1,
        customer="Ines Radley",
        bench_on=date(2026, 12, 1),
        promised_at=datetime(2026, 12, 11, 10, tzinfo=UTC),
        wanted_on=date(2026, 12, 12),
        reckoning=reckoning or a_reckoning(),
        taken_by="Maren",
        taken_on=date(2026, 11, 26),
        reasons={},
        note="",
        address="http://127.0.0.1:8000/orders/2026-118",
        printed_on=date(2026, 11, 30),
        rule=HallmarkRule.UK,
    )
    return replace(ring, **changes)


WIDE_REASON = "tried on a sizer 12 mm wide"
SHEETS: dict[str, RingToMake] = {
    "plain": a_ring(),
    "hammered-flat": a_ring(a_reckoning(pattern=Pattern.HAMMERED), note="Matt inside, edges bright."),
    "hammered-closed": a_ring(a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED)),
    "half-round-wire": a_ring(
        a_reckoning(Profile.HALF_ROUND, 4.0, 1.7, "silver-925", a_finger("7", System.US, gauge_width_mm=4.0))
    ),
    "square-wire": a_ring(a_reckoning(Profile.SQUARE, 2.0, None, "gold-375-yellow")),
    "longest-blank": a_ring(
        a_reckoning(Profile.ROUND, 8.0, None, "silver-925", a_finger("90", System.ISO), fit_mm=5.0)
    ),
    "widest-band": a_ring(
        a_reckoning(
            width_mm=40.0,
            thickness_mm=6.0,
            alloy="silver-925",
            finger=a_finger("Z+12"),
            pattern=Pattern.STAMPED,
        ),
        reasons={"narrow-gauge": WIDE_REASON},
        customer="Konstantina Papadimitriou-Featherstonehaugh and Bartholomew Wolfeschlegelstein",
        position=2,
        count=2,
    ),
    "wide-band": a_ring(
        a_reckoning(width_mm=12.0, thickness_mm=1.8, alloy="gold-750-white-pd", finger=a_finger()),
        reasons={"narrow-gauge": WIDE_REASON},
    ),
}
"""One ring of each kind that is looked at."""
