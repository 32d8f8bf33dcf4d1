"""What is agreed, in whole sentences for the customer: the ring, its size, its weight, the terms.

Carat and millimetres, no word of the bench. How a ring can be altered later and how far handwork strays is
common practice, no source; a studio says what its law asks in a text of its own.
"""

from collections import Counter
from collections.abc import Sequence
from datetime import date, datetime
from math import ceil

from studio.craft.designs import WIRE_PROFILES, Finger, FingerName, Measured, Pattern, Profile, System
from studio.craft.doubt import NEAR_ENOUGH_MM
from studio.craft.fit import known_measurement
from studio.craft.form_figures import FormFigures
from studio.craft.hallmark import HallmarkRule, Verdict, foresight, is_marked
from studio.craft.particulars import NOT_ASKED, Marks, MarkWish, Particulars
from studio.craft.reckonings import Reckoning
from studio.craft.resizing import resizing
from studio.craft.sizes import named
from studio.craft.units import figure_words
from studio.papers.days import MONTHS, WEEKDAYS

COMMON_RETURNS = (
    "What is made to your order cannot be returned because of a change of mind. Faults we put right."
)
"""What a new studio's quotes say of returns, until it writes its own."""

_BODIES = {
    Profile.FLAT: "flat band",
    Profile.HALF_ROUND: "half-round band, flat inside",
    Profile.LOW_DOME: "gently domed band, flat inside",
    Profile.COURT: "court band, rounded inside and outside",
    Profile.FLAT_COURT: "flat band, rounded inside",
    Profile.ROUND: "ring of round wire",
    Profile.SQUARE: "ring of square wire",
    Profile.KNIFE_EDGE: "knife-edge band, with a ridge all round",
}
_WORKED = {
    Pattern.HAMMERED: ", hammered all round by hand",
    Pattern.STAMPED: ", stamped all round by hand",
    Pattern.ROLLED: ", with a rolled pattern all round",
}
_ALTERED = {
    Pattern.PLAIN: "",
    Pattern.HAMMERED: "; the pattern at the seam is then worked again",
    Pattern.STAMPED: "",
    Pattern.ROLLED: "",
}
_NEAR = {System.UK: "half a size", System.US: "a quarter of a size"}
_WORTH_SAYING_MM = 0.05
_LEAST_TOLERANCE_MM = 0.1


def long_day(day: date) -> str:
    """'Thursday, 10 December 2026', whatever language the machine speaks."""
    return f"{WEEKDAYS[day.weekday()]}, {day_of_year(day)}"


def day_of_year(day: date) -> str:
    """'26 November 2026'."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def ring_sentence(reckoning: Reckoning) -> str:
    """What the ring is.

    'A flat band, 6 mm wide and 1.6 mm thick, hammered all round by hand, in 18 carat yellow gold (750).'
    """
    design = reckoning.design
    plain = "plain " if design.pattern is Pattern.PLAIN else ""
    sides = f"{figure_words(design.width_mm)} mm wide and {figure_words(design.thickness_mm)} mm thick"
    if design.profile in WIRE_PROFILES:
        sides = f"{figure_words(design.width_mm)} mm thick"
    metal = reckoning.alloy.plain_name
    body = _BODIES[design.profile]
    if reckoning.form is not None:
        body, sides = _flaring(reckoning.form, design.thickness_mm)
    return f"A {plain}{body}, {sides}{_WORKED.get(design.pattern, '')}, in {metal}."


def _flaring(formed: FormFigures, thick_mm: float) -> tuple[str, str]:
    wide = f"about {formed.groove.finished_width_mm:.1f} mm wide and {figure_words(thick_mm)} mm thick"
    return "band with flaring edges", f"{wide}, about {formed.edge_mm:.1f} mm across inside its edges"


def size_sentence(reckoning: Reckoning, taken_on: date | None, issued_on: date) -> str:
    """How large it is made, for which finger, and how that is known.

    'O½, inside 55.6 mm round, left ring finger. Measured on 26 November with a gauge 6 mm wide, hands warm.'
    A size told, read from a ring or not settled yet is called that. The year is said where it is not the
    quote's.
    """
    finger = reckoning.finger
    inside = f"inside {reckoning.circumference_mm:.1f} mm round"
    whose = _finger(finger)
    label = _label(finger.system, finger.label)
    is_altered = abs(reckoning.fit_mm) >= _WORTH_SAYING_MM
    if finger.to_label is not None:
        larger = _label(finger.system, finger.to_label)
        head = f"Not settled yet, somewhere between {label} and {larger}{whose}. "
        made = f"made {_altered(reckoning)}" if is_altered else ""
        head += f"Drawn and priced for {larger}, the larger end, {made}{inside}."
    elif is_altered:
        near = reckoning.sizes[finger.system]
        about = "" if near is None else f", about {_label(finger.system, near.label)}"
        head = f"{label}{whose}. Made {_altered(reckoning)}{inside}{about}."
    else:
        head = f"{label}, {inside}{whose}."
    knuckle = f" Over the knuckle {finger.knuckle_label}." if finger.knuckle_label else ""
    again = " We measure again before we begin." if finger.to_label is not None else ""
    return f"{head}{knuckle} {_measured(finger, taken_on, issued_on)}{again}"


def weight_sentence(reckoning: Reckoning, rule: HallmarkRule, marks: Marks | None = None) -> str:
    """'about 8.8 g, finished; hallmarked', or 'no hallmark, which silver needs from 7.78 g'.

    Where only the balance can tell: 'weighed when it is finished, since silver is hallmarked from 7.78 g'.
    """
    weight = f"about {reckoning.finished_g:.1f} g, finished"
    foreseen = foresight(reckoning, rule)
    if marks is not None and marks.hallmark is MarkWish.THOUGH_EXEMPT:
        return f"{weight}; hallmarked" if is_marked(reckoning, rule, marks) else weight
    if foreseen is None:
        return weight
    metal, limit_g = foreseen.metal, foreseen.limit_g
    if foreseen.verdict is Verdict.REQUIRED:
        return f"{weight}; hallmarked"
    if foreseen.verdict is Verdict.WEIGH:
        return f"{weight}; weighed when it is finished, since {metal} is hallmarked from {limit_g:g} g"
    return f"{weight}; no hallmark, which {metal} needs from {limit_g:g} g"


def ready_sentence(ready_at: datetime | None, wanted_on: date | None) -> str:
    """'Friday, 11 December 2026, from 10:00' in the zone the moment carries, or that no day is promised."""
    if ready_at is not None:
        return f"{long_day(ready_at.date())}, from {ready_at:%H:%M}"
    if wanted_on is not None:
        return f"No day is promised yet; wanted by {long_day(wanted_on)}"
    return "No day is promised yet"


def holds_sentence(reckonings: Sequence[Reckoning], valid_until: date) -> str:
    """How long the price holds, and why no longer."""
    metals = dict.fromkeys(str(reckoning.alloy.metal) for reckoning in reckonings)
    moves = f"the price of {next(iter(metals))} moves"
    if len(metals) > 1:
        *others, last = metals
        moves = f"the prices of {', '.join(others)} and {last} move"
    return f"This price holds until {long_day(valid_until)}, since {moves}."


def resize_sentences(
    reckonings: Sequence[Reckoning], particulars: Sequence[Particulars] = ()
) -> tuple[str, ...]:
    """Whether the size can be changed later, why not, and what that does to the pattern and the stones."""
    told_of = [*particulars, *(NOT_ASKED for _ in reckonings[len(particulars) :])]
    found = [(one.design.pattern, resizing(one, its)) for one, its in zip(reckonings, told_of, strict=True)]
    counts = Counter((pattern, one.reasons, one.most_mm, one.out_first) for pattern, one in found)

    def told(
        pattern: Pattern, reasons: tuple[str, ...], most_mm: float | None, out_first: tuple[str, ...]
    ) -> str:
        kind = "" if len(counts) == 1 else f"{pattern} "
        is_one = counts[pattern, reasons, most_mm, out_first] == 1
        who = f"The {kind}ring" if is_one else f"Each {kind}ring"
        if reasons:
            return f"{who} cannot be resized later: {', and '.join(reasons)}."
        if most_mm is None:
            return f"{who} can later be made one size larger or smaller{_ALTERED[pattern]}."
        out = f"; the {' and the '.join(out_first)} must be taken out for it" if out_first else ""
        return f"{who} can later be made a little larger or smaller, with care for its stones{out}."

    return tuple(told(*key) for key in counts)


def tolerance_sentence(reckonings: Sequence[Reckoning]) -> str:
    """How far the finished ring may differ from its measures: 0.1 mm, or what finishing takes off if more."""
    taken_mm = max(
        reckoning.design.thickness_mm - reckoning.finished_thickness_mm for reckoning in reckonings
    )
    differs = figure_words(max(_LEAST_TOLERANCE_MM, ceil(round(taken_mm * 10, 6)) / 10))
    is_wire = all(reckoning.design.profile in WIRE_PROFILES for reckoning in reckonings)
    return f"Made by hand, {'the' if is_wire else 'width and'} thickness may differ by {differs} mm."


def doubt_sentence(reckonings: Sequence[Reckoning]) -> str:
    """How near a ring made by hand comes to its size, for the customer; of several, the least sure.

    'Nine rings in ten come within 0.9 mm of the size round the inside, 76 in 100 within half a size.' Near
    enough is a quarter of a size in the US and half a size in the UK, which the other systems are told in mm.
    Of a size that is not settled yet nothing is said.
    """
    settled = [one for one in reckonings if one.finger.to_label is None]
    if not settled:
        return ""
    least = max(settled, key=lambda one: one.doubt.within_mm)
    near = _NEAR.get(least.finger.system, f"{figure_words(NEAR_ENOUGH_MM, 1)} mm")
    within = figure_words(least.doubt.within_mm, 1)
    return (
        f"Nine rings in ten come within {within} mm of the size round the inside, "
        f"{100 * least.doubt.chance:.0f} in 100 within {near}."
    )


def _label(system: System, label: str) -> str:
    """A letter is known to be a UK size; every other system is named."""
    return label if system is System.UK else named(system, label)


def _finger(finger: Finger) -> str:
    """', left ring finger', ', right thumb', ', left hand', or nothing."""
    if finger.name is None:
        return "" if finger.hand is None else f", {finger.hand} hand"
    name = str(finger.name) if finger.name is FingerName.THUMB else f"{finger.name} finger"
    return f", {name}" if finger.hand is None else f", {finger.hand} {name}"


def _altered(reckoning: Reckoning) -> str:
    """'larger by 0.5 mm for its width, '; an allowance that we chose ourselves goes without a reason."""
    way = "larger" if reckoning.fit_mm > 0 else "smaller"
    why = " for its width" if reckoning.design.fit_mm is None else ""
    return f"{way} by {figure_words(abs(reckoning.fit_mm))} mm{why}, "


def _measured(finger: Finger, taken_on: date | None, issued_on: date) -> str:
    on = ""
    if taken_on is not None:
        day = day_of_year(taken_on)
        on = f" on {day if taken_on.year != issued_on.year else day.rpartition(' ')[0]}"
    how, gauge_mm = known_measurement(finger)
    wide = "" if gauge_mm is None else f" {figure_words(gauge_mm)} mm wide"
    match how:
        case Measured.GAUGE:
            warm = "" if finger.is_warm is None else ", hands warm" if finger.is_warm else ", hands cold"
            again = ", a second time on another day" if finger.is_on_two_days else ""
            return f"Measured{on} with a gauge{wide}{warm}{again}."
        case Measured.RING:
            return f"Read{on} from a ring{wide} that fits."
        case Measured.TOLD:
            return f"As you told us{on}, not measured by us."
        case None:
            return f"Noted{on}, without a word on how it was measured."
