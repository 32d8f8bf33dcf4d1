"""Fingers and designs as their rows keep them, in whole micrometres, and read back.

A size is stored as its label and as what it meant that day. Reading back takes the label's exact
circumference where the two agree to the micrometre, so that the figures do not change by being saved.
"""

from functools import lru_cache
from typing import Any

from studio.book.customer_tables import FingerRow
from studio.book.order_tables import RingRow
from studio.book.plain_values import as_json, from_json
from studio.craft.designs import (
    Design,
    Finger,
    FingerName,
    Gauge,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
)
from studio.craft.errors import Refused
from studio.craft.form import BAND, Form, FormKind
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning
from studio.craft.sizes import BeyondZ, read_size
from studio.craft.units import from_micrometres, to_micrometres, to_milligrams


def finger_columns(finger: Finger) -> dict[str, Any]:
    """What the finger's row holds, all but whose it is and when it was taken."""
    return {
        "hand": finger.hand,
        "finger": finger.name,
        "system": finger.system,
        "label": finger.label,
        "circumference_um": to_micrometres(finger.circumference_mm),
        "knuckle_label": finger.knuckle_label,
        "knuckle_circumference_um": _um(finger.knuckle_circumference_mm),
        "to_label": finger.to_label,
        "to_circumference_um": _um(finger.to_circumference_mm),
        "measured": finger.measured,
        "gauge_width_um": _um(finger.gauge_width_mm),
        "gauge": None if finger.gauge is None else as_json(finger.gauge),
        "is_warm": finger.is_warm,
        "is_on_two_days": finger.is_on_two_days or None,
    }


def finger_of(row: FingerRow) -> Finger:
    """The finger a row holds."""
    system = System(row.system)
    return Finger(
        system=system,
        label=row.label,
        circumference_mm=_exact(system, row.label, row.circumference_um),
        measured=None if row.measured is None else Measured(row.measured),
        gauge_width_mm=_mm(row.gauge_width_um),
        knuckle_label=row.knuckle_label,
        knuckle_circumference_mm=_exact_or_none(system, row.knuckle_label, row.knuckle_circumference_um),
        to_label=row.to_label,
        to_circumference_mm=_exact_or_none(system, row.to_label, row.to_circumference_um),
        hand=None if row.hand is None else Hand(row.hand),
        name=None if row.finger is None else FingerName(row.finger),
        is_warm=row.is_warm,
        gauge=None if row.gauge is None else from_json(Gauge, row.gauge),
        is_on_two_days=bool(row.is_on_two_days),
    )


def design_columns(design: Design) -> dict[str, Any]:
    """What the ring's row holds of its design. Percent are stored in millionths: 1.5 % is 15,000."""
    return {
        "profile": design.profile,
        "width_um": to_micrometres(design.width_mm),
        "thickness_um": to_micrometres(design.thickness_mm),
        "alloy": design.alloy,
        "stock": design.stock,
        "pattern": design.pattern,
        "pattern_when": design.pattern_when,
        "stretch_ppm": None if design.stretch_percent is None else round(design.stretch_percent * 10_000),
        "fit_um": _um(design.fit_mm),
        "form": None if design.form == BAND else design.form.kind,
        "radius_um": _um(design.form.radius_mm),
        "rise_um": _um(design.form.rise_mm),
    }


def design_of(row: RingRow) -> Design:
    """The design a row holds."""
    return Design(
        profile=Profile(row.profile),
        width_mm=from_micrometres(row.width_um),
        thickness_mm=from_micrometres(row.thickness_um),
        alloy=row.alloy,
        stock=Stock(row.stock),
        pattern=Pattern(row.pattern),
        pattern_when=None if row.pattern_when is None else PatternWhen(row.pattern_when),
        stretch_percent=None if row.stretch_ppm is None else row.stretch_ppm / 10_000,
        fit_mm=_mm(row.fit_um),
        form=BAND if row.form is None else Form(FormKind(row.form), _mm(row.radius_um), _mm(row.rise_um)),
    )


def particulars_column(particulars: Particulars) -> str | None:
    """What the ring's row holds of its finish and inscription; None while nothing was asked."""
    return None if particulars == NOT_ASKED else as_json(particulars)


def particulars_of(kept: str | None) -> Particulars:
    """The finish and inscription a row holds."""
    return NOT_ASKED if kept is None else from_json(Particulars, kept)


def reckoned_columns(reckoning: Reckoning) -> dict[str, Any]:
    """The figures a ring's row carries, so that lists and sums need not reckon anew."""
    return {
        "circumference_um": to_micrometres(reckoning.circumference_mm),
        "true_length_um": to_micrometres(reckoning.true_length_mm),
        "mark_um": to_micrometres(reckoning.mark_mm),
        "issue_mg": to_milligrams(reckoning.issue_g),
        "ring_mg": to_milligrams(reckoning.ring_g),
        "finished_mg": to_milligrams(reckoning.finished_g),
    }


def _um(mm: float | None) -> int | None:
    return None if mm is None else to_micrometres(mm)


def _mm(um: int | None) -> float | None:
    return None if um is None else from_micrometres(um)


def _exact_or_none(system: System, label: str | None, um: int | None) -> float | None:
    return None if label is None or um is None else _exact(system, label, um)


@lru_cache(maxsize=1024)
def _exact(system: System, label: str, um: int) -> float:
    for beyond in BeyondZ:  # a studio may have read the same label otherwise before
        try:
            meant = read_size(system, label, beyond=beyond).circumference_mm
        except Refused:  # a label that a later table no longer knows keeps the length it had
            continue
        if to_micrometres(meant) == um:
            return meant
    return from_micrometres(um)
