"""Fingers and designs as a counter may take them, for the laws that hold for all of them."""

from dataclasses import replace

from hypothesis import strategies as st

from studio.craft.alloys import ALLOYS
from studio.craft.anticlastic import largest_rise_mm, smallest_radius_mm
from studio.craft.designs import (
    WIRE_PROFILES,
    Design,
    Finger,
    FingerName,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
    design,
    thickness_limits,
    width_limits,
)
from studio.craft.form import BAND, Form, FormKind
from studio.craft.sizes import nearest

SYSTEMS = st.sampled_from(System)
CIRCUMFERENCES = st.integers(41_000, 68_500).map(lambda micrometres: micrometres / 1000)
"""Circumferences in mm for which every system that goes by a rule has a label."""


def circumferences(system: System) -> st.SearchStrategy[float]:
    """Circumferences in mm for which this system has a label: the table of Hong Kong begins at 44.2."""
    return lengths(44.0, 68.5) if system is System.HK else CIRCUMFERENCES


def lengths(low_mm: float, high_mm: float) -> st.SearchStrategy[float]:
    """Lengths in mm as the book keeps them, to the micrometre."""
    return st.integers(round(low_mm * 1000), round(high_mm * 1000)).map(lambda um: um / 1000)


@st.composite
def fingers(draw: st.DrawFn) -> Finger:
    """A finger measured, read from a ring or told, by a label of any system."""
    system = draw(SYSTEMS)
    near = nearest(system, draw(circumferences(system)))
    assert near is not None
    return Finger(
        system=system,
        label=near.label,
        circumference_mm=near.circumference_mm,
        measured=draw(st.none() | st.sampled_from(Measured)),
        gauge_width_mm=draw(st.none() | lengths(1, 12)),
    )


@st.composite
def whole_fingers(draw: st.DrawFn) -> Finger:
    """A finger with all that may be said of it: the knuckle, a size not settled yet, the hand, its warmth."""
    finger = draw(fingers())
    knuckle, to = (
        nearest(finger.system, finger.circumference_mm + draw(lengths(0, 8))) if draw(st.booleans()) else None
        for _ in range(2)
    )
    return replace(
        finger,
        knuckle_label=None if knuckle is None else knuckle.label,
        knuckle_circumference_mm=None if knuckle is None else knuckle.circumference_mm,
        to_label=None if to is None else to.label,
        to_circumference_mm=None if to is None else to.circumference_mm,
        hand=draw(st.none() | st.sampled_from(Hand)),
        name=draw(st.none() | st.sampled_from(FingerName)),
        is_warm=draw(st.none() | st.booleans()),
    )


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """A ring that can be made, in any profile, alloy and pattern."""
    profile = draw(st.sampled_from(Profile))
    width, thickness = width_limits(profile), thickness_limits(profile)
    pattern = draw(st.sampled_from(Pattern))
    wide = draw(lengths(width.low, width.high))
    thick = None if profile in WIRE_PROFILES else draw(lengths(thickness.low, thickness.high))
    form = draw(forms(wide, thick)) if profile is Profile.FLAT and thick else BAND
    moments = [PatternWhen.FLAT] if pattern is Pattern.ROLLED else list(PatternWhen)
    return design(
        profile,
        wide,
        thick,
        draw(st.sampled_from(sorted(ALLOYS))),
        draw(st.none() | st.sampled_from(Stock)),
        pattern=pattern,
        pattern_when=draw(st.none() | st.sampled_from(moments)),
        stretch_percent=draw(st.none() | lengths(0, 10)),
        fit_mm=draw(st.none() | lengths(-5, 5)),
        form=form,
    )


def forms(wide_mm: float, thick_mm: float) -> st.SearchStrategy[Form]:
    """A band, or one sunk over a groove that its strip can take, told by its radius or by the rise."""
    tightest_mm, highest_mm = smallest_radius_mm(wide_mm, thick_mm), largest_rise_mm(wide_mm)
    return st.one_of(
        st.just(BAND),
        lengths(tightest_mm + 0.001, min(1000.0, 20 * tightest_mm)).map(
            lambda mm: Form(FormKind.ANTICLASTIC, radius_mm=mm)
        ),
        lengths(highest_mm / 200 + 0.001, highest_mm - 0.001).map(
            lambda mm: Form(FormKind.ANTICLASTIC, rise_mm=mm)
        ),
    )
